//! The weather and the flow of a yard's year.

use chrono::{Datelike, NaiveDate};

use super::random::Random;

/// A yard's year: how early spring is, how good its flows are.
#[derive(Debug, Clone)]
pub struct Season {
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
            late: random.normal(0.0, 6.0),
            spring: random.factor(0.22),
            main: random.factor(0.32),
            fall: random.factor(0.5),
            warmth: 0.0,
            wet: false,
            random,
        }
    }

    /// The next day. Flow: 0.6 kg and a peak in May, 2.1 kg from 10 June to 31 July, 0.5 in August, 1.0 in the fall flow (a
    /// guess, tuned to a surplus of 50 to 75 lb).
    pub fn day(&mut self, on: NaiveDate) -> Weather {
        let t = f64::from(on.ordinal());
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
            high: mean + self.warmth - if self.wet { 2.0 } else { 0.0 },
            rain: self.wet,
            nectar: season,
            late: self.late,
        }
    }
}

impl Weather {
    /// Day of the year.
    pub fn t(&self) -> f64 {
        f64::from(self.on.ordinal())
    }

    /// Share of a full day's flight.
    pub fn flight(&self) -> f64 {
        ((self.high - 11.0) / 8.0).clamp(0.0, 1.0) * if self.rain { 0.45 } else { 1.0 }
    }
}
