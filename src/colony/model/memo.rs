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
use super::year::Year;
use crate::model::{HiveId, HiveState, days_after};
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

thread_local! {
    // Of each hive two: as the log has it, and with what is typed at it now.
    static KEPT: RefCell<HashMap<HiveId, Vec<Kept>>> = RefCell::new(HashMap::new());
}

impl Forecast {
    /// A hive's forecast where from a day on no nectar comes in, four months ahead.
    pub fn without_flow(hive: &HiveState, calendar: &Calendar, today: NaiveDate) -> Self {
        let belief = Belief::of(hive, calendar, today);
        Self::of(&belief, days_after(today, REACH), &[(today, Deed::Dearth)])
    }

    /// A hive's forecast from its last entry to four months after a day.
    pub fn for_hive(hive: &HiveState, calendar: &Calendar, today: NaiveDate) -> Rc<Self> {
        let record = Record::of(hive);
        let until = days_after(today, REACH);
        let found = KEPT.with_borrow(|kept| {
            let of_hive = kept.get(&hive.id)?;
            let same = |k: &&Kept| {
                k.came == hive.came
                    && k.record == record
                    && k.calendar == *calendar
                    && k.forecast.reaches(until)
            };
            of_hive.iter().find(same).map(|k| Rc::clone(&k.forecast))
        });
        if let Some(found) = found {
            return found;
        }
        let from = record.last().filter(|on| *on <= today).unwrap_or(hive.came.min(today));
        // Of a log long silent nothing is carried further than a year.
        let from = from.max(days_after(today, -365));
        let belief = Belief::replayed(hive, Arc::new(Year::of(calendar)), &record, from, None);
        let forecast = Rc::new(Self::of(&belief, days_after(until, SPARE), &[]));
        let kept =
            Kept { record, came: hive.came, calendar: calendar.clone(), forecast: Rc::clone(&forecast) };
        KEPT.with_borrow_mut(|all| {
            if all.len() >= MOST && !all.contains_key(&hive.id) {
                all.clear();
            }
            let of_hive = all.entry(hive.id.clone()).or_default();
            of_hive.truncate(1);
            of_hive.insert(0, kept);
        });
        forecast
    }
}
