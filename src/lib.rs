//! yardwalk.
pub mod advice;
pub mod colony;
pub mod model;
pub mod plan;
pub mod report;
pub mod season;
pub mod store;
