//! A visit in progress, as its draft keeps it: the steps, and what is known of a draft that was left behind.

use std::collections::BTreeMap;
use std::path::PathBuf;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::names::{HiveId, VisitId, YardId};
use super::visit::{Bloom, Entry, Visit, Weather};

/// One step of a visit in progress.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[allow(clippy::large_enum_variant, reason = "a step lives for one line of a file")]
pub enum DraftStep {
    /// The file's format: the first line. A draft without one is of format 1.
    Format(u32),
    /// The folder of the book it belongs to, where the draft is kept elsewhere.
    Of(String),
    /// The visit's head: yard, day, weather; its entries are empty.
    Head(Visit),
    /// The day's queue, as it stands.
    Queue {
        /// The hives, those that need something first.
        hives: Vec<HiveId>,
        /// How many of them need something.
        due: usize,
    },
    /// What is written of a hive now, by no key: undoing leaves it alone.
    Entry(Entry),
    /// What the keeper changed a hive's entry to.
    Changed(Entry),
    /// What the keeper changed the weather and the bloom to.
    Weather {
        /// The weather.
        weather: Weather,
        /// What is in bloom.
        blooms: Vec<Bloom>,
        /// Since when, for those of which the keeper knows.
        #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
        since: BTreeMap<Bloom, NaiveDate>,
    },
    /// The last change was undone.
    Undone,
    /// What was undone was done again.
    Redone,
    /// The hive and the field the keeper is at.
    At {
        /// The hive.
        hive: HiveId,
        /// The field, by its place among all findings; past them where the keeper stood on none.
        field: usize,
    },
    /// A hive is done with.
    Finished(HiveId),
}

/// What is known of a visit that was left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftVisit {
    /// Its name.
    pub id: VisitId,
    /// The yard.
    pub yard: YardId,
    /// The day.
    pub on: NaiveDate,
    /// How many steps its draft holds.
    pub steps: usize,
}

/// A draft that was left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftDraft {
    /// Its file.
    pub path: PathBuf,
    /// Whether it was put aside: then it is not taken up unasked.
    pub is_aside: bool,
    /// The visit, or why it cannot be taken up.
    pub visit: Result<LeftVisit, String>,
}
