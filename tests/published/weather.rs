//! Lifting, weather limits and the shift of the seasons.

use yardwalk::model::{Elevation, Mass, Place, Practice};
use yardwalk::season::{ELEVATION_FT, LATITUDE, LONGITUDE, Shift};

use super::close;

/// NIOSH 94-110 (revised 2021): 51 lb is the load constant; OSHA's example: an 80 lb box is about 1.6 times it.
#[test]
fn a_full_deep_is_over_the_lifting_limit() {
    let (constant, full) = (Mass::from_pounds(51.0), Mass::from_pounds(80.0));
    close(full.pounds() / constant.pounds(), 1.57, 0.01);
    close(full.pounds() / constant.pounds(), 1.6, 0.05);
    close(constant.kilograms(), 23.0, 0.2);
}

/// A trade page: full inspection from 60 F (15 C); FAQ pages: a quick look from 50 F (10 C).
#[test]
fn frames_are_lifted_from_60_fahrenheit() {
    close(Practice::default().frames_from(), 60.0, 0.0);
    close(Practice::default().lid_from(), 50.0, 0.0);
}

/// Hopkins' law as printed in 1938 and in the Scientific Monthly: 4 days a degree of latitude, 4 a 5 degrees of longitude
/// east, 4 a 400 ft. Worked by hand from it, no printed example found: 3 N, 5 E and 400 ft are 20 days; 10 W is 8 earlier.
#[test]
fn the_seasons_shift_by_hopkins_law() {
    for (north, east, feet, days) in [
        (1.0, 0.0, 0.0, 4),
        (0.0, 5.0, 0.0, 4),
        (0.0, 0.0, 400.0, 4),
        (3.0, 5.0, 400.0, 20),
        (0.0, -10.0, 0.0, -8),
        (-3.0, 0.0, 0.0, -12),
    ] {
        let place = Place {
            latitude: LATITUDE + north,
            longitude: LONGITUDE + east,
            elevation: Elevation::from_feet(ELEVATION_FT + feet),
        };
        assert_eq!(Shift::by_place(place).spring, days, "{north} {east} {feet}");
    }
}
