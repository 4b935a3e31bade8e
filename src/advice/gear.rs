//! Small gear that rules ask for: no size, no amount, and no visit counts it.

use serde::{Deserialize, Serialize};

use crate::colony::stores;

/// Whether a thing of the truck stays in the yard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// It is used up or stays on a hive.
    Used,
    /// It comes home again; one serves the whole yard.
    Tool,
}

/// A piece of small gear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Gear {
    /// A mated queen in her cage.
    MatedQueen,
    /// A floor and a lid for a new hive.
    FloorAndLid,
    /// A cage to find and hold a queen in.
    QueenCage,
    /// What honey is taken with.
    HarvestKit,
    /// For cracks.
    Tape,
    /// In place of a leaking one.
    OuterCover,
    /// What a suspected hive is marked and sampled with.
    SampleKit,
    /// Between two colonies that are made one.
    Newspaper,
    /// What dead bees go to the laboratory in.
    DeadBeeJar,
    /// A frame of it, to be cut out.
    DroneComb,
    /// Under a cover in the heat.
    Wedge,
    /// Before a hive that is robbed.
    RobbingScreen,
}

impl Gear {
    /// Its words on the load list, what a piece weighs in pounds (our estimates), and whether it stays.
    fn row(self) -> (&'static str, f64, Kept) {
        match self {
            Self::MatedQueen => ("mated queen in a cage", 0.1, Kept::Used),
            Self::FloorAndLid => ("floor and lid", stores::FLOOR_AND_LIDS, Kept::Used),
            Self::QueenCage => ("queen cage", 0.1, Kept::Tool),
            Self::HarvestKit => ("brush, clearer boards, covers", 10.0, Kept::Tool),
            Self::Tape => ("tape", 0.5, Kept::Tool),
            Self::OuterCover => ("outer cover", 8.0, Kept::Used),
            Self::SampleKit => ("marker, tape, sample bag", 0.5, Kept::Tool),
            Self::Newspaper => ("sheet of newspaper", 0.1, Kept::Used),
            Self::DeadBeeJar => ("clean jar and marker for dead bees", 0.5, Kept::Tool),
            Self::DroneComb => ("drone comb", 1.5, Kept::Used),
            Self::Wedge => ("stick, a finger wide", 0.1, Kept::Used),
            Self::RobbingScreen => ("robbing screen or wet sheet", 2.0, Kept::Tool),
        }
    }

    /// In words, as the load list names it.
    pub fn words(self) -> &'static str {
        self.row().0
    }

    /// What a piece weighs, in pounds.
    pub fn pounds(self) -> f64 {
        self.row().1
    }

    /// Whether it stays.
    pub fn kept(self) -> Kept {
        self.row().2
    }
}
