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
        for offer in told.0.prompts.iter().flat_map(|p| &p.offers) {
            assert!(!offer.actions.iter().any(|a| matches!(a, Action::TakeHoney { .. })), "{}", offer.label);
        }
    }
}

#[test]
fn syrup_given_with_the_box_on_is_said() {
    let case = Case::deeps(2, "2026-07-10")
        .honey_box("2026-06-10")
        .did("2026-06-20", &[Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(1.0) }]);
    let told = capped(case.air(75.0)).advice();
    assert!(told.says("honey.pull", Urgency::Must).why.contains("sugar"));
}

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
