//! Entrances, the season's edges and wording. Sources: a keeper's page on the dog days of summer; maker's FAQ on formic
//! acid; ID tools on deformed wing virus; the rest common practice.

use yardwalk::advice::{Deed, PAIRS, Urgency};
use yardwalk::model::{Action, Backfill, Bees, Disease, Entrance, Frames, Heft, Mass, Mites};

use crate::case::Case;

/// E1.
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

/// E4.
#[test]
fn a_small_colony_is_narrowed_when_the_flow_is_over() {
    let told = Case::deeps(1, "2026-08-05").air(80.0).sees(|f| f.bees = Some(Frames(3.0))).advice();
    told.says("entrance.narrow", Urgency::Must);
}

/// D9.
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

/// H7.
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

/// S7.
#[test]
fn in_deep_winter_a_heavy_hive_is_left_alone_and_nothing_is_a_must() {
    let told = Case::deeps(1, "2026-01-10").air(25.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
    for prompt in &told.live.prompts {
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

/// E3.
#[test]
fn in_great_heat_it_is_water_and_shade_and_no_frames_at_noon() {
    let told = Case::deeps(2, "2026-07-25")
        .honey_box("2026-06-10")
        .air(80.0)
        .sees(|f| {
            f.bees = Some(Frames(18.0));
            f.high_soon = Some(yardwalk::model::Temperature::from_fahrenheit(100.0));
        })
        .advice();
    told.says("heat", Urgency::Should);
    told.mentions(&["no frames out at noon", "shade"]);
}

/// E5 and E6.
#[test]
fn a_guard_comes_off_in_may_and_goes_on_in_september_without_a_must() {
    let on = |today: &str, guard| {
        Case::deeps(1, today).air(65.0).did("2026-04-01", &[Action::SetMouseGuard { on: guard }]).advice()
    };
    assert!(on("2026-05-01", true).says("mouse-guard", Urgency::Should).title.contains("Take off"));
    assert!(on("2026-09-28", false).says("mouse-guard", Urgency::Should).title.contains("Put on"));
    assert!(on("2026-10-20", false).says("mouse-guard", Urgency::Should).title.contains("Put on"));
}

/// E7: keepers differ on it.
#[test]
fn an_upper_entrance_is_a_should_in_the_north_and_silence_in_the_south() {
    let north = Case::deeps(1, "2026-10-20").air(55.0).advice();
    north.says("upper-entrance", Urgency::Should);
    let south = Case::deeps(1, "2026-12-28").at(crate::case::At::Piedmont).air(55.0).advice();
    assert!(south.by("upper-entrance").is_none());
}

/// C6 and the rest of C: never both on one day. L3: what nobody saw is not told as a fact.
#[test]
fn of_two_that_contradict_one_waits() {
    use yardwalk::advice::Deed::{FeedsSolid, FeedsThick, FeedsThin, GivesSyrup, Narrows, Widens};
    let has = |first, waits| PAIRS.iter().any(|c| (c.first, c.waits) == (first, waits));
    assert!(has(FeedsSolid, GivesSyrup) && has(FeedsThick, FeedsThin) && has(Narrows, Widens));
    let winter = Case::deeps(1, "2026-12-05").air(40.0).advice();
    winter.never_in_words(&["there is no brood now", "no brood now"]);
}

/// L4: no winter in August.
#[test]
fn weak_in_august_is_not_said_to_have_wintered() {
    let told = Case::deeps(1, "2026-08-20").air(76.0).sees(|f| f.bees = Some(Frames(3.5))).advice();
    told.never_in_words(&["wintered down"]);
}

/// L8: what can hurt has its caution, by rule, so that every front end shows it.
#[test]
fn what_can_hurt_has_its_caution() {
    for rule in yardwalk::advice::ALL {
        let told = format!("{} {}", rule.name, rule.about).to_lowercase();
        let hurts = [
            "oxalic",
            "formic",
            "wash",
            "pulling honey",
            "super",
            "suspected",
            "treatment",
            "weight",
            "heft",
        ];
        if hurts.iter().any(|word| told.contains(word))
            && !["queen.after-treatment", "followup"].contains(&rule.id)
        {
            assert!(rule.caution.is_some(), "{} has no caution", rule.id);
        }
    }
}

/// L9: no tenth from a lift of the back.
#[test]
fn a_lift_is_told_as_a_guess() {
    let told =
        Case::deeps(2, "2026-09-05").air(72.0).sees(|f| f.heft = Some(yardwalk::model::Heft::Fair)).advice();
    if let Some(prompt) = told.by("feed.winter-weight") {
        assert!(prompt.why.contains("a guess"), "{}", prompt.why);
    }
}
