//! What a rule may look at: one hive on one day.

use std::borrow::Borrow;
use std::cell::OnceCell;
use std::rc::Rc;

use chrono::NaiveDate;

use super::in_force::InForce;
use crate::colony::model::{Forecast, Record};
use crate::colony::syrup;
use crate::model::{Entry, HiveState, Practice, Seen, Temperature, Units, Weather, days_after};
use crate::season::Calendar;
use crate::wording;

/// What all hives of a yard share on a day.
#[derive(Debug, Clone, Copy)]
pub struct Day<'a> {
    /// The day.
    pub today: NaiveDate,
    /// The yard's dates this year.
    pub calendar: &'a Calendar,
    /// The weather, as far as it was noted; nothing of it in a plan.
    pub weather: Weather,
    /// The keeper's thresholds.
    pub practice: &'a Practice,
    /// The units to speak in.
    pub units: Units,
    /// The hives of the yard in the order of their stands, as far as they are known: the others with what
    /// today's visit found at them, this one as it was before today.
    pub stands: &'a [&'a HiveState],
}

/// One hive on one day.
///
/// `hive` is the state with today's findings and actions taken in, so a rule reads one picture, whether it was
/// seen a month or a minute ago. In a plan there is no entry, and the day lies ahead.
#[derive(Debug, Clone)]
pub struct Situation<'a> {
    /// What is known, today's entry included.
    pub hive: &'a HiveState,
    /// Today's entry, at the hive.
    pub entry: Option<&'a Entry>,
    /// The day.
    pub day: Day<'a>,
    /// What is in force at the hive, by its log.
    pub in_force: InForce,
    /// What its log says to the colony's model, once a rule asks.
    pub record: OnceCell<Rc<Record>>,
}

impl<'a> Situation<'a> {
    /// A hive on a day, with what is in force at it.
    pub fn of(hive: &'a HiveState, entry: Option<&'a Entry>, day: Day<'a>) -> Self {
        Self { hive, entry, day, in_force: InForce::of(hive, &day), record: OnceCell::new() }
    }

    /// The day.
    pub fn today(&self) -> NaiveDate {
        self.day.today
    }

    /// A finding's value if it is no older than so many days.
    pub fn within<T: Copy>(&self, seen: Option<Seen<T>>, days: i64) -> Option<T> {
        seen.filter(|s| (0..=days).contains(&(self.today() - s.on).num_days())).map(|s| s.value)
    }

    /// Days since a day; none for a day that has not come.
    pub fn since(&self, on: Option<NaiveDate>) -> Option<i64> {
        on.map(|on| (self.today() - on).num_days()).filter(|days| *days >= 0)
    }

    /// A day as the book writes it: `May 3`, or `3 May` in a metric one.
    pub fn date(&self, on: impl Borrow<NaiveDate>) -> String {
        wording::day(self.day.units, on)
    }

    /// The highest temperature of today and of the next three days by the forecast, as it was typed at this hive today or
    /// at another of the yard: it is one forecast for all.
    pub fn highs(&self) -> (Option<Temperature>, Option<Temperature>) {
        let today = self.today();
        let of = |get: &dyn Fn(&HiveState) -> Option<Seen<Temperature>>| {
            let states = std::iter::once(self.hive).chain(self.day.stands.iter().copied());
            states.filter_map(get).find(|seen| seen.on == today).map(|seen| seen.value)
        };
        (of(&|hive| hive.seen.high_today), of(&|hive| hive.seen.high_soon))
    }

    /// Days from one visit to the next, as the keeper came of late; as often as queen cells are looked for where the log does
    /// not say, and never more than three weeks.
    pub fn comes_every(&self) -> i64 {
        let visits = &self.hive.series.visits;
        let gaps = visits.windows(2).rev().filter_map(|pair| match pair {
            [before, after] => Some((*after - *before).num_days()),
            _ => None,
        });
        let mut gaps: Vec<i64> = gaps.take(3).filter(|days| (3..=35).contains(days)).collect();
        gaps.sort_unstable();
        #[allow(clippy::cast_possible_truncation, reason = "a practice of at most 14 days")]
        let least = self.day.practice.swarm_every() as i64;
        gaps.get(gaps.len() / 2).copied().unwrap_or(least).clamp(least, 21)
    }

    /// What lies ahead of the colony by its log, today's entry included.
    pub fn forecast(&self) -> Rc<Forecast> {
        let record = self.record.get_or_init(|| Rc::new(Record::of(self.hive)));
        Forecast::by_record(self.hive, record, self.day.calendar, self.today())
    }

    /// Whether it is warm enough for syrup to be taken; none where no temperature was entered.
    pub fn takes_syrup(&self) -> Option<bool> {
        self.day.weather.temperature.map(|t| t.fahrenheit() >= syrup::TAKEN_FROM)
    }

    /// The day a need was first known: the last of the looks that showed it; today where none did.
    ///
    /// A deadline is counted from here, so that it does not slide with the day on which it is asked.
    pub fn known_since(&self, looks: &[Option<NaiveDate>]) -> NaiveDate {
        looks.iter().flatten().copied().filter(|on| *on <= self.today()).max().unwrap_or_else(|| self.today())
    }

    /// Today and so many days.
    pub fn in_days(&self, days: i64) -> NaiveDate {
        days_after(self.today(), days)
    }
}
