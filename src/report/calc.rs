//! Sums a keeper makes at the kitchen table, each with its unit: no book is needed.
//!
//! In: what was typed, read in its units. Out: a [`Sum`], as lines to read or as JSON.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate};

use schemars::JsonSchema;
use serde_json::{Map, Value, json};

use super::json;
use crate::colony::brood::{self, Beginning, Span};
use crate::colony::model::{Belief, Forecast, counted};
use crate::colony::next_count::Ahead;
use crate::colony::strength::{self, FrameSize};
use crate::colony::wash::{self, Reading};
use crate::colony::{honey, stores, syrup};
use crate::model::{
    Depth, HiveBox, Mass, MiteCount, QueenStatus, Role, Temperature, Units, Volume, days_after, trimmed,
};
use crate::season::{Calendar, Shift};
use crate::wording;

/// One figure or word of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Its name in JSON.
    pub key: &'static str,
    /// What it is, in words.
    pub words: String,
    /// The figure with its unit, as it is read.
    pub shown: String,
    /// The bare value in JSON, and its unit there.
    pub value: Value,
    /// The unit of the bare value; empty for words and days.
    pub unit: &'static str,
}

/// The result of a sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// What was worked out, in a few words.
    pub title: String,
    /// The figures, in order.
    pub figures: Vec<Figure>,
    /// What it goes by, and how sure it is.
    pub notes: Vec<String>,
}

impl Sum {
    fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), figures: Vec::new(), notes: Vec::new() }
    }

    #[must_use]
    fn number(
        mut self,
        key: &'static str,
        words: &str,
        value: f64,
        digits: usize,
        unit: &'static str,
    ) -> Self {
        let shown = format!("{} {unit}", trimmed(value, digits)).trim_end().to_owned();
        self.figures.push(Figure {
            key,
            words: words.to_owned(),
            shown,
            value: json!(round(value, digits)),
            unit,
        });
        self
    }

    /// A chance: to be read in percent, never as certain; from 0 to 1 in JSON.
    #[must_use]
    fn chance(self, key: &'static str, words: &str, chance: f64) -> Self {
        let shown = match 100.0 * chance {
            ..0.1 => "under 0.1 %".to_owned(),
            99.9.. => "over 99.9 %".to_owned(),
            percent => format!("{} %", trimmed(percent, 1)),
        };
        let mut sum = self.number(key, words, chance, 3, "of 1");
        if let Some(figure) = sum.figures.last_mut() {
            figure.shown = shown;
        }
        sum
    }

    #[must_use]
    fn words(mut self, key: &'static str, words: &str, said: impl Into<String>) -> Self {
        let said = said.into();
        self.figures.push(Figure {
            key,
            words: words.to_owned(),
            shown: said.clone(),
            value: Value::String(said),
            unit: "",
        });
        self
    }

    #[must_use]
    fn days(mut self, key: &'static str, words: &str, span: Span, units: Units) -> Self {
        let day = |on: NaiveDate| wording::day(units, on);
        let shown = if span.earliest == span.latest {
            day(span.usual)
        } else {
            format!("{} ({} to {})", day(span.usual), day(span.earliest), day(span.latest))
        };
        let value = json!({"earliest": span.earliest, "usual": span.usual, "latest": span.latest});
        self.figures.push(Figure { key, words: words.to_owned(), shown, value, unit: "" });
        self
    }

    #[must_use]
    fn day(mut self, key: &'static str, words: &str, on: NaiveDate, units: Units) -> Self {
        let shown = wording::day(units, on);
        self.figures.push(Figure { key, words: words.to_owned(), shown, value: json!(on), unit: "" });
        self
    }

    #[must_use]
    fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// To read: the title, a figure a line, and what it goes by.
    pub fn text(&self) -> String {
        let widest = self.figures.iter().map(|f| f.words.chars().count()).max().unwrap_or(0);
        let mut out = format!("{}\n", self.title);
        for figure in &self.figures {
            let gap = " ".repeat(widest.saturating_sub(figure.words.chars().count()));
            let _ = writeln!(out, "  {}{gap}  {}", figure.words, figure.shown);
        }
        for note in &self.notes {
            let _ = writeln!(out, "  {note}");
        }
        out
    }

    /// `{"calc": title, key: value, .., "units": {key: unit}, "notes": [..]}`.
    ///
    /// # Errors
    /// None in practice; serde's own are passed on.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        let mut all = Map::new();
        all.insert("calc".to_owned(), json!(self.title));
        let mut units = Map::new();
        for figure in &self.figures {
            all.insert(figure.key.to_owned(), figure.value.clone());
            if !figure.unit.is_empty() {
                units.insert(figure.key.to_owned(), json!(figure.unit));
            }
        }
        all.insert("units".to_owned(), Value::Object(units));
        all.insert("notes".to_owned(), json!(self.notes));
        json::text(&all)
    }
}

fn round(value: f64, digits: usize) -> f64 {
    let scale = 10f64.powi(i32::try_from(digits).unwrap_or(0));
    (value * scale).round() / scale
}

const RATE: &str = "mites per 100 bees";

/// The form of a sum's JSON: besides these, a key for each of its figures.
#[derive(JsonSchema)]
#[expect(dead_code, reason = "only its form is asked for")]
pub(super) struct CalcOut {
    /// Which sum.
    calc: String,
    /// The unit of each figure that has one.
    units: BTreeMap<String, String>,
    /// What else there is to know.
    notes: Vec<String>,
    /// The figures: a number, a text, a day, or the earliest, usual and latest day of a range.
    #[schemars(flatten)]
    figures: BTreeMap<String, Value>,
}

/// A wash: its rate with the jar's doubt, the chance of being over a limit, and what it comes to by a day.
///
/// `limit` is in mites per hundred bees. `until` is the day of the count and the day it is carried to.
///
/// # Errors
/// Where no such wash can be: no bees, or more than two mites a bee; or the second day is before the first.
pub fn of_wash(
    (mites, bees): (u16, u16),
    limit: f64,
    until: Option<(NaiveDate, NaiveDate)>,
    units: Units,
) -> Result<Sum, String> {
    if bees == 0 || u32::from(mites) > 2 * u32::from(bees) {
        return Err(format!(
            "{mites} mites on {bees} bees cannot be a wash: at most two a bee, from at least one bee."
        ));
    }
    let count = MiteCount { on: until.map_or_else(NaiveDate::default, |(on, _)| on), mites, bees };
    let interval = wash::wilson(mites, bees);
    let verdict = match wash::read(&count, limit) {
        Reading::Under => "under the limit, with the jar's doubt",
        Reading::TooFew => "too few bees to say: count again with about 300",
        Reading::MayBeOver => "under the limit, but the hive may well be over it",
        Reading::LikelyOver => "likely over the limit",
        Reading::Over => "over the limit, with the jar's doubt",
    };
    let mut sum = Sum::new(format!("{mites} mites on {bees} bees"))
        .number("percent", "rate", count.percent(), 2, RATE)
        .number("low", "lowest, 95 %", interval.low, 2, RATE)
        .number("high", "highest, 95 %", interval.high, 2, RATE)
        .number("limit", "your limit", limit, 2, RATE)
        .chance("p_over_limit", "chance of being over it", wash::chance_above(mites, bees, limit))
        .words("verdict", "verdict", verdict)
        .note("Interval: Wilson 1927; chance: Jeffreys' prior. One jar of one colony.");
    if let Some((on, by)) = until {
        if by < on {
            return Err(format!("{by} is before {on}."));
        }
        let then = Ahead::of(&count, by);
        let (hive, jar, day) = (then.hive(), then.jar(300), wording::day(units, by));
        sum = sum
            .number("by", &format!("by {day}, untreated"), hive.middle, 2, RATE)
            .number("low_by", "lowest, 90 %", hive.lowest, 2, RATE)
            .number("high_by", "highest, 90 %", hive.highest, 2, RATE)
            .chance("p_over_limit_by", "chance of being over it then", then.chance_over(limit))
            .number("next_count_low", "a jar of 300 then, lowest, 90 %", jar.lowest * 3.0, 0, "mites")
            .number("next_count_high", "a jar of 300 then, highest, 90 %", jar.highest * 3.0, 0, "mites")
            .note(
                "With brood and untreated: mites per hundred bees grow by 3.3 % a day, 1.3 either way (field counts, \
                 University of Vermont 2021 to 2023).",
            );
    }
    if mites == 0 {
        sum = sum.note(wording::sentence(&wash::zero_means(bees)));
    }
    Ok(sum)
}

/// How sugar and water are measured out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MixedBy {
    /// By weight.
    Weight,
    /// By measures poured.
    Volume,
}

/// A syrup from a mass of sugar: water, what it makes, and how thick it is.
///
/// `ratio` is sugar to one of water, 0.2 to 3.
///
/// # Errors
/// Where the ratio is out of range.
pub fn of_syrup(sugar: Mass, ratio: f64, by: MixedBy, pounds_per_gallon: f64) -> Result<Sum, String> {
    if !(0.2..=3.0).contains(&ratio) {
        return Err(format!("{ratio} of sugar to 1 of water: from 0.2 to 3 it is a syrup."));
    }
    let share = match by {
        MixedBy::Weight => ratio / (1.0 + ratio),
        MixedBy::Volume => syrup::share_by_volume(ratio),
    };
    let batch = syrup::batch_of_share(sugar, share);
    // A gallon of thick syrup is two thirds sugar: less sugar stores less.
    let stored = sugar.pounds() * pounds_per_gallon
        / syrup::sugar(crate::model::Mix::Thick, Volume::from_gallons(1.0)).pounds();
    let how = match by {
        MixedBy::Weight => "by weight",
        MixedBy::Volume => "by volume",
    };
    Ok(Sum::new(format!("{} lb of sugar, {} to 1 {how}", trimmed(sugar.pounds(), 1), trimmed(ratio, 2)))
        .number("water_gal", "water", batch.water.gallons(), 2, "US gal")
        .number("water_l", "", batch.water.litres(), 2, "L")
        .number("syrup_gal", "makes syrup", batch.syrup.gallons(), 2, "US gal")
        .number("syrup_l", "", batch.syrup.litres(), 2, "L")
        .number("brix", "sugar in it", 100.0 * share, 1, "Brix (% by mass)")
        .number("density", "density at 20 C", syrup::density(share), 3, "kg/L")
        .number("stored_lb", "stored by the bees", stored, 1, "lb")
        .number("stored_kg", "", Mass::from_pounds(stored).kilograms(), 1, "kg")
        .note("Stored: about 7 lb from a gallon of 2:1 (two practice pages); the rest is spent on carrying and drying it."))
}

/// Stores from the two sides of a hive and its boxes.
///
/// # Errors
/// Where there is no box.
pub fn of_stores(left: Mass, right: Mass, boxes: &[HiveBox], bees: Option<f64>) -> Result<Sum, String> {
    if boxes.is_empty() {
        return Err("Name its boxes, as `deep,deep` or `deep,medium`.".to_owned());
    }
    let whole = stores::weighed_by_sides(left, right);
    let tare = stores::tare(boxes, stores::Occupants { bees, ..stores::Occupants::default() });
    let honey = (whole.pounds() - tare.pounds()).max(0.0);
    Ok(Sum::new(format!("A hive of {}", crate::model::stack_words(boxes)))
        .number("weight_lb", "whole hive", whole.pounds(), 1, "lb")
        .number("tare_lb", "boxes, lids and bees", tare.pounds(), 1, "lb")
        .number("honey_lb", "stores", honey, 0, "lb")
        .number("honey_kg", "", Mass::from_pounds(honey).kilograms(), 0, "kg")
        .note("Give or take 10 lb (5 kg): boxes, bees and pollen differ. Both sides lifted at the outer edge of the floor."))
}

/// Water of honey from a refractometer, with the grade it allows.
///
/// # Errors
/// Where the reading is outside the range of honey.
pub fn of_moisture(index: Option<f64>, brix: Option<f64>, at: Temperature) -> Result<Sum, String> {
    let (title, water) = match (index, brix) {
        (Some(nd), _) => {
            let at_20 = honey::index_at_20(nd, at.celsius());
            (format!("Refractive index {nd} at {} C", trimmed(at.celsius(), 1)), honey::moisture(at_20))
        }
        (None, Some(brix)) => (format!("{brix} Brix"), honey::moisture_from_brix(brix)),
        (None, None) => return Err("Give the index (`--nd 1.4890`) or the Brix (`--brix 80.2`).".to_owned()),
    };
    let water = water.ok_or("That reading is outside the range of honey, 13 to 25 % water.")?;
    let grade = match honey::grade(water) {
        honey::Grade::AOrB => "US grade A or B by moisture",
        honey::Grade::C => "US grade C by moisture; within 20 % for EU and Codex",
        honey::Grade::TooWet => "too wet: it will ferment, and may not be sold as honey",
    };
    Ok(Sum::new(title).number("percent", "water", water, 1, "% by mass").words("grade", "grade", grade).note(
        "Wedmore 1955 and the honey commission's table; grades: US 1985, EU 2001/110/EC, Codex 12-1981.",
    ))
}

/// What happens to a queen from a beginning on a day.
pub fn of_queen(name: &str, beginning: Beginning, on: NaiveDate, units: Units) -> Sum {
    let t = brood::timeline(beginning, on);
    let mut sum = Sum::new(format!("{name} on {}", wording::day_and_year(units, on)));
    if let Some(sealed) = t.cell_sealed {
        sum = sum.days("cell_sealed", "cell sealed", sealed, units);
    }
    if let Some(out) = t.out {
        let words = if beginning == Beginning::Caged || beginning == Beginning::Package {
            "queen out of her cage"
        } else {
            "virgin hatches"
        };
        sum = sum.days("out", words, out, units);
    }
    if let Some((first, last)) = t.mating {
        sum = sum.day("mating_from", "mates from", first, units).day("mating_to", "mates to", last, units);
    }
    if let Some((from, to)) = t.keep_out {
        sum = sum.day("keep_out_from", "keep out from", from, units).day(
            "keep_out_until",
            "and until",
            days_after(to, -1),
            units,
        );
    }
    sum.days("eggs", "first eggs", t.eggs, units)
        .days("sealed_brood", "sealed brood", t.sealed_brood, units)
        .days("workers", "first workers hatch", t.workers, units)
        .day("failed_by", "failed, if no eggs by", t.failed_by, units)
        .note("Days of development: Winston 1987; first eggs after a ripe cell: 177 splits of Aurell et al. 2025.")
}

/// Frames of bees some days on, low, middle and high.
///
/// # Errors
/// Where frames or days are out of range.
pub fn of_strength(
    bees: f64,
    brood: f64,
    frame: FrameSize,
    days: usize,
    on: NaiveDate,
) -> Result<Sum, String> {
    if !(0.0..=60.0).contains(&bees) || !(0.0..=60.0).contains(&brood) || !(1..=365).contains(&days) {
        return Err("0 to 60 frames of bees and of brood, and 1 to 365 days, are the range.".to_owned());
    }
    let share = frame.deep_share();
    let boxes = [HiveBox::new(Depth::Deep, 10, Role::Nest), HiveBox::new(Depth::Deep, 10, Role::Nest)];
    let colony = counted(on, &boxes, QueenStatus::Laying, bees * share, brood * share);
    let calendar = Calendar::shifted(Shift::none(), on.year());
    let then = days_after(on, i64::try_from(days).unwrap_or(365));
    let ahead = Forecast::of(&Belief::of(&colony, &calendar, on), then, &[]);
    let range = ahead.bees(then).ok_or("That is too far ahead.")?;
    let now = strength::bees(bees, frame);
    Ok(Sum::new(format!("{} frames of bees, {} of brood", trimmed(bees, 2), trimmed(brood, 2)))
        .number("bees_now", "bees now", now.mid, 0, "bees")
        .number(
            "frames",
            &format!("frames in {}", wording::days(i64::try_from(days).unwrap_or(365))),
            range.middle / share,
            1,
            "frames",
        )
        .number("frames_low", "lowest, 90 %", range.lowest / share, 1, "frames")
        .number("frames_high", "highest, 90 %", range.highest / share, 1, "frames")
        .note("A laying queen, two deep boxes, the season of 43 N; by the colony's model.")
        .note("Readers of one hive differ by 12 to 14 % in frames of bees, 14 to 20 % in brood."))
}
