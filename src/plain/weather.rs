//! The weather and the bloom, asked for line by line.

use std::io::{self, BufRead, Write};

use super::{Go, Plain, Reply, yes_or_no};
use crate::model::{Bloom, Temperature, Weather, Wind};
use crate::session::Intent;

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

    /// What is in bloom, by numbers; `None` at the end of the input.
    pub(super) fn blooms(&mut self) -> io::Result<Option<Vec<Bloom>>> {
        let listed: Vec<String> =
            Bloom::ALL.iter().enumerate().map(|(at, bloom)| format!("{} {}", at + 1, bloom.word())).collect();
        let question = format!("In bloom, by numbers: {}", listed.join(", "));
        let read = |text: &str| {
            let numbers = text.split([' ', ',']).filter(|part| !part.is_empty());
            let bloom = |part: &str| {
                let at = part.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
                let known = at.and_then(|at| Bloom::ALL.get(at)).copied();
                known.ok_or_else(|| format!("`{part}` is not one of 1 to {}.", Bloom::ALL.len()))
            };
            numbers.map(bloom).collect::<Result<Vec<Bloom>, String>>()
        };
        Ok(self.ask_until(&question, read)?.or_else(|| Some(Vec::new())))
    }

    /// Asks the weather and the bloom of the open visit again.
    pub(super) fn correct_weather(&mut self) -> io::Result<Go> {
        let Some(weather) = self.weather()? else { return Ok(Go::Leave) };
        let Some(blooms) = self.blooms()? else { return Ok(Go::Leave) };
        self.want(Intent::SetWeather { weather, blooms })?;
        Ok(Go::Same)
    }
}
