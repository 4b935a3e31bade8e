//! Honey and what makes it unfit for people. Sources: labels by way of principle, waiting times from memory; a keeper's
//! page on syrup and honey; the rest common practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Mix, Percent, Treatment, Volume};

use crate::case::Case;

fn capped(case: Case) -> Case {
    case.sees(|f| {
        f.capped = Some(Percent(90.0));
        f.super_full = Some(Percent(90.0));
    })
}

/// T11.
#[test]
fn honey_under_amitraz_is_not_for_people_then_or_later() {
    for (on, ended) in [("2026-07-20", None), ("2026-08-25", Some("2026-08-04"))] {
        let case = Case::deeps(2, on).honey_box("2026-06-10").treated(
            Treatment::AmitrazStrips,
            "2026-07-01",
            "2026-08-12",
            ended,
        );
        let told = capped(case.air(75.0)).advice();
        let prompt = told.says("honey.pull", Urgency::Must);
        assert!(prompt.title.contains("not for people"), "{}", prompt.title);
        told.never(&[Deed::TakesHoney]);
        assert!(!told.text().contains("Expect"), "no yield is told");
        for offer in told.live.prompts.iter().flat_map(|p| &p.offers) {
            assert!(!offer.actions.iter().any(|a| matches!(a, Action::TakeHoney { .. })), "{}", offer.label);
        }
    }
}

/// H12.
#[test]
fn syrup_given_with_the_box_on_is_said() {
    let case = Case::deeps(2, "2026-07-10")
        .honey_box("2026-06-10")
        .did("2026-06-20", &[Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(1.0) }]);
    let told = capped(case.air(75.0)).advice();
    assert!(told.says("honey.pull", Urgency::Must).why.contains("sugar"));
}

/// H3.
#[test]
fn ripe_honey_that_met_nothing_is_pulled_and_half_capped_is_left() {
    let told = capped(Case::deeps(2, "2026-07-10").honey_box("2026-06-10").air(75.0)).advice();
    assert_eq!(told.says("honey.pull", Urgency::Should).title, "Pull the honey");
    let half = Case::deeps(2, "2026-07-10")
        .honey_box("2026-06-10")
        .air(75.0)
        .sees(|f| {
            f.capped = Some(Percent(40.0));
            f.super_full = Some(Percent(50.0));
        })
        .advice();
    assert!(half.by("honey.pull").is_none());
}

fn wet(on: &str, percent: f64) -> Case {
    Case::deeps(2, on).honey_box("2026-06-10").air(80.0).sees(move |f| {
        f.super_full = Some(Percent(90.0));
        f.capped = Some(Percent(85.0));
        f.moisture = Some(Percent(percent));
    })
}

/// H1, E8: left, and aired where no robber probes.
#[test]
fn wet_honey_is_left_and_aired_where_no_robber_probes() {
    let told = wet("2026-07-10", 19.5).advice();
    told.never(&[Deed::TakesHoney]);
    told.mentions(&["19.5 %", "finger's gap"]);
    let robbed =
        wet("2026-07-10", 19.5).sees(|f| f.robbing = Some(yardwalk::model::Robbing::Probing)).advice();
    assert!(robbed.by("cover.prop").is_none());
}

/// H2, C9: one word on wet honey whose boxes are due off.
#[test]
fn wet_honey_whose_boxes_are_due_off_is_not_both_left_and_taken_off() {
    let told = wet("2026-08-20", 19.2).advice();
    let leaves = told.live.prompts.iter().filter(|p| p.title.contains("Leave the honey")).count();
    let takes = told.doing(&[Deed::TakesSupers]).len();
    assert_eq!(leaves + takes, 1, "{}", told.list());
    told.mentions(&["Aug 31"]);
    told.mentions(&["dry"]);
}

/// H4.
#[test]
fn wet_boxes_go_back_while_the_flow_is_on() {
    let told = Case::deeps(2, "2026-07-12")
        .did("2026-07-10", &[Action::TakeHoney { frames: 10, mass: None }])
        .air(78.0)
        .advice();
    assert!(told.says("super.add", Urgency::Should).title.contains("Wet boxes back"));
}

/// H5 and H6.
#[test]
fn a_choked_nest_is_helped_with_drawn_comb_and_a_patch_is_left() {
    use yardwalk::model::Backfill;
    let choked = |spare: f64| {
        Case::deeps(1, "2026-07-01")
            .honey_box("2026-06-10")
            .air(80.0)
            .sees(move |f| {
                f.backfill = Some(Backfill::Choked);
                f.super_full = Some(Percent(50.0));
                f.spare_drawn = Some(yardwalk::model::Frames(spare));
            })
            .advice()
    };
    assert!(choked(4.0).says("nest.backfilled", Urgency::Must).title.contains("drawn"));
    let none = choked(0.0);
    none.says("nest.backfilled", Urgency::Must);
    none.mentions(&["Spin out two or three", "do not break up the brood"]);
    let patch = Case::deeps(1, "2026-07-01")
        .honey_box("2026-06-10")
        .air(80.0)
        .sees(|f| {
            f.backfill = Some(Backfill::Patch);
            f.super_full = Some(Percent(20.0));
        })
        .advice();
    assert!(patch.by("nest.backfilled").is_none_or(|p| p.urgency == Urgency::May));
}

/// H8.
#[test]
fn a_top_box_three_quarters_full_is_followed_by_the_next() {
    let told = Case::deeps(2, "2026-06-20")
        .honey_box("2026-06-01")
        .air(78.0)
        .sees(|f| f.super_full = Some(Percent(75.0)))
        .advice();
    assert!(told.says("super.add", Urgency::Must).title.contains("next"));
}

/// H9: as the keeper runs them.
#[test]
fn room_is_given_as_the_keeper_runs_the_nest() {
    let case = || {
        Case::deeps(1, "2026-05-03").air(68.0).sees(|f| {
            f.bees = Some(yardwalk::model::Frames(8.0));
            f.brood = Some(yardwalk::model::Frames(6.0));
        })
    };
    let single = case().advice();
    single.never(&[Deed::AddsNestBox]);
    assert!(single.by("space.nest").unwrap().deeds.contains(&Deed::AddsSuper));
    let double = case().practice(|p| assert!(p.set("nest_boxes", Some(2.0)))).advice();
    assert!(double.by("space.nest").unwrap().deeds.contains(&Deed::AddsNestBox));
}

/// H10.
#[test]
fn a_full_nuc_box_is_left_for_a_full_size_one() {
    use yardwalk::model::{Depth, HiveBox, Origin, Role};
    let told =
        Case::of(vec![HiveBox::new(Depth::Deep, 5, Role::Nest)], Origin::Nuc, "2026-05-20", "2026-07-01")
            .air(78.0)
            .sees(|f| {
                f.bees = Some(yardwalk::model::Frames(5.0));
                f.drawn = Some(yardwalk::model::Frames(5.0));
            })
            .advice();
    told.says("nest.nuc", Urgency::Must);
    told.never(&[Deed::AddsSuper]);
}

/// H11.
#[test]
fn a_honey_box_in_september_comes_off() {
    let told = Case::deeps(2, "2026-09-10").honey_box("2026-06-10").air(72.0).advice();
    told.says("super.off", Urgency::Must);
}

/// C7: hunger takes the box off first.
#[test]
fn no_syrup_under_a_honey_box() {
    let told = Case::deeps(1, "2026-07-10")
        .honey_box("2026-06-10")
        .air(80.0)
        .sees(|f| f.heft = Some(yardwalk::model::Heft::Light))
        .advice();
    told.never(&[Deed::GivesSyrup]);
    told.mentions(&["take the honey boxes off first"]);
}
