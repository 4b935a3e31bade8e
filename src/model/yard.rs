//! A yard: a place with hives in their stand order.

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
        chrono::NaiveDate::from_ymd_opt(2024, month, day).map(|_| Self { month, day })
    }

    /// That day in a year; 29 February becomes 28 in a common year.
    pub fn in_year(self, year: i32) -> Option<chrono::NaiveDate> {
        chrono::NaiveDate::from_ymd_opt(year, self.month, self.day)
            .or_else(|| chrono::NaiveDate::from_ymd_opt(year, self.month, self.day.saturating_sub(1)))
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

/// A place with hives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Yard {
    /// Its name.
    pub name: YardId,
    /// Where it is; without it the reference dates hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// Its freeze dates, which say more than a place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezes: Option<FreezeDates>,
    /// The keeper's words: the gate, the bull, the neighbour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The hives in the order of their stands, as one walks.
    pub hives: Vec<Hive>,
}

impl Yard {
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
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_of_the_year_reads_and_refuses() {
        assert_eq!("05-09".parse::<DayOfYear>().unwrap().to_string(), "05-09");
        for bad in ["13-01", "02-30", "May 9", "0509", ""] {
            assert!(bad.parse::<DayOfYear>().is_err(), "{bad}");
        }
        let leap = DayOfYear::new(2, 29).unwrap();
        assert_eq!(leap.in_year(2026).unwrap().to_string(), "2026-02-28");
        assert_eq!(leap.in_year(2028).unwrap().to_string(), "2028-02-29");
    }
}
