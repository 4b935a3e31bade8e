//! A hive as its keeper set it up: boxes, queen, fittings, and how the colony came.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::answerable::{Frames, Percent, choice};
use super::names::HiveId;

choice! {
    /// The depth of a box.
    Depth {
        /// 9 5/8 in.
        Deep => "deep",
        /// 6 5/8 in.
        Medium => "medium",
        /// 5 11/16 in.
        Shallow => "shallow",
    }
}
choice! {
    /// What a box is for.
    Role {
        /// Brood.
        Nest => "nest",
        /// Honey for harvest.
        Super => "super",
    }
}
choice! {
    /// How wide the lower entrance is.
    Entrance {
        /// The full width of the floor.
        Open => "open",
        /// About 3-4 in (8-10 cm).
        Reduced => "reduced",
        /// 1/2 in (1 cm), one or two bees at a time.
        Small => "small",
    }
}
choice! {
    /// The feeder on a hive, with its usual size.
    FeederKind {
        /// Inside, in place of frames: about 1 gal.
        Frame => "frame feeder",
        /// Inverted over the frames: about 1 gal.
        Pail => "pail",
        /// A box of its own on top: about 4 gal.
        Top => "top feeder",
        /// At the entrance: about 1 qt. Invites robbing.
        Entrance => "entrance feeder",
    }
}
choice! {
    /// How a colony came to its stand.
    Origin {
        /// Lived through a winter here.
        Overwintered => "overwintered",
        /// A package of bees.
        Package => "package",
        /// A nucleus.
        Nuc => "nuc",
        /// A swarm, caught.
        Swarm => "swarm",
        /// A split.
        Split => "split",
    }
}
choice! {
    /// What is known of the queen.
    QueenStatus {
        /// Laying.
        Laying => "laying",
        /// In her cage, not let out yet.
        Caged => "caged",
        /// The bees raising one from young larvae.
        Cell => "cell",
        /// A ripe or sealed cell, from which she comes out within days.
        RipeCell => "ripe cell",
        /// Out of the cell, not laying yet.
        Virgin => "virgin",
        /// Laying, while the bees raise another beside her.
        Superseded => "being replaced",
        /// Laying drones.
        DroneLayer => "drone layer",
        /// Gone.
        Missing => "missing",
        /// Not known.
        Unknown => "not known",
    }
}
choice! {
    /// The international queen marking colors, by the last figure of the year.
    ///
    /// 1 or 6 white, 2 or 7 yellow, 3 or 8 red, 4 or 9 green, 5 or 0 blue (published alike by many associations).
    Mark {
        /// Years ending in 1 or 6.
        White => "white",
        /// Years ending in 2 or 7.
        Yellow => "yellow",
        /// Years ending in 3 or 8.
        Red => "red",
        /// Years ending in 4 or 9.
        Green => "green",
        /// Years ending in 5 or 0.
        Blue => "blue",
    }
}

impl Mark {
    /// The color of a year.
    pub fn of_year(year: i32) -> Self {
        match year.rem_euclid(5) {
            1 => Self::White,
            2 => Self::Yellow,
            3 => Self::Red,
            4 => Self::Green,
            _ => Self::Blue,
        }
    }
}

impl FeederKind {
    /// What one fill holds, in US gallons (common practice, no single source).
    pub fn gallons(self) -> f64 {
        match self {
            Self::Frame | Self::Pail => 1.0,
            Self::Top => 4.0,
            Self::Entrance => 0.25,
        }
    }
}

/// A queen, as far as she is known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Queen {
    /// What is known of her.
    pub status: QueenStatus,
    /// The year she was raised.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub year: Option<i32>,
    /// Whether she carries a mark, and which.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mark: Option<Mark>,
    /// Where she comes from, in the keeper's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub origin: String,
    /// When this status began: the split was made, the cage hung, the cell given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<NaiveDate>,
}

impl Queen {
    /// A queen of whom only the status is known.
    pub fn of_status(status: QueenStatus, since: Option<NaiveDate>) -> Self {
        Self { status, year: None, mark: None, origin: String::new(), since }
    }
}

/// What a box held when it was last described.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Contents {
    /// Frames with drawn comb; the rest is foundation.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drawn: Option<u8>,
    /// Frames of brood.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brood: Option<Frames>,
    /// Frames of honey.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub honey: Option<Frames>,
    /// Share of that honey under wax.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capped: Option<Percent>,
}

impl Contents {
    fn is_unknown(&self) -> bool {
        *self == Self::default()
    }
}

/// One box of the stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HiveBox {
    /// Its depth.
    pub depth: Depth,
    /// Frames it takes: 8 or 10, 5 or 6 in a nuc box.
    #[serde(default = "ten", skip_serializing_if = "is_ten")]
    pub frames: u8,
    /// Nest or super.
    pub role: Role,
    /// What it holds.
    #[serde(default, skip_serializing_if = "Contents::is_unknown")]
    pub holds: Contents,
}

fn ten() -> u8 {
    10
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference")]
fn is_ten(frames: &u8) -> bool {
    *frames == 10
}

impl HiveBox {
    /// A box of which nothing but its making is known.
    pub fn new(depth: Depth, frames: u8, role: Role) -> Self {
        Self { depth, frames, role, holds: Contents::default() }
    }

    /// A box with so many of its frames drawn.
    pub fn with_drawn(depth: Depth, frames: u8, role: Role, drawn: u8) -> Self {
        Self {
            holds: Contents { drawn: Some(drawn), ..Contents::default() },
            ..Self::new(depth, frames, role)
        }
    }

    /// Its comb as a share of a ten-frame deep: a medium frame is 0.66 of a deep one, a shallow 0.55 (area ratio).
    pub fn deep_share(&self) -> f64 {
        let depth = match self.depth {
            Depth::Deep => 1.0,
            Depth::Medium => 0.66,
            Depth::Shallow => 0.55,
        };
        depth * f64::from(self.frames) / 10.0
    }

    /// `deep`, or `8-frame medium`.
    pub fn words(&self) -> String {
        if self.frames == 10 {
            self.depth.word().to_owned()
        } else {
            format!("{}-frame {}", self.frames, self.depth.word())
        }
    }
}

/// A hive on its stand, as set up; what has happened since is in the visits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hive {
    /// Its number or name.
    pub id: HiveId,
    /// How the colony came.
    pub origin: Origin,
    /// Since when it stands as described here.
    pub since: NaiveDate,
    /// Boxes, bottom to top.
    pub boxes: Vec<HiveBox>,
    /// The queen.
    pub queen: Queen,
    /// Lower entrance.
    #[serde(default = "open")]
    pub entrance: Entrance,
    /// Whether an upper entrance is open.
    #[serde(default)]
    pub upper_entrance: bool,
    /// The feeder, if one is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feeder: Option<FeederKind>,
    /// Whether a mouse guard is on.
    #[serde(default)]
    pub mouse_guard: bool,
    /// The day its stand was taken out of the book's work: sold, given away, united. Its records stay.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<NaiveDate>,
    /// Names it had before: what was logged under them is its own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub formerly: Vec<HiveId>,
    /// The keeper's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

fn open() -> Entrance {
    Entrance::Open
}

impl Hive {
    /// A hive with an open entrance and nothing fitted.
    pub fn new(id: HiveId, origin: Origin, since: NaiveDate, boxes: Vec<HiveBox>, queen: Queen) -> Self {
        Self {
            id,
            origin,
            since,
            boxes,
            queen,
            entrance: open(),
            upper_entrance: false,
            feeder: None,
            mouse_guard: false,
            left: None,
            formerly: Vec::new(),
            note: String::new(),
        }
    }

    /// Whether it stands on a day.
    pub fn stands_on(&self, day: NaiveDate) -> bool {
        self.since <= day && self.left.is_none_or(|left| day < left)
    }

    /// What cannot be, in words.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = stack_faults(&self.boxes);
        if let Some(year) = self.queen.year
            && !(1990..=2200).contains(&year)
        {
            faults.push(format!("has a queen of the year {year}"));
        }
        faults
    }
}

/// What cannot be of a stack, in words.
pub(super) fn stack_faults(boxes: &[HiveBox]) -> Vec<String> {
    let mut faults = Vec::new();
    if boxes.is_empty() {
        faults.push("has no boxes: give at least one nest box".to_owned());
    } else if !boxes.iter().any(|b| b.role == Role::Nest) {
        faults.push("has only supers: a colony needs a nest box".to_owned());
    }
    if boxes.len() > 12 {
        faults.push(format!("has {} boxes: 12 is the most", boxes.len()));
    }
    for (at, each) in boxes.iter().enumerate() {
        if !(2..=14).contains(&each.frames) {
            faults.push(format!("box {} takes {} frames: 2 to 14 is the range", at + 1, each.frames));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hive_without_a_nest_or_with_forty_frames_a_box_is_named() {
        let hive = |boxes| {
            Hive::new(
                HiveId::new("T1"),
                Origin::Nuc,
                NaiveDate::from_ymd_opt(2026, 5, 1).unwrap(),
                boxes,
                Queen::of_status(QueenStatus::Laying, None),
            )
        };
        assert!(hive(vec![HiveBox::new(Depth::Deep, 10, Role::Nest)]).faults().is_empty());
        assert!(hive(vec![]).faults()[0].contains("no boxes"));
        assert!(hive(vec![HiveBox::new(Depth::Medium, 10, Role::Super)]).faults()[0].contains("only supers"));
        assert!(hive(vec![HiveBox::new(Depth::Deep, 40, Role::Nest)]).faults()[0].contains("40 frames"));
    }
}
