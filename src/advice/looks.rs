//! What is worth looking at now: the few fields of this season and this hive.

use std::collections::BTreeSet;

use super::engine::{Advice, no_frames};
use super::situation::Situation;
use crate::model::{Finding, Part};
use crate::season::{DateId, Phase};

/// The fields to show, in the order a hive is opened: what the season looks at, what the prompts ask for, and
/// what was already filled in today.
pub fn looks(s: &Situation<'_>, advice: &Advice) -> Vec<Finding> {
    let mut wanted: BTreeSet<Finding> = season(s).iter().copied().collect();
    wanted.extend(advice.prompts.iter().flat_map(|p| p.asks.iter().copied()));
    if s.hive.feeder.is_some() {
        wanted.insert(Finding::Feeder);
    }
    if no_frames(s).is_some() {
        wanted.retain(|f| !matches!(f.part(), Part::Nest | Part::Bottom));
    }
    if let Some(entry) = s.entry {
        wanted.extend(Finding::ALL.iter().filter(|f| entry.findings.get(**f).is_some()));
    }
    wanted.into_iter().collect()
}

fn season(s: &Situation<'_>) -> &'static [Finding] {
    if !s.hive.is_alive() {
        return &[Finding::Dead];
    }
    if s.hive.disease_suspected.is_some() {
        return &[Finding::Flight, Finding::Robbing, Finding::Disease];
    }
    match s.day.calendar.phase(s.today()) {
        Phase::Winter => &[Finding::Dead, Finding::EntranceClear, Finding::Heft],
        Phase::LateWinter => {
            &[Finding::Dead, Finding::Flight, Finding::Pollen, Finding::Heft, Finding::Seams]
        }
        Phase::Swarming => {
            &[Finding::Bees, Finding::Brood, Finding::Eggs, Finding::Cells, Finding::Honey, Finding::Disease]
        }
        Phase::MainFlow if s.today() <= s.day.calendar.closes(DateId::SwarmSeason) => &[
            Finding::SuperFull,
            Finding::Bees,
            Finding::Brood,
            Finding::Eggs,
            Finding::Cells,
            Finding::Disease,
        ],
        Phase::MainFlow => {
            &[Finding::SuperFull, Finding::Brood, Finding::Eggs, Finding::Backfill, Finding::Disease]
        }
        Phase::LateSummer => &[
            Finding::Robbing,
            Finding::Bees,
            Finding::Brood,
            Finding::Eggs,
            Finding::Honey,
            Finding::Disease,
        ],
        Phase::Fall => &[Finding::Robbing, Finding::Weight, Finding::Bees, Finding::Eggs, Finding::Honey],
        Phase::WrapUp => &[Finding::Robbing, Finding::Heft, Finding::Weight],
    }
}
