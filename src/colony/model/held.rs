//! How often the model's ranges held the counts of real colonies: measured, not hoped for.
//!
//! `tests/published/belief.rs` measures it anew on 177 splits (Aurell, Bruckner, Steury and Williams 2025, doi
//! 10.1093/jee/toaf126) and fails where it is not what is said here.

/// What a range held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// What was foretold.
    pub what: &'static str,
    /// Counts it was held to.
    pub of: usize,
    /// Of a hundred, how many lay in the range for half.
    pub half: f64,
    /// Of a hundred, how many lay in the range for nine in ten.
    pub nine_in_ten: f64,
    /// Of a hundred, how many lay over the middle.
    pub over: f64,
}

impl Held {
    /// For a line under a range for 9 in 10: `the next wash lay in it 95 times in 100 on 122 real splits`.
    pub fn words(&self) -> String {
        let Self { what, of, nine_in_ten, .. } = self;
        format!("{what} lay in it {nine_in_ten:.0} times in 100 on {of} real splits (Alabama, 2022)")
    }
}

/// The next wash, 38 days on.
pub const NEXT_WASH: Held =
    Held { what: "the next wash", of: 122, half: 55.0, nine_in_ten: 95.0, over: 52.0 };
/// Frames of bees, day 44 to 58 of a split.
pub const BEES_FROM_44: Held =
    Held { what: "frames of bees in two weeks", of: 143, half: 44.0, nine_in_ten: 88.0, over: 49.0 };
/// Frames of bees, day 58 to 72 of a split.
pub const BEES_FROM_58: Held =
    Held { what: "frames of bees in two weeks", of: 138, half: 65.0, nine_in_ten: 93.0, over: 41.0 };
/// Days to first eggs from a ripe cell.
pub const FIRST_EGGS: Held =
    Held { what: "the first eggs after a ripe cell", of: 165, half: 56.0, nine_in_ten: 92.0, over: 50.0 };
