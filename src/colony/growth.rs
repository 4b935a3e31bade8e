//! Growth: when the nest will be full.

/// Frames of bees that hatch from one frame of mixed brood over the 21 days of a worker's making.
///
/// A full sealed deep frame gives 5,000 to 6,500 bees, 2 to 3 frames of them (Delaplane et al. 2013, from
/// memory); a frame with brood is seldom full, and half its cells are young.
const BEES_PER_BROOD: f64 = 1.6;

/// Share of the bees that dies in a day of the active season: mean life of about 38 days (Winston 1987, 15 to 38
/// in summer and 30 to 60 in spring, from memory).
const DEATHS: f64 = 1.0 / 38.0;

/// Frames of bees after so many days, brood held level. Never below zero.
pub fn bees_after(bees: f64, brood: f64, days: f64) -> f64 {
    // d(bees)/dt = hatching - deaths, solved.
    let hatching = brood.max(0.0) * BEES_PER_BROOD / 21.0;
    let level = hatching / DEATHS;
    (level + (bees.max(0.0) - level) * (-DEATHS * days.max(0.0)).exp()).max(0.0)
}

/// Days until so many frames are covered, within 60; `None` where it does not come to that.
pub fn days_until(bees: f64, brood: f64, frames: f64) -> Option<i64> {
    (0..=60).find(|day| bees_after(bees, brood, f64::from(*day)) >= frames).map(i64::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn eight_frames_of_bees_on_six_of_brood_fill_ten_within_the_month() {
        let days = days_until(8.0, 6.0, 10.0).unwrap();
        assert!((5..=14).contains(&days), "{days}");
        assert_eq!(days_until(10.0, 6.0, 10.0), Some(0));
        assert_eq!(days_until(3.0, 1.0, 10.0), None);
    }

    proptest! {
        #[test]
        fn more_bees_or_more_brood_never_means_fewer_bees_later(
            bees in 0.0f64..30.0, brood in 0.0f64..20.0, more in 0.0f64..5.0, days in 0.0f64..60.0
        ) {
            let now = bees_after(bees, brood, days);
            prop_assert!(now >= 0.0);
            prop_assert!(bees_after(bees + more, brood, days) >= now);
            prop_assert!(bees_after(bees, brood + more, days) >= now);
        }
    }
}
