//! Where a date of a yard comes from, and how that is said.

use chrono::NaiveDate;

use super::bloom::BloomShift;
use super::calendar::SeasonDate;
use super::shift::Basis;
use crate::model::{DayOfYear, Units};
use crate::wording;

/// Where a date of a yard comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum Cause {
    /// The flows the keeper knows at this yard.
    Flows,
    /// The keeper's own date.
    Own {
        /// The day it opens, where that is the keeper's.
        opens: Option<DayOfYear>,
        /// The day it closes, where that is the keeper's.
        closes: Option<DayOfYear>,
    },
    /// The reference date, moved by the place and this year's bloom.
    Reference {
        /// The reference date this year.
        base: NaiveDate,
        /// Days it moves by the place.
        usual: i64,
        /// What of the place moves it.
        basis: Basis,
        /// Whether it stays wherever the yard is.
        stays: bool,
        /// Days a bloom moves it this year, and which.
        bloom: Option<(i64, BloomShift)>,
    },
}

impl SeasonDate {
    /// Where it comes from, in words: base, shift and from what.
    pub fn from(&self, units: Units) -> String {
        match &self.cause {
            Cause::Flows => "the longest of this yard's own flows".to_owned(),
            Cause::Own { opens, closes } => {
                let end = |word, day: &Option<DayOfYear>| {
                    day.map(|d| format!("{word} {}", wording::day_of_year(d, units)))
                };
                let ends: Vec<_> =
                    [end("opens", opens), end("closes", closes)].into_iter().flatten().collect();
                let rest = if ends.len() == 2 { "" } else { "; the other end moves with the place" };
                format!("your own date: {}{rest}", ends.join(", "))
            }
            Cause::Reference { base, usual, basis, stays, bloom } => {
                let base = wording::day(units, base);
                let mut words = if *stays {
                    format!("{base}, midsummer dates stay")
                } else {
                    format!("{base}, {}: {}", way(*usual), basis.words(units))
                };
                if let Some((moved, bloom)) = bloom {
                    words = format!("{words}; {} this year ({})", way(*moved), bloom.words(units));
                }
                words
            }
        }
    }
}

fn way(days: i64) -> String {
    match days {
        0 => "not moved".to_owned(),
        1 => "1 day later".to_owned(),
        -1 => "1 day earlier".to_owned(),
        2.. => format!("{days} days later"),
        _ => format!("{} days earlier", -days),
    }
}
