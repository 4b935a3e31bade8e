//! The weather at the yard and what is in bloom, before the first hive: each field may be passed over.

pub(crate) mod draw;

use crate::model::{Bloom, HiveId, Temperature, Weather, Wind, YardId};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::{Screen, Turn, hive};

/// Fields of the screen.
pub(crate) const FIELDS: usize = 4;
/// Which of them are typed as text.
const RAIN: usize = 2;
/// The field of blooms.
pub(crate) const BLOOM: usize = 3;
/// Longest text of a field.
const LONGEST: usize = 10;

/// The weather screen.
#[derive(Debug)]
pub(crate) struct WeatherScreen {
    yard: YardId,
    hive: HiveId,
    /// Which field.
    pub(crate) field: usize,
    /// What stands in the fields.
    pub(crate) texts: [String; FIELDS],
    /// What is in bloom.
    pub(crate) blooms: Vec<Bloom>,
}

impl WeatherScreen {
    /// For a visit to a yard that begins at a hive.
    pub(crate) fn of(yard: YardId, hive: HiveId) -> Self {
        Self { yard, hive, field: 0, texts: [const { String::new() }; FIELDS], blooms: Vec::new() }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        match command {
            Command::Up => self.field = self.field.saturating_sub(1),
            Command::Down => self.field = (self.field + 1).min(FIELDS - 1),
            Command::Erase if self.field == BLOOM => {
                self.blooms.pop();
            }
            Command::Erase => {
                if let Some(text) = self.texts.get_mut(self.field) {
                    text.pop();
                }
            }
            Command::Type(c) => self.typed(c),
            Command::Back => return Turn::Close,
            Command::Take if self.field + 1 < FIELDS => match self.weather(app) {
                Ok(_) => self.field += 1,
                Err(why) => app.fail(why),
            },
            Command::Take => match self.weather(app) {
                Ok(weather) => {
                    effects.extend(app.begin_walk(&self.yard, weather, self.blooms.clone()));
                    effects.extend(app.stand_at(&self.hive));
                    return Turn::Replace(Screen::Hive(hive::HiveScreen::at(app, self.hive.clone(), None)));
                }
                Err(why) => app.fail(why),
            },
            _ => {}
        }
        Turn::Stay
    }

    fn typed(&mut self, c: char) {
        if self.field == BLOOM {
            self.toggle(c);
            return;
        }
        let rain = self.field == RAIN;
        if let Some(text) = self.texts.get_mut(self.field) {
            if rain {
                match c.to_ascii_lowercase() {
                    'y' => "yes".clone_into(text),
                    'n' => "no".clone_into(text),
                    _ => {}
                }
            } else if (c.is_ascii_alphanumeric() || matches!(c, '.' | ',' | '-' | '/'))
                && text.len() < LONGEST
            {
                text.push(c);
            }
        }
    }

    /// A figure puts a bloom in, or out again.
    fn toggle(&mut self, c: char) {
        let at = c.to_digit(10).and_then(|d| usize::try_from(d).ok()).and_then(|d| d.checked_sub(1));
        if let Some(bloom) = at.and_then(|at| Bloom::ALL.get(at)) {
            if self.blooms.contains(bloom) {
                self.blooms.retain(|b| b != bloom);
            } else {
                self.blooms.push(*bloom);
                self.blooms.sort_unstable();
            }
        }
    }

    /// What was typed; an empty field is not known.
    fn weather(&self, app: &App) -> Result<Weather, String> {
        let units = app.book.units;
        let [temperature, wind, rain, _] = &self.texts;
        let given = |text: &String| (!text.is_empty()).then(|| text.clone());
        Ok(Weather {
            temperature: given(temperature)
                .map(|t| Temperature::parse_in(&t, units).map_err(|e| e.to_string()))
                .transpose()?,
            wind: given(wind).map(|t| Wind::parse_in(&t, units).map_err(|e| e.to_string())).transpose()?,
            rain: given(rain).map(|t| t == "yes"),
        })
    }
}
