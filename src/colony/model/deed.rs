//! What is done to a colony, as the model takes it.

use chrono::NaiveDate;

use crate::model::{Mix, QueenStatus, Treatment, Volume};

/// Something done at a hive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Deed {
    /// Syrup was given.
    Syrup {
        /// How thick.
        mix: Mix,
        /// How much.
        volume: Volume,
    },
    /// Dry sugar was laid on, kg.
    Sugar(f64),
    /// Frames of honey were given.
    Honey(f64),
    /// Frames of honey were taken from the honey boxes.
    Harvest(f64),
    /// A treatment was begun, to come out on a day.
    Treat(Treatment, NaiveDate),
    /// A treatment came out.
    EndTreatment(Treatment),
    /// The hive now has this room: deep frames of drawn comb in the nest, honey boxes in mediums.
    Room {
        /// Deep frames of the nest.
        frames: f64,
        /// Medium honey boxes.
        supers: f64,
    },
    /// The queen is now this.
    Queen(QueenStatus),
    /// Part of the colony left with a split.
    Parted,
    /// No nectar comes in from now on.
    Dearth,
}
