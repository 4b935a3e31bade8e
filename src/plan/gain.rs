//! Which hive gains most from a visit today, and which look would tell most, by the colony's model.

use chrono::NaiveDate;

use super::YardPlan;
use crate::advice::Urgency;
use crate::colony::model::{Belief, Forecast, Tells};
use crate::model::{Action, Entry, Folded, HiveId, HiveState, days_after, visible};
use crate::season::{Calendar, DateId};
use crate::wording;

/// What a hive gains by what is asked at it today.
#[derive(Debug, Clone, PartialEq)]
pub struct Gain {
    /// The hive.
    pub hive: HiveId,
    /// The rule whose first way gains most.
    pub rule: &'static str,
    /// Its prompt.
    pub title: String,
    /// Chance, 0 to 1, to come through the winter as it is.
    pub winter: f64,
    /// The same once that is done.
    pub then: f64,
}

/// A look that would tell much of a hive.
#[derive(Debug, Clone, PartialEq)]
pub struct Telling {
    /// The hive.
    pub hive: HiveId,
    /// The look.
    pub look: Tells,
    /// Share, 0 to 1, of the doubt about its winter that it would take away.
    pub share: f64,
}

/// What a yard's visit is worth most for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Best {
    /// What each hive of the queue gains, the most first.
    pub gains: Vec<Gain>,
    /// The look at each that tells most, the most telling first.
    pub telling: Vec<Telling>,
}

impl Best {
    /// Of a yard's queue on a day.
    pub fn of(plan: &YardPlan, folded: &Folded, calendar: &Calendar, today: NaiveDate) -> Self {
        Self { gains: gains(plan, folded, calendar, today), telling: telling(plan, folded, calendar, today) }
    }

    /// In a sentence or two; empty where nothing stands out.
    pub fn words(&self) -> Vec<String> {
        let mut words = Vec::new();
        if let Some(Gain { hive, title, winter, then, .. }) = self.gains.first() {
            words.push(format!(
                "{} gains most today ({title}): its chance to come through the winter goes from {} to {} of 10.",
                visible(hive.as_str()),
                wording::of_ten(*winter),
                wording::of_ten(*then)
            ));
        }
        if let Some(Telling { hive, look, share }) = self.telling.first() {
            words.push(format!(
                "The look that tells most is {} at {}: it would take away about {:.0} % of the doubt about its winter.",
                look.word(),
                visible(hive.as_str()),
                (share * 20.0).round() * 5.0
            ));
        }
        words
    }
}

/// Gain in chance under which nothing is said.
const LEAST: f64 = 0.03;
/// Share of doubt under which a look tells too little to be named.
const TOLD: f64 = 0.05;

/// The spring after the next winter.
pub fn spring(calendar: &Calendar) -> NaiveDate {
    days_after(calendar.closes(DateId::Cluster), 45)
}

/// A hive's colony as it is believed to be once these actions are done today.
pub fn once_done(hive: &HiveState, calendar: &Calendar, today: NaiveDate, actions: &[Action]) -> Belief {
    if actions.is_empty() {
        return Belief::of(hive, calendar, today);
    }
    let mut done = hive.clone();
    let mut entry = Entry::blank(hive.id.clone());
    entry.actions = actions.to_vec();
    done.apply(&entry, today);
    Belief::of(&done, calendar, today)
}

/// What each hive of a yard's queue gains, the most first; none where nothing asked changes its winter.
fn gains(plan: &YardPlan, folded: &Folded, calendar: &Calendar, today: NaiveDate) -> Vec<Gain> {
    let mut all: Vec<Gain> = plan
        .queue
        .iter()
        .filter_map(|stop| {
            let hive = folded.hive(&stop.hive).filter(|hive| hive.is_alive())?;
            let ways = stop.advice.prompts.iter().filter(|prompt| {
                prompt.urgency <= Urgency::Should
                    && prompt.offers.first().is_some_and(|offer| !offer.actions.is_empty())
            });
            let mut ways = ways.peekable();
            ways.peek()?;
            let chance = |actions: &[Action]| {
                let belief = once_done(hive, calendar, today, actions);
                Forecast::of(&belief, spring(calendar), &[]).comes_through()
            };
            let winter = chance(&[])?;
            ways.filter_map(|prompt| {
                let then = chance(&prompt.offers.first()?.actions)?;
                let (rule, title) = (prompt.rule, prompt.title.clone());
                Some(Gain { hive: hive.id.clone(), rule, title, winter, then })
            })
            .max_by(|a, b| a.then.total_cmp(&b.then))
        })
        .filter(|gain| gain.then - gain.winter >= LEAST)
        .collect();
    all.sort_by(|a, b| (b.then - b.winter).total_cmp(&(a.then - a.winter)));
    all
}

/// The look at each hive of a yard's queue that would tell most of its winter, the most telling first.
fn telling(plan: &YardPlan, folded: &Folded, calendar: &Calendar, today: NaiveDate) -> Vec<Telling> {
    let mut all: Vec<Telling> = plan
        .queue
        .iter()
        .filter_map(|stop| {
            let hive = folded.hive(&stop.hive).filter(|hive| hive.is_alive())?;
            let belief = Belief::of(hive, calendar, today);
            let (look, share) = belief.tells(spring(calendar)).into_iter().next()?;
            Some(Telling { hive: hive.id.clone(), look, share })
        })
        .filter(|telling| telling.share >= TOLD)
        .collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}
