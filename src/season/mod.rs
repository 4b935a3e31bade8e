//! The season: this yard's dates in one year.
//!
//! In: a yard's place or freeze dates and a year. Out: a [`Calendar`]. Pure: the day is always an argument.

mod calendar;
mod reference;
mod shift;

pub use calendar::{Calendar, Phase, SeasonDate, Window};
pub use reference::{DateId, REFERENCE, Reference, Sense};
pub use shift::{ELEVATION_FT, FARTHEST, LATITUDE, LONGITUDE, Shift};
