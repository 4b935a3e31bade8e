//! What a need is on the truck: an item, an amount, a weight, and whether it comes home again.

use crate::advice::Need;
use crate::colony::{stores, syrup};
use crate::model::{FeederKind, HiveBox, HiveState, Mass, Mix, Units, Volume, trimmed};

/// How much of an item.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// Pieces.
    Count(u32),
    /// A volume.
    Volume(Volume),
    /// A mass.
    Mass(Mass),
}

impl Amount {
    /// None of the same kind.
    #[must_use]
    pub fn none(self) -> Self {
        match self {
            Self::Count(_) => Self::Count(0),
            Self::Volume(_) => Self::Volume(Volume::default()),
            Self::Mass(_) => Self::Mass(Mass::default()),
        }
    }

    /// Two amounts of one kind together; of two kinds the first stays.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Count(a), Self::Count(b)) => Self::Count(a.saturating_add(b)),
            (Self::Volume(a), Self::Volume(b)) => {
                Self::Volume(Volume::from_gallons(a.gallons() + b.gallons()))
            }
            (Self::Mass(a), Self::Mass(b)) => Self::Mass(Mass::from_pounds(a.pounds() + b.pounds())),
            (first, _) => first,
        }
    }

    /// A share of it, rounded up: pieces to whole ones, syrup to quarter gallons, sugar to pounds.
    #[must_use]
    pub fn share(self, share: f64) -> Self {
        let share = share.max(0.0);
        match self {
            Self::Count(n) => {
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a share of a count"
                )]
                let more = (f64::from(n) * share).ceil().clamp(0.0, 10_000.0) as u32;
                Self::Count(more)
            }
            Self::Volume(v) => Self::Volume(Volume::from_gallons((v.gallons() * share * 4.0).ceil() / 4.0)),
            Self::Mass(m) => Self::Mass(Mass::from_pounds((m.pounds() * share).ceil())),
        }
    }

    /// Pieces, gallons or pounds: what a weight each is multiplied by.
    pub fn number(self) -> f64 {
        match self {
            Self::Count(n) => f64::from(n),
            Self::Volume(v) => v.gallons(),
            Self::Mass(m) => m.pounds(),
        }
    }

    /// Pieces, litres or kilograms, as a visit's file keeps it.
    pub fn in_file(self) -> f64 {
        match self {
            Self::Count(n) => f64::from(n),
            Self::Volume(v) => v.litres(),
            Self::Mass(m) => m.kilograms(),
        }
    }

    /// With the item, in the book's units: `3 x mouse guard`, `4 gal of thick (2:1) syrup`.
    pub fn of(self, item: &str, units: Units) -> String {
        match self {
            Self::Count(1) => item.to_owned(),
            Self::Count(n) => format!("{n} x {item}"),
            Self::Volume(v) => format!("{} of {item}", units.volume(v)),
            Self::Mass(m) => format!("{} of {item}", units.mass(m)),
        }
    }
}

/// Whether an item stays in the yard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// It is used up or stays on a hive.
    Used,
    /// It comes home again; one serves the whole yard.
    Tool,
}

/// An item of the truck.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// In words.
    pub words: String,
    /// How much one need of it is.
    pub amount: Amount,
    /// Pounds a piece, a gallon or a pound of it.
    pub pounds_each: f64,
    /// Whether it stays.
    pub kept: Kept,
}

/// The name of a syrup on the list.
pub(super) fn syrup_item(mix: Mix) -> String {
    format!("{} syrup", mix.word())
}

/// The name of drawn frames on the list.
pub(super) const DRAWN: &str = "drawn frame";
/// The name of dry sugar on the list.
pub(super) const SUGAR: &str = "dry sugar";
/// The name of a reducer on the list.
pub(super) const REDUCER: &str = "entrance reducer";
/// The name of a mouse guard on the list.
pub(super) const GUARD: &str = "mouse guard";

/// What a need of a hive is on the truck. Weights of small gear are our estimates; boxes and syrup are worked out.
pub fn item_of(need: Need, hive: &HiveState) -> Item {
    let piece = |words: String, pounds: f64| Item {
        words,
        amount: Amount::Count(1),
        pounds_each: pounds,
        kept: Kept::Used,
    };
    let tool = |words: &str, pounds: f64| Item { kept: Kept::Tool, ..piece(words.to_owned(), pounds) };
    match need {
        Need::Box { depth, role } => {
            let frames = hive.box_frames();
            let each = HiveBox::new(depth, frames, role);
            let kind = match role {
                crate::model::Role::Nest => "nest box",
                crate::model::Role::Super => "super",
            };
            piece(format!("{} {kind}", each.words()), stores::box_tare(&each))
        }
        Need::DrawnFrames { count } => {
            Item { amount: Amount::Count(u32::from(count)), ..piece(DRAWN.to_owned(), 1.5) }
        }
        Need::Syrup { mix, volume } => {
            let gallon = Volume::from_gallons(1.0).litres() * syrup::density(syrup::sugar_share(mix));
            Item {
                amount: Amount::Volume(volume),
                pounds_each: Mass::from_kilograms(gallon).pounds(),
                ..piece(syrup_item(mix), 0.0)
            }
        }
        Need::Sugar { mass } => Item { amount: Amount::Mass(mass), ..piece(SUGAR.to_owned(), 1.0) },
        Need::Feeder { kind } => piece(kind.word().to_owned(), feeder_pounds(kind)),
        Need::Treatment { treatment } => piece(format!("{} for one hive", treatment.word()), 0.5),
        Need::Reducer => piece(REDUCER.to_owned(), 0.3),
        Need::MouseGuard => piece(GUARD.to_owned(), 0.5),
        Need::FloorAndLid => piece("floor and lid".to_owned(), stores::FLOOR_AND_LIDS),
        Need::CagedQueen => piece("mated queen in a cage".to_owned(), 0.1),
        Need::Newspaper => piece("sheet of newspaper".to_owned(), 0.1),
        Need::Wedge => piece("stick, a finger wide".to_owned(), 0.1),
        Need::WashKit => tool("wash kit", 3.0),
        Need::SampleKit => tool("marker, tape, sample bag", 0.5),
        Need::QueenCage => tool("queen cage", 0.1),
        Need::HarvestKit => tool("brush, clearer boards, covers", 10.0),
        Need::Tape => tool("tape", 0.5),
    }
}

fn feeder_pounds(kind: FeederKind) -> f64 {
    match kind {
        FeederKind::Frame => 2.0,
        FeederKind::Pail | FeederKind::Entrance => 1.0,
        FeederKind::Top => 8.0,
    }
}

/// Litres of alcohol for the first wash, and for each further one when it is filtered and used again (extension sheets
/// give 240 to 350 mL a jar; the reuse is common practice, no single source).
const FIRST_WASH: f64 = 0.35;
const FURTHER_WASH: f64 = 0.1;

/// The alcohol for so many washes.
pub(super) fn alcohol(washes: u32) -> super::Line {
    let litres = FIRST_WASH + FURTHER_WASH * f64::from(washes.saturating_sub(1));
    let volume = Volume::from_litres((litres * 4.0).ceil() / 4.0);
    super::Line {
        item: "alcohol, 70 %".to_owned(),
        needed: Amount::Volume(volume),
        spare: Amount::Volume(Volume::default()),
        // 70 % ethanol weighs about 0.88 kg a litre at 20 C (handbook tables, from memory).
        weight: Mass::from_kilograms(0.88 * volume.litres()),
        hives: Vec::new(),
    }
}

/// A tool of the whole yard.
pub(super) fn tool(words: &str, pounds: f64) -> super::Line {
    super::Line {
        item: words.to_owned(),
        needed: Amount::Count(1),
        spare: Amount::Count(0),
        weight: Mass::from_pounds(pounds),
        hives: Vec::new(),
    }
}

/// A kept amount in words, whatever its kind: `3`, `3.8 L`, `2 kg`.
pub(super) fn number_words(amount: f64) -> String {
    trimmed(amount, 1)
}
