//! How this keeper's minutes stand to the plan's.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Outlook;
use super::day::minutes;
use crate::model::{Book, Folded, days_after};

/// A keeper's pace, by his own logged minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
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
/// Hives of a visit it is learned from: the pace of a dozen is that of the yard (our choice).
const HIVES: usize = 12;
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
        let folded = Folded::of_yard(book, yard, days_after(visit.on, -1));
        let mut outlook = Outlook::of(book, &folded, yard);
        for entry in visit.entries.iter().filter(|entry| entry.minutes.is_some()).take(HIVES) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use crate::model::{
        Depth, Entry, Hive, HiveBox, HiveId, Origin, Queen, QueenStatus, Role, Units, Visit, VisitId, Yard,
        YardId,
    };

    /// Ten hives washed on one day, each in so many minutes.
    fn book(minutes: Option<u16>) -> Book {
        let mut book = Book::empty("T", Units::Us);
        let id = |n: u32| HiveId::new(format!("H{n}"));
        let hive = |n| {
            let boxes = vec![HiveBox::new(Depth::Deep, 10, Role::Nest)];
            let queen = Queen::of_status(QueenStatus::Laying, None);
            Hive::new(id(n), Origin::Overwintered, day("2025-01-01"), boxes, queen)
        };
        book.yards.push(Yard {
            name: YardId::new("Y"),
            place: None,
            formerly: Vec::new(),
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: (0..10).map(hive).collect(),
        });
        let entries = (0..10).map(|n| Entry { minutes, ..Entry::blank(id(n)) }).collect();
        book.visits =
            vec![Visit { entries, ..Visit::begun(VisitId::new("v"), YardId::new("Y"), day("2026-06-28")) }];
        book
    }

    fn factor(minutes: Option<u16>) -> f64 {
        pace(&book(minutes), day("2026-07-01")).factor
    }

    #[test]
    fn nothing_logged_is_the_plans_own_pace() {
        assert_eq!(pace(&book(None), day("2026-07-01")), Pace::PLAN);
        assert_eq!(pace(&book(Some(40)), day("2026-06-27")), Pace::PLAN, "not before it was logged");
    }

    /// A wash of an unopened hive, and a look whether it needs a honey box, are 2 + 4 + 6 + 2 = 14 planned minutes, ten of
    /// them 140, with 60 at the plan's pace beside: at 24 minutes each (240 + 60) / 200.
    #[test]
    fn the_pace_leans_to_what_was_logged_and_is_held_within_reason() {
        assert!((factor(Some(14)) - 1.0).abs() < 1e-9, "{}", factor(Some(14)));
        assert!((factor(Some(24)) - 300.0 / 200.0).abs() < 1e-9);
        assert!(factor(Some(6)) < 1.0);
        assert!((factor(Some(240)) - MOST).abs() < 1e-9);
        assert_eq!(pace(&book(Some(24)), day("2026-07-01")).hives, 10);
    }
}
