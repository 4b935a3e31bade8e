//! How the program looks and is worked on this laptop: themes, taps, the first day of the week; and the book's units.

mod draw;

use crate::model::{Settings, Signs, Units, WeekBegins};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::look::{Appearance, NO_COLOR};
use crate::tui::setting::{ALL, Setting};
use crate::tui::view::{Canvas, Step, View};

#[derive(Debug)]
pub(crate) struct SettingsScreen {
    row: usize,
    /// The themes there are.
    themes: Vec<String>,
    is_colorless: bool,
    /// What could not be read of the user's own files.
    faults: Vec<String>,
}

impl SettingsScreen {
    /// With the themes there are.
    pub(crate) fn of(look: &Appearance, row: usize) -> Self {
        Self {
            row: row.min(ALL.len() - 1),
            themes: look.themes.iter().map(|t| t.name.clone()).collect(),
            is_colorless: look.is_colorless(),
            faults: look.faults.clone(),
        }
    }

    fn turn(&self, session: &Session, setting: Setting, forward: bool) -> Step {
        let mut settings: Settings = session.settings().clone();
        let is_color = matches!(setting, Setting::Now | Setting::Day | Setting::Night);
        if is_color && self.is_colorless {
            return Step::say(NO_COLOR);
        }
        match setting {
            Setting::Day => settings.day_theme = self.theme_after(&settings.day_theme, forward),
            Setting::Night => settings.night_theme = self.theme_after(&settings.night_theme, forward),
            Setting::Now => settings.is_night = !settings.is_night,
            Setting::Mouse => settings.mouse = !settings.mouse,
            Setting::Week => {
                settings.week_begins = match (settings.week_begins, forward) {
                    (None, true) | (Some(WeekBegins::Sunday), false) => Some(WeekBegins::Monday),
                    (Some(WeekBegins::Monday), true) | (None, false) => Some(WeekBegins::Sunday),
                    (Some(WeekBegins::Sunday), true) | (Some(WeekBegins::Monday), false) => None,
                };
            }
            Setting::Signs => {
                settings.signs = match (settings.signs, forward) {
                    (Signs::Auto, true) | (Signs::Letters, false) => Signs::Drawn,
                    (Signs::Drawn, true) | (Signs::Auto, false) => Signs::Letters,
                    (Signs::Letters, true) | (Signs::Drawn, false) => Signs::Auto,
                };
            }
            Setting::Units => {
                return Step::want(Intent::SetUnits(match session.book().units {
                    Units::Us => Units::Metric,
                    Units::Metric => Units::Us,
                }));
            }
        }
        Step::want(Intent::SetLook(Box::new(settings)))
    }

    /// The theme after or before one in the list.
    fn theme_after(&self, name: &str, forward: bool) -> String {
        let at = self.themes.iter().position(|n| n == name).unwrap_or(0);
        let step = if forward { 1 } else { self.themes.len().saturating_sub(1) };
        self.themes.get((at + step) % self.themes.len().max(1)).cloned().unwrap_or_default()
    }
}

impl View for SettingsScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Settings
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let last = ALL.len() - 1;
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(last),
            Command::GoTo(row) => self.row = row.min(last),
            Command::Back => return Step::close(),
            Command::Left | Command::Right => {
                if let Some(setting) = ALL.get(self.row) {
                    return self.turn(session, *setting, command == Command::Right);
                }
            }
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
