//! Sun times against an astronomical library, both sides of the equator.

use chrono::FixedOffset;
use yardwalk::model::{Elevation, Place};
use yardwalk::season::{Daylight, daylight, zone};

use super::{close, day};

/// `sun_times.csv`, made by `sun_times.py` with `PyEphem`: within two minutes at every place and date (it is within half a minute).
#[test]
fn sunrise_and_sunset_are_those_of_a_reference_library_within_two_minutes() {
    let mut rows = 0;
    for line in include_str!("sun_times.csv").lines().skip(2) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        let place = Place { latitude: number(0), longitude: number(1), elevation: Elevation::default() };
        let date = day(cells[2]);
        let utc = FixedOffset::east_opt(0).unwrap();
        let Daylight::Rises(light) = daylight(&place, date, utc) else { panic!("{line}") };
        let clock = f64::from(zone(&place, utc).local_minus_utc()) / 60.0;
        let minutes = |when: chrono::NaiveDateTime| {
            (when - date.and_hms_opt(0, 0, 0).unwrap()).num_seconds() as f64 / 60.0 - clock
        };
        close(minutes(light.sunrise), number(3), 0.5);
        close(minutes(light.sunset), number(4), 0.5);
        rows += 1;
    }
    assert_eq!(rows, 64);
}

/// An equinox day is a few minutes over twelve hours anywhere, for the sun's edge counts and the air lifts it.
#[test]
fn an_equinox_day_is_a_little_over_twelve_hours() {
    for latitude in [-40.0, 0.0, 43.0] {
        let place = Place { latitude, longitude: 0.0, elevation: Elevation::default() };
        let utc = FixedOffset::east_opt(0).unwrap();
        let Daylight::Rises(light) = daylight(&place, day("2026-03-20"), utc) else { panic!() };
        close((light.sunset - light.sunrise).num_minutes() as f64, 728.0, 6.0);
    }
}
