//! How far a place's dates stand from the reference.
//!
//! Hopkins' bioclimatic law: events of spring come 4 days later for each degree of latitude north, each 5
//! degrees of longitude east and each 400 ft uphill; in autumn the reverse (A. D. Hopkins, The Bioclimatic Law,
//! Scientific Monthly; Monthly Weather Review Supplement 9, 1918). Freeze dates, where given, replace the law:
//! they are measured, it is a rule of thumb.

use crate::model::{DayOfYear, FreezeDates, Hemisphere, Place, Yard};

/// Latitude of the reference place, degrees north.
pub const LATITUDE: f64 = 43.0;
/// Longitude of the reference place, degrees east.
pub const LONGITUDE: f64 = -86.0;
/// Height of the reference place, feet.
pub const ELEVATION_FT: f64 = 650.0;

/// Average last spring freeze at the reference place (from memory of station normals near 43 N; not opened).
const LAST_SPRING: DayOfYear = DayOfYear::known(5, 5);
/// Average first autumn freeze at the reference place (from memory of station normals near 43 N; not opened).
const FIRST_AUTUMN: DayOfYear = DayOfYear::known(10, 10);

/// Days beyond which neither the law nor the reference year is good for a place; dates are held there.
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
    /// What is wanting for dates to rely on, in words.
    pub asks: Option<String>,
}

impl Shift {
    /// No shift: the reference dates.
    pub fn none() -> Self {
        Self {
            spring: 0,
            autumn: 0,
            from: "the reference dates; this yard has no place".to_owned(),
            asks: Some(
                "Give this yard a place or its average freeze dates: these are the dates of 43 N, 86 W, 650 ft."
                    .to_owned(),
            ),
        }
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
    ///
    /// South of the equator only latitude and height are taken: the law's longitudes were drawn for North America.
    /// Beyond [`FARTHEST`] days the dates are held there, and freeze dates are asked for.
    pub fn by_place(place: Place) -> Self {
        let south = place.latitude < 0.0;
        let pole = place.latitude.abs() - LATITUDE;
        let east = if south { 0.0 } else { place.longitude - LONGITUDE };
        let up = place.elevation.feet() - ELEVATION_FT;
        let days = whole(4.0 * pole + 0.8 * east + up / 100.0);
        let held = days.clamp(-FARTHEST, FARTHEST);
        let from = if south {
            format!(
                "place: {pole:+.1} degrees toward the pole, {up:+.0} ft of the reference (Hopkins' law, half a year round)"
            )
        } else {
            format!(
                "place: {pole:+.1} degrees north, {east:+.1} east, {up:+.0} ft of the reference (Hopkins' law)"
            )
        };
        let asks = if held != days {
            Some(format!(
                "By Hopkins' law this place is {days:+} days from the reference, more than the {FARTHEST} it is good \
                 for; dates are held there. Give this yard's average last spring and first autumn freeze dates."
            ))
        } else if south {
            Some(
                "South of the equator the law was never drawn: give this yard's average last spring and first autumn \
                 freeze dates."
                    .to_owned(),
            )
        } else {
            None
        };
        Self { spring: held, autumn: held, from, asks }
    }

    /// By average freeze dates, half a year round where they are of the south.
    pub fn by_freezes(freezes: FreezeDates) -> Self {
        let (last, first) = match freezes.hemisphere() {
            Hemisphere::North => (LAST_SPRING, FIRST_AUTUMN),
            Hemisphere::South => (LAST_SPRING.half_a_year_on(), FIRST_AUTUMN.half_a_year_on()),
        };
        let spring = freezes.last_spring.days_from(last);
        let autumn = -freezes.first_autumn.days_from(first);
        let hold = |days: i64| days.clamp(-FARTHEST, FARTHEST);
        let far = hold(spring) != spring || hold(autumn) != autumn;
        Self {
            spring: hold(spring),
            autumn: hold(autumn),
            from: format!(
                "average freeze dates: last {}, first {}",
                freezes.last_spring, freezes.first_autumn
            ),
            asks: far.then(|| {
                format!(
                    "By its freeze dates spring is {spring:+} and autumn {autumn:+} days from the reference year, which \
                     fits within {FARTHEST}; dates are held there. Set this place's own dates in practice."
                )
            }),
        }
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

    /// Hopkins' constants, one at a time, then together, by hand: 4 days a degree of latitude, 4 per 5 degrees of
    /// longitude, 4 per 400 ft (A. D. Hopkins, The Bioclimatic Law, Scientific Monthly). Places are invented points.
    #[test]
    fn the_law_moves_four_days_a_step() {
        let cases = [
            ((43.0, -86.0, 650.0), 0),
            ((44.0, -86.0, 650.0), 4),
            ((43.0, -81.0, 650.0), 4),
            ((43.0, -86.0, 1050.0), 4),
            // 12 + 4 + 4.
            ((46.0, -81.0, 1050.0), 20),
            ((43.0, -96.0, 650.0), -8),
            ((40.0, -86.0, 650.0), -12),
            ((43.0, -86.0, 250.0), -4),
            // 16 - 8 + 9.5, to the nearest day.
            ((47.0, -96.0, 1600.0), 18),
            // -20 + 8 + 0.
            ((38.0, -76.0, 650.0), -12),
            // South: latitude and height alone. 43 S is as 43 N; 46 S is 12; 38 S at 1,050 ft is -20 + 4.
            ((-43.0, 172.0, 650.0), 0),
            ((-46.0, 170.0, 650.0), 12),
            ((-38.0, 145.0, 1050.0), -16),
        ];
        for ((lat, lon, feet), days) in cases {
            let shift = Shift::by_place(place(lat, lon, feet));
            assert_eq!((shift.spring, shift.autumn), (days, days), "{lat} {lon} {feet}");
            assert_eq!(shift.asks.is_some(), lat < 0.0, "{lat} {lon} {feet}");
        }
    }

    #[test]
    fn freeze_dates_say_more_than_a_place() {
        let yard = |place, freezes| Yard {
            name: crate::model::YardId::new("Y"),
            formerly: Vec::new(),
            place,
            freezes,
            note: String::new(),
            hives: Vec::new(),
        };
        let freezes = |last: &str, first: &str| FreezeDates {
            last_spring: last.parse().unwrap(),
            first_autumn: first.parse().unwrap(),
        };
        let shift = Shift::of(&yard(Some(place(43.0, -86.0, 650.0)), Some(freezes("05-15", "09-30"))));
        assert_eq!((shift.spring, shift.autumn, shift.asks), (10, 10, None));
        let south = Shift::of(&yard(Some(place(-43.0, 172.0, 0.0)), Some(freezes("10-26", "04-20"))));
        assert_eq!((south.spring, south.autumn, south.asks), (-10, -10, None));
        assert_eq!(Shift::of(&yard(None, None)), Shift::none());
        let arctic = Shift::by_freezes(freezes("06-20", "08-25"));
        assert_eq!((arctic.spring, arctic.autumn), (35, 35));
        assert!(arctic.asks.unwrap().contains("spring is +46 and autumn +46"));
    }

    #[test]
    fn far_from_the_reference_the_law_says_so_and_holds() {
        for (lat, lon, says) in [
            (51.75, -86.0, None),
            (52.0, -86.0, Some("+36 days")),
            (34.25, -86.0, None),
            (34.0, -86.0, Some("-36 days")),
            (48.0, 9.0, Some("+96 days")),
            (0.0, -86.0, Some("-172 days")),
            (-70.0, 0.0, Some("+108 days")),
        ] {
            let shift = Shift::by_place(place(lat, lon, 650.0));
            assert!(shift.spring.abs() <= FARTHEST);
            match (shift.asks, says) {
                (None, None) => {}
                (Some(asks), Some(says)) => assert!(asks.contains(says) && asks.contains("freeze"), "{asks}"),
                (asks, says) => panic!("{lat} {lon}: {asks:?} {says:?}"),
            }
        }
    }
}
