//! Practice: the keeper's own thresholds. Each is optional and has a default, a range and a source.

use serde::{Deserialize, Serialize};

use super::action::Treatment;
use super::season_date::DateId;
use super::units::{Mass, Temperature, Units, Wind, trimmed};
use super::yard::DayOfYear;

/// Where a threshold's default is from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Threshold {
    /// Its field in the book.
    pub field: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// The unit.
    pub unit: &'static str,
    /// The default.
    pub default: f64,
    /// The least believable value.
    pub least: f64,
    /// The highest believable value.
    pub most: f64,
    /// Where the default is from, and how sure that is.
    pub source: &'static str,
}

/// A unit of which there is one: `boxes` as `box`, `frames of bees` as `frame of bees`.
fn one_of(unit: &str) -> String {
    let (first, rest) = unit.split_once(' ').map_or((unit, ""), |(first, rest)| (first, rest));
    let one = first.strip_suffix("xes").map(|stem| format!("{stem}x"));
    let one = one.or_else(|| first.strip_suffix('s').map(str::to_owned)).unwrap_or_else(|| first.to_owned());
    if rest.is_empty() { one } else { format!("{one} {rest}") }
}

impl Threshold {
    /// A value of it in the book's units: `60 F`, `15.6 C`, `2 mites per 100 bees`.
    pub fn words(&self, value: f64, units: Units) -> String {
        match (self.unit, units) {
            ("F", Units::Metric) => {
                format!("{} C", trimmed(Temperature::from_fahrenheit(value).celsius(), 1))
            }
            ("lb", Units::Metric) => format!("{} kg", trimmed(Mass::from_pounds(value).kilograms(), 1)),
            ("mph", Units::Metric) => {
                format!("{} km/h", trimmed(Wind::from_miles_per_hour(value).kilometres_per_hour(), 1))
            }
            (unit, _) if (value - 1.0).abs() < 1e-9 => format!("1 {}", one_of(unit)),
            (unit, _) => format!("{} {unit}", trimmed(value, 2)),
        }
    }

    /// Its range in the book's units.
    pub fn range(&self, units: Units) -> String {
        let least = self.words(self.least, units);
        let number = least.split(' ').next().unwrap_or_default();
        format!("{number} to {}", self.words(self.most, units))
    }

    /// Reads a value as a keeper types it: with or without a unit, with a decimal point or comma.
    ///
    /// # Errors
    /// Where it is no number, the unit is another's, or it is out of range: says what the range is.
    pub fn parse(&self, text: &str, units: Units) -> Result<f64, String> {
        let read = match self.unit {
            "F" => Temperature::parse_in(text, units).map(Temperature::fahrenheit).ok(),
            "lb" => Mass::parse_in(text, units).map(Mass::pounds).ok(),
            "mph" => Wind::parse_in(text, units).map(Wind::miles_per_hour).ok(),
            _ => text.trim().trim_end_matches('%').trim_end().replace(',', ".").parse().ok(),
        };
        // A value typed at the end of its range must not fall outside it by a rounding.
        let near = |v: f64| {
            if (v - self.least).abs() < 1e-6 {
                self.least
            } else if (v - self.most).abs() < 1e-6 {
                self.most
            } else {
                v
            }
        };
        read.map(near).filter(|v| (self.least..=self.most).contains(v)).ok_or_else(|| {
            format!(
                "`{}` does not fit {}: {} is the range",
                text.trim(),
                self.words.to_lowercase(),
                self.range(units)
            )
        })
    }
}

macro_rules! practice {
    ($( $(#[$doc:meta])* $field:ident, $words:literal, $unit:literal, $default:literal, $least:literal ..= $most:literal, $source:literal; )+) => {
        /// The keeper's own thresholds; what is not set takes its default.
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub struct Practice {
            /// What the labels in hand say of mite treatments.
            #[serde(skip_serializing_if = "Vec::is_empty")]
            pub labels: Vec<LabelLimits>,
            /// The keeper's own dates, which hold as written at every yard.
            #[serde(skip_serializing_if = "Vec::is_empty")]
            pub dates: Vec<OwnDate>,
            $( $(#[$doc])* #[serde(skip_serializing_if = "Option::is_none")] $field: Option<f64>, )+
        }

        impl Practice {
            /// Every threshold, in the order it is shown.
            pub const THRESHOLDS: &'static [Threshold] = &[ $( Threshold {
                field: stringify!($field), words: $words, unit: $unit,
                default: $default, least: $least, most: $most, source: $source,
            } ),+ ];

            $(
                $(#[$doc])*
                pub fn $field(&self) -> f64 { self.$field.unwrap_or($default) }
            )+

            /// The keeper's own value of a threshold, by its field.
            pub fn own(&self, field: &str) -> Option<f64> {
                $( if field == stringify!($field) { return self.$field; } )+
                None
            }

            /// Sets or clears the keeper's own value; `false` for an unknown field or a value out of range.
            pub fn set(&mut self, field: &str, value: Option<f64>) -> bool {
                $( if field == stringify!($field) {
                    if value.is_some_and(|v| !($least..=$most).contains(&v)) { return false; }
                    self.$field = value;
                    return true;
                } )+
                false
            }
        }
    };
}

practice! {
    /// Mites per hundred bees above which a colony is treated.
    mite_limit, "Treat above", "mites per 100 bees", 2.0, 0.5..=5.0,
        "Oliver, American Bee Journal 2020: hold under 2 %. Published limits run from 1 to 3 %";
    /// Days between washes of one colony.
    wash_every, "Wash every", "days", 30.0, 7.0..=60.0, "common practice, no single source";
    /// Least air temperature for lifting frames, Fahrenheit.
    frames_from, "Lift frames from", "F", 60.0, 45.0..=70.0, "trade page on inspection weather: 60 F (15 C)";
    /// Least air temperature for taking the lid off, Fahrenheit.
    lid_from, "Take the lid off from", "F", 50.0, 32.0..=60.0, "trade pages: a quick look from 50 F (10 C)";
    /// Highest wind for lifting frames, miles an hour.
    wind_to, "Lift frames in wind up to", "mph", 15.0, 5.0..=30.0, "common practice, from memory";
    /// Share of nest frames covered at which a box is added, percent.
    add_box_at, "Add a box at", "% of frames covered", 75.0, 50.0..=95.0,
        "extension guides: 7 to 8 of 10 frames drawn and covered";
    /// Share of the top super filled at which the next goes on, percent.
    add_super_at, "Add a super at", "% of the last one filled", 70.0, 40.0..=95.0,
        "extension guides: 7 to 8 of 10 frames drawn and covered";
    /// Days between looks for queen cells in swarm season.
    swarm_every, "Swarm check every", "days", 8.0, 5.0..=14.0,
        "Winston 1987 (from memory): cells are sealed on day 8 to 9";
    /// Frames of bees below which a spring colony is small.
    small_cluster, "A small cluster is under", "frames of bees", 5.0, 2.0..=8.0,
        "common practice, no single source";
    /// Honey for winter in a single ten-frame deep, pounds.
    winter_honey, "Honey for winter, single deep", "lb", 50.0, 20.0..=150.0,
        "Univ. of Guelph and Canadian apiculturists: 85 to 95 lb in all for a single deep, some 50 lb of it honey";
    /// Honey for winter for each further deep box of nest, pounds; the whole is never over 150 lb.
    winter_honey_more, "Honey for each further deep", "lb", 30.0, 0.0..=60.0,
        "so that two deeps come to the 130 to 150 lb in all of Canadian and Ohio guides";
    /// Pounds stored from a gallon of thick syrup.
    pounds_per_gallon, "Stored from a gallon of thick syrup", "lb", 7.0, 5.0..=9.07,
        "two practice pages: about 7 lb; 9.07 lb if nothing were lost";
    /// Capped share at which honey may be pulled, percent.
    capped_at, "Pull honey when capped", "%", 80.0, 50.0..=100.0, "extension guides, from memory";
    /// Share taken along beyond what the list counts, percent.
    spare_share, "Spare on the truck", "%", 10.0, 0.0..=50.0, "common practice, no single source";
    /// Nest boxes a full colony is kept in through the summer.
    nest_boxes, "Nest boxes in summer", "boxes", 1.0, 1.0..=3.0, "the keeper's choice: single or double brood chambers";
    /// Age of a queen from which another is thought of, in years.
    queen_years, "Think of a new queen after", "years", 2.0, 1.0..=6.0,
        "Bee Culture, spring 2018: a queen serves one or two years";
    /// Years in which the brood combs are renewed; 0 never asks.
    comb_years, "Renew brood comb in", "years, 0 never", 4.0, 0.0..=10.0,
        "National Bee Unit (England and Wales): no brood comb over three years; others three to five";
    /// Month in which registration and inspection are recalled; 0 never.
    register_month, "Recall registration in month", "0 never", 4.0, 0.0..=12.0, "many places register hives each year";
    /// Hour of the day from which frames are lifted, by the clock.
    warm_from, "Warm from", "o'clock", 11.0, 5.0..=15.0, "common practice, no single source";
    /// Hour of the day to which frames are lifted, by the clock.
    warm_to, "Warm to", "o'clock", 17.0, 12.0..=21.0, "common practice, no single source";
    /// Honey moisture at most, percent.
    moisture_to, "Honey moisture at most", "%", 18.6, 16.0..=20.0,
        "US Standards for Grades of Extracted Honey, 1985: grade A and B";
}

/// A date of the year as the keeper holds it, in place of the program's; what is left out stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnDate {
    /// Which.
    pub date: DateId,
    /// The day it opens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opens: Option<DayOfYear>,
    /// The day it closes: for a deadline, the deadline.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closes: Option<DayOfYear>,
}

impl OwnDate {
    /// Why it cannot be: a keeper's own date may be any day of the year, but one of its ends must be given.
    pub fn end_fault(self) -> Option<String> {
        (self.opens.is_none() && self.closes.is_none())
            .then(|| format!("`{}` gives neither `opens` nor `closes`", self.date.word()))
    }
}

/// What the label in hand says of a treatment, in place of the program's figures; what is left out stays.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LabelLimits {
    /// Which treatment.
    pub treatment: Treatment,
    /// Lowest daytime temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Temperature>,
    /// Highest daytime temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Temperature>,
    /// Days it stays in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<u16>,
    /// Whether honey boxes may be on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with_supers: Option<bool>,
    /// Days after its end before honey boxes go on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait_days: Option<u16>,
    /// Least frames of bees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least_bees: Option<f64>,
    /// Courses a year at most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub per_year: Option<u16>,
    /// What it is called, for one the keeper adds.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Whether it works while there is sealed brood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with_brood: Option<bool>,
    /// Days to the next dose of one course.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again_days: Option<u16>,
    /// Days from the end of one course to the beginning of the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_days: Option<u16>,
    /// Whether its vapor needs the full entrance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub full_entrance: Option<bool>,
}

impl LabelLimits {
    /// A label that says nothing yet.
    pub fn of(treatment: Treatment) -> Self {
        Self {
            treatment,
            from: None,
            to: None,
            days: None,
            with_supers: None,
            wait_days: None,
            least_bees: None,
            per_year: None,
            name: String::new(),
            with_brood: None,
            again_days: None,
            rest_days: None,
            full_entrance: None,
        }
    }

    fn fault(&self) -> Option<String> {
        let name = self.treatment.word();
        if self.from.zip(self.to).is_some_and(|(from, to)| from >= to) {
            return Some(format!("the label of {name}: `from` must be below `to`"));
        }
        if self.days.is_some_and(|d| !(1..=90).contains(&d)) || self.wait_days.is_some_and(|d| d > 180) {
            return Some(format!(
                "the label of {name}: 1 to 90 `days` and at most 180 `wait_days` is the range"
            ));
        }
        if self.least_bees.is_some_and(|b| !(0.0..=20.0).contains(&b)) {
            return Some(format!("the label of {name}: `least_bees` is 0 to 20 frames"));
        }
        None
    }
}

impl Practice {
    /// What the keeper's label says of a treatment.
    pub fn label(&self, treatment: Treatment) -> Option<&LabelLimits> {
        self.labels.iter().find(|l| l.treatment == treatment)
    }

    /// The keeper's own of a date.
    pub fn date(&self, date: DateId) -> Option<&OwnDate> {
        self.dates.iter().find(|d| d.date == date)
    }

    /// Sets or, with neither end, clears the keeper's own of a date; says why it cannot be.
    ///
    /// # Errors
    /// Where neither end is given and there is nothing to clear.
    pub fn set_date(&mut self, own: OwnDate) -> Result<(), String> {
        let clears = own.opens.is_none() && own.closes.is_none();
        if let Some(fault) = own.end_fault().filter(|_| !clears) {
            return Err(fault);
        }
        self.dates.retain(|d| d.date != own.date);
        if !clears {
            self.dates.push(own);
            self.dates.sort_by_key(|d| d.date);
        }
        Ok(())
    }

    fn date_faults(&self) -> impl Iterator<Item = String> {
        self.dates.iter().enumerate().filter_map(|(at, own)| {
            let twice = self.dates.iter().take(at).any(|d| d.date == own.date);
            if twice {
                Some(format!("`{}` stands twice in `dates`", own.date.word()))
            } else {
                own.end_fault()
            }
        })
    }

    /// What is out of range, in words.
    pub fn faults(&self) -> Vec<String> {
        Self::THRESHOLDS
            .iter()
            .filter_map(|t| {
                let own = self.own(t.field)?;
                (!(t.least..=t.most).contains(&own)).then(|| {
                    format!("`{}` is {own}; {} to {} {} is the range", t.field, t.least, t.most, t.unit)
                })
            })
            .chain(self.labels.iter().filter_map(LabelLimits::fault))
            .chain(self.date_faults())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_threshold_has_a_default_in_its_range_and_a_source() {
        for t in Practice::THRESHOLDS {
            assert!((t.least..=t.most).contains(&t.default), "{}", t.field);
            assert!(t.source.len() > 8, "{}", t.field);
        }
    }

    #[test]
    fn an_own_date_may_be_any_day_and_one_that_says_nothing_is_a_fault() {
        let day = |text: &str| Some(text.parse::<DayOfYear>().unwrap());
        let own = |opens, closes| OwnDate { date: DateId::MainFlow, opens, closes };
        let mut practice = Practice::default();
        for (opens, closes) in [("04-01", "06-05"), ("12-20", "01-31"), ("10-01", "03-01")] {
            assert_eq!(practice.set_date(own(day(opens), day(closes))), Ok(()), "{opens} {closes}");
        }
        assert_eq!(practice.dates, [own(day("10-01"), day("03-01"))]);
        assert!(practice.faults().is_empty());
        practice.set_date(own(None, None)).unwrap();
        assert_eq!(practice, Practice::default());
        practice.dates = vec![own(None, day("08-20")), own(None, day("08-21")), own(None, None)];
        assert_eq!(practice.faults().len(), 2);
    }

    #[test]
    fn a_threshold_is_typed_in_either_unit_and_refused_with_its_range() {
        let of = |field: &str| Practice::THRESHOLDS.iter().find(|t| t.field == field).unwrap();
        let close = |a: Result<f64, String>, b: f64| assert!((a.unwrap() - b).abs() < 1e-9);
        close(of("mite_limit").parse("2,5", Units::Us), 2.5);
        close(of("capped_at").parse("85 %", Units::Us), 85.0);
        close(of("frames_from").parse("15 C", Units::Us), 59.0);
        close(of("frames_from").parse("10", Units::Metric), 50.0);
        close(of("winter_honey").parse("40 kg", Units::Us), 40.0 / 0.453_592_37);
        let refused = of("frames_from").parse("90", Units::Us).unwrap_err();
        assert!(refused.contains("45 to 70 F"), "{refused}");
        assert!(of("mite_limit").parse("two", Units::Us).is_err());
        assert!(of("mite_limit").parse("NaN", Units::Us).is_err());
        assert_eq!(of("frames_from").words(60.0, Units::Metric), "15.6 C");
    }

    #[test]
    fn a_threshold_is_set_within_its_range_only() {
        let mut practice = Practice::default();
        assert!(practice.set("mite_limit", Some(3.0)));
        assert!((practice.mite_limit() - 3.0).abs() < f64::EPSILON);
        assert!(!practice.set("mite_limit", Some(50.0)));
        assert!(!practice.set("no_such", Some(1.0)));
        assert!((practice.mite_limit() - 3.0).abs() < f64::EPSILON);
        assert!(practice.set("mite_limit", None));
        assert!((practice.mite_limit() - 2.0).abs() < f64::EPSILON);
    }
}
