//! A visit: one trip to one yard, with an entry for each hive that was looked at.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveDateTime, NaiveTime};
use serde::{Deserialize, Serialize};

use super::action::Action;
use super::answerable::choice;
use super::finding::Findings;
use super::names::{HiveId, RuleId, VisitId, YardId};
use super::units::{Temperature, Units, Wind};

choice! {
    /// A bloom by which the year can be told.
    Bloom {
        /// Maple, willow, hazel.
        FirstPollen => "first pollen",
        /// Dandelion.
        Dandelion => "dandelion",
        /// The plants of the main flow.
        MainFlow => "main flow",
        /// Goldenrod, aster.
        FallFlow => "fall flow",
    }
}

/// A bloom seen at a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct InBloom {
    /// Which.
    pub bloom: Bloom,
    /// Since when, where the keeper knows: a yard is not looked at on the day the first flower opens.
    pub since: Option<NaiveDate>,
}

impl InBloom {
    /// The day it tells of: since when it blooms, or the day it was seen.
    pub fn first_seen(&self, visit: NaiveDate) -> NaiveDate {
        self.since.unwrap_or(visit)
    }
}

/// The weather at the start of a visit, as far as it was noted.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Weather {
    /// Air temperature in the shade.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Temperature>,
    /// Wind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wind: Option<Wind>,
    /// Whether it rains.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rain: Option<bool>,
}

/// How a prompt was answered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Reply {
    /// Done as asked, or in another way.
    Done,
    /// Looked at and not needed.
    NotNeeded,
    /// Put off.
    PutOff {
        /// Why, in words.
        reason: String,
        /// To when.
        until: NaiveDate,
    },
}

/// An answer to a rule's prompt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// The rule.
    pub rule: RuleId,
    /// The reply.
    pub reply: Reply,
    /// Whether the promises that were due are kept by it: done, or not needed any more.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub keeps_promises: bool,
}

impl Answer {
    /// An answer that leaves promises as they are.
    pub fn to(rule: RuleId, reply: Reply) -> Self {
        Self { rule, reply, keeps_promises: false }
    }
}

/// Something to come back for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Promise {
    /// When.
    pub on: NaiveDate,
    /// What.
    pub what: String,
}

/// One hive in a visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// The hive.
    pub hive: HiveId,
    /// Minutes spent, if they were measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u16>,
    /// What was seen.
    #[serde(default, skip_serializing_if = "Findings::is_empty")]
    pub findings: Findings,
    /// What was done, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub actions: Vec<Action>,
    /// What was answered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub answers: Vec<Answer>,
    /// What to come back for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub promises: Vec<Promise>,
    /// The keeper's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl Entry {
    /// An entry in which nothing is written yet.
    pub fn blank(hive: HiveId) -> Self {
        Self {
            hive,
            minutes: None,
            findings: Findings::default(),
            actions: Vec::new(),
            answers: Vec::new(),
            promises: Vec::new(),
            note: String::new(),
        }
    }

    /// Whether nothing is written in it.
    pub fn is_blank(&self) -> bool {
        self.minutes.is_none()
            && self.findings.is_empty()
            && self.actions.is_empty()
            && self.answers.is_empty()
            && self.promises.is_empty()
            && self.note.is_empty()
    }

    /// What was done, in words; how it was found, or that it was looked at, where nothing was.
    pub fn done_words(&self, units: Units) -> Vec<String> {
        if self.actions.is_empty() {
            let found = self.findings.fine.map(|fine| format!("fine, {}", fine.word()));
            return vec![found.unwrap_or_else(|| "looked at".to_owned())];
        }
        self.actions.iter().map(|action| action.words(units)).collect()
    }

    /// Answers a rule, in place of a former answer in this entry.
    pub fn answer(&mut self, answer: Answer) {
        self.answers.retain(|a| a.rule != answer.rule);
        self.answers.push(answer);
    }

    /// What cannot be, in words.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = self.findings.faults();
        faults.extend(self.actions.iter().filter_map(Action::fault));
        if let Some(minutes) = self.minutes
            && minutes > 24 * 60
        {
            faults.push(format!("{minutes} minutes at one hive is more than a day"));
        }
        faults
    }
}

/// Something that was on the truck: what, as the load list calls it, and how much: pieces, liters or kilograms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Loaded {
    /// The item, in the load list's words.
    pub item: String,
    /// How much.
    pub amount: f64,
    /// Whether it is a tool, which always comes home.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub comes_home: bool,
}

/// One trip to one yard.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Visit {
    /// Its name, unique for ever.
    pub id: VisitId,
    /// The yard.
    pub yard: YardId,
    /// The day.
    pub on: NaiveDate,
    /// When it began.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub began: Option<NaiveTime>,
    /// The visit this one corrects, if it does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<VisitId>,
    /// The visit this one takes back, if it does; then it holds nothing else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withdraws: Option<VisitId>,
    /// When a correction or withdrawal was logged, by the laptop's clock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub logged: Option<NaiveDateTime>,
    /// The weather.
    #[serde(default)]
    pub weather: Weather,
    /// What was in bloom.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blooms: Vec<Bloom>,
    /// Since when, for those of which the keeper knows.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub bloom_since: BTreeMap<Bloom, NaiveDate>,
    /// What was ticked as on the truck.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub truck: Vec<Loaded>,
    /// The hives looked at, in the order they were.
    pub entries: Vec<Entry>,
    /// The keeper's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl Visit {
    /// A visit to a yard on a day, of which nothing more is written yet.
    pub fn begun(id: VisitId, yard: YardId, on: NaiveDate) -> Self {
        Self {
            id,
            yard,
            on,
            began: None,
            replaces: None,
            withdraws: None,
            logged: None,
            weather: Weather::default(),
            blooms: Vec::new(),
            bloom_since: BTreeMap::new(),
            truck: Vec::new(),
            entries: Vec::new(),
            note: String::new(),
        }
    }

    /// What was in bloom, each with the day since when.
    pub fn in_bloom(&self) -> Vec<InBloom> {
        in_bloom(&self.blooms, &self.bloom_since)
    }

    /// Notes what is in bloom in place of what was noted.
    pub fn set_in_bloom(&mut self, seen: &[InBloom]) {
        self.blooms = seen.iter().map(|seen| seen.bloom).collect();
        self.bloom_since = since_days(seen);
    }

    /// The entry of a hive.
    pub fn entry(&self, hive: &HiveId) -> Option<&Entry> {
        self.entries.iter().find(|e| e.hive == *hive)
    }
}

/// A visit's name: day, hour, yard and a tail by which two laptops never collide.
///
/// Only letters, figures and hyphens of the yard's name are taken, so it is a safe file name everywhere.
pub fn visit_id(yard: &YardId, at: NaiveDateTime, tail: u16) -> VisitId {
    let mut place: String = yard
        .as_str()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' })
        .take(16)
        .collect();
    place = place.trim_matches('-').to_owned();
    if place.is_empty() {
        "yard".clone_into(&mut place);
    }
    VisitId::new(format!("{}-{place}-{tail:04x}", at.format("%Y-%m-%dT%H%M")))
}

/// Blooms and their days, as they stand in a file, together.
pub(crate) fn in_bloom(blooms: &[Bloom], since: &BTreeMap<Bloom, NaiveDate>) -> Vec<InBloom> {
    blooms.iter().map(|bloom| InBloom { bloom: *bloom, since: since.get(bloom).copied() }).collect()
}

/// The days of the blooms that have one, as they stand in a file.
fn since_days(seen: &[InBloom]) -> BTreeMap<Bloom, NaiveDate> {
    seen.iter().filter_map(|seen| Some((seen.bloom, seen.since?))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_visits_name_holds_day_hour_and_yard_and_nothing_unsafe() {
        let at: NaiveDateTime = "2026-05-03T09:15:00".parse().unwrap();
        assert_eq!(visit_id(&YardId::new("Creek"), at, 0x3f9a).as_str(), "2026-05-03T0915-creek-3f9a");
        assert_eq!(visit_id(&YardId::new("../"), at, 1).as_str(), "2026-05-03T0915-yard-0001");
    }
}
