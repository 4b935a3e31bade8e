//! The colony's arithmetic held to the published record, one file a topic. Each row names its source; rows from memory
//! or common practice stand in tables of their own that say so.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop where it likes"
)]

mod ahead;
mod belief;
mod development;
mod honey;
mod marks;
mod mites;
mod stores;
mod strength;
mod sun;
mod syrup;
mod wash;
mod weather;

fn day(text: &str) -> chrono::NaiveDate {
    text.parse().unwrap()
}

/// Holds a figure to a printed one within a tolerance.
#[track_caller]
fn close(figure: f64, printed: f64, tolerance: f64) {
    assert!((figure - printed).abs() <= tolerance, "{figure} is not {printed} within {tolerance}");
}
