//! How far a place's dates stand from the reference.
//!
//! Hopkins' bioclimatic law: events of spring come 4 days later for each degree of latitude north, each 5
//! degrees of longitude east and each 400 ft uphill; in autumn the reverse (A. D. Hopkins, The Bioclimatic Law,
//! Scientific Monthly; Monthly Weather Review Supplement 9, 1918). Freeze dates, where given, replace the law:
//! they are measured, it is a rule of thumb.

use crate::model::{DayOfYear, Elevation, FreezeDates, Hemisphere, Place, Units, Yard, trimmed};
use crate::wording;

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

/// Days beyond which the law is no guide for a place, even where it was drawn (our choice: three weeks).
pub(super) const LAW_HOLDS: i64 = 21;
/// Days beyond which dates are held: a guess by the law goes no further.
pub const FARTHEST: i64 = 35;
/// Days beyond which measured freeze dates are held: a year further off has another shape.
const FREEZES_HOLD: i64 = 60;
/// Longitudes of eastern North America, where the law was drawn, degrees east.
const DRAWN: std::ops::RangeInclusive<f64> = -100.0..=-52.0;
/// Latitudes of it, degrees north.
const DRAWN_NORTH: std::ops::RangeInclusive<f64> = 25.0..=60.0;
/// Days by which a guessed date may be wrong on either side (our choice).
const DOUBT: i64 = 28;

/// What the dates of a yard are moved by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Basis {
    /// Nothing: it has neither a place nor freeze dates.
    Nothing,
    /// Its place, by Hopkins' law.
    Place(Place),
    /// Its average freeze dates.
    Freezes(FreezeDates),
}

impl Basis {
    /// In words, to stand after a date: `0.2 degrees farther north, 130 ft higher (Hopkins' law)`.
    pub fn words(&self, units: Units) -> String {
        match self {
            Self::Nothing => "the reference date; this yard has no place".to_owned(),
            Self::Place(place) => place_words(*place, units),
            Self::Freezes(freezes) => {
                let [last, first] =
                    [freezes.last_spring, freezes.first_autumn].map(|day| wording::day_of_year(day, units));
                format!("by its average freeze dates, {last} and {first}")
            }
        }
    }
}

/// How a place differs from the reference, as far as the law takes it in.
fn place_words(place: Place, units: Units) -> String {
    let is_south = place.latitude < 0.0;
    let side = |by: f64, more: &str, less: &str| {
        let by = (by * 10.0).round() / 10.0;
        (by != 0.0).then(|| {
            let figure = trimmed(by.abs(), 1);
            let unit = if figure == "1" { "degree" } else { "degrees" };
            format!("{figure} {unit} {}", if by > 0.0 { more } else { less })
        })
    };
    let pole =
        if is_south { ["nearer the pole", "nearer the equator"] } else { ["farther north", "farther south"] };
    let up = (place.elevation.feet() - ELEVATION_FT).round();
    let height = || {
        let by = units.elevation(Elevation::from_feet(up.abs()));
        format!("{by} {}", if up > 0.0 { "higher" } else { "lower" })
    };
    let ways = [
        side(place.latitude.abs() - LATITUDE, pole[0], pole[1]),
        side(place.longitude - LONGITUDE, "east", "west").filter(|_| !is_south),
        (up != 0.0).then(height),
    ];
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    let law = if is_south { "Hopkins' law, half a year round" } else { "Hopkins' law" };
    if ways.is_empty() { format!("at the reference ({law})") } else { format!("{} ({law})", ways.join(", ")) }
}

/// Days by which a place's dates move.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// Spring dates come so many days later.
    pub spring: i64,
    /// Autumn dates come so many days earlier.
    pub autumn: i64,
    /// By what they move.
    pub basis: Basis,
    /// What is wanting for dates to rely on, in words.
    pub asks: Option<String>,
    /// Days by which its dates may be wrong on either side; 0 where they can be relied on.
    pub doubt: i64,
}

impl Shift {
    /// No shift: the reference dates.
    pub fn none() -> Self {
        Self {
            spring: 0,
            autumn: 0,
            basis: Basis::Nothing,
            asks: Some(
                "Give this yard a place or its average freeze dates: these are the dates of 43 N, 86 W, 650 ft."
                    .to_owned(),
            ),
            doubt: 0,
        }
    }

    /// Whether its dates are a guess, by which no deadline is set.
    pub fn is_guess(&self) -> bool {
        self.doubt > 0
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
    /// Outside eastern North America, and beyond three weeks, what comes out is a guess: freeze dates are asked for.
    /// Beyond [`FARTHEST`] days the guess is held there.
    pub fn by_place(place: Place) -> Self {
        let south = place.latitude < 0.0;
        let pole = place.latitude.abs() - LATITUDE;
        let east = if south { 0.0 } else { place.longitude - LONGITUDE };
        let up = place.elevation.feet() - ELEVATION_FT;
        let days = whole(4.0 * pole + 0.8 * east + up / 100.0);
        let held = days.clamp(-FARTHEST, FARTHEST);
        let is_drawn = DRAWN.contains(&place.longitude) && DRAWN_NORTH.contains(&place.latitude);
        let is_far = days.abs() > LAW_HOLDS;
        let asks = (!is_drawn || is_far).then(|| {
            let why = if is_drawn {
                format!("this place is {days:+} days from the reference, and the law of dates is a guide within {LAW_HOLDS}")
            } else {
                "the law of dates was drawn for eastern North America".to_owned()
            };
            format!(
                "The dates of this yard are not known: {why}. Give its average last spring and first autumn freeze, and \
                 the first and last day of its flow."
            )
        });
        let doubt = if asks.is_some() { DOUBT } else { 0 };
        Self { spring: held, autumn: held, basis: Basis::Place(place), asks, doubt }
    }

    /// By average freeze dates, half a year round where they are of the south.
    pub fn by_freezes(freezes: FreezeDates) -> Self {
        let (last, first) = match freezes.hemisphere() {
            Hemisphere::North => (LAST_SPRING, FIRST_AUTUMN),
            Hemisphere::South => (LAST_SPRING.half_a_year_on(), FIRST_AUTUMN.half_a_year_on()),
        };
        let spring = freezes.last_spring.days_from(last);
        let autumn = -freezes.first_autumn.days_from(first);
        let hold = |days: i64| days.clamp(-FREEZES_HOLD, FREEZES_HOLD);
        let far = hold(spring) != spring || hold(autumn) != autumn;
        Self {
            spring: hold(spring),
            autumn: hold(autumn),
            basis: Basis::Freezes(freezes),
            asks: far.then(|| {
                format!(
                    "By its freeze dates spring is {spring:+} and autumn {autumn:+} days from the reference year, which \
                     fits within {FREEZES_HOLD}; dates are held there. Set this place's own dates in practice."
                )
            }),
            doubt: 0,
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
            assert_eq!(shift.is_guess(), lat < 0.0);
        }
    }

    #[test]
    fn freeze_dates_say_more_than_a_place() {
        let yard = |place, freezes| Yard {
            name: crate::model::YardId::new("Y"),
            formerly: Vec::new(),
            place,
            freezes,
            flows: Vec::new(),
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
        let arctic = Shift::by_freezes(freezes("07-10", "08-01"));
        assert_eq!((arctic.spring, arctic.autumn), (60, 60));
        assert!(arctic.asks.unwrap().contains("spring is +66 and autumn +70"));
        let mild = Shift::by_freezes(freezes("03-25", "11-12"));
        assert_eq!((mild.spring, mild.autumn, mild.doubt, mild.asks), (-41, -33, 0, None));
    }

    #[test]
    fn the_law_is_used_where_it_was_drawn_and_within_three_weeks_and_else_it_says_that_it_guesses() {
        for (lat, lon, guess, days) in [
            (48.25, -86.0, false, 21),
            (48.5, -86.0, true, 22),
            (37.75, -86.0, false, -21),
            (34.0, -83.0, true, -34),
            (45.0, -99.5, false, -3),
            (45.0, -100.5, true, -4),
            (50.0, 9.0, true, 35),
            (0.0, -86.0, true, -35),
            (-43.0, 147.0, true, 0),
        ] {
            let shift = Shift::by_place(place(lat, lon, 650.0));
            assert_eq!((shift.is_guess(), shift.spring), (guess, days), "{lat} {lon}");
            assert_eq!(shift.asks.is_some_and(|asks| asks.contains("freeze")), guess, "{lat} {lon}");
        }
    }
}
