//! The season: this yard's dates in one year, and its daylight.
//!
//! In: a yard's place or freeze dates, the keeper's own dates, the blooms noted, and a day. Out: a [`Calendar`] and
//! [`Daylight`]. Pure: the day is always an argument.

mod bloom;
mod calendar;
mod cause;
mod flows;
mod phase;
mod shift;
mod sun;

pub use crate::model::{DateId, REFERENCE, Reference, Sense};
pub use bloom::{BloomShift, Expected};
pub use calendar::{Calendar, SeasonDate, Window, bee_year};
pub use phase::Phase;
pub use shift::{Basis, ELEVATION_FT, FARTHEST, LATITUDE, LONGITUDE, Shift};
pub use sun::{Daylight, Light, daylight, zone};
