//! The sample book's hives, advised every week of a year with no visits: no panic, and each season's rules open
//! and close on their dates.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use yardwalk::model::{Book, Folded};
use yardwalk::plan::Outlook;
use yardwalk::season::DateId;
use yardwalk::store;

fn sample() -> Book {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    store::read(&path).unwrap().0
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn a_year_of_weeks_without_a_visit_keeps_every_rule_in_its_season() {
    let book = sample();
    let mut spoken: BTreeMap<&str, u32> = BTreeMap::new();
    for start in ["2025-08-10", "2026-04-15", "2026-08-08"] {
        let folded = Folded::of(&book, day(start));
        for yard in &book.yards {
            let mut outlook = Outlook::of(&book, &folded, yard);
            for week in 0..53 {
                let today = day(start) + Days::new(7 * week);
                let calendar = outlook.calendar(today).clone();
                for state in outlook.stands().to_vec() {
                    let advice = outlook.advice(state, today);
                    for prompt in &advice.prompts {
                        *spoken.entry(prompt.rule).or_default() += 1;
                        assert!(
                            prompt.due.opens <= today || prompt.rule == "nest.bottom-box",
                            "{today} {prompt:?}"
                        );
                        let window = match prompt.rule {
                            "heft.late-winter" if prompt.offers.is_empty() => Some(DateId::LateWinterHeft),
                            "swarm.check" => Some(DateId::SwarmSeason),
                            "mites.wash" => Some(DateId::FramesMayBeLifted),
                            _ => None,
                        };
                        if let Some(id) = window {
                            assert!(calendar.window(id).holds(today), "{} on {today}", prompt.rule);
                        }
                        let opens = match prompt.rule {
                            "super.off" => Some(DateId::HoneyBoxesOff),
                            "mouse-guard" if prompt.title.starts_with("Put on") => Some(DateId::MouseGuards),
                            "upper-entrance" => Some(DateId::UpperEntrances),
                            _ => None,
                        };
                        if let Some(id) = opens {
                            assert!(calendar.opens(id) <= today, "{} on {today}", prompt.rule);
                        }
                    }
                }
            }
        }
    }
    for rule in [
        "heft.late-winter",
        "feed.first-syrup",
        "nest.bottom-box",
        "swarm.check",
        "feed.new-colony",
        "mites.wash",
        "super.add",
        "super.off",
        "feed.winter-weight",
        "entrance.narrow",
        "upper-entrance",
        "mouse-guard",
        "followup",
        "queen.timeline",
        "leave-alone",
        "disease.suspect",
    ] {
        assert!(spoken.contains_key(rule), "{rule} never spoke: {spoken:?}");
    }
}

#[test]
fn each_rule_speaks_on_the_days_its_season_opens_and_closes() {
    let book = sample();
    let folded = Folded::of(&book, day("2026-01-20"));
    let yard = &book.yards[0];
    let state = folded.hive(&yard.hives[0].id).unwrap();
    let mut outlook = Outlook::of(&book, &folded, yard);
    let speaks = |rule: &str, on: NaiveDate, outlook: &mut Outlook<'_>| {
        let advice = outlook.advice(state, on);
        advice.prompts.iter().any(|p| p.rule == rule)
    };
    let calendar = outlook.calendar(day("2026-06-01")).clone();
    for (rule, id) in [("heft.late-winter", DateId::LateWinterHeft), ("swarm.check", DateId::SwarmSeason)] {
        let window = calendar.window(id);
        assert!(!speaks(rule, window.opens - Days::new(1), &mut outlook), "{rule} too early");
        assert!(speaks(rule, window.opens, &mut outlook), "{rule} not on its first day");
        assert!(speaks(rule, window.closes, &mut outlook), "{rule} not on its last day");
        assert!(!speaks(rule, window.closes + Days::new(1), &mut outlook), "{rule} too late");
    }
}

#[test]
fn what_the_plan_promises_is_what_the_hive_is_asked() {
    use yardwalk::advice::{Day, Situation, advise};
    use yardwalk::model::{Entry, Weather};
    let book = sample();
    let today = day("2026-05-03");
    let folded = Folded::of(&book, today);
    let plan = yardwalk::plan::day(&book, &folded, today);
    let mut compared = 0;
    for (yard, planned) in book.yards.iter().zip(&plan.yards) {
        let mut outlook = Outlook::of(&book, &folded, yard);
        let calendar = outlook.calendar(today).clone();
        for stop in planned.queue.iter().chain(&planned.rest) {
            let state = folded.hive(&stop.hive).unwrap();
            let entry = Entry::blank(stop.hive.clone());
            let day = Day {
                today,
                calendar: &calendar,
                weather: Weather::default(),
                practice: &book.practice,
                units: book.units,
                stands: outlook.stands(),
            };
            let at_the_hive = advise(&Situation::of(state, Some(&entry), day));
            assert_eq!(at_the_hive, stop.advice, "{}", stop.hive);
            compared += 1;
        }
    }
    assert_eq!(compared, 11, "three of the fourteen hives do not stand yet");
}
