//! The weather and the bloom, asked for line by line.

use std::io::{self, BufRead, Write};

use chrono::NaiveDate;

use super::end::yes_or_no;
use super::numbered::place;
use super::{Go, Plain, Reply};
use crate::model::{Bloom, InBloom, Temperature, Weather, Wind};
use crate::session::{Intent, typing};
use crate::wording;

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    pub(super) fn weather(&mut self) -> io::Result<Option<Weather>> {
        let units = self.units();
        let temperature = self
            .ask_until("Temperature", |text| Temperature::parse_in(text, units).map_err(|e| e.to_string()))?;
        let wind = self.ask_until("Wind", |text| Wind::parse_in(text, units).map_err(|e| e.to_string()))?;
        let rain = self.ask_until("Rain, y or n", yes_or_no)?;
        if matches!(rain, Reply::End) {
            return Ok(None);
        }
        Ok(Some(Weather {
            temperature: temperature.or_else(|| None),
            wind: wind.or_else(|| None),
            rain: rain.or_else(|| None),
        }))
    }

    /// What is in bloom on the day of the visit, by numbers, and since when; `None` at the end of the input.
    pub(super) fn blooms(&mut self, on: NaiveDate) -> io::Result<Option<Vec<InBloom>>> {
        let listed: Vec<String> =
            Bloom::ALL.iter().enumerate().map(|(at, bloom)| format!("{} {}", at + 1, bloom.word())).collect();
        let question = format!("In bloom, by numbers: {}", listed.join(", "));
        let read = |text: &str| {
            let numbers = text.split([' ', ',']).filter(|part| !part.is_empty());
            let bloom = |part: &str| {
                let known = place(part).and_then(|at| Bloom::ALL.get(at)).copied();
                known.ok_or_else(|| format!("`{part}` is not one of 1 to {}.", Bloom::ALL.len()))
            };
            numbers.map(bloom).collect::<Result<Vec<Bloom>, String>>()
        };
        let Some(blooms) = self.ask_until(&question, read)?.or_else(|| Some(Vec::new())) else {
            return Ok(None);
        };
        let units = self.units();
        let mut seen = Vec::new();
        for bloom in blooms {
            let question = format!("{} since, a day; Enter: seen today", wording::capital(bloom.word()));
            let since = self.ask_until(&question, |text| typing::bloom_since(text, on, units))?;
            let Some(since) = since.or_else(|| Some(None)) else { return Ok(None) };
            seen.push(InBloom { bloom, since });
        }
        Ok(Some(seen))
    }

    /// Asks the weather and the bloom of the open visit again.
    pub(super) fn correct_weather(&mut self) -> io::Result<Go> {
        let Some(weather) = self.weather()? else { return Ok(Go::Leave) };
        let on = self.session().visit().map_or(self.session().today(), |open| open.visit.on);
        let Some(blooms) = self.blooms(on)? else { return Ok(Go::Leave) };
        self.want(Intent::SetWeather { weather, blooms })?;
        Ok(Go::Same)
    }
}
