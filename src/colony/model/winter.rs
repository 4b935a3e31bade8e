//! The chance to come through winter, by what a colony was in fall.

/// What of a colony's fall decides its winter.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Fall {
    /// Mites a hundred bees while the winter bees were raised, none before.
    pub(super) mites: Option<f64>,
    /// Frames of bees as it stopped laying, none before.
    pub(super) frames: Option<f64>,
    /// Whether its food ran out since.
    pub(super) starved: bool,
    /// Whether it had a queen then.
    pub(super) queenless: bool,
}

/// Untreated, mites a hundred bees rise by this from 25 August to mid-September (Vermont 2021 to 2023: 0.05 to 0.06 a day).
const FROM_AUGUST: f64 = 2.6;
/// Survival by the count of 25 August, 61 colonies of Vermont 2021: the logit at 1 %, and its fall for each e-fold (fitted by
/// us to 15 of 17, 4 of 9, 3 of 9, 3 of 8, 4 of 8 and 1 of 10).
const AT_ONE: f64 = 0.5;
const FOR_EACH: f64 = 0.9;
/// Frames of bees in fall at which half come through, and the width of the step (a guess).
const HALF_LIVE: f64 = 3.0;
const STEP: f64 = 0.9;

impl Fall {
    /// Chance, 0 to 1.
    pub(super) fn chance(&self) -> f64 {
        let logistic = |x: f64| 1.0 / (1.0 + (-x).exp());
        if self.starved {
            return 0.0;
        }
        let august = self.mites.unwrap_or(1.0).max(0.02) / FROM_AUGUST;
        let mites = logistic(AT_ONE - FOR_EACH * august.ln());
        let size = logistic((self.frames.unwrap_or(8.0) - HALF_LIVE) / STEP);
        let queen = if self.queenless { 0.1 } else { 1.0 };
        mites * size * queen
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// University of Vermont 2021/22, tabulated from the data: of 17 under 1 % on 25 August 15 lived, of 9 at 1 to 2 % 4, of 9
    /// at 2 to 3 % 3, of 8 at 3 to 5 % 3, of 8 at 5 to 10 % 4, of 10 over 10 % 1.
    #[test]
    fn survival_goes_with_the_count_of_late_august_as_in_vermont() {
        let at = |percent: f64| {
            Fall { mites: Some(percent * FROM_AUGUST), frames: Some(9.0), ..Fall::default() }.chance()
        };
        for (percent, lived, of) in
            [(0.5, 15, 17), (1.5, 4, 9), (2.5, 3, 9), (4.0, 3, 8), (7.0, 4, 8), (14.0, 1, 10)]
        {
            let (n, chance) = (f64::from(of), at(percent));
            let sd = (chance * (1.0 - chance) / n).sqrt();
            assert!((f64::from(lived) / n - chance).abs() < 2.3 * sd, "{percent} {chance}");
        }
    }

    #[test]
    fn fewer_bees_hunger_or_no_queen_make_it_less_likely() {
        let sound = Fall { mites: Some(1.0), frames: Some(9.0), ..Fall::default() };
        assert!(Fall { frames: Some(2.0), ..sound }.chance() < 0.5 * sound.chance());
        assert!(Fall { queenless: true, ..sound }.chance() < 0.5 * sound.chance());
        assert!(Fall { starved: true, ..sound }.chance() < 1e-9);
    }
}
