//! The plan: which hives need what on a day, in which order and for how long, and when each is next due.
//!
//! In: a book and its fold. Out: a [`DayPlan`]. The same rules as at the hive, run with no findings. Pure.

#![warn(clippy::wildcard_enum_match_arm)]

mod day;
mod due;
mod gain;
mod light;
pub mod load;
mod pace;
mod queue;
pub mod readiness;
mod standing;
mod trips;
mod weeks;
mod worth;

pub use day::{DayPlan, Stop, YardPlan, day, day_at, yard_day};
pub use due::{NextDue, next_due};
pub use gain::{Best, Gain, Telling, once_done, spring};
pub use light::{Fit, Hours, fit, hours};
pub use load::{Amount, LoadList, Unused, item_of, load, unused};
pub use pace::{Pace, pace};
pub use queue::arrange;
pub use standing::{AHEAD, DEADLINES, DateStatus, Deadline, HiveDate, deadlines, is_met, standing};
pub use trips::{Trip, TripNeed, WEEKS_AHEAD, choose, trips};
pub use weeks::Weeks;
pub use worth::{Verdict, Worth, worth};

use std::cell::OnceCell;
use std::rc::Rc;

use chrono::NaiveDate;

use crate::advice::{Advice, Day, Situation, advise};
use crate::colony::model::Record;
use crate::model::{Book, Folded, HiveState, Weather, Yard};
use crate::season::Calendar;

/// A yard and what is known of it, to be advised on any day: nothing looked at yet, no weather known.
///
/// The calendar of a year is made once as days run on.
#[derive(Debug)]
pub struct Outlook<'a> {
    book: &'a Book,
    folded: &'a Folded,
    yard: &'a Yard,
    stands: Vec<&'a HiveState>,
    made: Option<Calendar>,
}

impl<'a> Outlook<'a> {
    /// Of a yard.
    pub fn of(book: &'a Book, folded: &'a Folded, yard: &'a Yard) -> Self {
        let stands = yard.hives.iter().filter_map(|h| folded.hive(&h.id)).collect();
        Self { book, folded, yard, stands, made: None }
    }

    /// Its hives in the order of their stands.
    pub fn stands(&self) -> &[&'a HiveState] {
        &self.stands
    }

    /// The dates of a day's year.
    pub fn calendar(&mut self, day: NaiveDate) -> &Calendar {
        if self.made.as_ref().is_some_and(|c| !c.holds(day)) {
            self.made = None;
        }
        self.made.get_or_insert_with(|| calendar(self.book, self.folded, self.yard, day))
    }

    /// What a hive is told on a day.
    pub fn advice(&mut self, state: &HiveState, today: NaiveDate) -> Advice {
        self.advice_by(state, today, &mut OnceCell::new())
    }

    /// What a hive is told on each of some days with its log as it is, until `each` has what it wants.
    pub fn each_day<T>(
        &mut self,
        state: &HiveState,
        days: impl Iterator<Item = NaiveDate>,
        mut each: impl FnMut(NaiveDate, Advice) -> Option<T>,
    ) -> Option<T> {
        let mut record = OnceCell::new();
        for day in days {
            if let Some(wanted) = each(day, self.advice_by(state, day, &mut record)) {
                return Some(wanted);
            }
        }
        None
    }

    /// The log is read once for all days.
    fn advice_by(
        &mut self,
        state: &HiveState,
        today: NaiveDate,
        record: &mut OnceCell<Rc<Record>>,
    ) -> Advice {
        let (book, stands) = (self.book, self.stands.clone());
        let calendar = self.calendar(today);
        let day = Day {
            today,
            calendar,
            weather: Weather::default(),
            practice: &book.practice,
            units: book.units,
            stands: &stands,
        };
        let mut situation = Situation::of(state, None, day);
        situation.record = std::mem::take(record);
        let advice = advise(&situation);
        *record = situation.record;
        advice
    }
}

/// A yard's dates in the year of a day, by all that is known of it.
pub fn calendar(book: &Book, folded: &Folded, yard: &Yard, day: NaiveDate) -> Calendar {
    Calendar::of(yard, &book.practice, folded.blooms(&yard.name), day)
}
