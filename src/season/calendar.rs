//! The calendar of one yard in one year: every date as a window, in order, each explaining itself.

use chrono::{Datelike, NaiveDate};

use super::reference::{DateId, REFERENCE, Reference, Sense};
use super::shift::Shift;
use crate::model::{Yard, days_after};

/// Two days and all between.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// First day.
    pub opens: NaiveDate,
    /// Last day.
    pub closes: NaiveDate,
}

impl Window {
    /// Whether a day lies in it.
    pub fn holds(&self, day: NaiveDate) -> bool {
        self.opens <= day && day <= self.closes
    }
}

/// One date of the year, with where it comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SeasonDate {
    /// Which.
    pub id: DateId,
    /// When.
    pub window: Window,
    /// Base and shift, in words.
    pub from: String,
}

/// What the year is at, in words for the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// In the cluster.
    Winter,
    /// From the heft to the day frames may be lifted.
    LateWinter,
    /// Swarm season.
    Swarming,
    /// The main flow.
    MainFlow,
    /// After it, before the fall flow.
    LateSummer,
    /// Fall flow and feeding.
    Fall,
    /// Feeding over, before the cluster.
    WrapUp,
}

impl Phase {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Winter => "winter cluster",
            Self::LateWinter => "late winter",
            Self::Swarming => "swarm season",
            Self::MainFlow => "main flow",
            Self::LateSummer => "late summer",
            Self::Fall => "fall flow and feeding",
            Self::WrapUp => "wrap-up for winter",
        }
    }
}

/// The dates of one yard in one calendar year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    /// The year.
    pub year: i32,
    /// How far it stands from the reference.
    pub shift: Shift,
    /// The dates, in the order of [`REFERENCE`].
    pub dates: Vec<SeasonDate>,
}

impl Calendar {
    /// The calendar of a yard in the year of a day.
    pub fn of(yard: &Yard, day: NaiveDate) -> Self {
        Self::shifted(Shift::of(yard), day.year())
    }

    /// The calendar with a shift.
    pub fn shifted(shift: Shift, year: i32) -> Self {
        let dates = REFERENCE.iter().map(|r| date(r, &shift, year)).collect();
        Self { year, shift, dates }
    }

    /// The window of a date.
    pub fn window(&self, id: DateId) -> Window {
        self.dates
            .iter()
            .find(|d| d.id == id)
            .map_or_else(|| date(id.reference(), &self.shift, self.year).window, |found| found.window)
    }

    /// First day of a date.
    pub fn opens(&self, id: DateId) -> NaiveDate {
        self.window(id).opens
    }

    /// Last day of a date.
    pub fn closes(&self, id: DateId) -> NaiveDate {
        self.window(id).closes
    }

    /// Whether the bees are in the winter cluster, before this year's spring or after its autumn.
    pub fn is_winter(&self, day: NaiveDate) -> bool {
        day < self.opens(DateId::LateWinterHeft) || day >= self.opens(DateId::Cluster)
    }

    /// Whether frames may be lifted by the date alone.
    pub fn frames_may_be_lifted(&self, day: NaiveDate) -> bool {
        self.window(DateId::FramesMayBeLifted).holds(day)
    }

    /// What the year is at.
    pub fn phase(&self, day: NaiveDate) -> Phase {
        if self.is_winter(day) {
            Phase::Winter
        } else if day < self.opens(DateId::FramesMayBeLifted) {
            Phase::LateWinter
        } else if day < self.opens(DateId::MainFlow) {
            Phase::Swarming
        } else if day <= self.closes(DateId::MainFlow) {
            Phase::MainFlow
        } else if day < self.opens(DateId::FallFlow) {
            Phase::LateSummer
        } else if day <= self.closes(DateId::FeedingDone) {
            Phase::Fall
        } else {
            Phase::WrapUp
        }
    }
}

fn date(reference: &Reference, shift: &Shift, year: i32) -> SeasonDate {
    let end = |(month, on): (u32, u32), sense, year| {
        let base = NaiveDate::from_ymd_opt(year, month, on).unwrap_or_default();
        days_after(base, days(shift, sense))
    };
    let opens = end(reference.opens, reference.opens_sense, year);
    let into_next = i32::from(reference.closes < reference.opens);
    let closes = end(reference.closes, reference.closes_sense, year + into_next);
    let moved = days(shift, reference.opens_sense);
    let way = match moved {
        0 => "as the reference".to_owned(),
        1.. => format!("{moved} days later"),
        _ => format!("{} days earlier", -moved),
    };
    SeasonDate {
        id: reference.id,
        // A season never closes before it opens, however far the place.
        window: Window { opens, closes: closes.max(opens) },
        from: format!("{} {}, {way}: {}", month(reference.opens.0), reference.opens.1, shift.from),
    }
}

fn days(shift: &Shift, sense: Sense) -> i64 {
    match sense {
        Sense::Spring => shift.spring,
        Sense::Midsummer => 0,
        Sense::Autumn => -shift.autumn,
    }
}

fn month(number: u32) -> &'static str {
    const NAMES: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    NAMES.get((number as usize).wrapping_sub(1)).copied().unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// The reference dates: common practice, no single source.
    #[test]
    fn without_a_shift_the_dates_are_the_reference() {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        for (id, opens, closes) in [
            (DateId::LateWinterHeft, "2026-03-15", "2026-03-31"),
            (DateId::SwarmSeason, "2026-04-25", "2026-06-25"),
            (DateId::MitesInCheck, "2026-07-15", "2026-08-15"),
            (DateId::FeedingDone, "2026-09-01", "2026-09-30"),
            (DateId::Cluster, "2026-11-10", "2027-03-15"),
        ] {
            assert_eq!(calendar.window(id), Window { opens: day(opens), closes: day(closes) }, "{id:?}");
        }
    }

    #[test]
    fn spring_comes_later_and_autumn_earlier_by_the_shift() {
        let shift = Shift { spring: 12, autumn: 8, from: String::new() };
        let calendar = Calendar::shifted(shift, 2026);
        assert_eq!(calendar.opens(DateId::FramesMayBeLifted), day("2026-05-07"));
        assert_eq!(calendar.closes(DateId::FeedingDone), day("2026-09-22"));
        assert_eq!(calendar.window(DateId::MainFlow).opens, day("2026-06-10"));
    }

    #[test]
    fn a_season_never_closes_before_it_opens() {
        for spring in (-200..=200).step_by(7) {
            for autumn in (-200..=200).step_by(7) {
                let calendar = Calendar::shifted(Shift { spring, autumn, from: String::new() }, 2026);
                assert!(calendar.dates.iter().all(|d| d.window.opens <= d.window.closes));
            }
        }
    }

    #[test]
    fn every_day_of_the_year_has_its_phase_in_order() {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let mut words = Vec::new();
        for day in day("2026-01-01").iter_days().take(365) {
            let word = calendar.phase(day).word();
            if words.last() != Some(&word) {
                words.push(word);
            }
        }
        assert_eq!(
            words,
            [
                "winter cluster",
                "late winter",
                "swarm season",
                "main flow",
                "late summer",
                "fall flow and feeding",
                "wrap-up for winter",
                "winter cluster"
            ]
        );
    }
}
