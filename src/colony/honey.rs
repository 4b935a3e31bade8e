//! Honey: moisture from the refractometer, grades, ripeness, yield.

use crate::model::{Depth, HiveBox};

/// Water in honey, percent, from its refractive index at 20 C (1.4740 to 1.5100).
///
/// W = (-0.2681 - log10(n - 1)) / 0.002243 (Wedmore 1955, Bee World 36:197-206, from memory; its values are held to the
/// harmonised table of the International Honey Commission in `tests/published/`). Some reprints print 1.73190 for
/// -0.2681, a bar over the 1 lost. `None` outside the range.
pub fn moisture(index_at_20: f64) -> Option<f64> {
    (1.474..=1.510).contains(&index_at_20).then(|| (-0.2681 - (index_at_20 - 1.0).log10()) / 0.002_243)
}

/// The refractive index at 20 C of one read at another temperature, 10 to 40 C.
///
/// 0.00023 more for each degree above 20 (AOAC 969.38B and IHC 2009, from memory): 0.09 % of water a degree.
pub fn index_at_20(index: f64, celsius: f64) -> f64 {
    index + 0.00023 * (celsius.clamp(10.0, 40.0) - 20.0)
}

/// Water in honey, percent, from the Brix of a refractometer made for sugar, read at 20 C or corrected to it (74 to 87).
///
/// A sugar scale counts other solids as sugar: about 1.4 to 1.6 less than 100 is left as water (common practice, no
/// single source), so the figure is within half a percent. `None` outside the range.
pub fn moisture_from_brix(brix: f64) -> Option<f64> {
    (74.0..=87.0).contains(&brix).then_some(100.0 - brix - 1.5)
}

/// A grade by moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grade {
    /// US grade A and B: at most 18.6 % water.
    AOrB,
    /// US grade C, and the limit of EU and Codex: at most 20 %.
    C,
    /// Above: it will ferment, and may not be sold as honey.
    TooWet,
}

/// The grade a moisture allows.
///
/// Source: US Standards for Grades of Extracted Honey, 23 May 1985, 50 FR 15861; EU Directive 2001/110/EC and Codex
/// STAN 12-1981, 20 % (heather 23 %).
pub fn grade(moisture: f64) -> Grade {
    if moisture <= 18.6 {
        Grade::AOrB
    } else if moisture <= 20.0 {
        Grade::C
    } else {
        Grade::TooWet
    }
}

/// Whether honey may be pulled: capped enough, and not too wet where that was measured.
///
/// At least 80 % capped, or a dry shake (extension guides, from memory); a Czech veterinary handout says two thirds.
pub fn is_ripe(capped: f64, moisture: Option<f64>, capped_at: f64, moisture_to: f64) -> bool {
    match moisture {
        Some(water) => water <= moisture_to && capped >= capped_at.min(66.0),
        None => capped >= capped_at,
    }
}

/// Honey from a full super of such a box, pounds extracted, low and high: 3 to 5 lb a medium frame and 6 to 8 a deep one
/// gross, less 10 to 15 % for cappings (reference pages, which disagree; cappings common practice).
pub fn yield_pounds(each: &HiveBox, full_percent: f64) -> (f64, f64) {
    let (low, high) = match each.depth {
        Depth::Deep => (6.0, 8.0),
        Depth::Medium => (3.5, 5.0),
        Depth::Shallow => (2.5, 3.5),
    };
    let frames = f64::from(each.frames) * full_percent.clamp(0.0, 100.0) / 100.0;
    (frames * low * 0.85, frames * high * 0.90)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Role;
    use proptest::prelude::*;

    #[test]
    fn ripe_is_capped_and_dry() {
        assert!(is_ripe(80.0, None, 80.0, 18.6) && !is_ripe(79.9, None, 80.0, 18.6));
        assert!(is_ripe(70.0, Some(17.5), 80.0, 18.6) && !is_ripe(95.0, Some(18.7), 80.0, 18.6));
        assert!(!is_ripe(50.0, Some(17.5), 80.0, 18.6));
    }

    #[test]
    fn a_full_medium_super_gives_30_to_45_pounds() {
        let (low, high) = yield_pounds(&HiveBox::new(Depth::Medium, 10, Role::Super), 100.0);
        assert!((low - 29.75).abs() < 1e-9 && (high - 45.0).abs() < 1e-9);
        assert!((low..=high).contains(&40.0), "about 40 lb by the common figure of 4 lb a frame");
    }

    #[test]
    fn outside_the_instrument_nothing_is_said() {
        assert_eq!(moisture(1.33), None);
        assert_eq!(moisture(f64::NAN), None);
        assert_eq!(moisture_from_brix(50.0), None);
    }

    proptest! {
        #[test]
        fn a_denser_honey_is_drier(n in 1.475f64..1.509, more in 0.0001f64..0.001) {
            prop_assert!(moisture(n + more).unwrap() < moisture(n).unwrap());
        }
    }
}
