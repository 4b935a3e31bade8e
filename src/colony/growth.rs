//! Growth: bees and brood day by day, and from it *nest full on* and *winter size on*.
//!
//! Brood passes through its days (egg 3, open 6, sealed 12) into bees; bees die by the season; the queen lays what
//! season, bees and room allow. Three runs, low, middle and high, give a range and not one line: the doubt of the count
//! and of the figures below is larger than any rounding.

use chrono::NaiveDate;

use super::spread::Spread;
use super::strength::{self, Range};
use crate::model::Hemisphere;

/// What a run assumes. The count itself is not in it: frames go in and frames come out on one scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Assumptions {
    /// Brood cells in a frame of brood, both sides of a deep frame.
    pub cells_a_frame: f64,
    /// Eggs a day at the height of the season.
    pub most_eggs: f64,
    /// Eggs a day that one bee can raise: nurses set the pace of a small colony.
    pub eggs_a_bee: f64,
    /// Mean life of the bees, as a share of the table's.
    pub life: f64,
}

/// The slow run. Cells: 70 % of a frame (see `strength`); eggs: under Winston's range; nursing: our choice.
pub const LOW: Assumptions =
    Assumptions { cells_a_frame: 4_460.0, most_eggs: 1_300.0, eggs_a_bee: 0.035, life: 0.9 };
/// The middle run. Eggs: Winston 1987, from memory, 1,500 to 2,000; nursing: our choice, such that a colony of three
/// frames raises about a frame of brood in three weeks.
pub const MID: Assumptions =
    Assumptions { cells_a_frame: 5_098.0, most_eggs: 1_500.0, eggs_a_bee: 0.045, life: 1.0 };
/// The fast run.
pub const HIGH: Assumptions =
    Assumptions { cells_a_frame: 6_075.0, most_eggs: 1_800.0, eggs_a_bee: 0.055, life: 1.1 };

/// Mean life of a worker in days by month, January first (Winston 1987, table, from memory: winter 150 to 200,
/// spring and autumn 30 to 60, summer 15 to 38).
const LIFE: [f64; 12] = [160.0, 120.0, 60.0, 42.0, 36.0, 32.0, 32.0, 36.0, 60.0, 120.0, 160.0, 170.0];
/// Share of the queen's most eggs she lays by month in a cold-winter place, January first (common practice, no
/// single source).
const LAYING: [f64; 12] = [0.0, 0.1, 0.35, 0.7, 1.0, 1.0, 0.9, 0.7, 0.4, 0.1, 0.0, 0.0];
/// Days an egg, a larva and a sealed bee take, together 21.
const DAYS: usize = 21;
/// Bees of a winter cluster that is large enough in a cold winter: 8 deep frames (extension guides, from memory).
pub const WINTER_FRAMES: f64 = 8.0;

/// What a colony is on the day it was looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Start {
    /// The day.
    pub on: NaiveDate,
    /// Deep frames covered with bees.
    pub bees: f64,
    /// Deep frames of brood.
    pub brood: f64,
    /// Deep frames the nest has room for, brood and bees.
    pub room: f64,
    /// On which side of the equator: the months of life and laying are the north's.
    pub side: Hemisphere,
    /// From when there is a laying queen; from the first day where none is given.
    pub laying_from: Option<NaiveDate>,
}

impl Start {
    /// A colony with its queen laying.
    pub fn laying(on: NaiveDate, bees: f64, brood: f64, room: f64, side: Hemisphere) -> Self {
        Self { on, bees, brood, room, side, laying_from: None }
    }
}

/// A colony on one day of a run, in bees and cells.
#[derive(Debug, Clone)]
struct Colony {
    adults: f64,
    /// Brood by its age in days, eggs first.
    brood: [f64; DAYS],
}

fn month_of(values: &[f64; 12], day: NaiveDate, side: Hemisphere) -> f64 {
    values.get(side.month0(day)).copied().unwrap_or(0.0)
}

impl Colony {
    fn start(start: &Start, assume: &Assumptions) -> Self {
        let adults = start.bees.max(0.0) * strength::DEEP_FRAME.mid;
        let cells = start.brood.max(0.0) * assume.cells_a_frame;
        // Brood of all ages alike: eggs, open and sealed by the days they take.
        Self { adults, brood: [cells / DAYS as f64; DAYS] }
    }

    fn step(&mut self, day: NaiveDate, start: &Start, assume: &Assumptions) {
        let room_cells = start.room.max(0.0) * HIGH.cells_a_frame;
        let emerging = self.brood.last().copied().unwrap_or(0.0);
        self.brood.rotate_right(1);
        let used: f64 = self.brood.iter().skip(1).sum();
        let is_laying = start.laying_from.is_none_or(|from| from <= day);
        let laying = if is_laying { month_of(&LAYING, day, start.side) } else { 0.0 };
        let season = laying * assume.most_eggs;
        let nursed = laying * self.adults * assume.eggs_a_bee;
        let eggs = season.min(nursed).min((room_cells - used).max(0.0));
        if let Some(first) = self.brood.first_mut() {
            *first = eggs;
        }
        let deaths = self.adults / (month_of(&LIFE, day, start.side) * assume.life).max(1.0);
        self.adults = (self.adults - deaths + emerging).max(0.0);
    }
}

/// Frames of bees on each day from the start under one set of assumptions; at most two years are run.
pub fn run(start: &Start, days: usize, assume: &Assumptions) -> Vec<(NaiveDate, f64)> {
    let mut colony = Colony::start(start, assume);
    start
        .on
        .iter_days()
        .take(days.min(730) + 1)
        .map(|day| {
            let frames = colony.adults / strength::DEEP_FRAME.mid;
            colony.step(day, start, assume);
            (day, frames)
        })
        .collect()
}

/// Frames of bees on each day from the start, low, middle and high; at most two years are run.
pub fn project(start: &Start, days: usize) -> Vec<(NaiveDate, Range)> {
    let [low, mid, high] = [LOW, MID, HIGH].map(|assume| run(start, days, &assume));
    low.into_iter()
        .zip(mid)
        .zip(high)
        .map(|(((day, low), (_, mid)), (_, high))| (day, Range { low, mid, high }))
        .collect()
}

/// Spread of a reader's frames of bees, of the logarithm: two readers of 55 hives, Georgia 2020.
const READER: f64 = 0.13;
/// What colonies alike on paper differ by in two weeks, of the logarithm (fitted to the splits of Aurell et al. 2025).
const TWO_WEEKS: f64 = 0.30;

/// Frames of bees that the next count will find some days on, with the doubt of both counts and of the colony.
pub fn next_frames(start: &Start, days: usize) -> Spread {
    let middle = run(start, days, &MID).last().map_or(start.bees, |(_, frames)| *frames);
    let colony = TWO_WEEKS.powi(2) * days.min(730) as f64 / 14.0;
    Spread::log_normal(middle, (2.0 * READER.powi(2) + colony).sqrt())
}

/// Days a projection looks ahead for an answer.
const AHEAD: usize = 120;

/// A day as the middle run has it, and the earliest and latest of the runs that come to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DayRange {
    /// The fast run.
    pub earliest: NaiveDate,
    /// The middle run.
    pub likely: NaiveDate,
    /// The slow run, where it comes to it within 120 days.
    pub latest: Option<NaiveDate>,
}

/// The day so many frames are covered; `None` where the middle run does not come to that within 120 days.
pub fn covered_on(start: &Start, frames: f64) -> Option<DayRange> {
    let days = project(start, AHEAD);
    let first = |of: fn(&Range) -> f64| days.iter().find(|(_, r)| of(r) >= frames).map(|(day, _)| *day);
    let likely = first(|r| r.mid)?;
    Some(DayRange { earliest: first(|r| r.high).unwrap_or(likely), likely, latest: first(|r| r.low) })
}

/// The day a colony is large enough to winter, 8 frames of bees, if it is not so yet.
pub fn winter_size_on(start: &Start) -> Option<DayRange> {
    covered_on(start, WINTER_FRAMES)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use proptest::prelude::*;

    fn start(on: &str, bees: f64, brood: f64) -> Start {
        Start::laying(day(on), bees, brood, 20.0, Hemisphere::North)
    }

    #[test]
    fn eight_frames_on_six_of_brood_in_may_fill_ten_within_the_month() {
        let full = covered_on(&start("2026-05-03", 8.0, 6.0), 10.0).unwrap();
        let days = (full.likely - day("2026-05-03")).num_days();
        assert!((3..=21).contains(&days), "{days}");
        assert!(full.earliest <= full.likely && full.latest.is_none_or(|l| l >= full.likely));
    }

    #[test]
    fn what_is_covered_today_is_full_today_and_a_handful_never_is() {
        let today = day("2026-05-03");
        assert_eq!(covered_on(&start("2026-05-03", 10.0, 6.0), 10.0).unwrap().likely, today);
        assert_eq!(covered_on(&start("2026-09-20", 2.0, 0.5), 10.0), None);
    }

    #[test]
    fn in_the_south_the_year_runs_half_a_year_round() {
        let north = start("2026-05-03", 8.0, 6.0);
        let south = Start { on: day("2026-11-03"), side: Hemisphere::South, ..north };
        let ends = |s: &Start| project(s, 20).last().map(|(_, r)| r.mid).unwrap();
        assert!((ends(&north) - ends(&south)).abs() < 1e-9);
    }

    #[test]
    fn a_queen_who_lays_later_leaves_fewer_bees() {
        let split = |laying_from| Start { laying_from, ..start("2026-06-20", 5.0, 3.0) };
        let ends = |s: &Start| project(s, 90).last().map(|(_, r)| r.mid).unwrap();
        let (now, later) = (ends(&split(None)), ends(&split(Some(day("2026-07-19")))));
        assert!(now > later && later > 0.0, "{now} {later}");
    }

    #[test]
    fn without_a_queen_bees_only_fall_once_the_brood_is_out() {
        let days = project(&start("2026-10-01", 8.0, 0.0), 150);
        assert!(days.windows(2).all(|w| w[1].1.mid <= w[0].1.mid));
        assert!(days.last().unwrap().1.mid > 2.0, "a winter cluster lives to spring");
    }

    proptest! {
        #[test]
        fn no_run_is_negative_and_each_input_works_the_right_way(
            bees in 0.0f64..20.0, brood in 0.0f64..10.0, room in 5.0f64..30.0, at in 0u64..365
        ) {
            let on = day("2026-01-01") + chrono::Days::new(at);
            let one = Start::laying(on, bees, brood, room, Hemisphere::North);
            let days = project(&one, 90);
            let in_order = |r: &Range| r.low >= 0.0 && r.low <= r.mid + 1e-9 && r.mid <= r.high + 1e-9;
            prop_assert!(days.iter().all(|(_, r)| in_order(r)));
            let ends = |s: &Start| project(s, 90).last().map_or(0.0, |(_, r)| r.mid);
            let end = ends(&one);
            let more_bees = ends(&Start { bees: bees + 1.0, ..one });
            let more_brood = ends(&Start { brood: brood + 0.5, ..one });
            let more_room = ends(&Start { room: room + 5.0, ..one });
            prop_assert!(more_bees >= end - 1e-9, "{more_bees} {end}");
            // More brood may leave the queen a little less room to lay in.
            prop_assert!(more_brood >= end - 0.75, "{more_brood} {end}");
            prop_assert!(more_room >= end - 1e-9, "{more_room} {end}");
            prop_assert_eq!(project(&one, 90), days);
        }
    }
}
