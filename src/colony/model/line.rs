//! A delay line: what goes in comes out so many days later.

/// Amounts by the day they went in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line<const DAYS: usize> {
    cells: [f64; DAYS],
    oldest: usize,
    sum: f64,
}

impl<const DAYS: usize> Line<DAYS> {
    /// The same amount on every day.
    pub(super) fn even(total: f64) -> Self {
        let total = total.max(0.0);
        Self { cells: [total / DAYS as f64; DAYS], oldest: 0, sum: total }
    }

    /// A day: an amount goes in, and the oldest comes out.
    pub(super) fn turn(&mut self, into: f64) -> f64 {
        let Some(cell) = self.cells.get_mut(self.oldest) else { return into };
        let out = std::mem::replace(cell, into);
        self.oldest = (self.oldest + 1) % DAYS;
        // Sums of many days drift by less than a cell; they never go under nothing.
        self.sum = (self.sum + into - out).max(0.0);
        out
    }

    /// All of it.
    pub(super) fn sum(&self) -> f64 {
        self.sum
    }

    /// Every amount times a factor of 0 or more.
    pub(super) fn scale(&mut self, by: f64) {
        for cell in &mut self.cells {
            *cell *= by;
        }
        self.sum = self.cells.iter().sum();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_goes_in_comes_out_after_its_days_and_no_sooner() {
        let mut line = Line::<12>::even(0.0);
        assert!(line.turn(5.0).abs() < 1e-12);
        let out: Vec<f64> = (0..12).map(|_| line.turn(0.0)).collect();
        assert_eq!(out.iter().filter(|n| **n > 0.0).count(), 1);
        assert!((out.last().unwrap() - 5.0).abs() < 1e-12);
        assert!(line.sum().abs() < 1e-9);
    }

    #[test]
    fn a_scaled_line_holds_its_share() {
        let mut line = Line::<9>::even(90.0);
        line.scale(0.5);
        assert!((line.sum() - 45.0).abs() < 1e-9);
        assert!((line.turn(0.0) - 5.0).abs() < 1e-9);
    }
}
