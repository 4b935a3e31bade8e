//! Actions: what was done at a hive, with its amounts.
//!
//! One row of [`table`] makes an action: its name in a visit file, the words that offer it and that say it was done,
//! its fields with their ranges, what it takes from the truck, and what it changes in a hive's state.

mod field;
mod table;

pub use field::{About, Asked, Asking, Given, Takes, medicine_asks, medicine_given, queen_asks, queen_given};
pub use table::Action;

use chrono::NaiveDate;

use super::answerable::choice;
use super::fold::HiveState;
use super::hive::{Depth, Origin, Role};
use super::names::HiveId;

choice! {
    /// How thick a syrup is: sugar to water by weight.
    Mix {
        /// 1:1, for building up.
        Thin => "thin (1:1)",
        /// 2:1, for winter stores.
        Thick => "thick (2:1)",
    }
}
choice! {
    /// An active ingredient against varroa, and its form.
    Treatment {
        /// Formic acid gel strips, 14 days.
        FormicStrips => "formic acid strips",
        /// Thymol gel trays.
        ThymolGel => "thymol gel",
        /// Oxalic acid dribbled in syrup.
        OxalicDribble => "oxalic acid dribble",
        /// Oxalic acid vapor.
        OxalicVapour => "oxalic acid vapor",
        /// Amitraz strips.
        AmitrazStrips => "amitraz strips",
        /// Hop beta acid strips.
        HopAcidStrips => "hop acid strips",
        /// Oxalic acid in glycerin on strips, slowly released.
        OxalicStrips => "slow-release oxalic strips",
        /// Thymol wafers.
        ThymolWafers => "thymol wafers",
        /// Fluvalinate strips.
        FluvalinateStrips => "fluvalinate strips",
        /// Coumaphos strips.
        CoumaphosStrips => "coumaphos strips",
        /// Another, with the limits the keeper took from its label.
        Own => "another of your own",
    }
}
choice! {
    /// Who cleared a suspected hive, or what was done with its gear.
    Authority {
        /// The inspector.
        Inspector => "the inspector",
        /// A laboratory.
        Laboratory => "a laboratory",
        /// The gear was burned.
        Burned => "gear burned",
        /// The gear was irradiated.
        Irradiated => "gear irradiated",
    }
}
choice! {
    /// Why a colony was lost.
    Loss {
        /// Starved.
        Starved => "starved",
        /// Mites and the viruses they carry.
        Mites => "mites",
        /// No queen, or one that failed.
        Queen => "queen failure",
        /// A cluster too small for the cold.
        Small => "too small",
        /// Damp.
        Damp => "damp",
        /// Robbed out.
        Robbed => "robbed out",
        /// Brood disease.
        Disease => "disease",
        /// Sold, or united with another on purpose.
        GivenUp => "given up",
        /// Nobody knows.
        Unknown => "not known",
    }
}
choice! {
    /// Where a box goes.
    Level {
        /// On top of everything.
        Top => "on top",
        /// Right above the nest, under the supers.
        AboveNest => "above the nest",
        /// Under everything.
        Bottom => "at the bottom",
    }
}

/// What an offered action is filled in from: the hive as it stands, and what is free or near.
#[derive(Debug, Clone)]
pub struct Around<'a> {
    /// The hive, with today's entry taken in.
    pub state: &'a HiveState,
    /// The day.
    pub today: NaiveDate,
    /// A name no hive has yet.
    pub free_name: HiveId,
    /// Another living hive of the yard, where there is one.
    pub neighbour: Option<HiveId>,
}

impl Around<'_> {
    /// The depth of the honey boxes this hive has, medium where it has none.
    fn super_depth(&self) -> Depth {
        let shallow = self.state.boxes.iter().any(|b| b.depth == Depth::Shallow);
        if shallow { Depth::Shallow } else { Depth::Medium }
    }

    /// The treatment that is in the hive, formic acid strips where none is.
    fn running_treatment(&self) -> Treatment {
        let running = self.state.courses.iter().rev().find(|c| c.ended.is_none());
        running.map_or(Treatment::FormicStrips, |c| c.treatment)
    }
}

/// Something that can be logged at a hive: the words that offer it, and the action with its likely amounts.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// In the words of one who has done it: `fed syrup`.
    pub words: &'static str,
    /// With what is likely filled in.
    pub action: Action,
}

/// `nest box` or `super`.
fn box_word(role: Role) -> &'static str {
    match role {
        Role::Nest => "nest box",
        Role::Super => "super",
    }
}

/// How a new colony's queen starts out, by how the colony came.
pub(super) fn queen_of_origin(origin: Origin) -> super::hive::QueenStatus {
    use super::hive::QueenStatus;
    match origin {
        Origin::Package | Origin::Nuc => QueenStatus::Caged,
        Origin::Split => QueenStatus::Cell,
        Origin::Swarm | Origin::Overwintered => QueenStatus::Unknown,
    }
}

#[cfg(test)]
mod tests;
