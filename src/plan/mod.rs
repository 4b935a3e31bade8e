//! The plan: which hives need what on a day, in which order and for how long, and when each is next due.
//!
//! In: a book and its fold. Out: a [`DayPlan`]. The same rules as at the hive, run with no findings. Pure.

mod day;
mod due;

pub use day::{DayPlan, Stop, YardPlan, day, yard_day};
pub use due::{NextDue, next_due};

use chrono::NaiveDate;

use crate::advice::{Advice, Day, Situation, advise};
use crate::model::{Book, HiveState, Weather, Yard};
use crate::season::Calendar;

/// What a hive is told on a day, nothing looked at yet and no weather known.
pub fn advice_on(book: &Book, state: &HiveState, calendar: &Calendar, day: NaiveDate) -> Advice {
    let day = Day {
        today: day,
        calendar,
        weather: Weather::default(),
        practice: &book.practice,
        units: book.units,
    };
    advise(&Situation { hive: state, entry: None, day })
}

/// A yard's calendars by year, made once each as days run on.
#[derive(Debug)]
pub struct Calendars<'a> {
    yard: &'a Yard,
    made: Option<Calendar>,
}

impl<'a> Calendars<'a> {
    /// For a yard.
    pub fn of(yard: &'a Yard) -> Self {
        Self { yard, made: None }
    }

    /// The calendar of a day's year.
    pub fn on(&mut self, day: NaiveDate) -> &Calendar {
        use chrono::Datelike;
        if self.made.as_ref().is_some_and(|c| c.year != day.year()) {
            self.made = None;
        }
        self.made.get_or_insert_with(|| Calendar::of(self.yard, day))
    }
}
