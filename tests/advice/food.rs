//! Food and starvation. Sources: spring feeding (Bee Culture's first-years magazine, 2019); a starvation alert of bee
//! inspectors, May 2021, on clubs' pages; Univ. of Georgia for the months of the south; the rest common practice.

use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{
    Action, Depth, FeederKind, FeederLevel, Flight, Frames, Heft, HiveBox, Mix, Origin, Role,
};

use crate::case::{At, Case};

/// F1.
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

/// F2.
#[test]
fn heavy_is_not_fed() {
    let told = Case::deeps(1, "2026-03-20").air(45.0).sees(|f| f.heft = Some(Heft::Heavy)).advice();
    told.never(&[Deed::GivesSyrup, Deed::FeedsSolid]);
}

/// F4 and F5.
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
            .live
            .prompts
            .iter()
            .filter(|p| p.deeds.contains(&Deed::GivesSyrup) || p.deeds.contains(&Deed::FeedsSolid))
            .collect();
        assert_eq!(food.len(), 1, "{on}: one way to feed: {}", told.list());
        assert_eq!(food.first().unwrap().urgency, Urgency::Must);
    }
}

/// F7 and F8.
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

/// F9.
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
                let stands = told.live.prompts.iter().filter(|p| is_food(p)).count();
                let held = told.live.held.iter().filter(|h| is_food(&h.prompt)).count();
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

/// F14.
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

/// F18.
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

/// F6: fair heft is not hunger.
#[test]
fn fair_heft_in_april_is_no_must() {
    let told = Case::deeps(1, "2026-04-12")
        .air(58.0)
        .sees(|f| {
            f.heft = Some(Heft::Fair);
            f.flight = Some(Flight::Many);
            f.pollen = Some(true);
        })
        .advice();
    let food = told.doing(&[Deed::GivesSyrup, Deed::FeedsSolid]);
    assert!(food.iter().all(|p| p.urgency > Urgency::Must), "{}", told.list());
}

/// F3: light in January.
#[test]
fn light_in_january_is_honey_or_fondant_at_the_cluster() {
    let told = Case::deeps(1, "2026-01-20").air(42.0).sees(|f| f.heft = Some(Heft::Light)).advice();
    let prompt = told.food();
    assert!(prompt.urgency <= Urgency::Should && prompt.deeds.contains(&Deed::FeedsSolid), "{}", told.list());
    told.never(&[Deed::GivesSyrup]);
    assert!(told.by("leave-alone").is_none());
}

fn new_colony(origin: Origin, came: &str, today: &str, drawn: u8) -> Case {
    Case::of(vec![HiveBox::with_drawn(Depth::Deep, 10, Role::Nest, drawn)], origin, came, today)
}

/// F10: the food must touch the bees.
#[test]
fn a_package_in_the_cold_gets_food_touching_the_cluster_today() {
    let told = new_colony(Origin::Package, "2026-04-21", "2026-04-21", 0).air(44.0).advice();
    let prompt = told.says("feed.new-colony", Urgency::Must);
    assert!(prompt.title.contains("touching the cluster"), "{}", prompt.title);
    told.mentions(&["upside down right over the cluster", "fondant"]);
    told.never_today(&[Deed::LiftsFrames]);
}

/// F11: feeder filled, cage only.
#[test]
fn a_package_on_its_fourth_day_is_fed_and_only_its_cage_is_lifted() {
    let queen = yardwalk::model::Queen::of_status(
        yardwalk::model::QueenStatus::Caged,
        Some(crate::case::day("2026-04-21")),
    );
    let told = new_colony(Origin::Package, "2026-04-21", "2026-04-25", 0)
        .with(|h| h.feeder = Some(FeederKind::Frame))
        .with(|h| h.queen = queen)
        .air(62.0)
        .sees(|f| f.feeder = Some(FeederLevel::Empty))
        .advice();
    assert!(told.says("feed.new-colony", Urgency::Must).title.contains("thin"));
    assert!(told.says("queen.timeline", Urgency::Must).title.contains("out of her cage"));
    told.never(&[Deed::LiftsFrames]);
}

/// F12 and F13: the flow's weeks feed only where they feed.
#[test]
fn a_new_colony_with_nothing_stored_is_fed_in_the_weeks_of_the_flow() {
    let light = |case: Case| {
        case.with(|h| h.feeder = Some(FeederKind::Frame)).sees(|f| {
            f.feeder = Some(FeederLevel::Empty);
            f.heft = Some(Heft::Light);
        })
    };
    let june = light(new_colony(Origin::Package, "2026-05-01", "2026-06-12", 3).air(70.0)).sees(|f| {
        f.drawn = Some(Frames(3.0));
        f.honey = Some(Frames(0.0));
    });
    let south = light(new_colony(Origin::Package, "2026-05-15", "2026-07-10", 6).at(At::Piedmont).air(92.0))
        .sees(|f| {
            f.drawn = Some(Frames(6.0));
            f.honey = Some(Frames(1.0));
        });
    for case in [june, south] {
        let told = case.advice();
        assert_eq!(told.food().urgency, Urgency::Must);
        assert!(told.food().deeds.contains(&Deed::GivesSyrup), "{}", told.list());
        told.never_in_words(&["feeder at the entrance"]);
    }
    let honey_only = new_colony(Origin::Package, "2026-05-01", "2026-06-12", 3)
        .air(70.0)
        .sees(|f| {
            f.drawn = Some(Frames(3.0));
            f.honey = Some(Frames(1.5));
            f.feeder = Some(FeederLevel::Empty);
        })
        .advice();
    honey_only.says("feed.new-colony", Urgency::Must);
}

/// F15: one way to feed, no more than its comb holds, and four frames seldom winter alone.
#[test]
fn a_late_swarm_is_fed_one_way_and_united() {
    let told = new_colony(Origin::Swarm, "2026-08-25", "2026-09-10", 5)
        .with(|h| h.feeder = Some(FeederKind::Frame))
        .air(70.0)
        .sees(|f| {
            f.bees = Some(Frames(4.0));
            f.drawn = Some(Frames(5.0));
            f.weight = Some(yardwalk::model::Mass::from_pounds(55.0));
            f.feeder = Some(FeederLevel::Empty);
        })
        .advice();
    assert!(told.doing(&[Deed::GivesSyrup]).len() <= 1, "{}", told.list());
    assert!(told.by("combine.weak").is_some(), "{}", told.list());
    let text = told.text_of_all();
    assert!(!text.contains("4 gal of") && !text.contains("5 gal of"), "{text}");
}

/// F16: thin syrup late is water to dry.
#[test]
fn a_swarm_of_september_is_united_in_october_or_fed_thick() {
    let told = new_colony(Origin::Swarm, "2026-09-20", "2026-10-20", 4)
        .with(|h| h.feeder = Some(FeederKind::Frame))
        .air(55.0)
        .sees(|f| {
            f.bees = Some(Frames(3.0));
            f.drawn = Some(Frames(4.0));
            f.feeder = Some(FeederLevel::Empty);
        })
        .advice();
    told.never(&[Deed::FeedsThin]);
    assert!(told.by("combine.weak").is_some(), "{}", told.list());
}

/// F17: no more of the same.
#[test]
fn what_was_fed_three_days_ago_is_not_fed_again() {
    for on in ["2026-04-20", "2026-05-20", "2026-07-20", "2026-09-10"] {
        let today = crate::case::day(on);
        let before = (today - chrono::Duration::days(3)).to_string();
        let fed = Action::FeedSyrup { mix: Mix::Thin, volume: yardwalk::model::Volume::from_gallons(1.0) };
        let light = |air| {
            Case::deeps(1, on)
                .did(&before, std::slice::from_ref(&fed))
                .air(air)
                .sees(|f| f.heft = Some(Heft::Light))
        };
        light(65.0).advice().never_today(&[Deed::GivesSyrup]);
        let cold = light(42.0).advice();
        assert!(!cold.doing(&[Deed::FeedsSolid]).is_empty(), "{on}: {}", cold.list());
    }
    let full = Case::deeps(1, "2026-05-20").air(65.0).sees(|f| {
        f.heft = Some(Heft::Light);
        f.feeder = Some(FeederLevel::Full);
    });
    full.advice().never(&[Deed::GivesSyrup]);
}
