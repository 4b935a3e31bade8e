//! A small trial of keepers, the same each time: obeying the program must be far better for colonies than doing nothing.
//!
//! The whole trial is `cargo bench --bench trial`; what it found, and where a calendar of fixed dates still does better, is
//! in `benches/`.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

#[path = "../benches/trial/keepers.rs"]
mod keepers;
#[path = "../benches/trial/table.rs"]
mod table;

use keepers::{Keeper, Outcome, keep};

fn share(outcomes: &[Outcome], of: impl Fn(&Outcome) -> bool) -> f64 {
    outcomes.iter().filter(|o| of(o)).count() as f64 / outcomes.len() as f64
}

const COLONIES: usize = 128;
/// Two standard errors of a share of one in ten in 384 bee years.
const MARGIN: f64 = 0.03;
/// The same of one in four.
const MITES: f64 = 0.045;

#[test]
fn a_keeper_who_obeys_loses_far_fewer_than_one_who_does_nothing() {
    let nothing = keep(Keeper::Nothing, COLONIES, None);
    let obeys = keep(Keeper::Yardwalk(14), COLONIES, None);
    let dates = keep(Keeper::Dates, COLONIES, None);
    let lost = |outcomes: &[Outcome]| share(outcomes, |o| o.died.is_some());
    assert!(lost(&nothing) > 0.35, "{}", lost(&nothing));
    assert!(lost(&obeys) < 0.5 * lost(&nothing), "{} {}", lost(&obeys), lost(&nothing));
    let swarms = |outcomes: &[Outcome]| outcomes.iter().map(|o| o.swarms).sum::<u32>();
    assert!(swarms(&obeys) < swarms(&nothing));
    // A calendar of fixed dates is a good keeper too: the colonies are not such that nothing helps.
    assert!(lost(&dates) < 0.5 * lost(&nothing), "{}", lost(&dates));
    // Obeying comes to half its losses and half as many over 3 % mites, as far as 384 bee years can tell, and to as much honey.
    assert!(lost(&obeys) < 0.5 * lost(&dates) + MARGIN, "{} {}", lost(&obeys), lost(&dates));
    let there = |outcomes: &[Outcome]| outcomes.iter().filter(|o| !o.united).count() as f64;
    let over = |o: &&Outcome| !o.united && o.mites_on_date > 3.0;
    let mites = |outcomes: &[Outcome]| outcomes.iter().filter(over).count() as f64 / there(outcomes);
    assert!(mites(&obeys) < 0.5 * mites(&dates) + MITES, "{} {}", mites(&obeys), mites(&dates));
    let honey = |outcomes: &[Outcome]| outcomes.iter().map(|o| o.honey).sum::<f64>();
    assert!(honey(&obeys) > 0.95 * honey(&dates), "{} {}", honey(&obeys), honey(&dates));
    // Who comes when it calls comes to the goals, as far as 384 bee years can tell: half the losses, three swarms where the
    // calendar has five, half as many over 3 % mites, a tenth more honey. Sugar and minutes do not come to theirs (`benches/`).
    let called = keep(Keeper::Called, COLONIES, None);
    assert!(lost(&called) < 0.5 * lost(&dates) + MARGIN, "{} {}", lost(&called), lost(&dates));
    let a_year = |outcomes: &[Outcome]| f64::from(swarms(outcomes)) / outcomes.len() as f64;
    assert!(a_year(&called) < 0.6 * a_year(&dates) + MARGIN, "{} {}", a_year(&called), a_year(&dates));
    assert!(mites(&called) < 0.5 * mites(&dates) + MITES, "{} {}", mites(&called), mites(&dates));
    assert!(honey(&called) > 1.1 * honey(&dates), "{} {}", honey(&called), honey(&dates));
    // The table says of them what they are.
    let text = table::of(&[("does nothing", nothing.clone()), ("obeys", obeys)]);
    let expected = format!("| lost by 1 May, % | {:.1}", 100.0 * lost(&nothing));
    assert!(text.contains(&expected), "{expected}\n{text}");
}

#[test]
fn the_same_trial_comes_out_the_same() {
    let honey = || keep(Keeper::Yardwalk(21), 8, None).iter().map(|o| o.honey.to_bits()).collect::<Vec<_>>();
    assert_eq!(honey(), honey());
}
