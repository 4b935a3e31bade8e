//! The brood clock: days from egg to bee, and what the ages of brood say about the queen.
//!
//! Worker: egg 3, open 6, sealed 12, together 21 days. Queen: 3, 5.5, 7.5, together 16 (Winston, The Biology of
//! the Honey Bee, 1987, ch. 4; the figure read in a secondary page). Timelines after a split are worked from these.

use chrono::{NaiveDate, TimeDelta};

/// Days a worker is an egg.
pub const EGG: i64 = 3;
/// Day from the egg on which a worker's cell is sealed.
pub const SEALED: i64 = 9;
/// Day from the egg on which a worker hatches.
pub const WORKER: i64 = 21;

/// When a queen was last laying, by the youngest brood seen: the latest and the earliest day.
pub fn last_laid(
    seen_on: NaiveDate,
    eggs: bool,
    larvae: bool,
    sealed: bool,
) -> Option<(NaiveDate, NaiveDate)> {
    let ago = |days| seen_on.checked_sub_signed(TimeDelta::days(days)).unwrap_or(seen_on);
    if eggs {
        Some((ago(EGG), seen_on))
    } else if larvae {
        Some((ago(SEALED), ago(EGG)))
    } else if sealed {
        Some((ago(WORKER), ago(SEALED)))
    } else {
        None
    }
}

/// What a colony raising its own queen comes to, in days from the split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Raising {
    /// Cells may be counted once until this day.
    pub cells_until: NaiveDate,
    /// From this day no frame is lifted.
    pub quiet_from: NaiveDate,
    /// To this day.
    pub quiet_to: NaiveDate,
    /// First eggs at the earliest.
    pub eggs_from: NaiveDate,
    /// Without eggs or a queen by this day it has failed.
    pub failed_by: NaiveDate,
}

/// The dates after a walk-away split.
///
/// Worked from the queen's 16 days and a larva up to 36 hours old: cell sealed day 4-6, virgin out day 11-13,
/// mating day 16-25, eggs day 19-29, failed when day 30 shows neither eggs nor queen.
pub fn after_split(on: NaiveDate) -> Raising {
    let day = |days| on.checked_add_signed(TimeDelta::days(days)).unwrap_or(on);
    Raising {
        cells_until: day(7),
        quiet_from: day(10),
        quiet_to: day(24),
        eggs_from: day(19),
        failed_by: day(30),
    }
}

/// The dates after a ripe cell was given: it hatches within 2 days, eggs are due in 14 to 21 (Laidlaw & Page
/// 1997, from memory).
pub fn after_caged(on: NaiveDate) -> (NaiveDate, NaiveDate) {
    let day = |days| on.checked_add_signed(TimeDelta::days(days)).unwrap_or(on);
    (day(3), day(8))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_youngest_brood_dates_the_queen() {
        let on = day("2026-06-22");
        let cases = [
            ((true, true, true), Some((day("2026-06-19"), on))),
            ((false, true, true), Some((day("2026-06-13"), day("2026-06-19")))),
            ((false, false, true), Some((day("2026-06-01"), day("2026-06-13")))),
            ((false, false, false), None),
        ];
        for ((eggs, larvae, sealed), expected) in cases {
            assert_eq!(last_laid(on, eggs, larvae, sealed), expected);
        }
    }

    /// A published diary: split on 18 May, first eggs seen on 22 June, day 35: after the earliest day given here.
    #[test]
    fn a_published_diary_fits_the_timeline() {
        let dates = after_split(day("2026-05-18"));
        assert!(dates.eggs_from <= day("2026-06-22"));
        assert_eq!(dates.failed_by, day("2026-06-17"));
        assert_eq!((dates.quiet_from, dates.quiet_to), (day("2026-05-28"), day("2026-06-11")));
    }
}
