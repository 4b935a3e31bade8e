//! yardwalk: a walk through the bee yard, hive by hive, and the plan that comes of it.
//!
//! The rooms, in the order the data flows: [`store`] reads the files into a [`model`] book; its fold says what
//! each hive is on a date; [`season`] gives the yard's dates and [`colony`] the arithmetic; [`advice`] says what a
//! hive needs and why; [`plan`] makes the day of it; [`report`] writes it down; [`tui`] walks it, and what was done
//! goes back through the store. [`simulated`] stands beside them: colonies to try it all on.

pub mod advice;
pub mod cli;
pub mod colony;
pub mod model;
pub mod plain;
pub mod plan;
pub mod rehearsal;
pub mod report;
pub mod season;
pub mod session;
pub mod simulated;
pub mod store;
pub mod tui;
pub mod wording;
