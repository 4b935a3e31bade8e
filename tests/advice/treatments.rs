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
    let prompts = told.live.prompts.iter();
    prompts
        .flat_map(|p| p.offers.iter().flat_map(|o| &o.actions))
        .filter_map(|a| if let Action::Treat { treatment, .. } = a { Some(*treatment) } else { None })
        .collect()
}

/// T10, C5.
#[test]
fn honey_boxes_wait_for_amitraz_and_the_day_is_told() {
    let told = Case::deeps(2, "2026-06-10")
        .treated(Treatment::AmitrazStrips, "2026-04-24", "2026-06-05", Some("2026-06-05"))
        .air(75.0)
        .sees(|f| f.bees = Some(Frames(17.0)))
        .advice();
    told.never(&[Deed::AddsSuper]);
    let waits = told.waits("super.add").or(told.waits("space.nest"));
    assert!(waits.is_some_and(|why| why.contains("Jun 19") && why.contains("amitraz")), "{}", told.list());
}

/// T8.
#[test]
fn formic_acid_is_asked_its_forecast_and_wants_the_full_entrance() {
    let small =
        Case::deeps(1, "2026-08-25").did("2026-08-20", &[Action::SetEntrance { entrance: Entrance::Small }]);
    let told = counted(small.air(72.0), 9).advice();
    for prompt in &told.live.prompts {
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

/// T2 and T9.
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

/// T4.
#[test]
fn a_laying_queen_in_season_is_brood() {
    let told = counted(Case::deeps(1, "2026-07-20").air(75.0), 9).advice();
    assert!(!offered(&told).contains(&Treatment::OxalicVapour));
    assert!(!offered(&told).contains(&Treatment::OxalicDribble));
}

/// T5 and T6.
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

/// T21, C4.
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

/// T12 as it is promised.
#[test]
fn the_second_thymol_tray_is_a_must() {
    let first = Case::deeps(1, "2026-08-05").air(75.0);
    let offer = counted(first, 12).advice().live.prompts.iter().flat_map(|p| p.offers.clone()).find(|o| {
        o.actions.iter().any(|a| matches!(a, Action::Treat { treatment: Treatment::ThymolGel, .. }))
    });
    let offer = offer.expect("thymol is offered");
    assert_eq!(offer.promises, [(14, "give the second thymol tray".to_owned())]);
}

/// E2, C3.
#[test]
fn under_formic_acid_the_bees_are_left_in_peace_and_the_entrance_full() {
    let told = Case::deeps(1, "2026-09-22")
        .treated(Treatment::FormicStrips, "2026-09-15", "2026-09-29", None)
        .air(70.0)
        .advice();
    told.never(&[Deed::LiftsFrames, Deed::Washes, Deed::Narrows, Deed::Guards]);
    assert!(told.waits("mouse-guard").is_some_and(|why| why.contains("Sep 29")), "{}", told.list());
}

/// T14, L5.
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

/// T18.
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

fn treats_with(told: &Told, treatment: Treatment) -> bool {
    offered(told).contains(&treatment)
}

/// T1: what its label lets on with honey boxes, or the boxes off; what is weak is called weak.
#[test]
fn with_honey_boxes_on_the_ways_out_are_named() {
    let case = Case::deeps(2, "2026-07-10").honey_box("2026-06-10").honey_box("2026-06-20").air(78.0);
    let told = counted(case, 18).advice();
    told.says("mites.treat", Urgency::Must);
    assert!(!treats_with(&told, Treatment::ThymolGel) && !treats_with(&told, Treatment::AmitrazStrips));
    told.mentions(&[
        "formic acid strips",
        "the label in hand decides",
        "Weak while there is brood",
        "honey boxes are on",
    ]);
    let hop = told.text().find("hop acid").unwrap();
    let formic = told.text().find("formic acid").unwrap();
    assert!(formic < hop, "the weak one is named after the strong");
}

/// T3: the morning is not the day.
#[test]
fn a_cool_morning_of_a_hot_day_is_not_taken_for_its_high() {
    let morning = counted(Case::deeps(1, "2026-08-03").air(72.0), 9).advice();
    assert!(!treats_with(&morning, Treatment::FormicStrips));
    let prompt = morning.says("mites.treat", Urgency::Must);
    assert!(prompt.asks.contains(&yardwalk::model::Finding::HighToday), "{:?}", prompt.asks);
    morning.mentions(&["Not known yet, formic acid", "not today"]);
    let high = |today: f64, soon: f64| {
        let counted_before = Case::deeps(1, "2026-08-03").saw("2026-08-01", |f| {
            f.mites = Some(Mites(9));
            f.wash_bees = Some(Bees(300));
            f.bees = Some(Frames(12.0));
        });
        counted_before
            .air(72.0)
            .sees(|f| {
                f.high_today = Some(yardwalk::model::Temperature::from_fahrenheit(today));
                f.high_soon = Some(yardwalk::model::Temperature::from_fahrenheit(soon));
            })
            .advice()
    };
    assert!(treats_with(&high(84.0, 88.0), Treatment::FormicStrips), "{}", high(84.0, 88.0).text());
    assert!(!treats_with(&high(95.0, 88.0), Treatment::FormicStrips));
    assert!(!treats_with(&high(84.0, 93.0), Treatment::FormicStrips));
}

/// T4, T13: one vapor with brood is no treatment; a week later it is repeated.
#[test]
fn a_vapor_with_brood_is_a_course() {
    let told = counted(Case::deeps(1, "2026-07-20").air(75.0), 9).advice();
    told.mentions(&["only as a course", "level at best"]);
    let week = Case::deeps(1, "2026-08-27")
        .treated(Treatment::OxalicVapour, "2026-08-20", "2026-08-20", Some("2026-08-20"))
        .air(75.0)
        .advice();
    week.says("mites.repeat", Urgency::Should);
}

/// T7: no brood is not a fact nobody saw.
#[test]
fn in_november_oxalic_acid_is_offered_if_there_is_no_brood() {
    let uncounted = Case::deeps(1, "2026-11-20").air(42.0).advice();
    uncounted.says("mites.broodless", Urgency::May);
    uncounted.never_in_words(&["there is no brood now"]);
    let counted = Case::deeps(1, "2026-11-20")
        .saw("2026-10-15", |f| {
            f.mites = Some(Mites(15));
            f.wash_bees = Some(Bees(300));
        })
        .air(42.0)
        .sees(|f| f.seams = Some(Frames(8.0)))
        .advice();
    let prompt = counted.says("mites.broodless", Urgency::Should);
    assert!(prompt.title.contains("If there is no brood"), "{}", prompt.title);
    assert!(counted.text().contains("40 mL"), "{}", counted.text());
}

/// T12: it follows from the course, whoever logged it.
#[test]
fn the_second_tray_is_due_by_the_log_alone() {
    let told = Case::deeps(1, "2026-08-19")
        .treated(Treatment::ThymolGel, "2026-08-05", "2026-09-02", None)
        .air(75.0)
        .advice();
    assert!(told.says("followup", Urgency::Must).title.contains("second thymol tray"));
}

/// T15: another ingredient first, with the reason.
#[test]
fn the_ingredient_of_the_last_course_is_not_an_equal() {
    let case = Case::deeps(1, "2026-08-20")
        .treated(Treatment::AmitrazStrips, "2026-03-20", "2026-05-01", Some("2026-05-01"))
        .air(75.0);
    let told = counted(case, 12).advice();
    assert!(offered(&told).first().is_none_or(|t| *t != Treatment::AmitrazStrips));
    told.mentions(&["change the ingredient"]);
}

/// T16: too weak.
#[test]
fn a_split_of_three_frames_gets_no_vapor() {
    let told = Case::deeps(1, "2026-06-20")
        .air(75.0)
        .sees(|f| {
            f.mites = Some(Mites(15));
            f.wash_bees = Some(Bees(300));
            f.bees = Some(Frames(3.0));
        })
        .advice();
    assert!(!treats_with(&told, Treatment::FormicStrips) && !treats_with(&told, Treatment::ThymolGel));
    told.mentions(&["too weak"]);
}

/// T17: while there is none under caps.
#[test]
fn a_package_with_mites_is_treated_before_its_brood_is_sealed() {
    use yardwalk::model::{Depth, HiveBox, Origin, Role};
    let package = || {
        Case::of(
            vec![HiveBox::with_drawn(Depth::Deep, 10, Role::Nest, 3)],
            Origin::Package,
            "2026-04-25",
            "2026-05-01",
        )
        .with(|h| h.queen = Queen::of_status(QueenStatus::Caged, Some(day("2026-04-25"))))
        .air(65.0)
    };
    let told = package()
        .sees(|f| {
            f.sealed = Some(false);
            f.mites = Some(Mites(12));
            f.wash_bees = Some(Bees(300));
        })
        .advice();
    assert!(treats_with(&told, Treatment::OxalicVapour), "{}", told.text());
    let uncounted = package().sees(|f| f.sealed = Some(false)).advice();
    uncounted.says("mites.new-colony", Urgency::May);
}

/// T19: peace under the strips, and a day between working the bees and the strips.
#[test]
fn strips_go_in_a_day_after_the_bees_were_worked() {
    let third_day = Case::deeps(2, "2026-08-17")
        .treated(Treatment::FormicStrips, "2026-08-14", "2026-08-28", None)
        .air(75.0)
        .advice();
    third_day.never(&[Deed::LiftsFrames, Deed::Washes, Deed::Reverses]);
    let today = counted(Case::deeps(1, "2026-08-20").air(72.0), 12).sees(|f| {
        f.high_today = Some(yardwalk::model::Temperature::from_fahrenheit(80.0));
        f.high_soon = Some(yardwalk::model::Temperature::from_fahrenheit(80.0));
    });
    let told = today.advice();
    assert!(!treats_with(&told, Treatment::FormicStrips), "{}", told.text());
    told.mentions(&["24 hours between working the bees and the strips"]);
}

/// T20.
#[test]
fn a_month_after_formic_acid_her_eggs_are_looked_for() {
    let told = Case::deeps(1, "2026-08-29")
        .treated(Treatment::FormicStrips, "2026-07-18", "2026-08-01", Some("2026-08-01"))
        .air(75.0)
        .advice();
    told.says("queen.after-treatment", Urgency::Should);
    told.mentions(&["cut none"]);
}
