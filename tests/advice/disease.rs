//! Disease and dead-outs. Sources: WOAH Terrestrial Code ch. 9.2 and 9.3; New Zealand's American foulbrood agency on
//! dead hives; National Bee Unit on standstill; Am. Bee J., Mar. 2020, on dead-outs.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Bees, Disease, Frames, Loss, Mites, Origin};

use crate::case::Case;

#[test]
fn suspicion_outlives_the_colony_whatever_cause_is_typed() {
    for loss in Loss::ALL {
        let told = Case::deeps(1, "2026-09-15")
            .saw("2026-06-15", |f| f.disease = Some(Disease::Sunken))
            .did("2026-09-15", &[Action::Retire { loss: *loss }])
            .advice();
        told.says("disease.suspect", Urgency::Stop);
        assert!(!told.text().to_lowercase().contains("healthy comb"), "{loss:?}: {}", told.text());
    }
}

#[test]
fn a_colony_lost_to_disease_is_suspected_though_no_sign_was_logged() {
    let told =
        Case::deeps(1, "2026-09-15").did("2026-09-10", &[Action::Retire { loss: Loss::Disease }]).advice();
    told.says("disease.suspect", Urgency::Stop);
}

#[test]
fn new_bees_on_suspected_gear_are_a_stop() {
    let told = Case::deeps(1, "2027-04-25")
        .saw("2026-06-15", |f| f.disease = Some(Disease::Sunken))
        .did("2026-09-15", &[Action::Retire { loss: Loss::Small }])
        .did("2027-04-20", &[Action::Restock { origin: Origin::Package }])
        .advice();
    let prompt = told.says("disease.suspect", Urgency::Stop);
    assert!(prompt.title.contains("new bees on suspected gear"), "{}", prompt.title);
    assert!(told.by("feed.new-colony").is_none(), "{}", told.list());
}

#[test]
fn cleared_is_cleared() {
    let told = Case::deeps(1, "2026-06-20")
        .saw("2026-06-01", |f| f.disease = Some(Disease::Sunken))
        .did("2026-06-15", &[Action::ClearDisease])
        .air(75.0)
        .advice();
    assert!(told.by("disease.suspect").is_none());
    assert!(!told.0.prompts.is_empty(), "the season's ordinary prompts");
}

#[test]
fn nothing_goes_from_hive_to_hive_in_the_yard_of_a_suspect() {
    let told = Case::deeps(1, "2026-08-20")
        .air(76.0)
        .beside("S", |f| f.disease = Some(Disease::Twisted))
        .sees(|f| f.bees = Some(Frames(4.0)))
        .advice();
    told.never(&[Deed::Unites, Deed::MovesComb]);
    assert!(told.by("disease.suspect").is_none());
}

#[test]
fn a_dead_hive_is_told_by_its_own_count() {
    let told = Case::deeps(1, "2026-03-20")
        .saw("2025-09-10", |f| {
            f.mites = Some(Mites(24));
            f.wash_bees = Some(Bees(300));
        })
        .sees(|f| f.dead = Some(true))
        .advice();
    let prompt = told.says("dead-out", Urgency::Must);
    assert!(prompt.why.contains("8.0 %") && prompt.why.contains("mites first"), "{}", prompt.why);
    assert!(told.text().contains("until then the stack stays together"));
    told.never(&[Deed::Washes]);
}
