//! The weather and the flow of a yard's year.

use chrono::{Datelike, NaiveDate};

use super::random::Random;

/// The most days a place's seasons are moved.
const FARTHEST: i64 = 21;

/// A yard's year: how early spring is, how good its flows are.
#[derive(Debug, Clone)]
pub struct Season {
    /// Days by which the place's spring is later and its fall is earlier.
    moved: (f64, f64),
    late: f64,
    spring: f64,
    main: f64,
    fall: f64,
    random: Random,
    /// What is left today of yesterday's warmth, C.
    warmth: f64,
    wet: bool,
}

/// One day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    /// The day.
    pub on: NaiveDate,
    /// The day of the reference's year that it is like.
    t: f64,
    /// Its high, C.
    pub high: f64,
    /// Whether it rains.
    pub rain: bool,
    /// Nectar that thirty thousand bees bring in a day of full flight, kg.
    pub nectar: f64,
    /// Days by which spring is late.
    pub late: f64,
}

impl Season {
    /// The season of a yard and year.
    pub fn of(seed: u64) -> Self {
        let mut random = Random::of(seed);
        Self {
            moved: (0.0, 0.0),
            late: random.normal(0.0, 6.0),
            spring: random.factor(0.22),
            main: random.factor(0.32),
            fall: random.factor(0.5),
            warmth: 0.0,
            wet: false,
            random,
        }
    }

    /// The season of a place where spring comes so many days later and fall so many days earlier than at the reference,
    /// each up to three weeks. Midsummer and midwinter stay.
    pub fn moved(seed: u64, spring: i64, fall: i64) -> Self {
        let days = |n: i64| f64::from(i32::try_from(n.clamp(-FARTHEST, FARTHEST)).unwrap_or(0));
        Self { moved: (days(spring), days(fall)), ..Self::of(seed) }
    }

    /// The day of the reference's year that a day of this place's is like.
    fn like(&self, on: NaiveDate) -> f64 {
        let day = f64::from(on.ordinal());
        let (spring, fall) = self.moved;
        if spring == 0.0 && fall == 0.0 {
            return day;
        }
        let knots = [
            (1.0, 0.0),
            (60.0, spring),
            (150.0, spring),
            (190.0, 0.0),
            (200.0, 0.0),
            (240.0, -fall),
            (320.0, -fall),
            (367.0, 0.0),
        ];
        let between = knots.iter().zip(knots.iter().skip(1)).find(|(_, to)| day <= to.0 + to.1);
        let Some(((from, late), (to, later))) = between else { return day };
        let (low, high) = (from + late, to + later);
        from + (to - from) * (day - low) / (high - low)
    }

    /// The next day. Flow: 0.6 kg and a peak in May, 2.1 kg from 10 June to 31 July, 0.5 in August, 1.0 in the fall flow (a
    /// guess, tuned to a surplus of 50 to 75 lb).
    pub fn day(&mut self, on: NaiveDate) -> Weather {
        let t = self.like(on);
        let mean = 13.5 + 15.0 * (std::f64::consts::TAU * (t - 110.0) / 365.0).sin();
        self.warmth = 0.7 * self.warmth + self.random.normal(0.0, 2.8);
        self.wet = self.random.happens(if self.wet { 0.45 } else { 0.22 });
        let of_spring = t - self.late;
        let bell = (-((of_spring - 133.0) / 15.0).powi(2) / 2.0).exp();
        let season = match t {
            _ if of_spring < 95.0 => 0.0,
            ..161.0 => (0.6 + 1.35 * bell) * self.spring,
            ..213.0 => 2.1 * self.main,
            ..237.0 => 0.5 * self.main,
            ..269.0 => 1.0 * self.fall,
            _ => 0.0,
        };
        Weather {
            on,
            t,
            high: mean + self.warmth - if self.wet { 2.0 } else { 0.0 },
            rain: self.wet,
            nectar: season,
            late: self.late,
        }
    }
}

/// C by which it is cooler at a visit than the day's high (a guess).
const COOLER: f64 = 1.5;

impl Weather {
    /// C at the time of a visit.
    pub fn at_visit(&self) -> f64 {
        self.high - COOLER
    }

    /// Day of the year at the reference that it is like.
    pub fn t(&self) -> f64 {
        self.t
    }

    /// Share of a full day's flight.
    pub fn flight(&self) -> f64 {
        ((self.high - 11.0) / 8.0).clamp(0.0, 1.0) * if self.rain { 0.45 } else { 1.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_has_its_spring_later_and_its_fall_earlier_and_no_day_goes_back() {
        let moved = Season::moved(1, 12, 9);
        let like = |month, day| moved.like(NaiveDate::from_ymd_opt(2026, month, day).unwrap());
        // May 1 there is like April 19 at the reference, and September 20 like September 29.
        assert!((like(5, 1) - 109.0).abs() < 1e-9, "{}", like(5, 1));
        assert!((like(9, 20) - 272.0).abs() < 1e-9, "{}", like(9, 20));
        for (spring, fall) in [(21, 21), (-21, -21), (21, -21), (-400, 400), (0, 5)] {
            let season = Season::moved(1, spring, fall);
            let first = NaiveDate::from_ymd_opt(2024, 1, 1).unwrap();
            let days: Vec<f64> = first.iter_days().take(366).map(|on| season.like(on)).collect();
            assert!(days.windows(2).all(|pair| matches!(pair, [a, b] if a < b)), "{spring} {fall}");
            assert!(days.iter().all(|day| (0.0..=367.5).contains(day)), "{spring} {fall}");
        }
    }

    #[test]
    fn the_reference_is_not_moved() {
        let first = NaiveDate::from_ymd_opt(2026, 1, 1).unwrap();
        let (mut plain, mut moved) = (Season::of(3), Season::moved(3, 0, 0));
        assert!(first.iter_days().take(365).all(|on| plain.day(on) == moved.day(on)));
    }
}
