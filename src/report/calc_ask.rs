//! What each sum asks for, and the sum made of what was typed: for a screen that has no arguments.

use std::str::FromStr;

use chrono::NaiveDate;

use super::calc::{self, MixedBy, Sum};
use crate::colony::brood::Beginning;
use crate::colony::strength::FrameSize;
use crate::model::{Depth, HiveBox, Mass, Practice, Role, Temperature, Units};

/// Which sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Mites of a wash.
    Wash,
    /// Sugar and water.
    Syrup,
    /// A hive's stores from two lifts.
    Stores,
    /// Water of honey.
    Moisture,
    /// A queen's days.
    Queen,
    /// Frames of bees some days on.
    Strength,
}

/// How a field is filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Takes {
    /// Words or figures.
    Text,
    /// One of these.
    Choice(Vec<String>),
    /// A day.
    Day,
}

/// One field of a sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asks {
    /// Its name.
    pub label: &'static str,
    /// How it is written.
    pub help: &'static str,
    /// How it is filled in.
    pub takes: Takes,
    /// What stands in it at first; of a choice the word.
    pub proposed: String,
}

/// How a queen may begin, in words.
pub const EVENTS: &[(&str, Beginning)] = &[
    ("split, left to raise a queen", Beginning::WalkAway),
    ("sealed cell", Beginning::SealedCell),
    ("ripe cell", Beginning::RipeCell),
    ("virgin", Beginning::Virgin),
    ("queen caged", Beginning::Caged),
    ("swarm", Beginning::PrimeSwarm),
    ("package", Beginning::Package),
];

/// Frames whose bees can be counted, in words.
pub const FRAMES: &[(&str, FrameSize)] = &[
    ("deep", FrameSize::Inch(Depth::Deep)),
    ("medium", FrameSize::Inch(Depth::Medium)),
    ("shallow", FrameSize::Inch(Depth::Shallow)),
    ("Dadant", FrameSize::Dadant),
    ("Swiss", FrameSize::Swiss),
    ("Zander", FrameSize::Zander),
];

/// Sugar to water, as `2:1`.
///
/// # Errors
/// Says how a mix is written.
pub fn ratio(text: &str) -> Result<f64, String> {
    let parts =
        text.split_once(':').map(|(sugar, water)| (sugar.trim().parse::<f64>(), water.trim().parse::<f64>()));
    match parts {
        Some((Ok(sugar), Ok(water))) if water > 0.0 && sugar > 0.0 => Ok(sugar / water),
        _ => Err(format!("`{text}` is no mix: write sugar and water, as 1:1 or 2:1")),
    }
}

/// Boxes of ten frames, bottom to top, as `deep,medium`.
///
/// # Errors
/// Says how boxes are written.
pub fn boxes(text: &str) -> Result<Vec<HiveBox>, String> {
    let depth = |word: &str| match word.trim() {
        "deep" => Ok(Depth::Deep),
        "medium" => Ok(Depth::Medium),
        "shallow" => Ok(Depth::Shallow),
        other => Err(format!("`{other}` is no box: write deep, medium or shallow, with commas between")),
    };
    text.split(',').map(|word| Ok(HiveBox::new(depth(word)?, 10, Role::Nest))).collect()
}

fn text(label: &'static str, help: &'static str, proposed: impl Into<String>) -> Asks {
    Asks { label, help, takes: Takes::Text, proposed: proposed.into() }
}

fn one_of(label: &'static str, words: Vec<String>) -> Asks {
    let proposed = words.first().cloned().unwrap_or_default();
    Asks { label, help: "", takes: Takes::Choice(words), proposed }
}

fn words_of<T>(all: &[(&'static str, T)]) -> Vec<String> {
    all.iter().map(|(word, _)| (*word).to_owned()).collect()
}

fn day(label: &'static str, on: NaiveDate) -> Asks {
    Asks { label, help: "", takes: Takes::Day, proposed: on.to_string() }
}

impl Which {
    /// All of them.
    pub const ALL: &'static [Self] =
        &[Self::Wash, Self::Syrup, Self::Stores, Self::Moisture, Self::Queen, Self::Strength];

    /// Its name, as `yardwalk calc` takes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Wash => "wash",
            Self::Syrup => "syrup",
            Self::Stores => "stores",
            Self::Moisture => "moisture",
            Self::Queen => "queen",
            Self::Strength => "strength",
        }
    }

    /// What it asks for, with what is likely filled in.
    pub fn asks(self, units: Units, practice: &Practice, today: NaiveDate) -> Vec<Asks> {
        let metric = units == Units::Metric;
        match self {
            Self::Wash => vec![
                text("Mites", "counted in the jar", "6"),
                text("Bees", "in the jar, about 300 in half a cup", "300"),
                text("Limit", "mites per 100 bees", practice.mite_limit().to_string()),
                day("Counted on", today),
                text("Carried forward", "days, with brood and no treatment; 0 for none", "30"),
            ],
            Self::Syrup => vec![
                text("Sugar", "with its unit, as 10 lb or 5 kg", if metric { "5 kg" } else { "10 lb" }),
                text("Mix", "sugar to water, as 1:1 or 2:1", "1:1"),
                one_of("Measured by", vec!["weight".to_owned(), "volume".to_owned()]),
            ],
            Self::Stores => vec![
                text(
                    "Left side",
                    "lifted at the outer edge, with its unit",
                    if metric { "20 kg" } else { "45 lb" },
                ),
                text("Right side", "with its unit", if metric { "22 kg" } else { "48 lb" }),
                text("Boxes", "bottom to top, as deep,deep or deep,medium", "deep"),
                text("Frames of bees", "nothing for a winter cluster", ""),
            ],
            Self::Moisture => vec![
                text("Reading", "refractive index, as 1.4890, or Brix, as 80.2", "1.4890"),
                text("Read at", "with its unit", if metric { "20 C" } else { "68 F" }),
            ],
            Self::Queen => vec![one_of("Begins as", words_of(EVENTS)), day("On", today)],
            Self::Strength => vec![
                text("Frames of bees", "0 to 60", "5"),
                text("Frames of brood", "0 to 60", "3"),
                one_of("Frame", words_of(FRAMES)),
                text("Days ahead", "1 to 365", "21"),
            ],
        }
    }

    /// The sum of what was typed, in the order of what it asks for; of a choice the word, of a day as 2026-05-03.
    ///
    /// # Errors
    /// Says which field cannot be read, and how it is written.
    pub fn of(
        self,
        typed: &[String],
        units: Units,
        practice: &Practice,
        today: NaiveDate,
    ) -> Result<Sum, String> {
        let asks = self.asks(units, practice, today);
        let field = |at: usize| typed.get(at).map_or("", |text| text.trim());
        let read = |at: usize| Reading { label: asks.get(at).map_or("", |a| a.label), text: field(at) };
        match self {
            Self::Wash => {
                let on: NaiveDate = read(3).of("a day")?;
                let days: u16 = read(4).of("a whole number of days")?;
                let by = (days > 0).then(|| (on, crate::model::days_after(on, i64::from(days.min(365)))));
                let (mites, bees) = (read(0).of("a whole number")?, read(1).of("a whole number")?);
                calc::of_wash((mites, bees), read(2).of("a number")?, by, units)
            }
            Self::Syrup => {
                let by = if field(2) == "volume" { MixedBy::Volume } else { MixedBy::Weight };
                calc::of_syrup(
                    read(0).of::<Mass>("a weight")?,
                    ratio(field(1))?,
                    by,
                    practice.pounds_per_gallon(),
                )
            }
            Self::Stores => {
                let bees = if field(3).is_empty() { None } else { Some(read(3).of("a number")?) };
                calc::of_stores(read(0).of("a weight")?, read(1).of("a weight")?, &boxes(field(2))?, bees)
            }
            Self::Moisture => {
                let reading: f64 = read(0).of("a number")?;
                // An index of honey is about 1.5; Brix run from 70 up.
                let (index, brix) = if reading < 2.0 { (Some(reading), None) } else { (None, Some(reading)) };
                calc::of_moisture(index, brix, read(1).of::<Temperature>("a temperature")?)
            }
            Self::Queen => {
                let found = EVENTS.iter().find(|(word, _)| *word == field(0));
                let (word, beginning) = found.ok_or_else(|| format!("`{}` is no beginning.", field(0)))?;
                Ok(calc::of_queen(word, *beginning, read(1).of("a day")?, units))
            }
            Self::Strength => {
                let frame = FRAMES
                    .iter()
                    .find(|(word, _)| *word == field(2))
                    .map_or(FrameSize::Inch(Depth::Deep), |f| f.1);
                calc::of_strength(
                    read(0).of("a number")?,
                    read(1).of("a number")?,
                    frame,
                    read(3).of("a whole number")?,
                    today,
                )
            }
        }
    }
}

/// One field as it was typed.
struct Reading<'a> {
    label: &'a str,
    text: &'a str,
}

impl Reading<'_> {
    fn of<T: FromStr>(&self, what: &str) -> Result<T, String> {
        self.text.parse().map_err(|_| format!("{}: `{}` is not {what}.", self.label, self.text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day as on;

    fn proposed(which: Which) -> Vec<String> {
        let practice = Practice::default();
        which.asks(Units::Us, &practice, on("2026-05-03")).into_iter().map(|a| a.proposed).collect()
    }

    fn sum(which: Which, typed: &[String]) -> Result<Sum, String> {
        which.of(typed, Units::Us, &Practice::default(), on("2026-05-03"))
    }

    #[test]
    fn every_sum_can_be_made_of_what_it_proposes() {
        for which in Which::ALL {
            for units in [Units::Us, Units::Metric] {
                let practice = Practice::default();
                let typed: Vec<String> =
                    which.asks(units, &practice, on("2026-05-03")).into_iter().map(|a| a.proposed).collect();
                let sum = which.of(&typed, units, &practice, on("2026-05-03")).unwrap();
                assert!(!sum.figures.is_empty(), "{}", which.word());
            }
        }
    }

    #[test]
    fn what_cannot_be_read_is_named_with_its_field() {
        for (which, at, text, says) in [
            (Which::Wash, 0, "six", "Mites: `six`"),
            (Which::Syrup, 0, "10", "Sugar: `10`"),
            (Which::Syrup, 1, "thick", "as 1:1 or 2:1"),
            (Which::Stores, 2, "huge", "write deep, medium or shallow"),
            (Which::Moisture, 0, "", "Reading: ``"),
        ] {
            let mut typed = proposed(which);
            typed[at] = text.to_owned();
            let why = sum(which, &typed).unwrap_err();
            assert!(why.contains(says), "{why}");
        }
    }

    #[test]
    fn an_index_and_brix_are_told_apart() {
        let title = |reading: &str| {
            let mut typed = proposed(Which::Moisture);
            typed[0] = reading.to_owned();
            sum(Which::Moisture, &typed).unwrap().title
        };
        assert!(title("1.4890").contains("index") && title("80.2").contains("Brix"));
    }
}
