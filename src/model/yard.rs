//! A yard: a place with hives in their stand order.

use chrono::{Datelike, Months, NaiveDate};
use serde::{Deserialize, Serialize};

use super::hive::Hive;
use super::names::YardId;
use super::units::Elevation;

/// Where a yard is, for its season dates. None of it leaves the book.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Degrees north; south is negative.
    pub latitude: f64,
    /// Degrees east; west is negative.
    pub longitude: f64,
    /// Height above the sea.
    pub elevation: Elevation,
}

/// A day of the year, whatever the year: month and day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DayOfYear {
    month: u32,
    day: u32,
}

impl DayOfYear {
    /// `None` where no year has that day. 29 February is taken as a day only leap years have.
    pub fn new(month: u32, day: u32) -> Option<Self> {
        NaiveDate::from_ymd_opt(2024, month, day).map(|_| Self { month, day })
    }

    /// A day that is in every year, for tables in the program.
    pub(crate) const fn known(month: u32, day: u32) -> Self {
        Self { month, day }
    }

    /// The day of the year of a date.
    pub fn of(date: NaiveDate) -> Self {
        Self { month: date.month(), day: date.day() }
    }

    /// The day half a year on: 15 March becomes 15 September, and the last of a month stays within the next.
    #[must_use]
    pub fn half_a_year_on(self) -> Self {
        self.in_year(2025).and_then(|d| d.checked_add_months(Months::new(6))).map_or(self, Self::of)
    }

    /// Days from another day of the year to this one by the shorter way round: -182 to 182.
    pub fn days_from(self, other: Self) -> i64 {
        const YEAR: i64 = 365;
        let days = self
            .in_year(2025)
            .zip(other.in_year(2025))
            .map_or(0, |(a, b)| (a - b).num_days().rem_euclid(YEAR));
        if days > YEAR / 2 { days - YEAR } else { days }
    }

    /// The date of this day that lies nearest to another date.
    pub fn nearest(self, to: NaiveDate) -> NaiveDate {
        [-1, 0, 1]
            .into_iter()
            .filter_map(|step| self.in_year(to.year() + step))
            .min_by_key(|date| (*date - to).num_days().abs())
            .unwrap_or(to)
    }

    /// That day in a year; 29 February becomes 28 in a common year.
    pub fn in_year(self, year: i32) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(year, self.month, self.day)
            .or_else(|| NaiveDate::from_ymd_opt(year, self.month, self.day.saturating_sub(1)))
    }
}

impl std::fmt::Display for DayOfYear {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:02}-{:02}", self.month, self.day)
    }
}

impl std::str::FromStr for DayOfYear {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        text.split_once('-')
            .and_then(|(month, day)| Self::new(month.parse().ok()?, day.parse().ok()?))
            .ok_or_else(|| format!("`{text}` is not a day of the year: write month and day, such as `05-09`"))
    }
}

impl Serialize for DayOfYear {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for DayOfYear {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?.parse().map_err(serde::de::Error::custom)
    }
}

/// Average freeze dates of a place, as a weather service gives them for 32 F (0 C).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FreezeDates {
    /// The average last freeze of spring.
    pub last_spring: DayOfYear,
    /// The average first freeze of autumn.
    pub first_autumn: DayOfYear,
}

/// A flow of nectar at a place, from a day of the year to another; it may run over the turn of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flow {
    /// First day.
    pub opens: DayOfYear,
    /// Last day.
    pub closes: DayOfYear,
}

impl std::fmt::Display for Flow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} to {}", self.opens, self.closes)
    }
}

/// Reads flows as a keeper types them: `06-10 to 07-31`, several with commas between; none in an empty text.
///
/// # Errors
/// Says which cannot be read, and how it is written.
pub fn flows_from(text: &str) -> Result<Vec<Flow>, String> {
    let spans = text.split(',').map(str::trim).filter(|span| !span.is_empty());
    spans
        .map(|span| {
            let ends = span.split_once(" to ").or_else(|| span.split_once('/'));
            let (opens, closes) = ends.ok_or_else(|| {
                format!("`{span}` is no flow: write its first and last day, as `06-10 to 07-31`")
            })?;
            Ok(Flow { opens: opens.trim().parse()?, closes: closes.trim().parse()? })
        })
        .collect()
}

/// A place with hives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Yard {
    /// Its name.
    pub name: YardId,
    /// Names it had before: visits to them are visits to it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub formerly: Vec<YardId>,
    /// Where it is; without it the reference dates hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// Its freeze dates, which say more than a place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezes: Option<FreezeDates>,
    /// Its flows of nectar as the keeper knows them, in the order of the year; without them the main flow of the reference
    /// holds, where that reaches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flows: Vec<Flow>,
    /// The keeper's words: the gate, the bull, the neighbor.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The hives in the order of their stands, as one walks.
    pub hives: Vec<Hive>,
}

/// On which side of the equator, and so at which end of the year the winter is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hemisphere {
    /// Winter about the turn of the year.
    North,
    /// Winter about the middle of the year.
    South,
}

impl Hemisphere {
    /// The month of a day, from 0, in the northern year: January for a July of the south.
    pub fn month0(self, day: NaiveDate) -> usize {
        let turn = match self {
            Self::North => 0,
            Self::South => 6,
        };
        (day.month0() as usize + turn) % 12
    }
}

impl FreezeDates {
    /// By the order of the two: in the north the last freeze of spring comes first in the year.
    pub fn hemisphere(&self) -> Hemisphere {
        if self.last_spring <= self.first_autumn { Hemisphere::North } else { Hemisphere::South }
    }
}

impl Yard {
    /// A yard of which only the name is known.
    pub fn named(name: YardId) -> Self {
        Self {
            name,
            formerly: Vec::new(),
            place: None,
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: Vec::new(),
        }
    }

    /// On which side of the equator, by its place, else by its freeze dates; north where neither is given.
    pub fn hemisphere(&self) -> Hemisphere {
        match (self.place, self.freezes) {
            (Some(place), _) if place.latitude < 0.0 => Hemisphere::South,
            (None, Some(freezes)) => freezes.hemisphere(),
            (Some(_), _) | (None, None) => Hemisphere::North,
        }
    }

    /// What cannot be about the yard itself, in words.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        if let Some(place) = self.place {
            if !(-90.0..=90.0).contains(&place.latitude) {
                faults.push(format!("latitude {} is not within -90 to 90 degrees", place.latitude));
            }
            if !(-180.0..=180.0).contains(&place.longitude) {
                faults.push(format!("longitude {} is not within -180 to 180 degrees", place.longitude));
            }
        }
        if let Some(freezes) = self.freezes
            && freezes.hemisphere() != self.hemisphere()
        {
            faults.push(format!(
                "a last freeze on {} and a first on {} belong to the other side of the equator than latitude {}",
                freezes.last_spring,
                freezes.first_autumn,
                self.place.map_or(0.0, |p| p.latitude)
            ));
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Elevation;

    #[test]
    fn the_side_of_the_equator_is_told_by_place_or_by_freeze_dates() {
        let yard = |latitude: Option<f64>, freezes: Option<(&str, &str)>| Yard {
            name: YardId::new("Y"),
            formerly: Vec::new(),
            place: latitude.map(|latitude| Place {
                latitude,
                longitude: 0.0,
                elevation: Elevation::default(),
            }),
            freezes: freezes.map(|(last, first)| FreezeDates {
                last_spring: last.parse().unwrap(),
                first_autumn: first.parse().unwrap(),
            }),
            flows: Vec::new(),
            note: String::new(),
            hives: Vec::new(),
        };
        let south = Some(("10-20", "04-25"));
        assert_eq!(yard(Some(-43.0), None).hemisphere(), Hemisphere::South);
        assert_eq!(yard(None, south).hemisphere(), Hemisphere::South);
        assert_eq!(yard(None, Some(("05-05", "10-10"))).hemisphere(), Hemisphere::North);
        assert_eq!(yard(None, None).hemisphere(), Hemisphere::North);
        assert!(yard(Some(-43.0), south).faults().is_empty());
        assert_eq!(yard(Some(43.0), south).faults().len(), 1);
    }

    #[test]
    fn flows_are_read_as_they_are_written() {
        let two = flows_from("06-10 to 07-31, 08-25 to 09-25").unwrap();
        assert_eq!(two.len(), 2);
        let words: Vec<String> = two.iter().map(ToString::to_string).collect();
        assert_eq!(flows_from(&words.join(", ")).unwrap(), two);
        assert_eq!(flows_from("  ").unwrap(), []);
        for bad in ["06-10", "06-10 to", "June to July", "06-10 to 13-40"] {
            assert!(flows_from(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_day_of_the_year_reads_and_refuses() {
        assert_eq!("05-09".parse::<DayOfYear>().unwrap().to_string(), "05-09");
        for bad in ["13-01", "02-30", "May 9", "0509", ""] {
            assert!(bad.parse::<DayOfYear>().is_err(), "{bad}");
        }
        let (june, december) = (DayOfYear::new(6, 10).unwrap(), DayOfYear::new(12, 10).unwrap());
        assert_eq!(june.half_a_year_on(), december);
        assert_eq!(DayOfYear::new(8, 31).unwrap().half_a_year_on(), DayOfYear::new(2, 28).unwrap());
        assert_eq!(DayOfYear::new(1, 5).unwrap().days_from(DayOfYear::new(12, 30).unwrap()), 6);
        assert_eq!(DayOfYear::new(12, 30).unwrap().days_from(DayOfYear::new(1, 5).unwrap()), -6);
        assert_eq!(december.nearest("2026-01-05".parse().unwrap()).to_string(), "2025-12-10");
        let leap = DayOfYear::new(2, 29).unwrap();
        assert_eq!(leap.in_year(2026).unwrap().to_string(), "2026-02-28");
        assert_eq!(leap.in_year(2028).unwrap().to_string(), "2028-02-29");
    }
}
