//! What a need is on the truck: an item, an amount, a weight, and whether it comes home again.

use crate::advice::{Kept, Need};
use crate::colony::{stores, syrup};
use crate::model::{FeederKind, HiveBox, HiveState, Mass, Supply, Units, Volume, trimmed};

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

    /// Pieces, liters or kilograms, as a visit's file keeps it.
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

/// An item of the truck.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadItem {
    /// In words.
    pub words: String,
    /// How much one need of it is.
    pub amount: Amount,
    /// Pounds a piece, a gallon or a pound of it.
    pub pounds_each: f64,
    /// Whether it stays.
    pub kept: Kept,
}

/// What a need of a hive is on the truck. Weights of small gear are our estimates; boxes and syrup are worked out.
pub fn item_of(need: Need, hive: &HiveState) -> LoadItem {
    let piece = |words: String, pounds: f64| LoadItem {
        words,
        amount: Amount::Count(1),
        pounds_each: pounds,
        kept: Kept::Used,
    };
    match need {
        Need::Box { depth, role } => {
            let frames = hive.box_frames();
            let tare = stores::box_tare(&HiveBox::new(depth, frames, role));
            piece(Supply::Box { depth, frames, role }.name(), tare)
        }
        Need::DrawnFrames { count } => {
            LoadItem { amount: Amount::Count(u32::from(count)), ..piece(Supply::DrawnFrame.name(), 1.5) }
        }
        Need::Syrup { mix, volume } => {
            let gallon = Volume::from_gallons(1.0).litres() * syrup::density(syrup::sugar_share(mix));
            LoadItem {
                amount: Amount::Volume(volume),
                pounds_each: Mass::from_kilograms(gallon).pounds(),
                ..piece(Supply::Syrup(mix).name(), 0.0)
            }
        }
        Need::Sugar { mass } => {
            LoadItem { amount: Amount::Mass(mass), ..piece(Supply::DrySugar.name(), 1.0) }
        }
        Need::Feeder { kind } => piece(Supply::Feeder(kind).name(), feeder_pounds(kind)),
        Need::Treatment { treatment } => piece(Supply::Treatment(treatment).name(), 0.5),
        Need::Reducer => piece(Supply::Reducer.name(), 0.3),
        Need::MouseGuard => piece(Supply::MouseGuard.name(), 0.5),
        Need::WashKit => LoadItem { kept: Kept::Tool, ..piece("wash kit".to_owned(), 3.0) },
        Need::Gear(gear) => LoadItem { kept: gear.kept(), ..piece(gear.words().to_owned(), gear.pounds()) },
    }
}

fn feeder_pounds(kind: FeederKind) -> f64 {
    match kind {
        FeederKind::Frame => 2.0,
        FeederKind::Pail | FeederKind::Entrance => 1.0,
        FeederKind::Top => 8.0,
    }
}

/// Liters of alcohol for the first wash, and for each further one when it is filtered and used again (extension sheets
/// give 240 to 350 mL a jar; the reuse is common practice, no single source).
const FIRST_WASH: f64 = 0.35;
const FURTHER_WASH: f64 = 0.1;

/// The alcohol for so many washes.
pub(super) fn alcohol(washes: u32) -> super::LoadLine {
    let litres = FIRST_WASH + FURTHER_WASH * f64::from(washes.saturating_sub(1));
    let volume = Volume::from_litres((litres * 4.0).ceil() / 4.0);
    super::LoadLine {
        item: "alcohol, 70 %".to_owned(),
        needed: Amount::Volume(volume),
        spare: Amount::Volume(Volume::default()),
        // 70 % ethanol weighs about 0.88 kg a liter at 20 C (handbook tables, from memory).
        weight: Mass::from_kilograms(0.88 * volume.litres()),
        hives: Vec::new(),
    }
}

/// A tool of the whole yard.
pub(super) fn tool(words: &str, pounds: f64) -> super::LoadLine {
    super::LoadLine {
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
