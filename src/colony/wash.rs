//! Wash arithmetic: from what is counted in the jar to an infestation and its doubt.

use crate::model::MiteCount;

/// Ends of a 95 % interval, in mites per hundred bees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Two-sided 95 % quantile of the normal distribution.
const Z95: f64 = 1.959_963_984_540_054;

/// Wilson's 95 % interval for a wash, in mites per hundred bees, within 0 to 100.
///
/// It treats each bee as carrying a mite or none, which holds below about 20 %. No bees: 0 to 100.
/// Source: Wilson 1927, Journal of the American Statistical Association 22:209-212 (formula, from memory; the
/// values are checked against independent tables in the tests).
pub fn wilson(mites: u16, bees: u16) -> Interval {
    if bees == 0 {
        return Interval { low: 0.0, high: 100.0 };
    }
    let n = f64::from(bees);
    let p = (f64::from(mites) / n).min(1.0);
    let z2 = Z95 * Z95;
    let centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    let half = Z95 / (1.0 + z2 / n) * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
    Interval { low: 100.0 * (centre - half).max(0.0), high: 100.0 * (centre + half).min(1.0) }
}

/// What a wash says against a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Under the limit with its doubt.
    Under,
    /// The count is under, but the true rate may well be over.
    MayBeOver,
    /// The count is over, but the true rate may be under.
    LikelyOver,
    /// Over the limit with its doubt.
    Over,
}

/// Reads a wash against a limit in mites per hundred bees.
pub fn read(count: &MiteCount, limit: f64) -> Reading {
    let interval = wilson(count.mites, count.bees);
    if count.percent() > limit {
        if interval.low > limit { Reading::Over } else { Reading::LikelyOver }
    } else if interval.high > limit && count.percent() > 0.75 * limit {
        Reading::MayBeOver
    } else {
        Reading::Under
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Wilson limits computed from the formula by hand, two decimals.
    #[test]
    fn wilson_limits_match_the_worked_table() {
        for (mites, bees, low, high) in [
            (0, 300, 0.0, 1.26),
            (3, 300, 0.34, 2.90),
            (6, 300, 0.92, 4.29),
            (9, 300, 1.59, 5.60),
            (15, 300, 3.05, 8.08),
            (6, 100, 2.78, 12.48),
        ] {
            let interval = wilson(mites, bees);
            assert!((interval.low - low).abs() < 0.006, "{mites}/{bees} {interval:?}");
            assert!((interval.high - high).abs() < 0.006, "{mites}/{bees} {interval:?}");
        }
    }

    #[test]
    fn a_wash_is_read_against_the_limit_with_its_doubt() {
        let on = chrono::NaiveDate::default();
        for (mites, reading) in [
            (0, Reading::Under),
            (4, Reading::Under),
            (5, Reading::MayBeOver),
            (6, Reading::MayBeOver),
            (7, Reading::LikelyOver),
            (10, Reading::LikelyOver),
            (11, Reading::Over),
            (12, Reading::Over),
            (40, Reading::Over),
        ] {
            assert_eq!(read(&MiteCount { on, mites, bees: 300 }, 2.0), reading, "{mites}");
        }
    }

    #[test]
    fn more_mites_than_bees_and_no_bees_do_not_break_it() {
        assert!(wilson(500, 300).high <= 100.0);
        assert_eq!(wilson(0, 0), Interval { low: 0.0, high: 100.0 });
    }
}
