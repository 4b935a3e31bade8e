//! What stands on the truck: one name for each thing, by which a load list ticks it and a visit says it was used.

use super::action::{Mix, Treatment};
use super::hive::{Depth, FeederKind, HiveBox, Role};

/// A thing the truck carries for a hive.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Supply {
    /// A box with its frames.
    Box {
        /// Its depth.
        depth: Depth,
        /// Frames it takes.
        frames: u8,
        /// Nest or super.
        role: Role,
    },
    /// A drawn frame.
    DrawnFrame,
    /// Syrup of a mix.
    Syrup(Mix),
    /// Dry sugar.
    DrySugar,
    /// A feeder.
    Feeder(FeederKind),
    /// A treatment for one hive.
    Treatment(Treatment),
    /// An entrance reducer.
    Reducer,
    /// A mouse guard.
    MouseGuard,
}

impl Supply {
    /// Its name on the load list, which a visit's file keeps.
    pub fn name(self) -> String {
        match self {
            Self::Box { depth, frames, role } => {
                let kind = match role {
                    Role::Nest => "nest box",
                    Role::Super => "super",
                };
                format!("{} {kind}", HiveBox::new(depth, frames, role).words())
            }
            Self::DrawnFrame => "drawn frame".to_owned(),
            Self::Syrup(mix) => format!("{} syrup", mix.word()),
            Self::DrySugar => "dry sugar".to_owned(),
            Self::Feeder(kind) => kind.word().to_owned(),
            Self::Treatment(treatment) => format!("{} for one hive", treatment.word()),
            Self::Reducer => "entrance reducer".to_owned(),
            Self::MouseGuard => "mouse guard".to_owned(),
        }
    }
}
