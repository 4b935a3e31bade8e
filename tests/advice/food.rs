//! Food and starvation. Sources: spring feeding (Bee Culture's first-years magazine, 2019); a starvation alert of bee
//! inspectors, May 2021, on clubs' pages; Univ. of Georgia for the months of the south; the rest common practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{FeederLevel, Flight, Frames, Heft};

use crate::case::{At, Case};

#[test]
fn light_in_the_cold_of_late_winter_is_sugar_within_days_and_no_syrup() {
    let told = Case::deeps(1, "2026-03-20")
        .air(45.0)
        .sees(|f| {
            f.heft = Some(Heft::Light);
            f.flight = Some(Flight::Few);
        })
        .advice();
    told.says("heft.late-winter", Urgency::Must);
    told.never(&[Deed::GivesSyrup, Deed::LiftsFrames]);
}

#[test]
fn heavy_is_not_fed() {
    let told = Case::deeps(1, "2026-03-20").air(45.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
    told.never(&[Deed::GivesSyrup, Deed::FeedsSolid]);
}

#[test]
fn a_light_double_is_fed_whatever_two_boxes_should_hold() {
    for (on, air) in [("2026-04-05", 58.0), ("2026-04-28", 62.0)] {
        let told = Case::deeps(2, on)
            .air(air)
            .sees(|f| {
                f.heft = Some(Heft::Light);
                f.flight = Some(Flight::Many);
                f.pollen = Some(true);
            })
            .advice();
        let food: Vec<_> = told
            .0
            .prompts
            .iter()
            .filter(|p| p.deeds.contains(&Deed::GivesSyrup) || p.deeds.contains(&Deed::FeedsSolid))
            .collect();
        assert_eq!(food.len(), 1, "{on}: one way to feed: {}", told.list());
        assert_eq!(food.first().unwrap().urgency, Urgency::Must);
    }
}

#[test]
fn light_with_brood_in_a_week_of_rain_and_in_a_gap_of_the_flow_is_fed() {
    for (on, air, bees, brood) in [("2026-05-20", 61.0, 8.0, 6.0), ("2026-07-20", 85.0, 7.0, 5.0)] {
        let told = Case::deeps(1, on)
            .air(air)
            .sees(|f| {
                f.heft = Some(Heft::Light);
                f.honey = Some(Frames(0.5));
                f.bees = Some(Frames(bees));
                f.brood = Some(Frames(brood));
            })
            .advice();
        told.says("feed.starving", Urgency::Must);
    }
}

#[test]
fn in_the_cold_beside_a_full_feeder_it_is_solid_food() {
    let told = Case::deeps(1, "2026-05-10")
        .air(45.0)
        .sees(|f| {
            f.heft = Some(Heft::Light);
            f.flight = Some(Flight::None);
            f.feeder = Some(FeederLevel::Full);
        })
        .advice();
    told.says("feed.starving", Urgency::Must);
    told.never(&[Deed::GivesSyrup]);
}

/// A question whether to feed does not stand in for food.
#[test]
fn light_and_cold_is_fed_though_flight_and_pollen_were_not_looked_at() {
    for boxes in [1, 2] {
        for on in ["2026-04-25", "2026-05-05", "2026-05-20"] {
            let told = Case::deeps(boxes, on)
                .air(45.0)
                .sees(|f| {
                    f.heft = Some(Heft::Light);
                    f.bees = Some(Frames(13.0));
                })
                .advice();
            told.says("feed.starving", Urgency::Must);
            assert!(told.by("feed.first-syrup").is_none(), "{}", told.list());
        }
    }
}

/// Every day of the year, whatever is known beside it, a light hive is told a way to food.
#[test]
fn a_light_hive_is_told_food_on_every_day_and_at_every_temperature() {
    let days = crate::case::day("2026-01-01").iter_days().take(365).step_by(5);
    for on in days {
        for air in [20.0, 38.0, 45.0, 52.0, 65.0, 85.0] {
            for honey_box in [false, true] {
                let today = on.to_string();
                let mut case = Case::deeps(2, &today).air(air).sees(|f| f.heft = Some(Heft::Light));
                if honey_box {
                    case = case.honey_box("2025-12-31");
                }
                let told = case.advice();
                let is_food = |p: &yardwalk::advice::Prompt| {
                    p.deeds.contains(&Deed::GivesSyrup)
                        || p.deeds.contains(&Deed::FeedsSolid)
                        || p.rule == "feed.starving"
                };
                let stands = told.0.prompts.iter().filter(|p| is_food(p)).count();
                let held = told.0.held.iter().filter(|h| is_food(&h.prompt)).count();
                // Under 37 F the lid is not lifted: then it waits for the day, and says so.
                assert!(
                    stands >= 1 || (air < 37.0 && held >= 1),
                    "{today} {air} {honey_box}: {}",
                    told.list()
                );
            }
        }
    }
}

#[test]
fn in_the_south_the_bees_outrank_the_date() {
    let told = Case::deeps(1, "2026-02-15")
        .at(At::Piedmont)
        .air(62.0)
        .sees(|f| {
            f.heft = Some(Heft::Light);
            f.flight = Some(Flight::Many);
            f.pollen = Some(true);
        })
        .advice();
    let prompt = told.says("feed.first-syrup", Urgency::Must);
    assert!(prompt.title.contains("thin"), "{}", prompt.title);
    told.never(&[Deed::FeedsSolid]);
}

#[test]
fn hunger_under_a_honey_box_is_said_and_no_syrup_goes_into_honey() {
    let told = Case::deeps(1, "2026-06-14")
        .honey_box("2026-06-10")
        .air(57.0)
        .sees(|f| {
            f.heft = Some(Heft::Light);
            f.honey = Some(Frames(0.5));
        })
        .advice();
    told.says("feed.starving", Urgency::Must);
    told.never(&[Deed::GivesSyrup]);
}
