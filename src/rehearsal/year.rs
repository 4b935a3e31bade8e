//! A rehearsed year: what the colonies are on a day, by how they began, the weather, and what the keeper did to them.
//!
//! Nothing of it is kept: it is played again from the seed and the visits, so that a corrected visit corrects the colonies.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};

use crate::model::{
    Action, Beginning, Book, Entry, Finding, Hive, HiveId, Made, Origin, QueenStatus, Rehearsal, Start,
    Value, Visit,
};
use crate::season::Shift;
use crate::simulated::{Colony, Reader, Season, Weather};

/// A colony of the yard.
#[derive(Debug, Clone)]
pub struct Kept {
    /// The colony.
    pub colony: Colony,
    /// Whether its bees went to another hive.
    pub is_united: bool,
}

/// The yard on a day.
#[derive(Debug, Clone)]
pub struct Year {
    seed: u64,
    /// Days by which the place's spring is later and its fall is earlier.
    moved: (i64, i64),
    season: Season,
    weather: Weather,
    hives: BTreeMap<HiveId, Kept>,
}

/// The day on which the year's colonies and weather begin.
fn first_of(rehearsal: &Rehearsal) -> NaiveDate {
    NaiveDate::from_ymd_opt(rehearsal.began.year(), 3, 1).unwrap_or(rehearsal.began).min(rehearsal.began)
}

/// A seed of what is named, the same on every machine (FNV-1a, 64 bits; Fowler, Noll and Vo, from memory).
pub(super) fn seed_of(seed: u64, name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325 ^ seed, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

fn weather_of(seed: u64, year: u8, (spring, fall): (i64, i64)) -> Season {
    Season::moved(seed_of(seed, &format!("weather of year {year}")), spring, fall)
}

impl Year {
    /// The yard on its first day, before anything was done.
    pub fn begun(rehearsal: &Rehearsal) -> Self {
        let shift = rehearsal.place.map_or_else(Shift::none, Shift::by_place);
        let moved = (shift.spring, shift.autumn);
        let first = first_of(rehearsal);
        let (mut season, began) = (weather_of(rehearsal.seed, 0, moved), rehearsal.began);
        let mut weather = season.day(first);
        let mut hives: BTreeMap<HiveId, Kept> = rehearsal
            .hives
            .iter()
            .map(|each| {
                let colony = Colony::begun(each, seed_of(rehearsal.seed, each.hive.as_str()));
                (each.hive.clone(), Kept { colony, is_united: false })
            })
            .collect();
        for on in first.iter_days().skip(1).take_while(|on| *on <= began) {
            weather = season.day(on);
            for each in &rehearsal.hives {
                // A package and a nucleus colony come on the first day.
                if each.start == Start::Overwintered
                    && let Some(kept) = hives.get_mut(&each.hive)
                {
                    give_boxes(&mut kept.colony, each, &weather);
                    kept.colony.day(&weather);
                }
            }
        }
        for each in rehearsal.hives.iter().filter(|_| rehearsal.scenario.is_some()) {
            if let Some(kept) = hives.get_mut(&each.hive) {
                kept.colony.make(each);
            }
        }
        Self { seed: rehearsal.seed, moved, season, weather, hives }
    }

    /// The yard at the end of a day, with what the book says was done.
    pub fn on(rehearsal: &Rehearsal, book: &Book, day: NaiveDate) -> Self {
        Self::followed(rehearsal, book, day, |_, _| {})
    }

    /// The same, telling of each day's end.
    pub fn followed(
        rehearsal: &Rehearsal,
        book: &Book,
        day: NaiveDate,
        mut tell: impl FnMut(NaiveDate, &Self),
    ) -> Self {
        let mut year = Self::begun(rehearsal);
        let mut visits = book.standing_visits(day);
        visits.sort_by_key(|visit| (visit.on, visit.began, visit.id.clone()));
        let mut on = rehearsal.began;
        loop {
            for hive in book.yards.iter().flat_map(|yard| &yard.hives) {
                year.take_in_new(hive, on);
            }
            for visit in visits.iter().filter(|visit| visit.on == on) {
                year.take_visit(book, visit);
            }
            tell(on, &year);
            if on >= day {
                return year;
            }
            on = on + Days::new(1);
            year.pass(on);
        }
    }

    /// A day passes.
    pub fn pass(&mut self, on: NaiveDate) {
        if (on.month(), on.day()) == (1, 1) {
            self.season = weather_of(self.seed, 1, self.moved);
        }
        self.weather = self.season.day(on);
        for kept in self.hives.values_mut().filter(|kept| !kept.is_united) {
            kept.colony.day(&self.weather);
        }
    }

    /// The day's weather.
    pub fn weather(&self) -> &Weather {
        &self.weather
    }

    /// The colonies by the names they have today.
    pub fn hives(&self) -> impl Iterator<Item = (&HiveId, &Kept)> {
        self.hives.iter()
    }

    /// The colony of a hive.
    pub fn hive(&self, hive: &HiveId) -> Option<&Kept> {
        self.hives.get(hive)
    }

    /// Its colonies, for a keeper who tends them without a book; the weather goes on here.
    pub(super) fn let_go(&mut self) -> BTreeMap<HiveId, Kept> {
        std::mem::take(&mut self.hives)
    }

    /// A hive set up while the year went on, other than by a split: its colony came that day.
    fn take_in_new(&mut self, hive: &Hive, on: NaiveDate) {
        self.rename(hive);
        if hive.origin != Origin::Split && hive.since == on && !self.hives.contains_key(&hive.id) {
            let colony = came(hive.origin, self.seed, hive.id.as_str(), hive.boxes.len());
            self.hives.insert(hive.id.clone(), Kept { colony, is_united: false });
        }
    }

    /// Colonies go by the names hives have today.
    fn rename(&mut self, hive: &Hive) {
        for former in &hive.formerly {
            if !self.hives.contains_key(&hive.id)
                && let Some(kept) = self.hives.remove(former)
            {
                self.hives.insert(hive.id.clone(), kept);
            }
        }
    }

    fn take_visit(&mut self, book: &Book, visit: &Visit) {
        for entry in &visit.entries {
            self.take_entry(book, entry);
        }
    }

    /// Takes in what was done at a hive.
    pub fn take_entry(&mut self, book: &Book, entry: &Entry) {
        for action in &entry.actions {
            let (seed, weather) = (self.seed, self.weather);
            let Some(kept) = self.hives.get_mut(&entry.hive) else { return };
            match action {
                Action::SplitInto { hive } => {
                    let queen =
                        book.hive_named(hive.as_str()).map_or(QueenStatus::Unknown, |(_, h)| h.queen.status);
                    let colony = kept.colony.part_off_as(queen, seed_of(seed, hive.as_str()));
                    self.hives.insert(hive.clone(), Kept { colony, is_united: false });
                }
                Action::JoinInto { hive } if *hive != entry.hive => {
                    let weak = kept.colony.clone();
                    kept.is_united = true;
                    if let Some(into) = self.hives.get_mut(hive) {
                        into.colony.unite(&weak);
                    }
                }
                Action::Restock { origin } => {
                    let name = format!("{} {}", entry.hive, weather.on);
                    *kept = Kept { colony: came(*origin, seed, &name, 1), is_united: false };
                }
                other => kept.colony.take(other, &weather),
            }
        }
    }

    /// What a look at a hive finds, what was done there in the open visit taken in; none where it cannot be seen. The
    /// same look on the same day finds the same.
    pub fn look(&self, book: &Book, entry: &Entry, finding: Finding) -> Option<Value> {
        let mut now = self.clone();
        now.take_entry(book, entry);
        let kept = now.hives.get(&entry.hive).filter(|kept| !kept.is_united)?;
        let name = format!("{} {} {finding:?}", entry.hive, self.weather.on);
        Reader::of(seed_of(self.seed, &name)).look(&kept.colony, finding, &self.weather)
    }
}

/// The boxes of a colony before a scenario begins: honey boxes as the flow comes in May, so that it is not one that was
/// left to itself.
fn give_boxes(colony: &mut Colony, beginning: &Beginning, weather: &Weather) {
    use crate::model::{Depth, Level, Role};
    if (weather.on.month(), weather.on.day()) != (5, 10) {
        return;
    }
    for _ in 0..beginning.supers.max(2) {
        let (depth, level) = (Depth::Medium, Level::Top);
        colony.take(&Action::AddBox { depth, frames: 10, role: Role::Super, drawn: 10, level }, weather);
    }
}

/// A colony that comes into a yard during the year.
fn came(origin: Origin, seed: u64, name: &str, boxes: usize) -> Colony {
    let start = match origin {
        Origin::Package | Origin::Swarm => Start::Package,
        Origin::Nuc | Origin::Split => Start::Nuc,
        Origin::Overwintered => Start::Overwintered,
    };
    let boxes = u8::try_from(boxes).unwrap_or(1).clamp(1, 3);
    let made: Vec<Made> = Vec::new();
    let beginning = Beginning { hive: HiveId::new(name), start, boxes, supers: 0, made };
    Colony::begun(&beginning, seed_of(seed, name))
}
