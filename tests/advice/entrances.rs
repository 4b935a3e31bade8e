//! Entrances, the season's edges and wording. Sources: a keeper's page on the dog days of summer; maker's FAQ on formic
//! acid; ID tools on deformed wing virus; the rest common practice.

use yardwalk::advice::{Deed, PAIRS, Urgency};
use yardwalk::model::{Action, Backfill, Bees, Disease, Entrance, Frames, Heft, Mass, Mites};

use crate::case::Case;

#[test]
fn a_strong_colony_is_not_left_behind_a_small_entrance_in_heat() {
    let told = Case::deeps(2, "2026-06-12")
        .did("2025-09-01", &[Action::SetEntrance { entrance: Entrance::Small }])
        .air(90.0)
        .sees(|f| {
            f.bees = Some(Frames(18.0));
            f.brood = Some(Frames(9.0));
        })
        .advice();
    told.says("entrance.open", Urgency::Must);
}

#[test]
fn a_small_colony_is_narrowed_when_the_flow_is_over() {
    let told = Case::deeps(1, "2026-08-05").air(80.0).sees(|f| f.bees = Some(Frames(3.0))).advice();
    told.says("entrance.narrow", Urgency::Must);
}

#[test]
fn crumpled_wings_ask_for_a_wash_now() {
    let told = Case::deeps(1, "2026-08-10")
        .saw("2026-07-16", |f| {
            f.mites = Some(Mites(2));
            f.wash_bees = Some(Bees(300));
        })
        .air(76.0)
        .sees(|f| f.disease = Some(Disease::Wings))
        .advice();
    let prompt = told.says("mites.wash", Urgency::Must);
    assert!(prompt.why.contains("Crumpled wings"), "{}", prompt.why);
}

#[test]
fn a_nest_choked_in_september_gets_no_box_and_no_syrup() {
    let told = Case::deeps(1, "2026-09-10")
        .air(72.0)
        .sees(|f| {
            f.backfill = Some(Backfill::Choked);
            f.weight = Some(Mass::from_pounds(92.0));
        })
        .advice();
    told.says("nest.backfilled", Urgency::Must);
    told.never(&[Deed::AddsSuper, Deed::GivesSyrup]);
}

#[test]
fn in_deep_winter_a_heavy_hive_is_left_alone_and_nothing_is_a_must() {
    let told = Case::deeps(1, "2026-01-10").air(25.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
    for prompt in &told.0.prompts {
        assert!(prompt.urgency > Urgency::Must, "{}", prompt.title);
    }
    told.never(&[Deed::OpensLid, Deed::LiftsFrames, Deed::CracksLid]);
}

#[test]
fn no_pair_of_deeds_waits_for_itself() {
    for conflict in PAIRS {
        assert_ne!(conflict.first, conflict.waits);
        let both_ways = PAIRS.iter().any(|c| c.first == conflict.waits && c.waits == conflict.first);
        assert!(!both_ways, "{conflict:?}");
    }
}
