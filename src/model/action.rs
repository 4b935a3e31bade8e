//! Actions: what was done at a hive, with its amounts.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::answerable::choice;
use super::hive::{Depth, Entrance, FeederKind, HiveBox, Origin, Queen, Role, stack_faults};
use super::names::HiveId;
use super::units::{Mass, Units, Volume};

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
        /// Oxalic acid vapour.
        OxalicVapour => "oxalic acid vapour",
        /// Amitraz strips.
        AmitrazStrips => "amitraz strips",
        /// Hop beta acid strips.
        HopAcidStrips => "hop acid strips",
    }
}
choice! {
    /// Why a colony was lost.
    Loss {
        /// Starved.
        Starved => "starved",
        /// Mites and what they carry.
        Mites => "mites",
        /// No queen, or one that failed.
        Queen => "queen failure",
        /// Cluster too small for the cold.
        Small => "too small",
        /// Damp.
        Damp => "damp",
        /// Robbed out.
        Robbed => "robbed out",
        /// Brood disease.
        Disease => "disease",
        /// Sold, or joined to another on purpose.
        GivenUp => "given up",
        /// Not known.
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

/// Something done at a hive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Action {
    /// A box was put on.
    AddBox {
        /// Its depth.
        depth: Depth,
        /// Frames it takes.
        frames: u8,
        /// Nest or super.
        role: Role,
        /// Frames of it that are drawn.
        drawn: u8,
        /// Where it went.
        level: Level,
    },
    /// A box was taken off: the lowest nest box, or the topmost box of a role.
    RemoveBox {
        /// Nest or super.
        role: Role,
        /// From where.
        level: Level,
    },
    /// The two lowest nest boxes changed places.
    ReverseBoxes,
    /// The whole stack was found or made to be this, bottom to top.
    SetBoxes {
        /// The boxes.
        boxes: Vec<HiveBox>,
    },
    /// Syrup was given.
    FeedSyrup {
        /// How thick.
        mix: Mix,
        /// How much.
        volume: Volume,
    },
    /// Dry sugar or fondant was laid over the frames.
    FeedSugar {
        /// How much.
        mass: Mass,
    },
    /// A feeder was put on, changed or, with none, taken off.
    SetFeeder {
        /// The feeder now on.
        feeder: Option<FeederKind>,
    },
    /// The lower entrance was set.
    SetEntrance {
        /// Its width now.
        entrance: Entrance,
    },
    /// The upper entrance was opened or closed.
    SetUpperEntrance {
        /// Open now.
        open: bool,
    },
    /// The mouse guard was put on or taken off.
    SetMouseGuard {
        /// On now.
        on: bool,
    },
    /// Nest frames full of nectar or honey were changed for drawn ones.
    SwapFrames {
        /// How many.
        frames: u8,
    },
    /// Queen cells were cut out.
    CutCells,
    /// A mite treatment was begun.
    Treat {
        /// What.
        treatment: Treatment,
        /// When it is to come out or end.
        until: NaiveDate,
    },
    /// A mite treatment was taken out or ended.
    EndTreatment {
        /// What.
        treatment: Treatment,
    },
    /// Another queen is known or was given.
    SetQueen {
        /// The queen now.
        queen: Queen,
    },
    /// Part of the colony became another hive.
    SplitInto {
        /// That hive.
        hive: HiveId,
    },
    /// Another colony was joined to this one.
    Joined {
        /// The colony that is no more.
        hive: HiveId,
    },
    /// This colony was joined to another: the stand is empty.
    JoinInto {
        /// The hive that took it in.
        hive: HiveId,
    },
    /// Honey was taken.
    TakeHoney {
        /// Frames taken.
        frames: u8,
        /// Honey, if weighed.
        mass: Option<Mass>,
    },
    /// The inspector or a laboratory was called.
    CallInspector,
    /// The disease doubt was cleared by the inspector, a laboratory or time.
    ClearDisease,
    /// The stand is empty: the colony is gone.
    Retire {
        /// Why.
        loss: Loss,
    },
    /// A new colony came onto this stand.
    Restock {
        /// How it came.
        origin: Origin,
    },
    /// Anything else, in the keeper's words.
    Other {
        /// The words.
        what: String,
    },
}

impl Action {
    /// What was done, in words and the book's units.
    pub fn words(&self, units: Units) -> String {
        match self {
            Self::AddBox { depth, frames, role, drawn, level } => {
                let comb = if *drawn == 0 {
                    "foundation".to_owned()
                } else if drawn >= frames {
                    "drawn".to_owned()
                } else {
                    format!("{drawn} of {frames} drawn")
                };
                format!("added a {} {}, {comb}, {}", depth.word(), box_word(*role), level.word())
            }
            Self::RemoveBox { role, level } => format!("took off the {} {}", box_word(*role), level.word()),
            Self::SetBoxes { boxes } => format!("the boxes are {}", super::stack::stack_words(boxes)),
            Self::ReverseBoxes => "reversed the two lowest boxes".to_owned(),
            Self::FeedSyrup { mix, volume } => {
                format!("fed {} of {} syrup", units.volume(*volume), mix.word())
            }
            Self::FeedSugar { mass } => format!("laid on {} of dry sugar", units.mass(*mass)),
            Self::SetFeeder { feeder: Some(kind) } => format!("put on a {}", kind.word()),
            Self::SetFeeder { feeder: None } => "took off the feeder".to_owned(),
            Self::SetEntrance { entrance } => format!("set the entrance {}", entrance.word()),
            Self::SetUpperEntrance { open: true } => "opened the upper entrance".to_owned(),
            Self::SetUpperEntrance { open: false } => "closed the upper entrance".to_owned(),
            Self::SetMouseGuard { on: true } => "put on the mouse guard".to_owned(),
            Self::SetMouseGuard { on: false } => "took off the mouse guard".to_owned(),
            Self::SwapFrames { frames } => format!("changed {frames} full frames for drawn ones"),
            Self::CutCells => "cut out queen cells".to_owned(),
            Self::Treat { treatment, until } => format!("began {}, out on {until}", treatment.word()),
            Self::EndTreatment { treatment } => format!("ended {}", treatment.word()),
            Self::SetQueen { queen } => format!("queen: {}", queen.status.word()),
            Self::SplitInto { hive } => format!("split into {hive}"),
            Self::Joined { hive } => format!("joined {hive} to this hive"),
            Self::JoinInto { hive } => format!("united into {hive}"),
            Self::TakeHoney { frames, mass: Some(mass) } => {
                format!("took {frames} frames of honey, {}", units.mass(*mass))
            }
            Self::TakeHoney { frames, mass: None } => format!("took {frames} frames of honey"),
            Self::CallInspector => "called the inspector".to_owned(),
            Self::ClearDisease => "disease cleared".to_owned(),
            Self::Retire { loss } => format!("stand empty: {}", loss.word()),
            Self::Restock { origin } => format!("new colony: {}", origin.word()),
            Self::Other { what } => super::names::visible(what),
        }
    }

    /// What cannot be, in words.
    pub fn fault(&self) -> Option<String> {
        match self {
            Self::AddBox { frames, drawn, .. } if !(2..=14).contains(frames) || drawn > frames => {
                Some(format!(
                    "a box of {frames} frames with {drawn} drawn: 2 to 14 frames, no more drawn than there are"
                ))
            }
            Self::SwapFrames { frames } | Self::TakeHoney { frames, .. } if *frames > 60 => {
                Some(format!("{frames} frames: 60 is the most"))
            }
            Self::SetBoxes { boxes } => {
                stack_faults(boxes).into_iter().next().map(|fault| format!("the stack {fault}"))
            }
            _ => None,
        }
    }
}

fn box_word(role: Role) -> &'static str {
    match role {
        Role::Nest => "nest box",
        Role::Super => "super",
    }
}
