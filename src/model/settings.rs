//! How the program looks and is worked on this laptop: not part of a book, and lost without harm.

use chrono::Weekday;
use serde::{Deserialize, Serialize};

use super::units::Units;

/// On which day a week begins in a month's grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum WeekBegins {
    /// Monday (ISO 8601).
    Monday,
    /// Sunday.
    Sunday,
}

/// Which signs lines, bars and charts are drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Signs {
    /// What the terminal says it has.
    #[default]
    Auto,
    /// Lines, blocks and dots.
    Drawn,
    /// Those of ASCII.
    Letters,
}

/// The settings of a laptop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Settings {
    /// The theme by day.
    pub day_theme: String,
    /// The theme by night.
    pub night_theme: String,
    /// Whether it is night now.
    pub is_night: bool,
    /// Whether taps and clicks are taken.
    pub mouse: bool,
    /// On which day a week begins; as the book's units have it where it is not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub week_begins: Option<WeekBegins>,
    /// What lines and bars are drawn with.
    pub signs: Signs,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            day_theme: "sun".to_owned(),
            night_theme: "dark".to_owned(),
            // In doubt, what can be read in the sun.
            is_night: false,
            mouse: false,
            week_begins: None,
            signs: Signs::Auto,
        }
    }
}

impl Settings {
    /// The theme in use.
    pub fn theme(&self) -> &str {
        if self.is_night { &self.night_theme } else { &self.day_theme }
    }

    /// The first day of a week: what was set, else Sunday with US units and Monday with metric ones.
    pub fn first_weekday(&self, units: Units) -> Weekday {
        match (self.week_begins, units) {
            (Some(WeekBegins::Sunday), _) | (None, Units::Us) => Weekday::Sun,
            (Some(WeekBegins::Monday), _) | (None, Units::Metric) => Weekday::Mon,
        }
    }
}
