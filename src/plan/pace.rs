//! How this keeper's minutes stand to the plan's.

use chrono::NaiveDate;

use super::Outlook;
use super::day::minutes;
use crate::model::{Book, Folded, days_after};

/// A keeper's pace, by his own logged minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// What the plan's minutes are multiplied by.
    pub factor: f64,
    /// How many hives it was learned from.
    pub hives: usize,
}

impl Pace {
    /// Nothing logged: the plan's own minutes.
    pub const PLAN: Self = Self { factor: 1.0, hives: 0 };
}

/// Visits it is learned from: the last ones, for a keeper gets quicker.
const VISITS: usize = 3;
/// Minutes at the plan's own pace that stand against what was logged, so that one odd hive does not turn it.
const PRIOR: f64 = 60.0;
/// The furthest a pace is believed to stand from the plan's.
const LEAST: f64 = 0.4;
const MOST: f64 = 3.0;

/// The pace of the last visits that have minutes logged.
pub fn pace(book: &Book, as_of: NaiveDate) -> Pace {
    let (mut planned, mut taken, mut hives) = (PRIOR, PRIOR, 0);
    let standing = book.standing_visits(as_of);
    let timed = standing.iter().rev().filter(|v| v.entries.iter().any(|e| e.minutes.is_some()));
    for visit in timed.take(VISITS) {
        let Some(yard) = book.yards.iter().find(|y| y.name == visit.yard) else { continue };
        let folded = Folded::of(book, days_after(visit.on, -1));
        let mut outlook = Outlook::of(book, &folded, yard);
        for entry in &visit.entries {
            let (Some(spent), Some(state)) = (entry.minutes, folded.hive(&entry.hive)) else { continue };
            let expected = minutes(&outlook.advice(state, visit.on), 1.0);
            // What was not planned for was looked at on the way past: it says nothing of the pace.
            if expected > 0 {
                planned += f64::from(expected);
                taken += f64::from(spent);
                hives += 1;
            }
        }
    }
    Pace { factor: (taken / planned).clamp(LEAST, MOST), hives }
}
