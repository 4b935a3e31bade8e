//! A rehearsal: a yard whose hives are simulated colonies, so that a year can be practiced without losing bees.
//!
//! In: a [`Rehearsal`](crate::model::Rehearsal) and the book of what the keeper did. Out: what a look finds ([`Year`]), and
//! after the last day what really was. Nothing of the truth is told before. Touches no file, clock or terminal.

mod better;
mod keepers;
pub mod plot;
mod review;
mod year;

use chrono::{Datelike, NaiveDate};

pub use keepers::{Keeper, Keeping, Tended};
pub use review::{CameTo, HiveReview, Review, Truth, Verdict, cause_words};
pub use year::{Kept, Year};

/// The day on which mites are told of, while the winter bees are raised.
fn is_fall_day(on: NaiveDate) -> bool {
    (on.month(), on.day()) == (9, 25)
}
