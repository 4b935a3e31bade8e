//! The fold: visits, in whatever order they arrived, into what each hive is on a date.
//!
//! A hive's state is the replay of its own entries in order of day, so a file that arrives late or corrects an
//! older one changes only the hives it names: [`Folded::add`] replays those and no others.

mod apply;
mod state;

use std::collections::BTreeMap;

use chrono::NaiveDate;

pub use state::{Answered, Cleared, Course, Fed, FormerColony, HiveState, MiteCount, OpenPromise, Series};

use super::book::Book;
use super::corrections::{Corrections, VisitStatus};
use super::names::{HiveId, VisitId, YardId};
use super::visit::{Bloom, Entry, Visit};
use super::yard::Yard;

/// The state of every hive of a book on a date.
#[derive(Debug, Clone, PartialEq)]
pub struct Folded {
    /// The date: visits after it are not taken in.
    pub as_of: NaiveDate,
    states: BTreeMap<HiveId, HiveState>,
    blooms: BTreeMap<YardId, Vec<SeenBloom>>,
}

/// A bloom noted at a yard, and the day since when it blooms.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SeenBloom {
    /// The day.
    pub on: NaiveDate,
    /// Which.
    pub bloom: Bloom,
}

impl SeenBloom {
    /// Those of a visit.
    pub fn at(visit: &Visit) -> impl Iterator<Item = Self> {
        visit.in_bloom().into_iter().map(|seen| Self { on: seen.first_seen(visit.on), bloom: seen.bloom })
    }
}

impl Folded {
    /// Folds the whole book as it looked at the end of a day.
    pub fn of(book: &Book, as_of: NaiveDate) -> Self {
        Self::of_yards(book, &book.yards, as_of, None)
    }

    /// The same as if a visit had looked at no hive: what it had itself corrected does not stand again.
    pub fn emptied_of(book: &Book, visit: &VisitId, as_of: NaiveDate) -> Self {
        Self::of_yards(book, &book.yards, as_of, Some(visit))
    }

    /// The same of the hives of one yard alone.
    pub fn of_yard(book: &Book, yard: &Yard, as_of: NaiveDate) -> Self {
        Self::of_yards(book, std::slice::from_ref(yard), as_of, None)
    }

    fn of_yards(book: &Book, yards: &[Yard], as_of: NaiveDate, emptied: Option<&VisitId>) -> Self {
        let mut states: BTreeMap<HiveId, HiveState> = yards
            .iter()
            .flat_map(|yard| yard.hives.iter().map(move |hive| (yard, hive)))
            .filter(|(_, hive)| hive.stands_on(as_of))
            .map(|(yard, hive)| (hive.id.clone(), HiveState::start(hive, &yard.name)))
            .collect();
        let standing = book.standing_visits(as_of);
        let blooms = blooms(&standing);
        let began = began(&standing, as_of);
        for state in states.values_mut() {
            state.known_from = state.came.max(began);
        }
        for visit in standing.into_iter().filter(|visit| Some(&visit.id) != emptied) {
            for entry in &visit.entries {
                if let Some(state) = states.get_mut(&entry.hive) {
                    state.apply(entry, visit.on);
                }
            }
        }
        Self { as_of, states, blooms }
    }

    /// Takes in a visit that has just been put into the book: only the hives it touches are replayed.
    pub fn add(&mut self, book: &Book, visit: &Visit) {
        if visit.replaces.is_some() || visit.withdraws.is_some() {
            // What it brings back or takes away may stand in other visits: rare, so all is folded anew.
            *self = Self::of(book, self.as_of);
            return;
        }
        let standing = book.standing_visits(self.as_of);
        self.blooms = blooms(&standing);
        if standing.first().is_some_and(|first| first.id == visit.id) {
            // The book is begun by its first visit, so each hive is known from another day.
            *self = Self::of(book, self.as_of);
            return;
        }
        for hive in visit.entries.iter().map(|e| &e.hive) {
            if let Some(state) = replay(book, hive, self.as_of, &standing) {
                self.states.insert(hive.clone(), state);
            }
        }
    }

    /// The same with a visit of this day taken in that is not in the book yet.
    #[must_use]
    pub fn with(&self, visit: &Visit) -> Self {
        let mut folded = self.clone();
        for entry in &visit.entries {
            if let Some(state) = folded.states.get_mut(&entry.hive) {
                state.apply(entry, visit.on);
            }
        }
        folded.blooms.entry(visit.yard.clone()).or_default().extend(SeenBloom::at(visit));
        folded
    }

    /// The blooms noted at a yard, oldest first.
    pub fn blooms(&self, yard: &YardId) -> &[SeenBloom] {
        self.blooms.get(yard).map_or(&[], Vec::as_slice)
    }

    /// One hive.
    pub fn hive(&self, id: &HiveId) -> Option<&HiveState> {
        self.states.get(id)
    }

    /// Every hive, by name.
    pub fn hives(&self) -> impl Iterator<Item = &HiveState> {
        self.states.values()
    }
}

/// The day the book was begun: its first visit; before that it begins today.
fn began(standing: &[&Visit], as_of: NaiveDate) -> NaiveDate {
    standing.first().map_or(as_of, |visit| visit.on)
}

fn blooms(standing: &[&Visit]) -> BTreeMap<YardId, Vec<SeenBloom>> {
    let mut seen: BTreeMap<YardId, Vec<SeenBloom>> = BTreeMap::new();
    for visit in standing.iter().filter(|v| !v.blooms.is_empty()) {
        seen.entry(visit.yard.clone()).or_default().extend(SeenBloom::at(visit));
    }
    seen
}

/// One hive as it looked at the end of a day; `None` before it stood there.
fn replay(book: &Book, id: &HiveId, as_of: NaiveDate, standing: &[&Visit]) -> Option<HiveState> {
    let (yard, hive) = book.hive(id).filter(|(_, hive)| hive.stands_on(as_of))?;
    let mut state = HiveState::start(hive, &yard.name);
    state.known_from = state.came.max(began(standing, as_of));
    for visit in standing {
        for entry in visit.entries.iter().filter(|e| e.hive == *id) {
            state.apply(entry, visit.on);
        }
    }
    Some(state)
}

/// The entries of one hive, newest first, with their visits: its history.
pub fn history<'a>(book: &'a Book, id: &HiveId, as_of: NaiveDate) -> Vec<(&'a Visit, &'a Entry)> {
    let mut entries: Vec<_> = book
        .standing_visits(as_of)
        .into_iter()
        .filter_map(|visit| visit.entry(id).map(|entry| (visit, entry)))
        .collect();
    entries.reverse();
    entries
}

/// The same with what has been corrected or withdrawn since, each after what holds in its place.
pub fn whole_history<'a>(
    book: &'a Book,
    id: &HiveId,
    as_of: NaiveDate,
) -> Vec<(&'a Visit, &'a Entry, VisitStatus)> {
    let corrections = Corrections::of(book, as_of);
    let mut entries: Vec<_> = book
        .visits
        .iter()
        .filter(|visit| visit.on <= as_of)
        .filter_map(|visit| visit.entry(id).map(|entry| (visit, entry, corrections.stand(visit))))
        .collect();
    entries.sort_by(|(a, _, stand_a), (b, _, stand_b)| {
        (b.on, b.began, stand_b.holds(), &b.id).cmp(&(a.on, a.began, stand_a.holds(), &a.id))
    });
    entries
}

#[cfg(test)]
mod tests;
