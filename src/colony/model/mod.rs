//! One model of a colony: bees, brood, mites and stores, a day at a time, and what a book says of it.
//!
//! In: a hive's record, a yard's season, a day. Out: ranges for what will be counted, and what else could be done. A
//! colony is an ensemble of members that differ by the ranges in [`figures`]; each finding moves them, so what is seen at
//! a hive sharpens what is foretold of it. Pure, and the same for the same book.
//!
//! It steps normal weather: what one week brings is not in it, and the ranges allow for that.

mod belief;
mod colony;
mod counted;
mod deed;
pub mod figures;
mod forecast;
pub mod held;
mod kill;
mod line;
mod member;
mod memo;
mod record;
mod start;
mod weigh;
mod winter;
mod year;

pub use belief::Belief;
pub use colony::Colony;
pub use counted::counted;
pub use deed::Deed;
pub use forecast::{Forecast, WhenMarks};
pub use member::{MEMBERS, Member};
pub use record::{Look, Record};
pub use weigh::Tells;
pub use year::Year;
