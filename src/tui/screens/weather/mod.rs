//! The weather at the yard and what is in bloom, before the first hive: each field may be passed over.

mod draw;

use crate::model::{Bloom, HiveId, Jotting, Temperature, Units, Visit, Weather, Wind, YardId};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};

/// Fields of the screen.
pub(crate) const FIELDS: usize = 4;
/// Their names on the pad.
const NAMES: [&str; FIELDS] = ["temperature", "wind", "rain", ""];
const BLOOMS: &str = "in bloom";
/// Which of them are typed as text.
const RAIN: usize = 2;
/// The field of blooms.
pub(crate) const BLOOM: usize = 3;
/// Longest text of a field.
const LONGEST: usize = 10;

#[derive(Debug)]
pub(crate) struct WeatherScreen {
    yard: YardId,
    /// The first hive of a visit that begins; none where the open visit's weather is corrected.
    hive: Option<HiveId>,
    pub(crate) field: usize,
    /// What stands in the fields.
    pub(crate) texts: [String; FIELDS],
    /// What is in bloom.
    pub(crate) blooms: Vec<Bloom>,
    /// What stood there at first.
    before: ([String; FIELDS], Vec<Bloom>),
}

impl WeatherScreen {
    /// For a visit to a yard that begins at a hive.
    pub(crate) fn of(yard: YardId, hive: HiveId) -> Self {
        Self {
            yard,
            hive: Some(hive),
            field: 0,
            texts: [const { String::new() }; FIELDS],
            blooms: Vec::new(),
            before: ([const { String::new() }; FIELDS], Vec::new()),
        }
    }

    /// For the visit that is open, with what was noted.
    pub(crate) fn of_open(visit: &Visit, units: Units) -> Self {
        let words = |text: Option<String>| text.unwrap_or_default();
        let weather = &visit.weather;
        let rain = weather.rain.map(|rains| if rains { "yes" } else { "no" }.to_owned());
        let texts = [
            words(weather.temperature.map(|t| units.temperature(t))),
            words(weather.wind.map(|w| units.wind(w))),
            words(rain),
            String::new(),
        ];
        let blooms = visit.blooms.clone();
        let before = (texts.clone(), blooms.clone());
        Self { yard: visit.yard.clone(), hive: None, field: 0, texts, blooms, before }
    }
}

impl View for WeatherScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Weather
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let (texts, blooms) = &self.before;
        let typed = self.texts.iter().zip(texts).zip(NAMES).filter(|((now, before), _)| now != before);
        let mut cells: Vec<(String, String)> =
            typed.map(|((now, _), name)| (name.to_owned(), now.clone())).collect();
        if self.blooms != *blooms {
            let all: Vec<&str> = self.blooms.iter().map(|bloom| bloom.word()).collect();
            cells.push((BLOOMS.to_owned(), all.join(", ")));
        }
        let place = if self.hive.is_some() { "weather before" } else { "weather of" };
        Some(Unlogged {
            place: format!("{place} {}", self.yard),
            what: format!("the weather at {}", self.yard),
            cells,
            ..Unlogged::default()
        })
    }

    fn put_back(&mut self, session: &Session, typed: &Jotting) -> bool {
        // The weather of another day is not today's.
        if typed.on != session.today() {
            return false;
        }
        for ((text, name), at) in self.texts.iter_mut().zip(NAMES).zip(0..) {
            if let Some(there) = typed.cell(name) {
                there.clone_into(text);
                self.field = at;
            }
        }
        if let Some(blooms) = typed.cell(BLOOMS) {
            let named = |bloom: &Bloom| blooms.split(", ").any(|word| word == bloom.word());
            self.blooms = Bloom::ALL.iter().copied().filter(named).collect();
            self.field = BLOOM;
        }
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
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
            Command::Back => return Step::close(),
            Command::Take => match self.weather(session) {
                Ok(_) if self.field + 1 < FIELDS => self.field += 1,
                Ok(weather) => {
                    let blooms = self.blooms.clone();
                    return match self.hive.clone() {
                        Some(hive) => Step::want(Intent::Begin {
                            yard: self.yard.clone(),
                            hive: Some(hive),
                            weather,
                            blooms,
                        }),
                        None => Step::want(Intent::SetWeather { weather, blooms }).and_close(),
                    };
                }
                Err(why) => return Step::fail(why),
            },
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

impl WeatherScreen {
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
    fn weather(&self, session: &Session) -> Result<Weather, String> {
        let units = session.book().units;
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
