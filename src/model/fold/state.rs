//! What is known of one hive on a date.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::model::finding::{Disease, Heft, LastSeen, Robbing};
use crate::model::hive::{Depth, Entrance, FeederKind, Hive, HiveBox, Origin, Queen, QueenStatus, Role};
use crate::model::names::{HiveId, RuleId, YardId};
use crate::model::stack::stack_words;
use crate::model::units::{Mass, Volume};
use crate::model::visit::Reply;
use crate::model::{Authority, Loss, Mix, Treatment};

/// One alcohol wash.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MiteCount {
    /// The day.
    pub on: NaiveDate,
    /// Mites counted.
    pub mites: u16,
    /// Bees in the jar, 300 where they were not counted.
    pub bees: u16,
}

impl MiteCount {
    /// Mites per hundred bees.
    pub fn percent(&self) -> f64 {
        100.0 * f64::from(self.mites) / f64::from(self.bees.max(1))
    }
}

/// One course of a treatment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Course {
    /// What.
    pub treatment: Treatment,
    /// When it began.
    pub began: NaiveDate,
    /// When it is to end.
    pub until: NaiveDate,
    /// When it was ended, if it was.
    pub ended: Option<NaiveDate>,
}

/// A colony that stood here before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormerColony {
    /// When it was lost and to what, where the log says so.
    pub lost: Option<(NaiveDate, Loss)>,
    /// Its treatments, oldest first.
    pub courses: Vec<Course>,
}

/// A suspicion of disease that was cleared: it stays on the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cleared {
    /// When it was suspected, and by which signs.
    pub suspected: (NaiveDate, Disease),
    /// When it was cleared.
    pub on: NaiveDate,
    /// By whom; not known for what was logged before that was asked.
    pub by: Option<Authority>,
}

/// One feeding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fed {
    /// Syrup.
    Syrup {
        /// The day.
        on: NaiveDate,
        /// How thick.
        mix: Mix,
        /// How much.
        volume: Volume,
    },
    /// Dry sugar.
    Sugar {
        /// The day.
        on: NaiveDate,
        /// How much.
        mass: Mass,
    },
    /// Frames of capped honey.
    Honey {
        /// The day.
        on: NaiveDate,
        /// How many.
        frames: u8,
    },
}

impl Fed {
    /// The day.
    pub fn on(&self) -> NaiveDate {
        match self {
            Self::Syrup { on, .. } | Self::Sugar { on, .. } | Self::Honey { on, .. } => *on,
        }
    }
}

/// The last answer to a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered {
    /// The day.
    pub on: NaiveDate,
    /// The reply.
    pub reply: Reply,
}

/// A promise that has not been kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenPromise {
    /// The day it was made.
    pub made: NaiveDate,
    /// The day it falls due.
    pub on: NaiveDate,
    /// What was promised.
    pub what: String,
}

/// The season's readings, for charts and trends, oldest first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    /// Frames of bees.
    pub bees: Vec<(NaiveDate, f64)>,
    /// Frames of brood.
    pub brood: Vec<(NaiveDate, f64)>,
    /// Weight of the whole hive.
    pub weight: Vec<(NaiveDate, Mass)>,
    /// Frames of honey in the nest.
    pub honey: Vec<(NaiveDate, f64)>,
    /// Lifts of the back.
    pub heft: Vec<(NaiveDate, Heft)>,
    /// Whether there were eggs.
    pub eggs: Vec<(NaiveDate, bool)>,
    /// What was known of the queen, whenever it changed.
    pub queens: Vec<(NaiveDate, QueenStatus)>,
    /// The boxes, whenever they changed.
    pub boxes: Vec<(NaiveDate, Vec<HiveBox>)>,
    /// When part of it left with a split.
    pub parted: Vec<NaiveDate>,
    /// When someone was here.
    pub visits: Vec<NaiveDate>,
}

/// What is known of one hive on a date.
#[derive(Debug, Clone, PartialEq)]
pub struct HiveState {
    /// The hive.
    pub id: HiveId,
    /// Its yard.
    pub yard: YardId,
    /// How the present colony came.
    pub origin: Origin,
    /// When it came.
    pub came: NaiveDate,
    /// From when the book knows it: the day it came, or the day the book was begun where that is later.
    pub known_from: NaiveDate,
    /// Boxes, bottom to top.
    pub boxes: Vec<HiveBox>,
    /// The queen.
    pub queen: Queen,
    /// Lower entrance.
    pub entrance: Entrance,
    /// Whether an upper entrance is open.
    pub upper_entrance: bool,
    /// The feeder on the hive.
    pub feeder: Option<FeederKind>,
    /// Whether a mouse guard is on.
    pub mouse_guard: bool,
    /// The keeper's words.
    pub note: String,
    /// The last value of each finding.
    pub seen: LastSeen,
    /// The last entry of any kind.
    pub last_visit: Option<NaiveDate>,
    /// The last time frames were lifted.
    pub last_opened: Option<NaiveDate>,
    /// When the two lowest boxes last changed places, or the lowest came off.
    pub nest_changed: Option<NaiveDate>,
    /// When a box was last added.
    pub box_added: Option<NaiveDate>,
    /// When nest frames were last changed for drawn ones.
    pub swapped: Option<NaiveDate>,
    /// When honey was last taken.
    pub honey_taken: Option<NaiveDate>,
    /// Honey taken so far, frames by day.
    pub harvest: Vec<(NaiveDate, u8)>,
    /// Washes, oldest first.
    pub washes: Vec<MiteCount>,
    /// Treatments, oldest first.
    pub courses: Vec<Course>,
    /// Feedings, oldest first.
    pub fed: Vec<Fed>,
    /// Since when a honey box has been on without a break; none where none is on.
    pub supers_since: Option<NaiveDate>,
    /// The colonies that stood here before, oldest first.
    pub former: Vec<FormerColony>,
    /// The day disease was suspected, until it is cleared; it outlives the colony and holds for the next one on its gear.
    pub disease_suspected: Option<(NaiveDate, Disease)>,
    /// Suspicions that were cleared, oldest first.
    pub cleared: Vec<Cleared>,
    /// When old brood combs were last changed for new ones.
    pub comb_renewed: Option<NaiveDate>,
    /// When a frame with eggs was last given.
    pub eggs_given: Option<NaiveDate>,
    /// Since when a drone comb against mites is in.
    pub drone_comb: Option<NaiveDate>,
    /// Whether the inspector was called about it.
    pub inspector_called: Option<NaiveDate>,
    /// The day the colony was lost, and why.
    pub lost: Option<(NaiveDate, Loss)>,
    /// The last answer to each rule.
    pub answers: BTreeMap<RuleId, Answered>,
    /// Promises not yet kept, by the day they fall due.
    pub promises: Vec<OpenPromise>,
    /// Readings for charts.
    pub series: Series,
    /// What in the log did not fit what was known, in words (a single box reversed).
    pub oddities: Vec<String>,
}

impl HiveState {
    /// The hive as it was set up, before any visit.
    pub fn start(hive: &Hive, yard: &YardId) -> Self {
        Self {
            id: hive.id.clone(),
            yard: yard.clone(),
            origin: hive.origin,
            came: hive.since,
            known_from: hive.since,
            boxes: hive.boxes.clone(),
            queen: hive.queen.clone(),
            entrance: hive.entrance,
            upper_entrance: hive.upper_entrance,
            feeder: hive.feeder,
            mouse_guard: hive.mouse_guard,
            note: hive.note.clone(),
            seen: LastSeen::default(),
            last_visit: None,
            last_opened: None,
            nest_changed: None,
            box_added: None,
            swapped: None,
            honey_taken: None,
            harvest: Vec::new(),
            washes: Vec::new(),
            courses: Vec::new(),
            fed: Vec::new(),
            disease_suspected: None,
            cleared: Vec::new(),
            comb_renewed: None,
            eggs_given: None,
            drone_comb: None,
            inspector_called: None,
            lost: None,
            answers: BTreeMap::new(),
            promises: Vec::new(),
            supers_since: hive.boxes.iter().any(|b| b.role == Role::Super).then_some(hive.since),
            former: Vec::new(),
            series: Series {
                queens: vec![(hive.queen.since.unwrap_or(hive.since), hive.queen.status)],
                boxes: vec![(hive.since, hive.boxes.clone())],
                ..Series::default()
            },
            oddities: Vec::new(),
        }
    }

    /// The nest boxes, bottom to top.
    pub fn nest(&self) -> impl DoubleEndedIterator<Item = &HiveBox> {
        self.boxes.iter().filter(|b| b.role == Role::Nest)
    }

    /// The supers, bottom to top.
    pub fn supers(&self) -> impl DoubleEndedIterator<Item = &HiveBox> {
        self.boxes.iter().filter(|b| b.role == Role::Super)
    }

    /// How many nest boxes.
    pub fn nest_boxes(&self) -> usize {
        self.nest().count()
    }

    /// How many supers.
    pub fn super_boxes(&self) -> usize {
        self.supers().count()
    }

    /// How many frames the nest takes.
    pub fn nest_frames(&self) -> f64 {
        self.nest().map(|b| f64::from(b.frames)).sum()
    }

    /// The nest's comb in ten-frame deeps.
    pub fn nest_deeps(&self) -> f64 {
        self.nest().map(HiveBox::deep_share).sum()
    }

    /// The last wash.
    pub fn last_wash(&self) -> Option<&MiteCount> {
        self.washes.last()
    }

    /// The treatment that is in the hive on a day.
    pub fn course_on(&self, day: NaiveDate) -> Option<&Course> {
        self.courses.iter().rev().find(|c| c.began <= day && c.ended.is_none())
    }

    /// Whether a colony lives here.
    pub fn is_alive(&self) -> bool {
        self.lost.is_none() && !self.seen.dead.is_some_and(|d| d.value && d.on >= self.came)
    }

    /// Whether robbing was the last word on the matter within so many days.
    pub fn robbed_within(&self, days: i64, today: NaiveDate) -> bool {
        self.seen.robbing.is_some_and(|r| r.value != Robbing::None && (today - r.on).num_days() <= days)
    }

    /// The stack in words, bottom to top: `2 deep nest + 1 medium super`.
    pub fn stack_words(&self) -> String {
        stack_words(&self.boxes)
    }

    /// The commonest depth of its nest boxes, for the next one.
    pub fn nest_depth(&self) -> Depth {
        self.nest().next_back().map_or(Depth::Deep, |b| b.depth)
    }

    /// The depth of its topmost super, medium where it has none.
    pub fn super_depth(&self) -> Depth {
        self.supers().next_back().map_or(Depth::Medium, |b| b.depth)
    }

    /// Frames a box of this hive takes.
    pub fn box_frames(&self) -> u8 {
        self.nest().next_back().map_or(10, |b| b.frames)
    }
}
