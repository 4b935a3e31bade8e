//! Days counted on from a day.

use chrono::{NaiveDate, TimeDelta};

/// A day and so many days, back where negative; the day itself where the calendar ends.
pub fn days_after(day: NaiveDate, days: i64) -> NaiveDate {
    TimeDelta::try_days(days).and_then(|span| day.checked_add_signed(span)).unwrap_or(day)
}
