//! Sunrise, sunset and the daylight in which hives are worked.

use chrono::{FixedOffset, NaiveDate, NaiveDateTime, TimeDelta};
use solar_positioning::{Horizon, Location, SolarEvents};

use crate::model::Place;

/// The sun at a place on a day, by the clock of a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Daylight {
    /// It rises and sets.
    Rises(Light),
    /// It does not set.
    NeverSets,
    /// It does not rise.
    NeverRises,
}

/// When the sun is up, by the clock of a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Light {
    /// The upper edge of the sun comes over a level horizon.
    pub sunrise: NaiveDateTime,
    /// It goes under.
    pub sunset: NaiveDateTime,
}

impl Light {
    /// From when hives are worked: an hour after sunrise, when the bees fly (common practice, no single source).
    pub fn from(&self) -> NaiveDateTime {
        self.sunrise + MARGIN
    }

    /// To when: an hour before sunset, so that they are home and closed by dusk (common practice, no single source).
    pub fn to(&self) -> NaiveDateTime {
        self.sunset - MARGIN
    }
}

/// Seconds by which the earth's turning lags behind uniform time, now and for years to come near enough: 10 s change
/// sunrise by nothing one sees.
const DELTA_T: f64 = 69.0;

const MARGIN: TimeDelta = TimeDelta::hours(1);

/// Hours by which a clock may stand from the sun and still be the place's own: daylight saving and wide zones.
const OWN_CLOCK: f64 = 2.5;

/// The zone whose clock to show: the laptop's where it can be the place's, else the nominal one, 15 degrees an hour.
pub fn zone(place: &Place, laptop: FixedOffset) -> FixedOffset {
    let solar = place.longitude / 15.0;
    let apart = (f64::from(laptop.local_minus_utc()) / 3600.0 - solar + 12.0).rem_euclid(24.0) - 12.0;
    if apart.abs() <= OWN_CLOCK {
        return laptop;
    }
    #[allow(clippy::cast_possible_truncation, reason = "-12 to 12")]
    let hours = solar.round().clamp(-12.0, 12.0) as i32;
    FixedOffset::east_opt(hours * 3600).unwrap_or(laptop)
}

/// The sun at a place on a day, by the clock [`zone`] picks: the upper edge at a level horizon, by the NREL solar position
/// algorithm (Reda and Andreas 2004). A place that is none, or a year beyond the algorithm's, never rises.
pub fn daylight(place: &Place, day: NaiveDate, laptop: FixedOffset) -> Daylight {
    let clock = zone(place, laptop);
    let at = Location { latitude: place.latitude, longitude: place.longitude };
    let Ok(events) = SolarEvents::new().for_date(day, &clock, at, DELTA_T, Horizon::SunriseSunset) else {
        return Daylight::NeverRises;
    };
    match (events.rises.first(), events.sets.last()) {
        (Some(rise), Some(set)) if rise < set => {
            Daylight::Rises(Light { sunrise: rise.naive_local(), sunset: set.naive_local() })
        }
        // It sets after midnight, or rose before: light enough all day for bees.
        (Some(_), _) | (_, Some(_)) => Daylight::NeverSets,
        (None, None) if events.always_above() => Daylight::NeverSets,
        (None, None) => Daylight::NeverRises,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Elevation;
    use crate::model::testing::day;

    fn place(latitude: f64, longitude: f64) -> Place {
        Place { latitude, longitude, elevation: Elevation::default() }
    }

    fn hours(hours: i32) -> FixedOffset {
        FixedOffset::east_opt(hours * 3600).unwrap()
    }

    #[test]
    fn the_laptops_clock_is_taken_where_it_can_be_the_places_own() {
        for (laptop, longitude, zone_hours) in [
            (-4, -86.0, -4),
            (-5, -86.0, -5),
            (0, -86.0, -6),
            (13, 172.0, 13),
            (-5, 172.0, 11),
            (12, -179.0, 12),
        ] {
            assert_eq!(
                zone(&place(43.0, longitude), hours(laptop)),
                hours(zone_hours),
                "{laptop} {longitude}"
            );
        }
    }

    #[test]
    fn beyond_the_polar_circle_the_sun_stays_up_or_down() {
        assert_eq!(daylight(&place(75.0, 0.0), day("2026-06-21"), hours(0)), Daylight::NeverSets);
        assert_eq!(daylight(&place(75.0, 0.0), day("2026-12-21"), hours(0)), Daylight::NeverRises);
        assert_eq!(daylight(&place(-75.0, 0.0), day("2026-12-21"), hours(0)), Daylight::NeverSets);
    }

    #[test]
    fn hives_are_worked_from_an_hour_after_sunrise_to_an_hour_before_sunset() {
        let Daylight::Rises(light) = daylight(&place(43.0, -86.0), day("2026-05-03"), hours(-4)) else {
            panic!("it rises")
        };
        assert_eq!(light.from() - light.sunrise, TimeDelta::hours(1));
        assert_eq!(light.sunset - light.to(), TimeDelta::hours(1));
        assert_eq!(light.sunrise.date(), day("2026-05-03"));
        assert_eq!(light.sunset.date(), day("2026-05-03"));
    }
}
