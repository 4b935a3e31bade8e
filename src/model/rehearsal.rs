//! A rehearsal: a yard of simulated colonies, and a scenario where one skill is practiced.
//!
//! What a keeper did stands in the visits of its book; what the colonies are follows from this and from those, so nothing
//! else is kept.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::{DayOfYear, Entrance, HiveId, Place, YardId};

/// How a colony begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Start {
    /// Three pounds of bees and a caged queen on bare frames.
    Package,
    /// Five frames of bees, brood and food with a laying queen.
    Nuc,
    /// A colony that came through a winter.
    Overwintered,
}

impl Start {
    /// In a word, as it is asked for.
    pub fn word(self) -> &'static str {
        match self {
            Self::Package => "package",
            Self::Nuc => "nuc",
            Self::Overwintered => "overwintered",
        }
    }
}

/// What a colony is made to be as a scenario begins.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Made {
    /// Frames of bees.
    Bees(f64),
    /// Mites on a hundred bees; those under the caps go with them.
    Mites(f64),
    /// Honey in the nest, lb.
    Honey(f64),
    /// Swarm cells were begun so many days ago.
    SwarmCells(u32),
    /// No queen, and eggs to raise one from.
    Queenless,
    /// No queen and nothing to raise one from.
    Hopeless,
    /// All brood is in the upper box, and the lower one is empty.
    NestAbove,
    /// One brood nest stands in both boxes.
    NestAcross,
    /// What robbers carry out on a warm day through an open entrance, lb.
    Robbed(f64),
    /// The entrance.
    Entrance(Entrance),
}

/// A hive as it begins.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Beginning {
    /// Its name.
    pub hive: HiveId,
    /// How its colony begins.
    pub start: Start,
    /// Deep boxes of the nest, 1 to 3.
    #[serde(default = "one")]
    pub boxes: u8,
    /// Medium honey boxes on it, 0 to 4.
    #[serde(default)]
    pub supers: u8,
    /// What it is made to be.
    #[serde(default)]
    pub made: Vec<Made>,
}

fn one() -> u8 {
    1
}

/// What is measured of a colony at the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Measure {
    /// 1 where it lives, else 0.
    Alive,
    /// 1 where its queen lays, else 0.
    QueenLays,
    /// Swarms lost.
    Swarms,
    /// Mites on a hundred bees.
    Mites,
    /// Frames of bees.
    Bees,
    /// Frames of brood.
    Brood,
    /// Honey in the nest, lb.
    Food,
    /// Honey taken, lb.
    Honey,
    /// Sugar given, lb.
    Sugar,
}

/// What a scenario is judged by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Judged {
    /// The hive; every one that was set up where none is named.
    #[serde(default)]
    pub hive: Option<HiveId>,
    /// What is measured.
    pub what: Measure,
    /// The least that is good.
    #[serde(default)]
    pub at_least: Option<f64>,
    /// The most that is good.
    #[serde(default)]
    pub at_most: Option<f64>,
    /// Why it came out well.
    pub good: String,
    /// Why it did not, and what would have helped.
    pub bad: String,
}

impl Judged {
    /// Whether a figure is good.
    pub fn is_met(&self, figure: f64) -> bool {
        self.at_least.is_none_or(|least| figure >= least) && self.at_most.is_none_or(|most| figure <= most)
    }
}

/// A scenario: one skill, practiced in a few visits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// Its name, as it is asked for: small letters and dashes.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What the keeper comes to and is to see to.
    pub story: String,
    /// The seed of its weather and colonies.
    pub seed: u64,
    /// Its first day.
    pub from: DayOfYear,
    /// The day it is judged.
    pub until: DayOfYear,
    /// The hives.
    pub hives: Vec<Beginning>,
    /// What it is judged by.
    pub judged: Vec<Judged>,
}

impl Scenario {
    /// Days from its first to the day it is judged, over the new year too.
    pub fn days(&self) -> i64 {
        self.until.days_from(self.from).rem_euclid(365)
    }

    /// What is wrong with it, and what to write instead; none where it can be played.
    pub fn fault(&self) -> Option<String> {
        let is_name = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if self.name.is_empty() || !self.name.chars().all(is_name) {
            return Some(format!("the name `{}`: write small letters, figures and dashes", self.name));
        }
        let days = self.days();
        if !(3..=330).contains(&days) {
            return Some(format!("it runs {days} days: write `until` 3 to 330 days after `from`"));
        }
        if self.hives.is_empty() || self.hives.len() > MOST_HIVES {
            return Some(format!("it has {} hives: write 1 to {MOST_HIVES}", self.hives.len()));
        }
        for (at, hive) in self.hives.iter().enumerate() {
            let name = &hive.hive;
            if let Some(fault) = name.fault() {
                return Some(format!("the hive's name `{name}` {fault}"));
            }
            if self.hives.iter().take(at).any(|other| other.hive == *name) {
                return Some(format!("two hives are named {name}: name one anew"));
            }
            if !(1..=3).contains(&hive.boxes) || hive.supers > 4 {
                return Some(format!("{name}: write 1 to 3 `boxes` and 0 to 4 `supers`"));
            }
            if let Some(fault) = hive.made.iter().find_map(|made| made.fault(hive.boxes)) {
                return Some(format!("{name}: {fault}"));
            }
        }
        if self.judged.is_empty() {
            return Some("nothing is judged: write what is good at its end under `judged`".to_owned());
        }
        self.judged.iter().find_map(|judged| {
            let hive = judged.hive.as_ref().filter(|hive| self.hives.iter().all(|h| h.hive != **hive));
            match (hive, judged.at_least, judged.at_most) {
                (Some(hive), _, _) => Some(format!("{hive} is judged and is not among its hives")),
                (None, None, None) => {
                    Some(format!("{:?} is judged by nothing: write `at_least` or `at_most`", judged.what))
                }
                (None, Some(least), Some(most)) if least > most => {
                    Some(format!("{:?}: at least {least} is above at most {most}", judged.what))
                }
                _ => None,
            }
        })
    }
}

impl Made {
    fn fault(self, boxes: u8) -> Option<String> {
        let out = |what: &str, figure: f64, most: f64| {
            (!(0.0..=most).contains(&figure)).then(|| format!("{what} {figure}: write 0 to {most}"))
        };
        match self {
            Self::Bees(frames) => out("frames of bees", frames, 30.0),
            Self::Mites(percent) => out("mites", percent, 30.0),
            Self::Honey(pounds) => out("honey", pounds, 150.0),
            Self::Robbed(pounds) => out("what robbers carry", pounds, 20.0),
            Self::SwarmCells(days) => out("days of swarm cells", f64::from(days), 8.0),
            Self::NestAbove | Self::NestAcross if boxes < 2 => {
                Some("a nest above or across needs two `boxes`".to_owned())
            }
            Self::NestAbove | Self::NestAcross | Self::Queenless | Self::Hopeless | Self::Entrance(_) => None,
        }
    }
}

/// The most hives of a rehearsal.
pub const MOST_HIVES: usize = 12;

/// A rehearsal as it is kept beside its book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rehearsal {
    /// The seed of its weather and colonies.
    pub seed: u64,
    /// The yard they stand in.
    pub yard: YardId,
    /// Where it is; the reference where that is not said.
    #[serde(default)]
    pub place: Option<Place>,
    /// The scenario; none for a year.
    #[serde(default)]
    pub scenario: Option<Scenario>,
    /// The hives as they began.
    pub hives: Vec<Beginning>,
    /// Its first day.
    pub began: NaiveDate,
    /// Its last day: what really was is told from then on.
    pub until: NaiveDate,
    /// The day it has come to.
    pub today: NaiveDate,
}

impl Rehearsal {
    /// Whether it has come to its last day.
    pub fn is_over(&self) -> bool {
        self.today >= self.until
    }
}
