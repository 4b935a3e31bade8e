//! How the program looks and which keys it has on this laptop: the built-in themes and keys with the user's own.

use super::keymap::{Keymap, OwnKey};
use super::theme::{Theme, ThemeFile};
use crate::model::Settings;
use crate::session::{Config, read_ron};

/// The themes and keys in force, and what could not be read.
#[derive(Debug)]
pub(crate) struct Appearance {
    /// Every theme, those of the user after the built-in ones.
    pub(crate) themes: Vec<Theme>,
    pub(crate) keys: Keymap,
    /// What could not be read or does not fit; its default is used.
    pub(crate) faults: Vec<String>,
}

impl Default for Appearance {
    fn default() -> Self {
        Self { themes: Theme::built_in(), keys: Keymap::default(), faults: Vec::new() }
    }
}

impl Appearance {
    /// The built-in look with what the folder of settings holds.
    pub(crate) fn of(config: Config) -> Self {
        let mut look = Self {
            faults: config.faults.iter().map(|err| format!("{err}; {}", err.hint())).collect(),
            ..Self::default()
        };
        for (name, path, text) in config.themes {
            match read_ron::<ThemeFile>(&text, &path) {
                Ok(file) => {
                    look.themes.retain(|t| t.name != name);
                    look.themes.push(Theme::of(&name, &file));
                }
                Err(why) => look.faults.push(why),
            }
        }
        if let Some((path, text)) = config.keys {
            let own = read_ron::<Vec<OwnKey>>(&text, &path);
            match own.map(|own| Keymap::with(&own)) {
                Ok(Ok(keys)) => look.keys = keys,
                Ok(Err(why)) => look.faults.push(format!("{}: {why}", path.display())),
                Err(why) => look.faults.push(why),
            }
        }
        for name in [&config.settings.day_theme, &config.settings.night_theme] {
            if !look.themes.iter().any(|t| t.name == *name) {
                let known: Vec<&str> = look.themes.iter().map(|t| t.name.as_str()).collect();
                look.faults.push(format!("settings.ron: there is no theme `{name}`: {}", known.join(", ")));
            }
        }
        look
    }

    pub(crate) fn colorless(mut self) -> Self {
        self.themes = vec![Theme::none()];
        self
    }

    /// Whether no color is wanted at all, so that there is no theme to choose.
    pub(crate) fn is_colorless(&self) -> bool {
        self.themes.iter().all(|t| t.name == "none")
    }

    /// The theme these settings choose; the dark one where there is none of its name.
    pub(crate) fn theme(&self, settings: &Settings) -> Theme {
        let named = |name: &str| self.themes.iter().find(|t| t.name == name).cloned();
        named(settings.theme()).or_else(|| named("dark")).unwrap_or_else(Theme::none)
    }
}

/// Said where no color is wanted.
pub(crate) const NO_COLOR: &str = "NO_COLOR is set, so no color is used; unset it to choose.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_theme_of_ones_own_is_worn_and_a_broken_one_is_told() {
        let mine = include_str!("../../themes/dark.ron").replace("#16181c", "#000000");
        let config = Config {
            settings: Settings { night_theme: "mine".to_owned(), ..Settings::default() },
            keys: Some(("keys.ron".into(), "[(at: \"Today\", does: \"leave\", key: \"l\")]".to_owned())),
            themes: vec![
                ("mine".to_owned(), "mine.ron".into(), mine),
                ("bad".to_owned(), "bad.ron".into(), "(grund: \"#000000\")".to_owned()),
            ],
            faults: Vec::new(),
        };
        let settings = config.settings.clone();
        let look = Appearance::of(config);
        assert_eq!(look.theme(&settings).name, "mine");
        assert_eq!(look.theme(&settings).text.bg, Some(ratatui::style::Color::Rgb(0, 0, 0)));
        assert_eq!(look.faults.len(), 2, "{:?}", look.faults);
        assert!(look.faults[0].contains("bad.ron:1:") && look.faults[0].contains("did you mean `ground`"));
        assert!(look.faults[1].contains("both `load list` and `leave`"), "{}", look.faults[1]);
        let gone = Settings { night_theme: "gone".to_owned(), ..Settings::default() };
        assert_eq!(look.theme(&gone).name, "dark");
    }
}
