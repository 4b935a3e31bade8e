//! The weather at the yard and what is in bloom, before the first hive: each field may be passed over.

mod draw;

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::model::{Bloom, HiveId, InBloom, Jotting, Temperature, Units, Visit, Weather, Wind, YardId};
use crate::session::{Intent, Session, typing};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};
use crate::wording;

/// Fields of the screen; below them stands one for the day of each bloom.
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
/// Longest text of a day.
const LONGEST_DAY: usize = 20;

type Typed = ([String; FIELDS], Vec<Bloom>, BTreeMap<Bloom, String>);

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
    /// Since when each of them blooms, as typed.
    pub(crate) since: BTreeMap<Bloom, String>,
    /// What stood there at first.
    before: Typed,
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
            since: BTreeMap::new(),
            before: Typed::default(),
        }
    }

    /// With the weather of the day, where that is known before it is asked.
    pub(crate) fn knowing(mut self, weather: Option<Weather>, units: Units) -> Self {
        let Some(weather) = weather else { return self };
        let [temperature, wind, rain, _] = &mut self.texts;
        *temperature = weather.temperature.map(|t| units.temperature(t)).unwrap_or_default();
        *wind = weather.wind.map(|w| units.wind(w)).unwrap_or_default();
        *rain = weather.rain.map(|rains| if rains { "yes" } else { "no" }.to_owned()).unwrap_or_default();
        self
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
        let since: BTreeMap<Bloom, String> =
            visit.bloom_since.iter().map(|(bloom, day)| (*bloom, wording::day(units, *day))).collect();
        let before = (texts.clone(), blooms.clone(), since.clone());
        Self { yard: visit.yard.clone(), hive: None, field: 0, texts, blooms, since, before }
    }
}

/// What the day of a bloom is called on the pad.
fn since_name(bloom: Bloom) -> String {
    format!("{} since", bloom.word())
}

impl View for WeatherScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Weather
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let (texts, blooms, since) = &self.before;
        let typed = self.texts.iter().zip(texts).zip(NAMES).filter(|((now, before), _)| now != before);
        let mut cells: Vec<(String, String)> =
            typed.map(|((now, _), name)| (name.to_owned(), now.clone())).collect();
        if self.blooms != *blooms {
            let all: Vec<&str> = self.blooms.iter().map(|bloom| bloom.word()).collect();
            cells.push((BLOOMS.to_owned(), all.join(", ")));
        }
        let days = self.since.iter().filter(|(bloom, day)| since.get(*bloom) != Some(*day));
        cells.extend(days.map(|(bloom, day)| (since_name(*bloom), day.clone())));
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
        for (bloom, at) in self.blooms.clone().into_iter().zip(FIELDS..) {
            if let Some(day) = typed.cell(&since_name(bloom)) {
                self.since.insert(bloom, day.to_owned());
                self.field = at;
            }
        }
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        match command {
            Command::Up => self.field = self.field.saturating_sub(1),
            Command::Down => self.field = (self.field + 1).min(self.fields() - 1),
            Command::Erase if self.field == BLOOM => {
                if let Some(bloom) = self.blooms.pop() {
                    self.since.remove(&bloom);
                }
            }
            Command::Erase => drop(self.text().and_then(String::pop)),
            Command::Type(c) => self.typed(c),
            Command::Back => return Step::close(),
            Command::Take => match self.answers(session) {
                Ok(_) if self.field + 1 < self.fields() => self.field += 1,
                Ok((weather, blooms)) => {
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
    /// How many fields there are: one more for each bloom.
    fn fields(&self) -> usize {
        FIELDS + self.blooms.len()
    }

    /// The text of the chosen field.
    fn text(&mut self) -> Option<&mut String> {
        match self.field.checked_sub(FIELDS) {
            None => self.texts.get_mut(self.field),
            Some(at) => self.blooms.get(at).map(|bloom| self.since.entry(*bloom).or_default()),
        }
    }

    /// The weather and what is in bloom, as they are logged.
    fn answers(&self, session: &Session) -> Result<(Weather, Vec<InBloom>), String> {
        let weather = self.weather(session)?;
        let on = self.day(session);
        let seen = |bloom: &Bloom| {
            let text = self.since.get(bloom).map_or("", String::as_str);
            let since = typing::bloom_since(text, on, session.book().units)?;
            Ok(InBloom { bloom: *bloom, since })
        };
        Ok((weather, self.blooms.iter().map(seen).collect::<Result<_, String>>()?))
    }

    /// The day of the visit.
    fn day(&self, session: &Session) -> NaiveDate {
        let open = session.visit().filter(|_| self.hive.is_none());
        open.map_or(session.today(), |open| open.visit.on)
    }

    fn typed(&mut self, c: char) {
        if self.field == BLOOM {
            self.toggle(c);
            return;
        }
        let rain = self.field == RAIN;
        let is_day = self.field >= FIELDS;
        if let Some(text) = self.text() {
            if is_day {
                if !c.is_control() && text.chars().count() < LONGEST_DAY {
                    text.push(c);
                }
            } else if rain {
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
        if let Some(bloom) = typing::place_of(c).and_then(|at| Bloom::ALL.get(at)) {
            if self.blooms.contains(bloom) {
                self.blooms.retain(|b| b != bloom);
                self.since.remove(bloom);
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
