//! How the program looks and is worked on this laptop: themes, taps, the first day of the week; and the book's units.

pub(crate) mod draw;

use crate::model::{Settings, Units, WeekBegins};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::look::NO_COLOUR;
use crate::tui::screens::Turn;

/// A setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Setting {
    /// The theme by day.
    Day,
    /// The theme by night.
    Night,
    /// Which of the two is worn.
    Now,
    /// Taps and clicks.
    Mouse,
    /// The first day of a week.
    Week,
    /// The book's units.
    Units,
}

/// Every setting, as they stand on the screen.
pub(crate) const ALL: &[Setting] =
    &[Setting::Now, Setting::Day, Setting::Night, Setting::Mouse, Setting::Week, Setting::Units];

/// The settings' screen.
#[derive(Debug, Default)]
pub(crate) struct SettingsScreen {
    /// Which row.
    pub(crate) row: usize,
}

impl SettingsScreen {
    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let last = ALL.len() - 1;
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(last),
            Command::GoTo(row) => self.row = row.min(last),
            Command::Back => return Turn::Close,
            Command::Left | Command::Right => {
                if let Some(setting) = ALL.get(self.row) {
                    turn(app, *setting, command == Command::Right, effects);
                }
            }
            _ => {}
        }
        Turn::Stay
    }
}

fn turn(app: &mut App, setting: Setting, forward: bool, effects: &mut Vec<Effect>) {
    let mut settings: Settings = app.look.settings.clone();
    let names: Vec<String> = app.look.themes.iter().map(|t| t.name.clone()).collect();
    let other = |name: &str| -> String {
        let at = names.iter().position(|n| n == name).unwrap_or(0);
        let step = if forward { 1 } else { names.len().saturating_sub(1) };
        names.get((at + step) % names.len().max(1)).cloned().unwrap_or_default()
    };
    let is_colour = matches!(setting, Setting::Now | Setting::Day | Setting::Night);
    if is_colour && app.is_colourless() {
        return app.say(NO_COLOUR);
    }
    match setting {
        Setting::Day => settings.day_theme = other(&settings.day_theme),
        Setting::Night => settings.night_theme = other(&settings.night_theme),
        Setting::Now => settings.is_night = !settings.is_night,
        Setting::Mouse => settings.mouse = !settings.mouse,
        Setting::Week => {
            settings.week_begins = match (settings.week_begins, forward) {
                (None, true) | (Some(WeekBegins::Sunday), false) => Some(WeekBegins::Monday),
                (Some(WeekBegins::Monday), true) | (None, false) => Some(WeekBegins::Sunday),
                (Some(WeekBegins::Sunday), true) | (Some(WeekBegins::Monday), false) => None,
            };
        }
        Setting::Units => {
            if app.refuses_to_write() {
                return;
            }
            let units = match app.book.units {
                Units::Us => Units::Metric,
                Units::Metric => Units::Us,
            };
            let yards = crate::model::Book { units, visits: Vec::new(), ..app.book.clone() };
            effects.push(Effect::SaveYards(Box::new(yards)));
            return;
        }
    }
    app.set(settings, effects);
}
