//! Winter weight as the scale shows it. Sources: Univ. of Guelph on single brood chambers; an Ohio grower quoting the
//! Canadian apiculturists (95 and 135 lb in all); Univ. of Georgia for mild winters.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Action, Depth, Frames, Heft, HiveBox, Level, Mass, Origin, Role};

use crate::case::{At, Case};

/// Gallons asked for, from the title.
fn gallons(case: &Case) -> Option<f64> {
    let told = case.advice();
    let title = told.by("feed.winter-weight")?.title.clone();
    let rest = title.strip_prefix("Feed thick syrup: ")?;
    rest.split(' ').next()?.parse().ok()
}

fn weighed(case: Case, pounds: f64) -> Case {
    case.sees(|f| f.weight = Some(Mass::from_pounds(pounds)))
}

/// W1.
#[test]
fn what_cannot_be_lifted_is_full() {
    for boxes in [1, 2] {
        let told = Case::deeps(boxes, "2026-09-05").air(72.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
        told.never(&[Deed::GivesSyrup]);
    }
}

/// W3, W4 and W7.
#[test]
fn the_gallons_are_what_the_scale_lacks() {
    for (boxes, pounds, on, air, low, high) in [
        (1, 70.0, "2026-08-20", 80.0, 2.0, 4.0),
        (2, 110.0, "2026-09-05", 72.0, 3.0, 6.0),
        (2, 120.0, "2026-09-05", 72.0, 2.0, 5.0),
        (2, 90.0, "2026-10-03", 68.0, 5.0, 9.0),
    ] {
        let case = weighed(Case::deeps(boxes, on).air(air), pounds);
        let asked = gallons(&case).unwrap_or_else(|| panic!("{boxes} at {pounds}: {}", case.advice().list()));
        assert!((low..=high).contains(&asked), "{boxes} at {pounds} lb: {asked} gal");
    }
}

/// W2, W5, W8, W11 and W15.
#[test]
fn a_full_stack_is_not_fed() {
    let nuc = |frames| vec![HiveBox::new(Depth::Deep, frames, Role::Nest)];
    for case in [
        weighed(Case::deeps(1, "2026-09-20").air(72.0), 98.0),
        weighed(Case::deeps(1, "2026-10-03").air(68.0), 98.0),
        weighed(Case::deeps(2, "2026-09-25").air(70.0), 140.0),
        weighed(Case::deeps(2, "2026-09-20").at(At::Hills).air(65.0), 150.0),
        weighed(Case::deeps(2, "2026-11-20").at(At::Piedmont).air(62.0), 110.0),
        weighed(Case::of(nuc(8), Origin::Overwintered, "2025-05-01", "2026-09-05").air(72.0), 90.0),
        weighed(Case::deeps(2, "2026-10-20").air(55.0), 190.0),
    ] {
        let told = case.advice();
        told.never(&[Deed::GivesSyrup, Deed::FeedsSolid]);
        assert!(!told.text().contains("short"), "{}", told.list());
    }
}

/// W10.
#[test]
fn a_nuc_is_fed_no_more_than_it_holds() {
    let nuc = Case::of(
        vec![HiveBox::new(Depth::Deep, 5, Role::Nest)],
        Origin::Overwintered,
        "2026-05-01",
        "2026-09-05",
    );
    let case = weighed(nuc.air(72.0), 45.0).sees(|f| f.bees = Some(Frames(5.0)));
    assert!(gallons(&case).is_none_or(|g| g <= 1.5), "{}", case.advice().list());
}

/// W9.
#[test]
fn a_weight_with_honey_boxes_on_says_nothing_once_they_are_off() {
    let off = Action::RemoveBox { role: Role::Super, level: Level::Top };
    let told = Case::deeps(2, "2026-09-05")
        .honey_box("2026-06-10")
        .honey_box("2026-06-20")
        .saw("2026-08-30", |f| f.weight = Some(Mass::from_pounds(190.0)))
        .did("2026-08-30", &[off.clone(), off])
        .air(72.0)
        .advice();
    let prompt = told.says("feed.winter-weight", Urgency::Should);
    assert!(prompt.title.contains("Weigh"), "{}", prompt.title);
}

/// W14, L2.
#[test]
fn the_last_day_does_not_slide() {
    let on = |today: &str| {
        let told = weighed(Case::deeps(2, today).air(60.0), 120.0).advice();
        told.by("feed.winter-weight").unwrap_or_else(|| panic!("{today}: {}", told.list())).due.latest
    };
    assert_eq!(on("2026-09-25"), on("2026-10-05"));
    let late = weighed(Case::deeps(2, "2026-10-05").air(60.0), 120.0).advice();
    assert!(late.text().contains("Late since"), "{}", late.text());
}

/// W12: in liters and by the valley's own freezes, within room and time.
#[test]
fn thirty_five_kilograms_in_the_valley_are_fed_to_what_fits() {
    let case = Case::deeps(1, "2026-08-20").at(At::ValleyByFreezes).air(72.0).sees(|f| {
        f.weight = Some(Mass::from_kilograms(35.0));
        f.bees = Some(Frames(9.0));
    });
    let told = case.advice();
    told.says("feed.winter-weight", Urgency::Should);
    let liters = gallons(&case).unwrap() * 3.785;
    assert!((6.0..=13.0).contains(&liters), "{liters}: {}", told.list());
}

/// W13, C8: one box fewer, and no food for two.
#[test]
fn what_is_brought_together_is_not_fed_for_two() {
    let told = Case::deeps(2, "2026-08-10")
        .air(80.0)
        .sees(|f| {
            f.bees = Some(Frames(8.0));
            f.brood = Some(Frames(5.0));
            f.honey = Some(Frames(8.0));
        })
        .advice();
    let fewer = !told.doing(&[Deed::TakesNestBox]).is_empty();
    let fed = told.doing(&[Deed::GivesSyrup]);
    assert!(!fewer || fed.is_empty(), "{}", told.list());
}
