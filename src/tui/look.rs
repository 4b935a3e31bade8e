//! How the program looks and which keys it has on this laptop: the built-in themes and keys with the user's own, as far as
//! the terminal can show them.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::PathBuf;

use super::depth::Depth;
use super::keymap::{Keymap, OwnKey};
use super::theme::{Theme, ThemeFile};
use crate::model::{Settings, Signs};
use crate::session::{Config, read_rows};

/// What the terminal can show, and what was asked for at the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wear {
    /// How many colors are drawn with.
    pub depth: Depth,
    /// The theme worn until another is chosen.
    pub theme: Option<String>,
    /// Whether the terminal has letters and little else.
    pub letters_only: bool,
    /// Whether the terminal's ground is dark, where it says so.
    pub is_dark: Option<bool>,
}

impl Default for Wear {
    fn default() -> Self {
        Self { depth: Depth::Full, theme: None, letters_only: false, is_dark: None }
    }
}

/// The themes and keys in force, and what could not be read.
#[derive(Debug)]
pub(crate) struct Appearance {
    /// Every theme, those of the user after the built-in ones.
    pub(crate) themes: Vec<Theme>,
    pub(crate) keys: Keymap,
    /// What could not be read or does not fit; its default is used.
    pub(crate) faults: Vec<String>,
    pub(crate) wear: Wear,
    /// All it was made from, in a number.
    pub(crate) mark: u64,
    /// The settings the program began with: with them the theme asked for is worn.
    first: Settings,
}

impl Default for Appearance {
    fn default() -> Self {
        Self::of(Config::default(), Wear::default())
    }
}

/// All that a look goes by, in a number: what the settings' folder holds and what the terminal can show.
pub(crate) fn mark_of(config: &Config, wear: &Wear) -> u64 {
    let mut hasher = DefaultHasher::new();
    format!("{config:?} {wear:?}").hash(&mut hasher);
    hasher.finish()
}

/// Every theme, those of the user after the built-in ones, and what is wrong with theirs.
fn themes(own: Vec<(String, PathBuf, String)>) -> (Vec<Theme>, Vec<String>) {
    let (mut themes, mut faults) = (Theme::built_in(), Vec::new());
    for (name, path, text) in own {
        let (file, wrong) = read_rows::<ThemeFile>(&text, &path);
        faults.extend(wrong);
        let theme = Theme::of(&name, &file, &themes);
        themes.retain(|t| t.name != name);
        themes.push(theme);
    }
    (themes, faults)
}

/// The names of the themes there are.
pub fn theme_names(config: &Config) -> Vec<String> {
    themes(config.themes.clone()).0.into_iter().map(|theme| theme.name).collect()
}

impl Appearance {
    /// The built-in look with what the folder of settings holds, as far as a terminal can show it.
    pub(crate) fn of(config: Config, wear: Wear) -> Self {
        let mark = mark_of(&config, &wear);
        let mut faults: Vec<String> =
            config.faults.iter().map(|err| format!("{err}; {}", err.hint())).collect();
        let (themes, wrong) = themes(config.themes);
        faults.extend(wrong);
        let mut keys = Keymap::default();
        if let Some((path, text)) = config.keys {
            let (own, wrong) = read_rows::<Vec<OwnKey>>(&text, &path);
            faults.extend(wrong);
            for why in keys.take_all(&own) {
                faults.push(format!("{}: {why}", path.display()));
            }
        }
        for name in [&config.settings.day_theme, &config.settings.night_theme] {
            if !themes.iter().any(|t| t.name == *name) {
                let known: Vec<&str> = themes.iter().map(|t| t.name.as_str()).collect();
                faults.push(format!("settings.ron: there is no theme `{name}`: {}", known.join(", ")));
            }
        }
        Self { themes, keys, faults, wear, mark, first: config.settings }
    }

    /// Whether no color is wanted at all, so that there is no theme to choose.
    pub(crate) fn is_colorless(&self) -> bool {
        self.wear.depth == Depth::Never
    }

    /// The theme these settings choose, as the terminal can show it; the sun's where there is none of its name.
    pub(crate) fn theme(&self, settings: &Settings) -> Theme {
        let asked = self.wear.theme.as_deref().filter(|_| *settings == self.first);
        let named = |name: &str| self.themes.iter().find(|t| t.name == name).cloned();
        let theme = named(asked.unwrap_or(settings.theme())).or_else(|| named("sun"));
        theme.unwrap_or_else(Theme::none).at(self.wear.depth, &self.themes)
    }

    /// Whether lines and bars are drawn with the signs of ASCII.
    pub(crate) fn in_letters(&self, settings: &Settings) -> bool {
        match settings.signs {
            Signs::Auto => self.wear.letters_only,
            Signs::Drawn => false,
            Signs::Letters => true,
        }
    }
}

/// Said where no color is wanted.
pub(crate) const NO_COLOR: &str =
    "This terminal is used without color (NO_COLOR, --color never, or its kind): there is none to choose.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_theme_of_ones_own_is_worn_and_a_broken_one_is_told() {
        let mine = include_str!("../../themes/dark.ron").replace("#1c1c1c", "#000000");
        let config = Config {
            settings: Settings { day_theme: "mine".to_owned(), ..Settings::default() },
            is_set: true,
            keys: Some(("keys.ron".into(), "[(at: \"Today\", does: \"leave\", key: \"l\")]".to_owned())),
            themes: vec![
                ("mine".to_owned(), "mine.ron".into(), mine),
                ("bad".to_owned(), "bad.ron".into(), "(grund: \"#000000\")".to_owned()),
            ],
            faults: Vec::new(),
        };
        let settings = config.settings.clone();
        let look = Appearance::of(config, Wear::default());
        assert_eq!(look.theme(&settings).name, "mine");
        assert_eq!(look.theme(&settings).text.bg, Some(ratatui::style::Color::Rgb(0, 0, 0)));
        assert_eq!(look.faults.len(), 2, "{:?}", look.faults);
        assert!(look.faults[0].contains("bad.ron:1:") && look.faults[0].contains("did you mean `ground`"));
        assert!(look.faults[1].contains("both `load list` and `leave`"), "{}", look.faults[1]);
        let gone = Settings { day_theme: "gone".to_owned(), ..Settings::default() };
        assert_eq!(look.theme(&gone).name, "sun");
    }

    #[test]
    fn the_theme_asked_for_is_worn_until_another_is_chosen_and_as_the_terminal_can_show_it() {
        use ratatui::style::Color;
        let wear = Wear { depth: Depth::Sixteen, theme: Some("clear".to_owned()), ..Wear::default() };
        let look = Appearance::of(Config::default(), wear);
        let first = Settings::default();
        assert_eq!(
            (look.theme(&first).name.as_str(), look.theme(&first).text.bg),
            ("clear", Some(Color::Black))
        );
        let night = Settings { is_night: true, ..first };
        assert_eq!(look.theme(&night).name, "dark");
        let never = Appearance::of(Config::default(), Wear { depth: Depth::Never, ..Wear::default() });
        assert!(never.is_colorless());
        assert_eq!(never.theme(&Settings::default()).text.bg, None);
    }

    #[test]
    fn the_signs_are_those_of_the_terminal_unless_the_keeper_says_otherwise() {
        let look = |letters_only| Appearance::of(Config::default(), Wear { letters_only, ..Wear::default() });
        let with = |signs| Settings { signs, ..Settings::default() };
        assert!(look(true).in_letters(&with(Signs::Auto)) && !look(false).in_letters(&with(Signs::Auto)));
        assert!(look(false).in_letters(&with(Signs::Letters)) && !look(true).in_letters(&with(Signs::Drawn)));
    }
}
