//! A hive on a day, for the rules' tests.

#![allow(clippy::unwrap_used, reason = "test fixtures")]

use chrono::NaiveDate;

use super::{Prompt, Rule};
use crate::advice::{Advice, Day, Situation, advise};
use crate::model::testing::day;
use crate::model::{Entry, HiveState, Practice, Temperature, Units, Weather, Wind};
use crate::season::{Calendar, Shift};

/// A hive on a day under the reference dates.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    before: HiveState,
    entry: Option<Entry>,
    today: NaiveDate,
    weather: Weather,
    stands: Vec<HiveState>,
    shift: Shift,
    pub(crate) practice: Practice,
}

impl Case {
    pub(crate) fn of(hive: HiveState) -> Self {
        Self {
            before: hive,
            entry: None,
            today: day("2026-05-03"),
            weather: Weather::default(),
            stands: Vec::new(),
            shift: Shift::none(),
            practice: Practice::default(),
        }
    }

    pub(crate) fn on(mut self, today: &str) -> Self {
        self.today = day(today);
        self
    }

    pub(crate) fn entry(mut self, entry: Entry) -> Self {
        self.entry = Some(entry);
        self
    }

    pub(crate) fn fahrenheit(mut self, f: f64) -> Self {
        self.weather.temperature = Some(Temperature::from_fahrenheit(f));
        self
    }

    pub(crate) fn wind(mut self, mph: f64) -> Self {
        self.weather.wind = Some(Wind::from_miles_per_hour(mph));
        self
    }

    /// Hives on the stands before it in the yard.
    pub(crate) fn beside(mut self, stands: Vec<HiveState>) -> Self {
        self.stands = stands;
        self
    }

    /// At a place where the law of dates is no guide.
    pub(crate) fn guessed(mut self) -> Self {
        let elevation = crate::model::Elevation::from_feet(360.0);
        self.shift = Shift::by_place(crate::model::Place { latitude: 50.0, longitude: 9.0, elevation });
        self
    }

    pub(crate) fn rain(mut self) -> Self {
        self.weather.rain = Some(true);
        self
    }

    pub(crate) fn with<T>(&self, ask: impl FnOnce(&Situation<'_>) -> T) -> T {
        use chrono::Datelike;
        let calendar = Calendar::shifted(self.shift.clone(), self.today.year());
        let mut hive = self.before.clone();
        if let Some(entry) = &self.entry {
            hive.apply(entry, self.today);
        }
        let stands: Vec<&HiveState> = self.stands.iter().chain([&self.before]).collect();
        let day = Day {
            today: self.today,
            calendar: &calendar,
            weather: self.weather,
            practice: &self.practice,
            units: Units::Us,
            stands: &stands,
        };
        ask(&Situation::of(&hive, self.entry.as_ref(), day))
    }

    /// What one rule says, before the engine has its say.
    pub(crate) fn speak(&self, rule: &Rule) -> Option<Prompt> {
        self.with(|s| (rule.speak)(s))
    }

    /// What the engine makes of all rules.
    pub(crate) fn advise(&self) -> Advice {
        self.with(advise)
    }

    /// The first and the last day of 2026 on which a rule speaks, with the hive left as it is.
    pub(crate) fn days_of(&self, rule: &Rule) -> Option<(NaiveDate, NaiveDate)> {
        let mut days = day("2026-01-01").iter_days().take(365).filter(|today| {
            let mut case = self.clone();
            case.today = *today;
            case.speak(rule).is_some()
        });
        let first = days.next()?;
        // Not `last`: the days run backwards from the other end, for ever.
        Some((first, days.fold(first, |_, day| day)))
    }
}
