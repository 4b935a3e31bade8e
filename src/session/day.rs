//! The day acted on: the one the book was opened on, another while a visit of another day is in hand, and after midnight the
//! one the keeper says.

use chrono::NaiveDate;

use super::{Done, Refusal, Session};
use crate::wording;

impl Session {
    /// Whether the clock has gone over midnight since it was last said which day is acted on. A visit that is open keeps the
    /// day it was begun on, and a day the keeper set is the keeper's.
    pub fn day_has_turned(&self) -> bool {
        self.visit.is_none() && self.follows_clock && self.now.date() > self.asked_on
    }

    /// Acts on a day from now on.
    pub(super) fn act_on(&mut self, day: NaiveDate) -> Result<Done, Refusal> {
        self.no_visit_open()?;
        self.asked_on = self.now.date();
        if day == self.today {
            return Ok(Done::default());
        }
        self.open_on(day);
        Ok(Done::saying(format!("Now acting on {}.", wording::weekday_and_day(self.book.units, day))))
    }

    /// The book is opened on another day.
    pub(super) fn open_on(&mut self, day: NaiveDate) {
        self.opened_on = day;
        // How the keeper wanted the day before is of that day.
        self.wishes.clear();
        self.turn_to(None);
    }

    /// Turns to a day; back to the day the book was opened on where none is given.
    pub(super) fn turn_to(&mut self, day: Option<NaiveDate>) {
        self.today = day.unwrap_or(self.opened_on);
        self.fold_anew();
    }
}
