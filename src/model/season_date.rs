//! The reference dates: common practice for 43 N, 86 W, 650 ft (200 m), no single source.

use serde::Serialize;

use super::answerable::choice;
use super::yard::DayOfYear;

choice! {
    /// A date of the bee year; its word is the name programs use.
    DateId {
        /// When the back of every hive is lifted, once.
        LateWinterHeft => "late-winter-heft",
        /// When the first pollen comes in.
        FirstPollen => "first-pollen",
        /// From when freezing is over and frames may be lifted.
        FramesMayBeLifted => "frames-may-be-lifted",
        /// When colonies swarm.
        SwarmSeason => "swarm-season",
        /// When the main honey is made.
        MainFlow => "main-flow",
        /// By when the last split is made.
        LastSplit => "last-split",
        /// By when mites are under the limit, before winter bees are raised.
        MitesInCheck => "mites-in-check",
        /// By when honey boxes are off.
        HoneyBoxesOff => "honey-boxes-off",
        /// When goldenrod and aster give.
        FallFlow => "fall-flow",
        /// By when entrances are narrowed.
        EntrancesNarrowed => "entrances-narrowed",
        /// By when heavy feed is finished.
        FeedingDone => "feeding-done",
        /// By when mouse guards are on.
        MouseGuards => "mouse-guards",
        /// By when upper entrances are open and hives are wrapped up.
        UpperEntrances => "upper-entrances",
        /// When the bees are in the winter cluster.
        Cluster => "cluster",
    }
}

/// Which way a date goes to the north, east and uphill.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Sense {
    /// Later.
    Spring,
    /// Stays.
    Midsummer,
    /// Earlier.
    Autumn,
}

/// One reference date, as a window of month and day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reference {
    /// Which.
    pub id: DateId,
    /// In words.
    pub name: &'static str,
    /// The day it opens.
    pub opens: DayOfYear,
    /// The day it closes; before `opens` where it runs into the next year.
    pub closes: DayOfYear,
    /// How its opening moves.
    pub opens_sense: Sense,
    /// How its closing moves.
    pub closes_sense: Sense,
}

const fn row(
    id: DateId,
    name: &'static str,
    opens: (u32, u32, Sense),
    closes: (u32, u32, Sense),
) -> Reference {
    Reference {
        id,
        name,
        opens: DayOfYear::known(opens.0, opens.1),
        closes: DayOfYear::known(closes.0, closes.1),
        opens_sense: opens.2,
        closes_sense: closes.2,
    }
}

use Sense::{Autumn, Midsummer, Spring};

macro_rules! dates {
    ($( $id:ident: $name:literal, $opens:expr, $closes:expr; )+) => {
        /// Every reference date, in the order of the year.
        pub const REFERENCE: &[Reference] = &[ $( row(DateId::$id, $name, $opens, $closes) ),+ ];

        impl DateId {
            /// Its row; an id without one does not compile.
            pub fn reference(self) -> &'static Reference {
                match self {
                    $( Self::$id => {
                        static ROW: Reference = row(DateId::$id, $name, $opens, $closes);
                        &ROW
                    } )+
                }
            }
        }
    };
}

dates! {
    LateWinterHeft: "Late-winter heft", (3, 15, Spring), (3, 31, Spring);
    FirstPollen: "First pollen", (3, 25, Spring), (4, 25, Spring);
    FramesMayBeLifted: "Frames may be lifted", (4, 25, Spring), (10, 31, Autumn);
    SwarmSeason: "Swarm season", (4, 25, Spring), (6, 25, Midsummer);
    MainFlow: "Main flow", (6, 10, Midsummer), (7, 31, Midsummer);
    LastSplit: "Last split", (7, 20, Autumn), (7, 31, Autumn);
    MitesInCheck: "Mites in check", (7, 15, Autumn), (8, 15, Autumn);
    HoneyBoxesOff: "Honey boxes off", (8, 15, Autumn), (8, 31, Autumn);
    FallFlow: "Fall flow", (8, 25, Autumn), (9, 25, Autumn);
    EntrancesNarrowed: "Entrances narrowed", (8, 25, Autumn), (9, 1, Autumn);
    FeedingDone: "Feeding done", (9, 1, Autumn), (9, 30, Autumn);
    MouseGuards: "Mouse guards", (9, 20, Autumn), (10, 1, Autumn);
    UpperEntrances: "Upper entrances and wrap-up", (10, 10, Autumn), (10, 31, Autumn);
    Cluster: "Cluster", (11, 10, Autumn), (3, 15, Spring);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reference_has_a_row_for_every_date() {
        for id in DateId::ALL {
            assert_eq!(id.reference().id, *id);
            assert!(!id.reference().name.is_empty());
        }
        assert_eq!(REFERENCE.len(), 14);
    }
}
