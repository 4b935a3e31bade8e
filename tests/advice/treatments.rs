//! Treatments. Sources: maker's FAQ on formic acid strips (entrance, temperature, 24 hours, a month, queens); a page on
//! when to treat (2010) and an encyclopedia's on thymol; Am. Bee J. on oxalic acid in the brooding season; waiting times
//! from memory. The label in hand decides.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Bees, Entrance, Frames, Mites, Queen, QueenStatus, Treatment};

use crate::case::{Case, Told, day};

fn counted(case: Case, mites: u16) -> Case {
    case.sees(|f| {
        f.mites = Some(Mites(mites));
        f.wash_bees = Some(Bees(300));
        f.bees = Some(Frames(12.0));
    })
}

/// The treatments that can be logged from what is offered.
fn offered(told: &Told) -> Vec<Treatment> {
    let prompts = told.0.prompts.iter();
    prompts
        .flat_map(|p| p.offers.iter().flat_map(|o| &o.actions))
        .filter_map(|a| if let Action::Treat { treatment, .. } = a { Some(*treatment) } else { None })
        .collect()
}

#[test]
fn honey_boxes_wait_for_amitraz_and_the_day_is_told() {
    let told = Case::deeps(2, "2026-06-10")
        .treated(Treatment::AmitrazStrips, "2026-04-24", "2026-06-05", Some("2026-06-05"))
        .air(75.0)
        .sees(|f| f.bees = Some(Frames(17.0)))
        .advice();
    told.never(&[Deed::AddsSuper]);
    assert!(told.waits("super.add").is_some_and(|why| why.contains("Jun 19")), "{}", told.list());
}

#[test]
fn formic_acid_is_asked_its_forecast_and_wants_the_full_entrance() {
    let small =
        Case::deeps(1, "2026-08-25").did("2026-08-20", &[Action::SetEntrance { entrance: Entrance::Small }]);
    let told = counted(small.air(72.0), 9).advice();
    for prompt in &told.0.prompts {
        for offer in &prompt.offers {
            let formic = offer
                .actions
                .iter()
                .any(|a| matches!(a, Action::Treat { treatment: Treatment::FormicStrips, .. }));
            let opens = offer.actions.contains(&Action::SetEntrance { entrance: Entrance::Open });
            assert!(!formic || opens, "{} behind a small entrance", offer.label);
        }
    }
    assert!(told.text().contains("The reading now is not the high"), "{}", told.text());
    assert!(!told.text().contains("Allowed: formic"));
}

#[test]
fn no_formic_acid_on_a_hot_day_or_within_its_month() {
    let hot = counted(Case::deeps(1, "2026-07-20").air(95.0), 9).advice();
    assert!(!offered(&hot).contains(&Treatment::FormicStrips));
    let again = Case::deeps(1, "2026-08-13").treated(
        Treatment::FormicStrips,
        "2026-07-18",
        "2026-08-01",
        Some("2026-08-01"),
    );
    let told = counted(again.air(75.0), 12).advice();
    assert!(!offered(&told).contains(&Treatment::FormicStrips), "{}", told.text());
}

#[test]
fn a_laying_queen_in_season_is_brood() {
    let told = counted(Case::deeps(1, "2026-07-20").air(75.0), 9).advice();
    assert!(!offered(&told).contains(&Treatment::OxalicVapour));
    assert!(!offered(&told).contains(&Treatment::OxalicDribble));
}

#[test]
fn what_is_not_done_before_the_cold_is_not_begun() {
    for (on, air) in [("2026-09-25", 62.0), ("2026-10-20", 62.0)] {
        let told = counted(Case::deeps(1, on).air(air), 12).advice();
        assert!(!offered(&told).contains(&Treatment::ThymolGel), "{on}: {}", told.text());
        if on > "2026-10-01" {
            assert!(!offered(&told).contains(&Treatment::AmitrazStrips), "{on}");
        }
    }
}

#[test]
fn no_formic_acid_while_a_virgin_is_out() {
    let cell = Queen { since: Some(day("2026-06-01")), ..Queen::of_status(QueenStatus::Cell, None) };
    let told = counted(
        Case::deeps(1, "2026-06-14").did("2026-06-01", &[Action::SetQueen { queen: cell }]).air(75.0),
        12,
    )
    .advice();
    assert!(!offered(&told).contains(&Treatment::FormicStrips));
}

#[test]
fn the_second_thymol_tray_is_a_must() {
    let first = Case::deeps(1, "2026-08-05").air(75.0);
    let offer = counted(first, 12).advice().0.prompts.iter().flat_map(|p| p.offers.clone()).find(|o| {
        o.actions.iter().any(|a| matches!(a, Action::Treat { treatment: Treatment::ThymolGel, .. }))
    });
    let offer = offer.expect("thymol is offered");
    assert_eq!(offer.promises, [(14, "give the second thymol tray".to_owned())]);
}

#[test]
fn under_formic_acid_the_bees_are_left_in_peace_and_the_entrance_full() {
    let told = Case::deeps(1, "2026-09-22")
        .treated(Treatment::FormicStrips, "2026-09-15", "2026-09-29", None)
        .air(70.0)
        .advice();
    told.never(&[Deed::LiftsFrames, Deed::Washes, Deed::Narrows, Deed::Guards]);
    assert!(told.waits("mouse-guard").is_some_and(|why| why.contains("Sep 29")), "{}", told.list());
}

#[test]
fn strips_left_in_are_a_must_with_the_reason_of_their_ingredient() {
    for (treatment, resistance) in
        [(Treatment::AmitrazStrips, true), (Treatment::FormicStrips, false), (Treatment::ThymolGel, false)]
    {
        let told = Case::deeps(1, "2026-10-05")
            .treated(treatment, "2026-08-15", "2026-09-26", None)
            .air(60.0)
            .advice();
        let prompt = told.says("followup", Urgency::Must);
        assert_eq!(prompt.why.contains("resistant"), resistance, "{}", prompt.why);
    }
}

#[test]
fn a_dribble_is_counted_by_winters() {
    let told = Case::deeps(1, "2026-11-20")
        .treated(Treatment::OxalicDribble, "2025-11-29", "2025-11-30", Some("2025-11-29"))
        .saw("2026-10-15", |f| {
            f.mites = Some(Mites(12));
            f.wash_bees = Some(Bees(300));
        })
        .air(42.0)
        .advice();
    assert!(!told.text().contains("Not oxalic acid dribble"), "{}", told.text());
}
