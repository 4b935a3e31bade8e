//! Trip dates on the sample book: every prompt that opens before the next trip is in it, and none is earlier than the
//! weather rule allows.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use chrono::NaiveDate;
use yardwalk::advice::{Deed, Urgency};
use yardwalk::model::{Book, Folded};
use yardwalk::plan::{Outlook, Pace, Trip, WEEKS_AHEAD, trips};
use yardwalk::store;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn sample() -> Book {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-yard.ron");
    store::read(&path).unwrap().0
}

fn each_yard(mut look: impl FnMut(&mut Outlook<'_>, NaiveDate, &[Trip])) {
    let book = sample();
    for on in ["2025-09-01", "2026-01-20", "2026-03-10", "2026-05-03", "2026-06-14", "2026-08-08"] {
        let today = day(on);
        let folded = Folded::of(&book, today);
        for yard in &book.yards {
            let mut outlook = Outlook::of(&book, &folded, yard);
            let found = trips(&mut outlook, today, Pace::PLAN);
            look(&mut outlook, today, &found);
        }
    }
}

#[test]
fn trips_are_in_order_within_eight_weeks_and_meet_every_window() {
    let mut seen = 0;
    each_yard(|_, today, trips| {
        assert!(trips.windows(2).all(|w| w[0].on < w[1].on), "{today}");
        for trip in trips {
            assert!(trip.on >= today && (trip.on - today).num_days() <= WEEKS_AHEAD);
            assert!(trip.until >= trip.on && trip.minutes > 0 && !trip.hives().is_empty());
            for need in &trip.needs {
                assert!(need.window.opens <= trip.on && trip.on <= need.window.latest, "{today} {need:?}");
                seen += 1;
            }
        }
    });
    assert!(seen > 100, "{seen}");
}

#[test]
fn every_prompt_that_opens_before_the_first_trip_is_in_it() {
    each_yard(|outlook, today, trips| {
        let Some(first) = trips.first() else { return };
        for state in outlook.stands().to_vec() {
            for date in today.iter_days().take_while(|d| *d <= first.on) {
                for prompt in outlook.advice(state, date).prompts {
                    let is_in = first.needs.iter().any(|n| n.hive == state.id && n.rule == prompt.rule);
                    assert!(prompt.urgency == Urgency::May || is_in, "{today} {} {}", state.id, prompt.title);
                }
            }
        }
    });
}

#[test]
fn no_trip_is_earlier_than_frames_may_be_lifted_for_what_lifts_them() {
    let mut lifted = 0;
    each_yard(|outlook, _, trips| {
        // Only the first trip is judged on the hives as they stand: later ones are judged as if it were done.
        let Some(trip) = trips.first() else { return };
        for need in &trip.needs {
            let state = outlook.stands().iter().copied().find(|s| s.id == need.hive).unwrap();
            let advice = outlook.advice(state, need.window.opens);
            let prompt = advice.prompts.iter().find(|p| p.rule == need.rule).unwrap();
            if prompt.deeds.contains(&Deed::LiftsFrames) {
                assert!(outlook.calendar(need.window.opens).frames_may_be_lifted(need.window.opens));
                lifted += 1;
            }
        }
    });
    assert!(lifted > 10, "{lifted}");
}

#[test]
fn in_swarm_season_the_look_for_cells_comes_again_and_hives_share_their_trips() {
    let book = sample();
    let today = day("2026-05-03");
    let folded = Folded::of(&book, today);
    let mut outlook = Outlook::of(&book, &folded, &book.yards[0]);
    let hives = outlook.stands().len();
    let found = trips(&mut outlook, today, Pace::PLAN);
    let looks = found.iter().filter(|t| t.needs.iter().any(|n| n.rule == "swarm.check")).count();
    assert!((5..=9).contains(&looks), "every 8 days for seven weeks: {looks}");
    let alone: usize = found.iter().map(|t| t.hives().len()).sum();
    assert!(found.len() * 2 < alone, "{} trips for {alone} hive visits to {hives} hives", found.len());
}
