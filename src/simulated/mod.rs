//! Simulated colonies: a truth that answers a keeper's looks and takes what is done, day by day.
//!
//! In: a seed, a day's weather, [`Action`](crate::model::Action)s. Out: what a look finds, with a reader's error, and at
//! the end what really was. It is for trials of keepers and for practice, and knows nothing of advice, plan or forecast:
//! another structure than theirs, so that they are judged by what they did not assume. The figures are in
//! [`figures`], each with its source; those called a guess are ours.
//!
//! Its place is the reference (43 N); for another its season is moved, spring and fall each by whole days.

mod bees;
mod beginning;
mod colony;
pub mod figures;
mod look;
mod mites;
mod queen;
mod random;
mod robbing;
mod weather;

pub use colony::{Colony, Death, Told};
pub use look::Reader;
pub use random::Random;
pub use weather::{Season, Weather};
