//! How the program looks and which keys it has on this laptop: the built-in themes and keys with the user's own.

use chrono::Weekday;

use super::app::App;
use super::command::Command;
use super::effect::Effect;
use super::keymap::{Keymap, OwnKey};
use super::keys::Place;
use super::screens::help::HelpScreen;
use super::screens::safety::SafetyScreen;
use super::screens::{Screen, Turn};
use super::theme::{Theme, ThemeFile};
use crate::model::{Action, Settings};
use crate::store::{self, Config};

/// The themes, keys and settings in force, and what could not be read.
#[derive(Debug)]
pub(crate) struct Look {
    /// The settings.
    pub(crate) settings: Settings,
    /// Every theme, those of the user after the built-in ones.
    pub(crate) themes: Vec<Theme>,
    /// The keys.
    pub(crate) keys: Keymap,
    /// What could not be read or does not fit; its default is used.
    pub(crate) faults: Vec<String>,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            settings: Settings::default(),
            themes: Theme::built_in(),
            keys: Keymap::default(),
            faults: Vec::new(),
        }
    }
}

impl Look {
    /// The built-in look with what the settings' folder holds.
    pub(crate) fn of(config: Config) -> Self {
        let mut look = Self {
            settings: config.settings,
            faults: config.faults.iter().map(|err| format!("{err}; {}", err.hint())).collect(),
            ..Self::default()
        };
        for (name, path, text) in config.themes {
            match store::from_ron::<ThemeFile>(&text, &path) {
                Ok(file) => {
                    look.themes.retain(|t| t.name != name);
                    look.themes.push(Theme::of(&name, &file));
                }
                Err(err) => look.faults.push(format!("{err}; {}", err.hint())),
            }
        }
        if let Some((path, text)) = config.keys {
            let own = store::from_ron::<Vec<OwnKey>>(&text, &path);
            match own.map_err(|err| format!("{err}; {}", err.hint())) {
                Ok(own) => match Keymap::with(&own) {
                    Ok(keys) => look.keys = keys,
                    Err(why) => look.faults.push(format!("{}: {why}", path.display())),
                },
                Err(why) => look.faults.push(why),
            }
        }
        for name in [&look.settings.day_theme, &look.settings.night_theme] {
            if !look.themes.iter().any(|t| t.name == *name) {
                let known: Vec<&str> = look.themes.iter().map(|t| t.name.as_str()).collect();
                look.faults.push(format!("settings.ron: there is no theme `{name}`: {}", known.join(", ")));
            }
        }
        look
    }

    /// The theme in use; the dark one where there is none of its name.
    pub(crate) fn theme(&self) -> Theme {
        let named = |name: &str| self.themes.iter().find(|t| t.name == name).cloned();
        named(self.settings.theme()).or_else(|| named("dark")).unwrap_or_else(Theme::none)
    }
}

/// Said where no colour is wanted.
pub(crate) const NO_COLOUR: &str = "NO_COLOR is set, so no colour is used; unset it to choose.";

impl App {
    /// Puts on a look.
    pub(crate) fn wear(&mut self, look: Look) {
        self.theme = look.theme();
        self.look = look;
    }

    /// The first day of a week.
    pub(crate) fn week_begins(&self) -> Weekday {
        self.look.settings.first_weekday(self.book.units)
    }

    /// Takes other settings, and has them written.
    pub(crate) fn set(&mut self, settings: Settings, effects: &mut Vec<Effect>) {
        self.look.settings = settings.clone();
        if self.theme.name != "none" || settings.theme() != "none" {
            self.theme = self.look.theme();
        }
        effects.push(Effect::SaveSettings(Box::new(settings)));
    }

    /// Whether no colour is wanted at all, so that there is no theme to choose.
    pub(crate) fn is_colourless(&self) -> bool {
        self.look.themes.iter().all(|t| t.name == "none")
    }

    /// Changes between the colours of day and night.
    pub(crate) fn switch_theme(&mut self) -> Vec<Effect> {
        if self.is_colourless() {
            self.say(NO_COLOUR);
            return Vec::new();
        }
        let mut settings = self.look.settings.clone();
        settings.is_night = !settings.is_night;
        let mut effects = Vec::new();
        self.set(settings, &mut effects);
        self.say(format!("Colours: {}.", self.theme.name));
        effects
    }

    /// Opens the keys of the place or the safety cards; the key that opened them closes them.
    pub(crate) fn open_aid(&mut self, command: Command) {
        let is_safety = command == Command::Safety;
        match self.screens.last() {
            Some(Screen::Safety(_)) if is_safety => drop(self.screens.pop()),
            Some(Screen::Help(_)) if !is_safety => drop(self.screens.pop()),
            _ if is_safety => self.screens.push(Screen::Safety(SafetyScreen::default())),
            _ => {
                let place = self.place();
                self.screens.push(Screen::Help(HelpScreen::of(place)));
            }
        }
    }

    /// Runs what the finder found: a command of the screen below, or one of the day.
    pub(crate) fn run_found(&mut self, place: Place, command: Command) -> Vec<Effect> {
        if place == self.place() || matches!(command, Command::Quit | Command::Theme) {
            return self.update(command);
        }
        let mut effects = Vec::new();
        if self.screens.is_empty() {
            return effects;
        }
        let mut day = self.screens.remove(0);
        let turn = day.update(self, command, &mut effects);
        self.screens.insert(0, day);
        if let Turn::Open(screen) = turn {
            self.screens.push(screen);
        }
        effects
    }

    /// Before the first treatment of a day what to mind is shown, once; whether it was shown now.
    pub(crate) fn cautions_first(&mut self, actions: &[Action]) -> bool {
        let treats = |a: &Action| matches!(a, Action::Treat { .. });
        let known = self.cautioned == Some(self.today)
            || self
                .walk
                .as_ref()
                .is_some_and(|w| w.visit.entries.iter().flat_map(|e| &e.actions).any(treats));
        if known || !actions.iter().any(treats) {
            return false;
        }
        self.cautioned = Some(self.today);
        true
    }

    /// Puts what is typed where it belongs: the terminal has lost its focus, and may not come back.
    pub(crate) fn settle(&mut self) -> Vec<Effect> {
        let message = self.message.clone();
        let effects = self.update(Command::Settle);
        self.message = self.message.take().or(message);
        effects
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_colour_the_themes_chosen_are_kept_as_they_are() {
        let book = crate::model::Book::empty("T", crate::model::Units::Us);
        let now = "2026-05-03T09:00:00".parse().unwrap();
        let mut app = App::new(book, "2026-05-03".parse().unwrap(), now, 1, Theme::none());
        app.wear(Look { themes: vec![Theme::none()], ..Look::default() });
        assert!(app.switch_theme().is_empty());
        assert!(app.message.as_ref().is_some_and(|m| m.text == NO_COLOUR));
        assert_eq!((app.look.settings.clone(), app.theme.name.as_str()), (Settings::default(), "none"));
    }

    #[test]
    fn a_theme_of_ones_own_is_worn_and_a_broken_one_is_told() {
        let mine = include_str!("../../themes/dark.ron").replace("#16181c", "#000000");
        let config = Config {
            settings: Settings { night_theme: "mine".to_owned(), ..Settings::default() },
            keys: Some(("keys.ron".into(), "[(at: \"Today\", does: \"quit\", key: \"l\")]".to_owned())),
            themes: vec![
                ("mine".to_owned(), "mine.ron".into(), mine),
                ("bad".to_owned(), "bad.ron".into(), "(grund: \"#000000\")".to_owned()),
            ],
            faults: Vec::new(),
        };
        let look = Look::of(config);
        assert_eq!(look.theme().name, "mine");
        assert_eq!(look.theme().text.bg, Some(ratatui::style::Color::Rgb(0, 0, 0)));
        assert_eq!(look.faults.len(), 2, "{:?}", look.faults);
        assert!(look.faults[0].contains("bad.ron:1:") && look.faults[0].contains("did you mean `ground`"));
        assert!(look.faults[1].contains("both `load list` and `quit`"), "{}", look.faults[1]);
        let lost = Look {
            settings: Settings { night_theme: "gone".to_owned(), ..Settings::default() },
            ..Look::default()
        };
        assert_eq!(lost.theme().name, "dark");
    }
}
