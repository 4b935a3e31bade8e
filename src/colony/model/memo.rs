//! Forecasts that were made lately: the same question gives the same answer, only sooner.
//!
//! Rules ask of a hive on each of many days to come, while its log stays as it is. A memo is by thread, is held to the
//! whole record and calendar it was made from, and is bounded.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

use chrono::NaiveDate;

use super::belief::Belief;
use super::deed::Deed;
use super::forecast::Forecast;
use super::record::Record;
use super::start::start;
use super::year::Year;
use crate::model::{HiveId, HiveState, Origin, days_after};
use crate::season::Calendar;

/// Days ahead of the day it is asked on that a forecast reaches at least.
const REACH: i64 = 130;
/// Days more that are worked out at once, so that the next days need no other.
const SPARE: i64 = 60;
/// Hives kept in mind.
const MOST: usize = 500;

struct Kept {
    record: Record,
    came: NaiveDate,
    calendar: Calendar,
    forecast: Rc<Forecast>,
}

/// Hives whose beliefs are kept in mind: those of a yard or two.
const MOST_BELIEVED: usize = 64;
/// Beliefs kept of each: as the log has it, and as it was before what is taken for done.
const OF_EACH: usize = 3;

/// A belief by a log, to be carried on where the log goes on.
struct Base {
    record: Record,
    came: NaiveDate,
    calendar: Calendar,
    begins: (NaiveDate, Option<Origin>),
    belief: Belief,
}

thread_local! {
    // Of each hive two: as the log has it, and with what is typed at it now.
    static KEPT: RefCell<HashMap<HiveId, Vec<Kept>>> = RefCell::new(HashMap::new());
    static BELIEVED: RefCell<HashMap<HiveId, Vec<Base>>> = RefCell::new(HashMap::new());
}

#[cfg(test)]
thread_local! {
    /// How often a belief was carried on rather than replayed.
    static CARRIED: std::cell::Cell<usize> = const { std::cell::Cell::new(0) };
}

/// Puts something in mind for a hive, before what is there; of hives only so many.
fn keep<T>(all: &mut HashMap<HiveId, Vec<T>>, hive: &HiveId, (most, of_each): (usize, usize), what: T) {
    if all.len() >= most && !all.contains_key(hive) {
        all.clear();
    }
    let of_hive = all.entry(hive.clone()).or_default();
    of_hive.truncate(of_each.saturating_sub(1));
    of_hive.insert(0, what);
}

/// A hive's colony on a day by its log: carried on from a belief by the beginning of the same log, where there is one. That is
/// the same as the log replayed, for each day is gone through once in either.
fn believed(hive: &HiveState, calendar: &Calendar, record: &Record, on: NaiveDate) -> Belief {
    let belief = carried_on(hive, calendar, record, on);
    if record.last().is_some_and(|last| last > on) {
        // Something of the log is yet to come: it could not be told from what comes after it.
        return belief;
    }
    let begins = start(hive, &belief.year, record, on);
    let base = Base {
        record: record.clone(),
        came: hive.came,
        calendar: calendar.clone(),
        begins,
        belief: belief.clone(),
    };
    BELIEVED.with_borrow_mut(|all| {
        // Another log of the same day leads on from what was before it, not from this one.
        if let Some(of_hive) = all.get_mut(&hive.id) {
            of_hive.retain(|other| other.belief.on != on);
        }
        keep(all, &hive.id, (MOST_BELIEVED, OF_EACH), base);
    });
    belief
}

/// The same, and it is not kept in mind.
fn carried_on(hive: &HiveState, calendar: &Calendar, record: &Record, on: NaiveDate) -> Belief {
    let carried = BELIEVED.with_borrow(|all| {
        let fits = |base: &&Base| {
            let log = record.items.strip_prefix(base.record.items.as_slice());
            base.came == hive.came
                && base.calendar == *calendar
                && base.belief.on <= on
                && log.is_some_and(|more| more.iter().all(|(day, _)| *day > base.belief.on))
                && start(hive, &base.belief.year, record, on) == base.begins
        };
        let nearest = |base: &&Base| (base.record.items.len(), base.belief.on);
        let base = all.get(&hive.id)?.iter().filter(fits).max_by_key(nearest)?;
        let more = record.items.get(base.record.items.len()..).unwrap_or_default();
        Some(base.belief.clone().carried(more, on))
    });
    #[cfg(test)]
    CARRIED.set(CARRIED.get() + usize::from(carried.is_some()));
    carried.unwrap_or_else(|| Belief::replayed(hive, Arc::new(Year::of(calendar)), record, on, None))
}

/// The day up to which a log tells of its hive, on a day: of one long silent nothing is carried further than a year.
fn told_until(hive: &HiveState, record: &Record, today: NaiveDate) -> NaiveDate {
    let from = record.last().filter(|on| *on <= today).unwrap_or(hive.came.min(today));
    from.max(days_after(today, -365))
}

impl Belief {
    /// A hive's colony on a day, by its log up to then. Each day's log counts once, however it came in.
    pub fn of(hive: &HiveState, calendar: &Calendar, on: NaiveDate) -> Self {
        let record = Record::of(hive);
        // What is kept in mind is the log before this day, and not what is tried out on it: up to its eve the days are gone
        // through once, however much is tried.
        let former = record.before(on);
        if former.last().is_some() {
            let (told, eve) = (told_until(hive, &former, on), days_after(on, -1));
            believed(hive, calendar, &former, told);
            if told < eve {
                believed(hive, calendar, &former, eve);
            }
        }
        carried_on(hive, calendar, &record, on)
    }
}

impl Forecast {
    /// A hive's forecast where from a day on no nectar comes in, four months ahead.
    pub fn without_flow(hive: &HiveState, calendar: &Calendar, today: NaiveDate) -> Self {
        let belief = Belief::of(hive, calendar, today);
        Self::of(&belief, days_after(today, REACH), &[(today, Deed::Dearth)])
    }

    /// A hive's forecast from its last entry to four months after a day.
    pub fn for_hive(hive: &HiveState, calendar: &Calendar, today: NaiveDate) -> Rc<Self> {
        Self::by_record(hive, &Record::of(hive), calendar, today)
    }

    /// The same where its log has been read.
    pub fn by_record(hive: &HiveState, record: &Record, calendar: &Calendar, today: NaiveDate) -> Rc<Self> {
        let until = days_after(today, REACH);
        let found = KEPT.with_borrow(|kept| {
            let of_hive = kept.get(&hive.id)?;
            let same = |k: &&Kept| {
                k.came == hive.came
                    && k.record == *record
                    && k.calendar == *calendar
                    && k.forecast.reaches(until)
            };
            of_hive.iter().find(same).map(|k| Rc::clone(&k.forecast))
        });
        if let Some(found) = found {
            return found;
        }
        let belief = believed(hive, calendar, record, told_until(hive, record, today));
        let forecast = Rc::new(Self::of(&belief, days_after(until, SPARE), &[]));
        let (record, calendar) = (record.clone(), calendar.clone());
        let kept = Kept { record, came: hive.came, calendar, forecast: Rc::clone(&forecast) };
        KEPT.with_borrow_mut(|all| keep(all, &hive.id, (MOST, 2), kept));
        forecast
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Action, Entry, Folded, Mass};
    use crate::plan::calendar;

    /// The log of the sample, day by day as it grew, and some of it twice: whatever is in mind, the belief is that of the whole
    /// log replayed.
    #[test]
    fn a_belief_carried_on_is_that_of_the_whole_log() {
        let book = crate::store::sample();
        let mut days: Vec<NaiveDate> = book.visits.iter().map(|visit| visit.on).collect();
        days.sort_unstable();
        days.dedup();
        let again: Vec<NaiveDate> = days.iter().rev().step_by(3).copied().collect();
        for on in days.into_iter().chain(again) {
            let folded = Folded::of(&book, on);
            for yard in &book.yards {
                let calendar = calendar(&book, &folded, yard, on);
                for hive in yard.hives.iter().filter_map(|hive| folded.hive(&hive.id)) {
                    let record = Record::of(hive);
                    for ahead in [0, 9] {
                        let on = days_after(on, ahead);
                        let whole = Belief::replayed(hive, Arc::new(Year::of(&calendar)), &record, on, None);
                        assert!(believed(hive, &calendar, &record, on) == whole, "{} on {on}", hive.id);
                        assert!(Belief::of(hive, &calendar, on) == whole, "{} on {on}", hive.id);
                        let mut fed = hive.clone();
                        let mut entry = Entry::blank(hive.id.clone());
                        entry.actions = vec![Action::FeedSugar { mass: Mass::from_pounds(4.0) }];
                        fed.apply(&entry, on);
                        let record = Record::of(&fed);
                        let whole = Belief::replayed(&fed, Arc::new(Year::of(&calendar)), &record, on, None);
                        assert!(Belief::of(&fed, &calendar, on) == whole, "{} fed on {on}", hive.id);
                    }
                }
            }
        }
        assert!(CARRIED.get() > 200, "{} were carried on", CARRIED.get());
    }
}
