//! This year's spring, told by a bloom: how early or late it came, and how far that reaches.

use chrono::{Datelike, NaiveDate};

use super::calendar::bee_year;
use crate::model::{Bloom, DayOfYear, Hemisphere, SeenBloom, Units, days_after};
use crate::wording;

/// When a bloom is usual at the reference place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Expected {
    /// Which.
    pub bloom: Bloom,
    /// The usual day (common practice for 43 N, no single source).
    pub usual: DayOfYear,
}

/// The blooms by which spring is told. The fall flow tells nothing of spring.
pub(super) const EXPECTED: &[Expected] = &[
    Expected { bloom: Bloom::FirstPollen, usual: DayOfYear::known(3, 25) },
    Expected { bloom: Bloom::Dandelion, usual: DayOfYear::known(4, 25) },
    Expected { bloom: Bloom::MainFlow, usual: DayOfYear::known(6, 10) },
];

/// Midsummer, by which what spring lost or gained has faded out.
const MIDSUMMER: DayOfYear = DayOfYear::known(6, 21);
/// Days a year is believed to run early or late at most (our choice).
pub(super) const MOST: i64 = 21;

/// How far this year's spring stands from the usual one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BloomShift {
    /// By which bloom.
    pub bloom: Bloom,
    /// When it was first noted this year.
    pub on: NaiveDate,
    /// Days later than usual; early is negative. At most 21 either way.
    pub days: i64,
    usual: NaiveDate,
    midsummer: NaiveDate,
}

impl BloomShift {
    /// From the blooms noted at a yard: the furthest on in the year tells, on the day it was first noted.
    ///
    /// `spring` is how many days later than at the reference spring usually comes here.
    pub(super) fn of(seen: &[SeenBloom], spring: i64, year: i32, side: Hemisphere) -> Option<Self> {
        EXPECTED.iter().rev().find_map(|expected| {
            let first = seen
                .iter()
                .filter(|s| s.bloom == expected.bloom && bee_year(s.on, side) == year)
                .map(|s| s.on)
                .min()?;
            // The main bloom stands nearly at midsummer, which no place moves.
            let place = if expected.bloom == Bloom::MainFlow { 0 } else { spring };
            let usual = days_after(turned(expected.usual, year, side), place);
            Some(Self {
                bloom: expected.bloom,
                on: first,
                days: (first - usual).num_days().clamp(-MOST, MOST),
                usual,
                midsummer: turned(MIDSUMMER, year, side),
            })
        })
    }

    /// Days by which a spring date usual on `date` moves: all of it about the bloom, none from midsummer.
    pub fn at(&self, date: NaiveDate) -> i64 {
        let span = (self.midsummer - self.usual).num_days().max(1);
        let left = (self.midsummer - date).num_days().clamp(0, span);
        // To the nearest day, halves away from none.
        let scaled = self.days * left * 2;
        (scaled + span * scaled.signum()) / (2 * span)
    }

    /// In words, for a screen or a list: `dandelion on 14 Apr, 11 days early`.
    pub fn words(&self, units: Units) -> String {
        let way = match self.days {
            0 => "as usual".to_owned(),
            1.. => format!("{} days late", self.days),
            _ => format!("{} days early", -self.days),
        };
        format!("{} on {}, {way}", self.bloom.word(), wording::day(units, self.on))
    }
}

/// A day of the northern year in a bee year, half a year round in the south.
pub(super) fn turned(day: DayOfYear, year: i32, side: Hemisphere) -> NaiveDate {
    let north = day.in_year(year).unwrap_or_default();
    match side {
        Hemisphere::North => north,
        Hemisphere::South => north.checked_add_months(chrono::Months::new(6)).unwrap_or(north),
    }
}

/// The bee year of a day: the calendar's in the north; from July to June in the south, named by its spring.
pub(super) fn year_of(day: NaiveDate, side: Hemisphere) -> i32 {
    match side {
        Hemisphere::South if day.month() < 7 => day.year() - 1,
        Hemisphere::South | Hemisphere::North => day.year(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;

    fn seen(on: &str, bloom: Bloom) -> SeenBloom {
        SeenBloom { on: day(on), bloom }
    }

    #[test]
    fn the_furthest_bloom_tells_on_the_day_it_was_first_noted() {
        let blooms = [
            seen("2025-04-01", Bloom::Dandelion),
            seen("2026-03-20", Bloom::FirstPollen),
            seen("2026-04-15", Bloom::Dandelion),
            seen("2026-04-22", Bloom::Dandelion),
            seen("2026-08-20", Bloom::FallFlow),
        ];
        let shift = BloomShift::of(&blooms, 0, 2026, Hemisphere::North).unwrap();
        assert_eq!((shift.bloom, shift.on, shift.days), (Bloom::Dandelion, day("2026-04-15"), -10));
        assert_eq!(shift.words(Units::Metric), "dandelion on 15 Apr, 10 days early");
        assert_eq!(BloomShift::of(&blooms, 8, 2026, Hemisphere::North).unwrap().days, -18);
        assert_eq!(BloomShift::of(&blooms, 0, 2027, Hemisphere::North), None);
        assert_eq!(BloomShift::of(&blooms[4..], 0, 2026, Hemisphere::North), None, "the fall tells nothing");
    }

    /// By hand: from 25 April to 21 June are 57 days; 10 days early are all of it on 25 April, half of it (rounded up)
    /// 28 days on, none from 21 June.
    #[test]
    fn what_spring_gained_fades_out_by_midsummer() {
        let shift =
            BloomShift::of(&[seen("2026-04-15", Bloom::Dandelion)], 0, 2026, Hemisphere::North).unwrap();
        for (date, days) in [
            ("2026-03-15", -10),
            ("2026-04-25", -10),
            ("2026-05-23", -5),
            ("2026-06-21", 0),
            ("2026-07-20", 0),
        ] {
            assert_eq!(shift.at(day(date)), days, "{date}");
        }
    }

    #[test]
    fn no_year_is_believed_to_run_more_than_three_weeks_off() {
        for (on, days) in [("2026-01-10", -21), ("2026-04-04", -21), ("2026-04-05", -20), ("2026-06-30", 21)]
        {
            let shift = BloomShift::of(&[seen(on, Bloom::Dandelion)], 0, 2026, Hemisphere::North).unwrap();
            assert_eq!(shift.days, days, "{on}");
        }
    }

    #[test]
    fn in_the_south_spring_is_half_a_year_round() {
        let shift =
            BloomShift::of(&[seen("2026-10-20", Bloom::Dandelion)], 0, 2026, Hemisphere::South).unwrap();
        assert_eq!(shift.days, -5);
        assert_eq!(year_of(day("2027-02-01"), Hemisphere::South), 2026);
        assert_eq!(year_of(day("2026-07-01"), Hemisphere::South), 2026);
        assert_eq!(year_of(day("2026-06-30"), Hemisphere::South), 2025);
    }
}
