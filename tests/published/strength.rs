//! Frames, bees and cells.

use yardwalk::colony::strength::{DEEP_SIDE_IN2, FrameSize, bees, brood_cells, cells_per_dm2, eggs_a_day};
use yardwalk::model::Depth;

use super::close;

/// A colony-grading page: ten deep frames are 2,700 square inches on all sides; 23.6 worker cells a square inch.
#[test]
fn a_deep_side_holds_3186_cells() {
    close(DEEP_SIDE_IN2 * 20.0, 2_700.0, 1e-9);
    close(DEEP_SIDE_IN2 * 23.6, 3_186.0, 1e-9);
    let cells = brood_cells(1.0, FrameSize::Inch(Depth::Deep));
    close(cells.mid / 0.80, 2.0 * 3_186.0, 1.0);
}

/// Hexagon geometry: 11,547 / X2 cells a square decimetre of one side; a cell-size page citing Zander 1941 prints 803 for
/// both sides at 5.37 mm.
#[test]
fn cells_a_square_decimetre_follow_from_their_width() {
    close(cells_per_dm2(5.4), 396.0, 0.5);
    close(cells_per_dm2(5.37), 400.0, 0.6);
    close(2.0 * cells_per_dm2(5.37), 803.0, 3.0);
}

/// Twelve days sealed: 18,000 sealed cells are 1,500 eggs a day (worked).
#[test]
fn sealed_brood_says_what_she_laid() {
    close(eggs_a_day(18_000.0), 1_500.0, 1e-9);
}

/// Two trade pages, which disagree: 2,000 and 3,000 bees on a full deep frame.
#[test]
fn the_range_of_a_deep_frame_is_that_of_the_pages() {
    let frame = bees(1.0, FrameSize::Inch(Depth::Deep));
    close(frame.low, 2_000.0, 1e-9);
    close(frame.high, 3_000.0, 1e-9);
}

/// From memory, not opened: Burgett & Burikam 1985, J. Econ. Entomol. 78:1154-1156: 2,430 bees on a deep frame.
#[test]
fn the_middle_of_a_deep_frame_is_from_memory() {
    close(bees(1.0, FrameSize::Inch(Depth::Deep)).mid, 2_430.0, 1e-9);
}
