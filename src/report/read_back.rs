//! What was understood of where a yard is, read back before it is kept: the place, the side of the equator, its dates.

use chrono::NaiveDate;

use super::place_words;
use crate::model::{Practice, Units, Yard};
use crate::season::{Calendar, DateId};
use crate::wording;

/// The place in words, and what its dates come to: a wrong sign or a swapped month shows here.
pub fn read_back(yard: &Yard, units: Units, today: NaiveDate) -> Vec<String> {
    let calendar = Calendar::of(yard, &Practice::default(), &[], today);
    let day = |id| wording::day(units, calendar.opens(id));
    let place = match (yard.place, yard.freezes) {
        (None, None) => "No place: the dates of 43 N, 86 W".to_owned(),
        _ => wording::capital(&place_words(yard, units)),
    };
    let side = match yard.hemisphere() {
        crate::model::Hemisphere::North => "northern",
        crate::model::Hemisphere::South => "southern",
    };
    let mut lines = vec![
        format!("{place} ({side} hemisphere)."),
        format!(
            "In an average year frames may be lifted from about {}, and the bees cluster from about {}.",
            day(DateId::FramesMayBeLifted),
            day(DateId::Cluster)
        ),
    ];
    if calendar.shift.is_guess() {
        lines.push(
            "This far from where the dates come from, they are a guess: freeze dates say more.".to_owned(),
        );
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Elevation, Place, YardId};

    #[test]
    fn a_wrong_sign_shows() {
        let on = |latitude, longitude| {
            let elevation = Elevation::from_metres(0.0);
            let place = Some(Place { latitude, longitude, elevation });
            let yard = Yard { place, ..Yard::named(YardId::new("Y")) };
            read_back(&yard, Units::Us, "2026-05-03".parse().unwrap()).join(" ")
        };
        let north = on(43.0, -86.0);
        assert!(north.starts_with("43 N, 86 W, 0 ft (northern hemisphere). In an average year"), "{north}");
        assert!(on(-43.0, 172.0).contains("southern"));
        assert!(on(43.0, 86.0).contains("86 E"));
    }
}
