//! How far a place's dates stand from the reference.
//!
//! Hopkins' bioclimatic law: events of spring come 4 days later for each degree of latitude north, each 5
//! degrees of longitude east and each 400 ft uphill; in autumn the reverse (A. D. Hopkins, The Bioclimatic Law,
//! Scientific Monthly; Monthly Weather Review Supplement 9, 1918). Freeze dates, where given, replace the law:
//! they are measured, it is a rule of thumb.

use crate::model::{FreezeDates, Place, Yard};
use chrono::NaiveDate;

/// Latitude of the reference place, degrees north.
pub const LATITUDE: f64 = 43.0;
/// Longitude of the reference place, degrees east.
pub const LONGITUDE: f64 = -86.0;
/// Height of the reference place, feet.
pub const ELEVATION_FT: f64 = 650.0;

/// Average last spring freeze at the reference place (from memory of station normals near 43 N; not opened).
const LAST_SPRING: (u32, u32) = (5, 5);
/// Average first autumn freeze at the reference place (from memory of station normals near 43 N; not opened).
const FIRST_AUTUMN: (u32, u32) = (10, 10);

/// Beyond this many days the law is out of its depth.
pub const FARTHEST: i64 = 35;

/// Days by which a place's dates move.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shift {
    /// Spring dates come so many days later.
    pub spring: i64,
    /// Autumn dates come so many days earlier.
    pub autumn: i64,
    /// From what, in words.
    pub from: String,
}

impl Shift {
    /// No shift: the reference dates.
    pub fn none() -> Self {
        Self { spring: 0, autumn: 0, from: "the reference dates; this yard has no place".to_owned() }
    }

    /// The shift of a yard: by its freeze dates, else its place, else none.
    pub fn of(yard: &Yard) -> Self {
        match (yard.freezes, yard.place) {
            (Some(freezes), _) => Self::by_freezes(freezes),
            (None, Some(place)) => Self::by_place(place),
            (None, None) => Self::none(),
        }
    }

    /// By Hopkins' law.
    pub fn by_place(place: Place) -> Self {
        let north = place.latitude - LATITUDE;
        let east = place.longitude - LONGITUDE;
        let up = place.elevation.feet() - ELEVATION_FT;
        let days = whole(4.0 * north + 0.8 * east + up / 100.0);
        Self {
            spring: days,
            autumn: days,
            from: format!(
                "place: {north:+.1} degrees north, {east:+.1} east, {up:+.0} ft of the reference (Hopkins' law)"
            ),
        }
    }

    /// By average freeze dates.
    pub fn by_freezes(freezes: FreezeDates) -> Self {
        let days = |day: Option<NaiveDate>, (month, on): (u32, u32)| {
            day.zip(NaiveDate::from_ymd_opt(2025, month, on)).map_or(0, |(a, b)| (a - b).num_days())
        };
        Self {
            spring: days(freezes.last_spring.in_year(2025), LAST_SPRING),
            autumn: -days(freezes.first_autumn.in_year(2025), FIRST_AUTUMN),
            from: format!(
                "average freeze dates: last {}, first {}",
                freezes.last_spring, freezes.first_autumn
            ),
        }
    }

    /// Whether the shift is more than the rule of thumb supports: freeze dates should be given.
    pub fn is_far(&self) -> bool {
        self.spring.abs() > FARTHEST || self.autumn.abs() > FARTHEST
    }
}

/// Nearest whole day; bounded, so that no place on earth leaves the year.
#[allow(clippy::cast_possible_truncation, reason = "clamped to half a year")]
fn whole(days: f64) -> i64 {
    days.round().clamp(-183.0, 183.0) as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Elevation;

    fn place(latitude: f64, longitude: f64, feet: f64) -> Place {
        Place { latitude, longitude, elevation: Elevation::from_feet(feet) }
    }

    /// Hopkins' constants, one at a time, then together: 3 N + 5 E + 400 ft are 12 + 4 + 4 days.
    #[test]
    fn the_law_moves_four_days_a_step() {
        let cases = [
            ((43.0, -86.0, 650.0), 0),
            ((44.0, -86.0, 650.0), 4),
            ((43.0, -81.0, 650.0), 4),
            ((43.0, -86.0, 1050.0), 4),
            ((46.0, -81.0, 1050.0), 20),
            ((43.0, -96.0, 650.0), -8),
            ((40.0, -86.0, 650.0), -12),
        ];
        for ((lat, lon, feet), days) in cases {
            let shift = Shift::by_place(place(lat, lon, feet));
            assert_eq!((shift.spring, shift.autumn), (days, days), "{lat} {lon} {feet}");
        }
    }

    #[test]
    fn freeze_dates_say_more_than_a_place() {
        let yard = |place, freezes| Yard {
            name: crate::model::YardId::new("Y"),
            place,
            freezes,
            note: String::new(),
            hives: Vec::new(),
        };
        let freezes =
            FreezeDates { last_spring: "05-15".parse().unwrap(), first_autumn: "09-30".parse().unwrap() };
        let shift = Shift::of(&yard(Some(place(43.0, -86.0, 650.0)), Some(freezes)));
        assert_eq!((shift.spring, shift.autumn), (10, 10));
        assert_eq!(Shift::of(&yard(None, None)), Shift::none());
    }

    #[test]
    fn far_from_the_reference_the_law_says_so() {
        assert!(!Shift::by_place(place(51.75, -86.0, 650.0)).is_far());
        assert!(Shift::by_place(place(52.0, -86.0, 650.0)).is_far());
        assert!(Shift::by_place(place(-43.0, 172.0, 0.0)).is_far());
    }
}
