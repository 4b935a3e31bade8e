//! yardwalk.
pub mod model;
