//! Strength: from frames looked at to bees and cells.
//!
//! Sources disagree on a full deep frame: 2,000 to 3,000 bees on both sides. The middle is Burgett & Burikam 1985,
//! J. Econ. Entomol. 78:1154-1156 (2,430, from memory), the ends two trade pages.

use crate::model::Depth;

/// A low, a middle and a high figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Low.
    pub low: f64,
    /// Most likely.
    pub mid: f64,
    /// High.
    pub high: f64,
}

impl Range {
    fn times(self, by: f64) -> Self {
        Self { low: self.low * by, mid: self.mid * by, high: self.high * by }
    }
}

/// Bees on both sides of one full deep frame.
pub const DEEP_FRAME: Range = Range { low: 2_000.0, mid: 2_430.0, high: 3_000.0 };
/// Comb on one side of a deep frame, square inches: ten frames are 2,700 in2 (colony-grading page).
pub const DEEP_SIDE_IN2: f64 = 135.0;
/// Worker cells a square inch: 23.6 (colony-grading page); most say about 25, which is the high figure.
pub const CELLS_PER_IN2: Range = Range { low: 23.6, mid: 23.6, high: 25.0 };
/// Share of cells in a frame with brood that hold it: 80 to 90 % in a good one (Delaplane et al. 2013, from memory).
pub const FILLED: Range = Range { low: 0.70, mid: 0.80, high: 0.90 };
/// Bees a pound, not fed (package practice, from memory).
pub const BEES_PER_POUND: f64 = 3_500.0;

/// Bees of a winter cluster that is large enough in a cold winter: 8 deep frames (extension guides, from memory).
pub const WINTER_FRAMES: f64 = 8.0;

/// A frame whose bees can be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FrameSize {
    /// The deep, medium or shallow frame of the inch-built hive.
    Inch(Depth),
    /// Dadant brood frame: 1,400 bees a full side (Imdorf & Gerig, Liebefeld course, from memory).
    Dadant,
    /// Swiss brood frame: 1,200 a side (same, little confidence).
    Swiss,
    /// Zander frame: 1,000 a side (same, little confidence).
    Zander,
}

impl FrameSize {
    /// Its comb as a share of a deep frame's.
    ///
    /// Medium 0.66 and shallow 0.55 by area; the metric ones by the bees of a full side, against 1,100 for the deep
    /// frame in the same course.
    pub fn deep_share(self) -> f64 {
        match self {
            Self::Inch(Depth::Deep) => 1.0,
            Self::Inch(Depth::Medium) => 0.66,
            Self::Inch(Depth::Shallow) => 0.55,
            Self::Dadant => 1_400.0 / 1_100.0,
            Self::Swiss => 1_200.0 / 1_100.0,
            Self::Zander => 1_000.0 / 1_100.0,
        }
    }
}

/// Bees on so many full frames. `frames` below 0 counts as 0.
pub fn bees(frames: f64, size: FrameSize) -> Range {
    DEEP_FRAME.times(frames.max(0.0) * size.deep_share())
}

/// Cells with brood on so many frames of brood, both sides.
pub fn brood_cells(frames: f64, size: FrameSize) -> Range {
    let comb = 2.0 * DEEP_SIDE_IN2 * frames.max(0.0) * size.deep_share();
    Range {
        low: comb * CELLS_PER_IN2.low * FILLED.low,
        mid: comb * CELLS_PER_IN2.mid * FILLED.mid,
        high: comb * CELLS_PER_IN2.high * FILLED.high,
    }
}

/// Worker cells in a square decimetre of one side of comb, from the width of a cell in millimeters (4 to 7).
///
/// A hexagon of width X covers X squared times root 3 over 2: 11,547 / X2 cells (geometry).
pub fn cells_per_dm2(width_mm: f64) -> f64 {
    10_000.0 / (width_mm.clamp(4.0, 7.0).powi(2) * 3f64.sqrt() / 2.0)
}

/// Eggs a day the queen has been laying, from sealed worker cells: they are sealed twelve days.
pub fn eggs_a_day(sealed_cells: f64) -> f64 {
    sealed_cells.max(0.0) / 12.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frames_count_by_their_comb() {
        let deep = bees(10.0, FrameSize::Inch(Depth::Deep));
        assert!((deep.low - 20_000.0).abs() < 1e-9 && (deep.high - 30_000.0).abs() < 1e-9);
        let medium = bees(1.0, FrameSize::Inch(Depth::Medium)).mid;
        assert!((medium - 1_603.8).abs() < 0.1, "about 1,600 by area ratio: {medium}");
        assert!(bees(1.0, FrameSize::Dadant).mid > bees(1.0, FrameSize::Zander).mid);
        assert!(bees(-3.0, FrameSize::Swiss).high.abs() < 1e-12);
    }

    #[test]
    fn brood_is_cells_less_those_left_empty() {
        let cells = brood_cells(1.0, FrameSize::Inch(Depth::Deep));
        assert!(cells.low < cells.mid && cells.mid < cells.high);
        assert!(
            (5_000.0..=6_500.0).contains(&cells.mid),
            "a sealed frame gives 5,000 to 6,500 bees: {cells:?}"
        );
    }
}
