//! The day: which yard, which hives need what and why, what is done, and how long the rest takes.

pub(crate) mod draw;

use crate::model::{HiveId, YardId};
use crate::plan::{DayPlan, YardPlan};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::sheet::{Sheet, SheetScreen};
use crate::tui::screens::{
    Screen, Turn, card, hive, load, log, practice, roster, season, settings, weather, wrap_up,
};

/// The day's screen.
#[derive(Debug, Default)]
pub(crate) struct TodayScreen {
    /// Which yard.
    pub(crate) yard: usize,
    /// Which row of its hives.
    pub(crate) row: usize,
}

impl TodayScreen {
    /// The yard shown.
    pub(crate) fn plan<'a>(&self, app: &'a App) -> Option<&'a YardPlan> {
        app.plan.yards.get(self.yard)
    }

    /// Shows a yard.
    pub(crate) fn show_yard(&mut self, plan: &DayPlan, yard: &YardId) {
        if let Some(at) = plan.yards.iter().position(|y| y.yard == *yard) {
            self.yard = at;
            self.row = 0;
        }
    }

    fn hive(&self, app: &App) -> Option<HiveId> {
        let plan = self.plan(app)?;
        plan.queue.iter().chain(&plan.rest).nth(self.row).map(|s| s.hive.clone())
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let yards = app.plan.yards.len();
        let rows = self.plan(app).map_or(0, |p| p.queue.len() + p.rest.len());
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(rows.saturating_sub(1)),
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                self.yard = (self.yard + step) % yards;
                self.row = 0;
            }
            Command::Walk => return self.walk(app, effects),
            Command::Card => {
                if let Some(hive) = self.hive(app) {
                    return Turn::Open(Screen::Card(card::CardScreen::of(app, hive)));
                }
            }
            Command::Load => return Turn::Open(Screen::Load(load::LoadScreen::of(app, self.yard))),
            Command::Log => return Turn::Open(Screen::Log(log::LogScreen::default())),
            Command::Weeks => return self.sheet(app, Sheet::Weeks),
            Command::Readiness => return self.sheet(app, Sheet::Readiness),
            Command::Worth => return self.sheet(app, Sheet::Worth),
            Command::Earlier | Command::Later | Command::Pin => self.arrange(app, command),
            Command::Season => return Turn::Open(Screen::Season(season::SeasonScreen::of(app, self.yard))),
            Command::Settings => return Turn::Open(Screen::Settings(settings::SettingsScreen::default())),
            Command::GoTo(row) => self.row = row.min(rows.saturating_sub(1)),
            Command::Practice => return Turn::Open(Screen::Practice(practice::PracticeScreen::default())),
            Command::Roster => return Turn::Open(Screen::Roster(roster::RosterScreen::open())),
            Command::WrapUp => {
                if app.walk.is_some() {
                    return Turn::Open(Screen::WrapUp(wrap_up::WrapUpScreen::of(app)));
                }
                app.say("No visit is open: Enter walks the yard.");
            }
            _ => {}
        }
        Turn::Stay
    }

    fn sheet(&self, app: &App, sheet: Sheet) -> Turn {
        Turn::Open(Screen::Sheet(SheetScreen::of(app, sheet, self.yard)))
    }

    /// Moves or pins the chosen hive in the queue, and goes with it.
    fn arrange(&mut self, app: &mut App, command: Command) {
        let due = self.plan(app).map_or(0, |p| p.queue.len());
        let Some(hive) = self.hive(app).filter(|_| self.row < due) else {
            app.say("Only hives that are due stand in the queue.");
            return;
        };
        if app.walk.is_some() {
            app.say("The visit is under way: choose a hive and press Enter to see it next.");
            return;
        }
        match command {
            Command::Pin => app.pin(self.yard, &hive),
            Command::Earlier => app.shift(self.yard, self.row, self.row.saturating_sub(1)),
            _ => app.shift(self.yard, self.row, (self.row + 1).min(due.saturating_sub(1))),
        }
        if let Some(at) = self.plan(app).and_then(|p| p.queue.iter().position(|s| s.hive == hive)) {
            self.row = at;
        }
    }

    /// Goes to the hive in the visit that is open, or begins one.
    fn walk(&mut self, app: &mut App, effects: &mut Vec<Effect>) -> Turn {
        let Some(yard) = self.plan(app).map(|p| p.yard.clone()) else {
            app.say("This book has no yard yet: h, then n sets one up.");
            return Turn::Stay;
        };
        let Some(hive) = self.hive(app) else {
            app.say("This yard has no hive yet: h, then a adds hives.");
            return Turn::Stay;
        };
        if app.refuses_to_write() {
            return Turn::Stay;
        }
        let last_day = app.last_day();
        match &app.walk {
            Some(walk) if walk.visit.yard == yard => {
                effects.extend(app.stand_at(&hive));
                Turn::Open(Screen::Hive(hive::HiveScreen::at(app, hive, None)))
            }
            Some(walk) => {
                let open = walk.visit.yard.clone();
                app.fail(format!("The visit to {open} is still open: wrap it up first (s)."));
                Turn::Stay
            }
            None if app.today > last_day => {
                app.fail(format!(
                    "{} has not come: a visit is logged on its day. Plans can be looked at.",
                    app.today.format("%-d %b %Y")
                ));
                Turn::Stay
            }
            None => Turn::Open(Screen::Weather(weather::WeatherScreen::of(yard, hive))),
        }
    }
}
