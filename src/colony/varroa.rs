//! Mites forward in time: how a count grows to the winter-bee date, and when it crosses the limit.
//!
//! With brood, mites multiply by a steady rate; without, they die slowly. Bees rise and fall too, and when they
//! dwindle the rate per bee climbs although no mite more is born. Mites carried in by robbers and drifters are not in
//! it (DeGrandi-Hoffman et al. 2016, Exp. Appl. Acarol.: such models come out low in autumn).

use chrono::{Days, NaiveDate};

use crate::model::MiteCount;

/// Daily growth with brood, the slow case: doubling in 34.7 days (Martin 1998, Ecol. Modelling 109:267-281, and
/// Fries et al. 1994, from memory).
pub const SLOW: f64 = 0.020;
/// Daily growth with brood, the fast case: doubling in 27.7 days (same sources, from memory).
pub const FAST: f64 = 0.025;
/// Daily loss without brood: a mite on bees lives 5 to 6 months (a published review, secondary).
pub const BROODLESS: f64 = -1.0 / 165.0;

/// Days in which mites double at a daily rate; infinite where they do not grow.
pub fn doubling_days(rate: f64) -> f64 {
    if rate > 0.0 { std::f64::consts::LN_2 / rate } else { f64::INFINITY }
}

/// Days in which bees fall by a third after midsummer.
const SIX_WEEKS: i64 = 42;

/// What bees and brood do while the mites grow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Course {
    /// Bees at the end over bees at the count: below 1 where the colony dwindles.
    pub bees_ratio: f64,
    /// Share of the days on which there is brood, 0 to 1.
    pub brood_share: f64,
}

impl Course {
    /// Level bees and brood all the time.
    pub const LEVEL: Self = Self { bees_ratio: 1.0, brood_share: 1.0 };
    /// From high summer to the winter bees, over so many days: bees fall by a third in six weeks, brood all the time
    /// (common practice, no single source). In a day hardly a bee is lost.
    pub fn to_winter_bees(days: i64) -> Self {
        let share = days.clamp(0, SIX_WEEKS) as f64 / SIX_WEEKS as f64;
        Self { bees_ratio: 1.0 - share / 3.0, brood_share: 1.0 }
    }
}

/// A forecast in mites per hundred bees, from the slow and the fast case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// Slow growth.
    pub low: f64,
    /// Fast growth.
    pub high: f64,
}

/// The rate after so many days at a daily growth; `percent` and the result in mites per hundred bees, never below 0.
pub fn grown(percent: f64, rate: f64, days: f64, course: Course) -> f64 {
    let brood = course.brood_share.clamp(0.0, 1.0);
    let growth = (rate * brood + BROODLESS * (1.0 - brood)) * days.max(0.0);
    (percent.max(0.0) * growth.exp() / course.bees_ratio.max(0.01)).max(0.0)
}

/// A count carried forward to a day, slow and fast.
///
/// A count of none is taken as half a mite, for no mite in the jar is not none in the hive. A day before the count
/// gives the count.
pub fn forecast(count: &MiteCount, on: NaiveDate, course: Course) -> Forecast {
    let days = (on - count.on).num_days().max(0) as f64;
    let percent = if count.mites == 0 { 50.0 / f64::from(count.bees.max(1)) } else { count.percent() };
    Forecast { low: grown(percent, SLOW, days, course), high: grown(percent, FAST, days, course) }
}

/// The first day, within a year, on which a count crosses a limit at a daily growth, bees level and brood throughout.
///
/// The day of the count where it is over already; `None` where it does not come to that.
pub fn crosses_on(count: &MiteCount, limit: f64, rate: f64) -> Option<NaiveDate> {
    let percent = if count.mites == 0 { 50.0 / f64::from(count.bees.max(1)) } else { count.percent() };
    if percent > limit {
        return Some(count.on);
    }
    if rate <= 0.0 {
        return None;
    }
    let days = ((limit / percent).ln() / rate).ceil();
    if !(0.0..=365.0).contains(&days) {
        return None;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 365")]
    count.on.checked_add_days(Days::new(days as u64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use proptest::prelude::*;

    fn count(mites: u16) -> MiteCount {
        MiteCount { on: day("2026-07-01"), mites, bees: 300 }
    }

    #[test]
    fn a_dwindling_colony_has_more_mites_a_bee_with_no_mite_more() {
        let level = grown(2.0, 0.0, 30.0, Course::LEVEL);
        let dwindling = grown(2.0, 0.0, 30.0, Course { bees_ratio: 0.5, brood_share: 1.0 });
        assert!((level - 2.0).abs() < 1e-12 && (dwindling - 4.0).abs() < 1e-12);
    }

    #[test]
    fn the_day_it_crosses_is_the_first_over_the_limit() {
        let on = crosses_on(&count(3), 2.0, FAST).unwrap();
        let at = |day: NaiveDate| grown(1.0, FAST, (day - count(3).on).num_days() as f64, Course::LEVEL);
        assert!(at(on) >= 2.0 && at(on - Days::new(1)) < 2.0, "{on}");
        assert_eq!(crosses_on(&count(9), 2.0, FAST), Some(day("2026-07-01")));
        assert_eq!(crosses_on(&count(3), 2.0, 0.0), None);
        assert!(crosses_on(&count(0), 2.0, FAST).is_some(), "none in the jar is not none in the hive");
    }

    #[test]
    fn without_brood_mites_do_not_grow() {
        let winter = Course { bees_ratio: 1.0, brood_share: 0.0 };
        assert!(grown(2.0, FAST, 90.0, winter) < 2.0);
    }

    proptest! {
        #[test]
        fn forecasts_are_in_order_and_answer_each_input_the_right_way(
            mites in 0u16..60, days in 0u64..200, ratio in 0.2f64..2.0, brood in 0.0f64..1.0
        ) {
            let course = Course { bees_ratio: ratio, brood_share: brood };
            let on = count(mites).on + Days::new(days);
            let f = forecast(&count(mites), on, course);
            prop_assert!(f.low >= 0.0 && f.low <= f.high);
            prop_assert!(forecast(&count(mites + 1), on, course).high >= f.high - 1e-9);
            let fewer = Course { bees_ratio: ratio * 0.9, ..course };
            prop_assert!(forecast(&count(mites), on, fewer).low >= f.low);
            let more_brood = Course { brood_share: (brood + 0.1).min(1.0), ..course };
            prop_assert!(forecast(&count(mites), on, more_brood).high >= f.high - 1e-9);
        }
    }
}
