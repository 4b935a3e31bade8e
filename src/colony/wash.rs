//! Wash arithmetic: from what is counted in the jar to an infestation and its doubt.
//!
//! A wash is a sample. Three hundred bees of a colony of thirty thousand say much, but not all: every function here
//! gives its doubt beside its figure. Each bee is taken to carry one mite or none, which holds below about 20 %.

use statrs::distribution::{Beta, ContinuousCDF};

use crate::model::MiteCount;

/// Ends of a 95 % interval, in mites per hundred bees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// All that can be, where nothing is known.
    const ALL: Self = Self { low: 0.0, high: 100.0 };
}

/// Two-sided 95 % quantile of the normal distribution.
const Z95: f64 = 1.959_963_984_540_054;
/// Fewest bees a wash should have; under it a low count says little (extension wash guides, common practice).
pub const FEWEST_BEES: u16 = 200;
/// Hives to wash for a reading of a yard, whatever its size (Lee et al. 2010, J. Econ. Entomol. 103:1039-1050).
pub const YARD_HIVES: usize = 8;

/// Wilson's 95 % interval for a wash, in mites per hundred bees, within 0 to 100.
///
/// No bees: 0 to 100. Source: Wilson 1927, J. Am. Stat. Assoc. 22:209-212 (formula from memory; its values are held
/// to `scipy.stats` in `tests/published/`).
pub fn wilson(mites: u16, bees: u16) -> Interval {
    if bees == 0 {
        return Interval::ALL;
    }
    let n = f64::from(bees);
    let p = (f64::from(mites) / n).min(1.0);
    let z2 = Z95 * Z95;
    let centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    let half = Z95 / (1.0 + z2 / n) * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
    Interval { low: 100.0 * (centre - half).max(0.0), high: 100.0 * (centre + half).min(1.0) }
}

/// The exact 95 % interval of Clopper and Pearson, in mites per hundred bees: wider than Wilson's, never too narrow.
///
/// No bees: 0 to 100. Source: Clopper & Pearson 1934, Biometrika 26:404-413 (from memory; held to `scipy.stats`).
pub fn clopper_pearson(mites: u16, bees: u16) -> Interval {
    let (m, n) = (mites.min(bees), bees);
    if n == 0 {
        return Interval::ALL;
    }
    let (m, n) = (f64::from(m), f64::from(n));
    let quantile = |a: f64, b: f64, at: f64| Beta::new(a, b).map_or(f64::NAN, |beta| beta.inverse_cdf(at));
    let low = if m == 0.0 { 0.0 } else { quantile(m, n - m + 1.0, 0.025) };
    let high = if m >= n { 1.0 } else { quantile(m + 1.0, n - m, 0.975) };
    Interval { low: 100.0 * low, high: 100.0 * high }
}

/// Chance, 0 to 1, that the true rate is above a limit in mites per hundred bees, given the wash alone.
///
/// Jeffreys' prior, Beta(1/2, 1/2); no bees: one half. `limit` below 0 or above 100 is taken as 0 or 100.
/// Source: Jeffreys' interval, Brown, Cai and others 2001, Statistical Science 16:101-133 (from memory).
pub fn chance_above(mites: u16, bees: u16, limit: f64) -> f64 {
    if bees == 0 {
        return 0.5;
    }
    let (m, n) = (f64::from(mites.min(bees)), f64::from(bees));
    let at = (limit / 100.0).clamp(0.0, 1.0);
    Beta::new(m + 0.5, n - m + 0.5).map_or(0.5, |beta| 1.0 - beta.cdf(at))
}

/// Chance, 0 to 1, that a wash of so many bees shows no mite although the true rate is `percent`.
///
/// Source: Oliver, American Bee Journal, April 2020: 0.99^100 is about 36 %.
pub fn chance_of_zero(percent: f64, bees: u16) -> f64 {
    (1.0 - (percent / 100.0).clamp(0.0, 1.0)).powi(i32::from(bees))
}

/// What a wash without a mite means, in words: the rate it cannot rule out.
pub fn zero_means(bees: u16) -> String {
    let high = clopper_pearson(0, bees).high;
    format!("no mite on {bees} bees is not none: up to {high:.1} % cannot be ruled out")
}

/// Several washes of one colony as one: mites and bees added. Counts past 65,535 stay there.
pub fn pooled(counts: &[MiteCount]) -> Option<MiteCount> {
    let last = counts.iter().max_by_key(|c| c.on)?;
    let (mites, bees) =
        counts.iter().fold((0u16, 0u16), |(m, b), c| (m.saturating_add(c.mites), b.saturating_add(c.bees)));
    Some(MiteCount { on: last.on, mites, bees })
}

/// What a wash says against a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Under the limit with its doubt.
    Under,
    /// Too few bees to say.
    TooFew,
    /// The count is under, but the true rate may well be over.
    MayBeOver,
    /// The count is over, but the true rate may be under.
    LikelyOver,
    /// Over the limit with its doubt.
    Over,
}

/// Chance of being over from which a count under the limit is called close to it.
const CLOSE: f64 = 0.25;

/// Reads a wash against a limit in mites per hundred bees.
pub fn read(count: &MiteCount, limit: f64) -> Reading {
    let over = chance_above(count.mites, count.bees, limit);
    if count.percent() > limit {
        if wilson(count.mites, count.bees).low > limit { Reading::Over } else { Reading::LikelyOver }
    } else if count.bees < FEWEST_BEES {
        Reading::TooFew
    } else if over > CLOSE {
        Reading::MayBeOver
    } else {
        Reading::Under
    }
}

/// A reading of a whole yard from washes of some of its hives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YardReading {
    /// Hives washed.
    pub washed: usize,
    /// Mean of the hives' rates, mites per hundred bees.
    pub mean: f64,
    /// Lowest and highest hive.
    pub range: Interval,
    /// Hives above the limit.
    pub above: usize,
    /// Whether enough hives were washed: eight, or all where there are fewer (Lee et al. 2010).
    pub is_enough: bool,
}

/// Reads a yard of so many hives; `None` without a wash.
///
/// The mean is of hives, not of bees: each colony counts once. It speaks for the yard and for none of its hives.
pub fn yard(counts: &[MiteCount], hives: usize, limit: f64) -> Option<YardReading> {
    let rates: Vec<f64> = counts.iter().map(MiteCount::percent).collect();
    let low = rates.iter().copied().reduce(f64::min)?;
    let high = rates.iter().copied().reduce(f64::max)?;
    Some(YardReading {
        washed: rates.len(),
        mean: rates.iter().sum::<f64>() / rates.len() as f64,
        range: Interval { low, high },
        above: rates.iter().filter(|r| **r > limit).count(),
        is_enough: rates.len() >= YARD_HIVES.min(hives),
    })
}

/// What a treatment did, from a wash before and one after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Efficacy {
    /// Percent of mites gone, below 0 where there are more than before.
    pub percent: f64,
    /// Ends of its 95 % interval, percent.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The efficacy seen between two washes; `None` where the first had no mite or either no bees.
///
/// The interval is that of the logarithm of the ratio of two rates, a half added to each count (Katz et al. 1978,
/// Biometrics 34:469-474, from memory). It says what happened, mites carried in from elsewhere included.
pub fn efficacy(before: &MiteCount, after: &MiteCount) -> Option<Efficacy> {
    if before.mites == 0 || before.bees == 0 || after.bees == 0 {
        return None;
    }
    let (m0, n0) = (f64::from(before.mites) + 0.5, f64::from(before.bees) + 0.5);
    let (m1, n1) = (f64::from(after.mites) + 0.5, f64::from(after.bees) + 0.5);
    let error = (1.0 / m1 - 1.0 / n1 + 1.0 / m0 - 1.0 / n0).max(0.0).sqrt();
    let log_ratio = ((m1 / n1) / (m0 / n0)).ln();
    let gone = |log: f64| 100.0 * (1.0 - log.exp());
    Some(Efficacy {
        percent: 100.0 * (1.0 - after.percent() / before.percent()),
        low: gone(log_ratio + Z95 * error),
        high: gone(log_ratio - Z95 * error),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use proptest::prelude::*;

    fn count(mites: u16, bees: u16) -> MiteCount {
        MiteCount { on: day("2026-08-01"), mites, bees }
    }

    #[test]
    fn a_wash_is_read_against_the_limit_with_its_doubt() {
        for (mites, reading) in [
            (0, Reading::Under),
            (4, Reading::Under),
            (5, Reading::MayBeOver),
            (6, Reading::MayBeOver),
            (7, Reading::LikelyOver),
            (10, Reading::LikelyOver),
            (11, Reading::Over),
            (40, Reading::Over),
        ] {
            assert_eq!(read(&count(mites, 300), 2.0), reading, "{mites}");
        }
        assert_eq!(read(&count(1, 199), 2.0), Reading::TooFew);
        assert_eq!(read(&count(1, 200), 2.0), Reading::Under);
        assert_eq!(
            read(&count(9, 100), 2.0),
            Reading::Over,
            "a high count in a small sample is a high count"
        );
    }

    #[test]
    fn washes_of_one_colony_are_added() {
        let all = [count(3, 300), count(5, 320), count(2, 280)];
        let pool = pooled(&all).unwrap();
        assert_eq!((pool.mites, pool.bees), (10, 900));
        assert_eq!(pooled(&[]), None);
    }

    #[test]
    fn a_yard_is_read_from_eight_hives_or_from_all() {
        let reading = yard(&[count(3, 300); 8], 40, 2.0).unwrap();
        assert!(reading.is_enough && reading.above == 0 && (reading.mean - 1.0).abs() < 1e-12);
        assert!(!yard(&[count(3, 300); 7], 40, 2.0).unwrap().is_enough);
        assert!(yard(&[count(9, 300); 3], 3, 2.0).unwrap().is_enough);
        assert_eq!(yard(&[], 3, 2.0), None);
    }

    #[test]
    fn efficacy_is_what_is_gone_and_doubts_small_counts() {
        let good = efficacy(&count(30, 300), &count(3, 300)).unwrap();
        assert!((good.percent - 90.0).abs() < 1e-9);
        assert!(good.low < 90.0 && good.low > 60.0 && good.high > 90.0);
        let vague = efficacy(&count(3, 300), &count(1, 300)).unwrap();
        assert!(vague.low < 0.0, "three mites before say little: {vague:?}");
        assert!(efficacy(&count(3, 300), &count(9, 300)).unwrap().percent < 0.0);
        assert_eq!(efficacy(&count(0, 300), &count(9, 300)), None);
    }

    #[test]
    fn more_mites_than_bees_and_no_bees_do_not_break_it() {
        assert!(wilson(500, 300).high <= 100.0);
        assert!((clopper_pearson(500, 300).high - 100.0).abs() < 1e-9);
        assert_eq!(wilson(0, 0), Interval::ALL);
        assert_eq!(clopper_pearson(0, 0), Interval::ALL);
        assert!((chance_above(0, 0, 2.0) - 0.5).abs() < 1e-12);
        assert!(zero_means(300).contains("1.2 %"));
    }

    proptest! {
        #[test]
        fn intervals_hold_the_estimate_and_narrow_with_more_bees(bees in 20u16..900, share in 0.0f64..0.3) {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let mites = (f64::from(bees) * share) as u16;
            let percent = 100.0 * f64::from(mites) / f64::from(bees);
            for interval in [wilson(mites, bees), clopper_pearson(mites, bees)] {
                prop_assert!(interval.low <= percent + 1e-9 && percent <= interval.high + 1e-9);
                prop_assert!(interval.low >= 0.0 && interval.high <= 100.0);
            }
            let (few, many) = (wilson(mites, bees), wilson(mites * 3, bees * 3));
            prop_assert!(many.high - many.low < few.high - few.low);
            let exact = clopper_pearson(mites, bees);
            prop_assert!(exact.high - exact.low >= few.high - few.low - 0.6);
        }

        #[test]
        fn the_chance_falls_as_the_limit_rises_and_rises_with_the_mites(
            mites in 0u16..60, bees in 100u16..500, limit in 0.1f64..10.0
        ) {
            let chance = chance_above(mites, bees, limit);
            prop_assert!((0.0..=1.0).contains(&chance));
            prop_assert!(chance_above(mites, bees, limit + 0.5) <= chance + 1e-12);
            prop_assert!(chance_above(mites + 1, bees, limit) >= chance - 1e-12);
        }
    }
}
