//! Which hive gains most from a visit today, and which look would tell most, by the colony's model.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::{Stop, YardPlan};
use crate::advice::Urgency;
use crate::advice::rules::{RuleName, by_name};
use crate::colony::model::{Belief, Tells};
use crate::model::{Action, Entry, Folded, HiveId, HiveState, days_after, visible};
use crate::season::{Calendar, DateId};
use crate::wording;

/// What a hive gains by what is asked at it today.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Gain {
    /// The hive.
    pub hive: HiveId,
    /// The rule whose first way gains most.
    #[serde(with = "by_name")]
    pub rule: RuleName,
    /// Its prompt.
    pub title: String,
    /// Chance, 0 to 1, to come through the winter as it is.
    pub winter: f64,
    /// The same once that is done.
    pub then: f64,
}

/// A look that would tell much of a hive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Telling {
    /// The hive.
    pub hive: HiveId,
    /// The look.
    pub look: Tells,
    /// Share, 0 to 1, of the doubt about its winter that it would take away.
    pub share: f64,
}

/// What a yard's visit is worth most for.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Best {
    /// What each hive of the queue gains, the most first.
    pub gains: Vec<Gain>,
    /// The look at each that tells most, the most telling first.
    pub telling: Vec<Telling>,
}

impl Best {
    /// Of a yard's queue on a day.
    pub fn of(plan: &YardPlan, folded: &Folded, calendar: &Calendar, today: NaiveDate) -> Self {
        let mut best = Self::default();
        for stop in &plan.queue {
            let Some(hive) = folded.hive(&stop.hive).filter(|hive| hive.is_alive()) else { continue };
            let now = Belief::of(hive, calendar, today);
            let then = now.left_until(spring(calendar));
            best.gains.extend(gain(stop, hive, calendar, today, then.comes_through()));
            best.telling.extend(telling(hive, &now, &then));
        }
        best.gains.sort_by(|a, b| (b.then - b.winter).total_cmp(&(a.then - a.winter)));
        best.telling.sort_by(|a, b| b.share.total_cmp(&a.share));
        best
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

/// What a hive gains by the first way of one of its prompts, the one that gains most; none where nothing asked changes its
/// winter. `winter` is its chance as it is.
fn gain(stop: &Stop, hive: &HiveState, calendar: &Calendar, today: NaiveDate, winter: f64) -> Option<Gain> {
    let ways = stop.advice.prompts.iter().filter(|prompt| prompt.urgency <= Urgency::Should);
    let gains = ways.filter_map(|prompt| {
        let actions =
            prompt.offers.first().map(|offer| &offer.actions).filter(|actions| !actions.is_empty())?;
        let then = once_done(hive, calendar, today, actions).left_until(spring(calendar)).comes_through();
        Some(Gain { hive: hive.id.clone(), rule: prompt.rule, title: prompt.title.clone(), winter, then })
    });
    gains.max_by(|a, b| a.then.total_cmp(&b.then)).filter(|gain| gain.then - gain.winter >= LEAST)
}

/// The look at a hive that would tell most of its winter, by its colony now and in spring.
fn telling(hive: &HiveState, now: &Belief, then: &Belief) -> Option<Telling> {
    let (look, share) = now.tells(then).into_iter().next().filter(|(_, share)| *share >= TOLD)?;
    Some(Telling { hive: hive.id.clone(), look, share })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use crate::model::{
        Book, Depth, Finding, Hive, HiveBox, Origin, Queen, QueenStatus, Role, Units, Value, Visit, VisitId,
        Yard, YardId,
    };
    use crate::plan;

    /// Two hives in July, of which one was counted over the limit.
    fn best(on: &str) -> Best {
        let mut book = Book::empty("T", Units::Us);
        let mut yard = Yard::named(YardId::new("Creek"));
        yard.place = Some(crate::model::Place {
            latitude: 43.0,
            longitude: -76.0,
            elevation: crate::model::Elevation::from_feet(600.0),
        });
        let mut visit = Visit::begun(VisitId::new("v1"), yard.name.clone(), day("2026-07-20"));
        for (name, mites) in [("clean", 0), ("full", 9)] {
            let nest =
                vec![HiveBox::new(Depth::Deep, 10, Role::Nest), HiveBox::new(Depth::Deep, 10, Role::Nest)];
            let queen = Queen {
                status: QueenStatus::Laying,
                year: None,
                mark: None,
                origin: String::new(),
                since: None,
            };
            let id = HiveId::new(name);
            yard.hives.push(Hive::new(id.clone(), Origin::Overwintered, day("2026-04-01"), nest, queen));
            let mut entry = Entry::blank(id);
            for (finding, value) in [
                (Finding::Bees, Value::Frames(14.0)),
                (Finding::Brood, Value::Frames(7.0)),
                (Finding::Eggs, Value::YesNo(true)),
                (Finding::Mites, Value::Count(mites)),
                (Finding::WashBees, Value::Count(300)),
            ] {
                assert!(entry.findings.set(finding, Some(value)));
            }
            visit.entries.push(entry);
        }
        book.yards.push(yard);
        book.visits.push(visit);
        let on = day(on);
        let folded = Folded::of(&book, on);
        let yard = &book.yards[0];
        let queue = plan::yard_day(&book, &folded, yard, on, plan::pace(&book, on));
        let mut outlook = plan::Outlook::of(&book, &folded, yard);
        Best::of(&queue, &folded, outlook.calendar(on), on)
    }

    #[test]
    fn the_hive_full_of_mites_gains_most_by_being_treated() {
        let best = best("2026-08-01");
        let first = best.gains.first().unwrap_or_else(|| panic!("{best:?}"));
        assert_eq!(first.hive.as_str(), "full");
        assert!(first.then - first.winter >= LEAST && first.rule.starts_with("mites"), "{first:?}");
        assert!(best.gains.iter().all(|gain| (0.0..=1.0).contains(&gain.winter) && gain.then > gain.winter));
        assert!(best.words()[0].starts_with("full gains most today"), "{:?}", best.words());
    }

    #[test]
    fn a_look_is_named_only_where_it_would_tell_something() {
        let best = best("2026-08-01");
        assert!(
            best.telling.iter().all(|telling| (TOLD..=1.0).contains(&telling.share)),
            "{:?}",
            best.telling
        );
        let shares: Vec<f64> = best.telling.iter().map(|telling| telling.share).collect();
        assert!(shares.windows(2).all(|pair| pair[0] >= pair[1]), "the most telling first: {shares:?}");
        assert_eq!(Best::default().words(), Vec::<String>::new());
    }
}
