//! The colony: biology as arithmetic. Mites, strength and growth, stores and syrup, treatments.
//!
//! In: numbers in their units. Out: numbers with their doubt or their assumption in words. Pure.

pub mod brood;
mod dose;
pub mod honey;
pub mod model;
pub mod next_count;
pub mod spread;
pub mod stores;
pub mod strength;
pub mod syrup;
pub mod treatment;
mod treatment_table;
pub mod wash;
