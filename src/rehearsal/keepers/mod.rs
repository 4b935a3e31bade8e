//! Keepers of simulated colonies: one who does nothing, one who goes by fixed dates, one who does what the program asks.

mod dates;
mod walk;

use chrono::{Datelike, NaiveDate};

use crate::advice::Prompt;
use crate::model::{Action, Depth, HiveId, HiveState, Level, Practice, Role, Temperature, Yard, days_after};
use crate::simulated::{Colony, Reader, Weather};

/// Who keeps the colonies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeper {
    /// Puts honey boxes on and takes them off.
    Nothing,
    /// Goes by the dates of an extension calendar.
    Dates,
    /// Comes every so many days and does what must and should be done.
    Yardwalk(i64),
    /// Does the same, but comes when some of it has its last day.
    Called,
}

/// A colony as it is kept.
#[derive(Debug)]
pub struct Tended {
    /// The colony.
    pub colony: Colony,
    /// Whether it was united with another.
    pub united: bool,
    /// Minutes spent on it.
    pub minutes: f64,
    reader: Reader,
    state: HiveState,
    /// Looks in a row without eggs, for the keeper of dates.
    without_eggs: u32,
    /// The day from which its keeper comes back for it alone: what must be done tomorrow.
    back: Option<NaiveDate>,
}

impl Tended {
    /// A colony, its hive as the book has it, and the seed of the reader's errors.
    pub fn of(colony: Colony, state: HiveState, reader: u64) -> Self {
        let reader = Reader::of(reader);
        Self { colony, united: false, minutes: 0.0, reader, state, without_eggs: 0, back: None }
    }

    /// Its hive.
    pub fn hive(&self) -> &HiveId {
        &self.state.id
    }

    fn lives(&self) -> bool {
        self.colony.died().is_none()
    }
}

/// A keeper on the way through a year.
#[derive(Debug)]
pub struct Keeping<'a> {
    keeper: Keeper,
    yard: &'a Yard,
    practice: &'a Practice,
    /// The day of the next visit, for one who comes every so many days.
    due: NaiveDate,
}

/// Days a keeper waits for a day fit to open hives, before going all the same.
const WAITS: i64 = 4;

impl<'a> Keeping<'a> {
    /// A keeper of a yard from a day on.
    pub fn of(keeper: Keeper, yard: &'a Yard, practice: &'a Practice, from: NaiveDate) -> Self {
        Self { keeper, yard, practice, due: from }
    }

    /// What the keeper does on a day, once it has passed; `tell` hears which prompt is obeyed, and at which hive.
    pub fn day(&mut self, kept: &mut [Tended], weather: &Weather, tell: &mut impl FnMut(usize, &Prompt)) {
        let (on, kept_by) = (weather.on, (self.yard, self.practice));
        match self.keeper {
            Keeper::Nothing => return nothing(kept, weather),
            Keeper::Dates => return dates::keep(kept, weather),
            Keeper::Called if self.due > on && walk::calls(kept, kept_by, on) => self.due = on,
            Keeper::Yardwalk(_) | Keeper::Called => {}
        }
        // For one thing that must be done, too, a dry day is waited for.
        let goes = |due: NaiveDate| on >= due && (is_fit(weather) || (on - due).num_days() >= WAITS);
        let visits = goes(self.due);
        if visits || kept.iter().any(|k| k.back.is_some_and(goes)) {
            walk::walk(kept, kept_by, weather, visits, tell);
        }
        if visits {
            self.due = match self.keeper {
                // In the winter a look a month is enough.
                Keeper::Yardwalk(_) if [11, 12, 1, 2].contains(&on.month()) => days_after(self.due, 28),
                Keeper::Yardwalk(every) => days_after(self.due, every),
                Keeper::Nothing | Keeper::Dates | Keeper::Called => NaiveDate::MAX,
            };
        }
    }
}

/// A dry day, and from April to October one warm enough to lift frames: the program says what it is too cold for.
fn is_fit(weather: &Weather) -> bool {
    let warm =
        Temperature::from_celsius(weather.at_visit()).fahrenheit() >= Practice::default().frames_from();
    !weather.rain && (warm || !(4..=10).contains(&weather.on.month()))
}

fn super_on() -> Action {
    Action::AddBox { depth: Depth::Medium, frames: 10, role: Role::Super, drawn: 10, level: Level::Top }
}

fn harvest(kept: &mut Tended, weather: &Weather) {
    kept.colony.take(&Action::TakeHoney { frames: 10, mass: None }, weather);
    for _ in 0..4 {
        kept.colony.take(&Action::RemoveBox { role: Role::Super, level: Level::Top }, weather);
    }
}

fn nothing(kept: &mut [Tended], weather: &Weather) {
    let on = (weather.on.month(), weather.on.day());
    for each in kept.iter_mut().filter(|k| k.lives()) {
        if on == (5, 20) {
            each.colony.take(&super_on(), weather);
            each.colony.take(&super_on(), weather);
            each.minutes += 5.0;
        } else if on == (8, 31) {
            harvest(each, weather);
            each.minutes += 8.0;
        }
    }
}
