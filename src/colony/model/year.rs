//! What a yard's season gives a colony, day by day, in a usual year: warmth, flight, nectar, laying.

use chrono::{Datelike, NaiveDate};

use crate::model::{DateId, Hemisphere};
use crate::season::Calendar;

/// One day of a usual year.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Daily {
    /// Usual high, C.
    pub(super) high: f64,
    /// Share of a full day's flight.
    pub(super) flight: f64,
    /// Nectar thirty thousand bees bring in on a day of full flight, kg.
    pub(super) nectar: f64,
    /// Share of the queen's most eggs.
    pub(super) laying: f64,
    /// Share of the bees hatched that live through winter.
    pub(super) winter: f64,
    /// Whether drones are raised, 0 or 1.
    pub(super) drones: f64,
    /// Whether mites are carried in, 0 or 1.
    pub(super) carried: f64,
    /// Whether colonies swarm, 0 or 1.
    pub(super) swarms: f64,
}

const DAYS: u16 = 366;

/// A usual year of a yard.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    days: Vec<Daily>,
    side: Hemisphere,
    /// Days by which spring stands from the reference.
    pub(super) spring: i64,
}

/// Day of the north's year.
fn northern(on: NaiveDate, side: Hemisphere) -> f64 {
    let day = f64::from(on.ordinal());
    match side {
        Hemisphere::North => day,
        Hemisphere::South => (day + 182.0) % 365.0,
    }
}

/// The reference's day that is like this day at a place, from the shifts of its spring and autumn.
fn at_reference(t: f64, spring: f64, autumn: f64) -> f64 {
    // Spring's shift is full up to 20 May and gone by 1 July; autumn's comes in from 15 July to 15 August.
    let ease = |from: f64, to: f64| ((t - from) / (to - from)).clamp(0.0, 1.0);
    let winter = if t < 15.0 { 0.5 + t / 30.0 } else { 1.0 - 0.5 * ease(350.0, 365.0) };
    let spring = spring * (1.0 - ease(140.0, 182.0)) * if t < 15.0 { winter } else { 1.0 };
    let autumn = autumn * ease(196.0, 227.0) * if t > 350.0 { winter } else { 1.0 };
    t - spring + autumn
}

impl Year {
    /// A yard's usual year by its dates.
    pub fn of(calendar: &Calendar) -> Self {
        let (spring, autumn) = (calendar.shift.spring as f64, calendar.shift.autumn as f64);
        let side = calendar.side;
        let first = calendar.whole_year().opens;
        let mut days = vec![Daily::default(); usize::from(DAYS)];
        for on in first.iter_days().take(usize::from(DAYS)) {
            let at = at_reference(northern(on, side), spring, autumn);
            let mut daily = usual(at);
            daily.nectar = nectar(calendar, on, at);
            daily.swarms = f64::from(u8::from(calendar.at_widest(DateId::SwarmSeason).holds(on)));
            if let Some(day) = days.get_mut(on.ordinal0() as usize) {
                *day = daily;
            }
        }
        Self { days, side, spring: calendar.shift.spring }
    }

    /// The day, in a spring that is so many days late.
    pub(super) fn day(&self, on: NaiveDate, late: i64) -> Daily {
        let at = (i64::from(on.ordinal0()) - late).rem_euclid(i64::from(DAYS));
        usize::try_from(at).ok().and_then(|at| self.days.get(at)).copied().unwrap_or_default()
    }

    /// The yard's day that is like a day of the north's reference, at or before another.
    pub(super) fn last_like(&self, month: u32, day: u32, before: NaiveDate) -> NaiveDate {
        let turned = |year: i32| {
            let on = NaiveDate::from_ymd_opt(year, month, day)?;
            let half = if self.side == Hemisphere::South { 182 } else { 0 };
            on.checked_add_signed(chrono::TimeDelta::days(half + self.spring))
        };
        let year = before.year();
        (0..3).filter_map(|back| turned(year + 1 - back)).find(|on| *on <= before).unwrap_or(before)
    }
}

/// What is alike at every place with the same season: day of the year at the reference, 43 N.
fn usual(t: f64) -> Daily {
    let logistic = |x: f64| 1.0 / (1.0 + (-x).exp());
    let high = 13.5 + 15.0 * (std::f64::consts::TAU * (t - 110.0) / 365.0).sin();
    Daily {
        high,
        // Days differ by some 4 C and three in ten are wet, so the share climbs slowly (ours).
        flight: 0.85 * logistic((high - 15.0) / 2.2),
        // HoPoMo's curve ends by early September; at 43 N brood goes on into October.
        laying: logistic((t - 79.0) / 11.0) * logistic((232.0 - t) / 14.5),
        // Half of those hatched on 28 August (Mattila et al. 2001, from memory; its shape is a guess).
        winter: if t < 60.0 { 1.0 } else { logistic((t - 240.0) / 7.0) },
        drones: f64::from(u8::from((115.0..240.0).contains(&t))),
        carried: f64::from(u8::from((208.0..305.0).contains(&t))),
        nectar: 0.0,
        swarms: 0.0,
    }
}

/// Nectar by the yard's flows, by the season's where none is known (a guess: 40 to 70 lb a hive and year).
fn nectar(calendar: &Calendar, on: NaiveDate, t: f64) -> f64 {
    let spring = if t < 95.0 { 0.0 } else { 0.6 + 1.3 * (-((t - 133.0) / 15.0).powi(2) / 2.0).exp() };
    let main = calendar.window(DateId::MainFlow);
    let fall = calendar.window(DateId::FallFlow);
    if calendar.is_flow(on) || main.holds(on) {
        1.8
    } else if fall.holds(on) {
        1.0
    } else if on < main.opens && t < 182.0 {
        spring
    } else if main.closes < on && on < fall.opens {
        0.5
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use crate::season::Shift;

    fn year(spring: i64, autumn: i64) -> Year {
        Year::of(&Calendar::shifted(Shift { spring, autumn, ..Shift::none() }, 2026))
    }

    #[test]
    fn a_late_place_lays_later_in_spring_and_stops_sooner_in_fall() {
        let (here, north) = (year(0, 0), year(12, 8));
        let laying = |year: &Year, on| year.day(day(on), 0).laying;
        assert!(laying(&north, "2026-03-25") < laying(&here, "2026-03-25"));
        assert!(laying(&north, "2026-09-10") < laying(&here, "2026-09-10"));
        assert!((laying(&north, "2026-07-05") - laying(&here, "2026-07-05")).abs() < 0.02);
    }

    #[test]
    fn the_last_first_of_march_is_this_years_or_the_one_before() {
        let here = year(0, 0);
        assert_eq!(here.last_like(3, 1, day("2026-06-01")), day("2026-03-01"));
        assert_eq!(here.last_like(3, 1, day("2026-02-01")), day("2025-03-01"));
    }
}
