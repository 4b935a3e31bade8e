//! The load list as text and as JSON.

use std::fmt::Write as _;

use chrono::NaiveDate;
use schemars::JsonSchema;
use serde::Serialize;

use super::json;
use crate::model::{HiveId, Units, YardId, visible};
use crate::plan::load::LoadLine;
use crate::plan::{Amount, LoadList, Unused};
use crate::wording;

/// A yard's list, with what came home unused last time.
#[derive(Debug, Clone)]
pub struct YardLoad {
    /// The yard.
    pub yard: YardId,
    /// The list.
    pub list: LoadList,
    /// What was on the truck last time and was not used.
    pub unused: Vec<Unused>,
}

impl YardLoad {
    /// Its lines in words, what is likely needed first.
    pub(super) fn lines_in_words(&self, units: Units) -> Vec<String> {
        let words = |line: &LoadLine| {
            let spare = line.spare_words(units).map_or_else(String::new, |s| format!(" (spare {s})"));
            let hives: Vec<String> = line.hives.iter().map(|h| visible(h.as_str())).collect();
            format!("{}{spare}, {} {}", line.words(units), units.mass(line.weight), hives.join(" "))
                .trim_end()
                .to_owned()
        };
        self.list.likely.iter().chain(&self.list.possible).map(words).collect()
    }
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct LoadOut<'a> {
    date: NaiveDate,
    yards: Vec<YardOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct YardOut<'a> {
    yard: &'a str,
    likely: Vec<LineOut<'a>>,
    possible: Vec<LineOut<'a>>,
    likely_kg: f64,
    all_kg: f64,
    unused_last_time: Vec<UnusedOut<'a>>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct LineOut<'a> {
    item: &'a str,
    unit: &'static str,
    needed: f64,
    spare: f64,
    weight_kg: f64,
    hives: Vec<&'a str>,
}

#[derive(Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct UnusedOut<'a> {
    item: &'a str,
    amount: f64,
    on: NaiveDate,
}

/// A figure to three places, so that binary fractions do not show.
fn rounded(value: f64) -> f64 {
    (value * 1_000.0).round() / 1_000.0
}

fn line_out(line: &LoadLine) -> LineOut<'_> {
    LineOut {
        item: &line.item,
        unit: match line.needed {
            Amount::Count(_) => "piece",
            Amount::Volume(_) => "litre",
            Amount::Mass(_) => "kilogram",
        },
        needed: rounded(line.needed.in_file()),
        spare: rounded(line.spare.in_file()),
        weight_kg: rounded(line.weight.kilograms()),
        hives: line.hives.iter().map(HiveId::as_str).collect(),
    }
}

/// The load lists as JSON: `{"date", "yards":[{"yard", "likely":[{"item", "unit", "needed", "spare", "weight_kg",
/// "hives"}], "possible", "likely_kg", "all_kg", "unused_last_time":[{"item", "amount", "on"}]}]}`.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn load_json(yards: &[YardLoad], date: NaiveDate) -> Result<String, serde_json::Error> {
    let yards = yards
        .iter()
        .map(|y| YardOut {
            yard: y.yard.as_str(),
            likely: y.list.likely.iter().map(line_out).collect(),
            possible: y.list.possible.iter().map(line_out).collect(),
            likely_kg: rounded(y.list.weight(false).kilograms()),
            all_kg: rounded(y.list.weight(true).kilograms()),
            unused_last_time: y
                .unused
                .iter()
                .map(|u| UnusedOut { item: &u.item, amount: rounded(u.amount), on: u.on })
                .collect(),
        })
        .collect();
    json::text(&LoadOut { date, yards })
}

/// The load lists as text, with boxes to tick.
pub fn load_text(yards: &[YardLoad], date: NaiveDate, units: Units) -> String {
    let mut out = format!("Load list for {}\n", wording::whole_day(units, date));
    for yard in yards {
        let _ = writeln!(
            out,
            "\n{}: likely {}, with the possible {}",
            visible(yard.yard.as_str()),
            units.mass(yard.list.weight(false)),
            units.mass(yard.list.weight(true))
        );
        if yard.list.lines().next().is_none() {
            let _ = writeln!(out, "  nothing is due, so nothing need be loaded");
        }
        for (heading, lines) in [("likely", &yard.list.likely), ("possible", &yard.list.possible)] {
            if !lines.is_empty() {
                let _ = writeln!(out, "  {heading}");
            }
            for line in lines {
                let spare = line.spare_words(units).map_or_else(String::new, |s| format!(" (spare {s})"));
                let hives: Vec<String> = line.hives.iter().map(|h| visible(h.as_str())).collect();
                let text = format!("{}{spare}", line.words(units));
                let _ = writeln!(
                    out,
                    "{}",
                    format!("  [ ] {text:<46} {:>8}  {}", units.mass(line.weight), hives.join(" "))
                        .trim_end()
                );
            }
        }
        if let Some(first) = yard.unused.first() {
            let words: Vec<String> = yard.unused.iter().map(Unused::words).collect();
            let _ = writeln!(out, "  not used on {}: {}", wording::day(units, first.on), words.join(", "));
        }
    }
    out
}
