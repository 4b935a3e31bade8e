//! A figure to come, as five marks: what holds half and what holds nine in ten of what may be.

/// Quantiles of the normal distribution at 3 in 4 and at 19 in 20.
const Q75: f64 = 0.674_489_750_196_081_7;
const Q95: f64 = 1.644_853_626_951_472_2;

/// A figure to come. Half of all cases lie between `low` and `high`, nine in ten between `lowest` and `highest`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// 1 in 20 is under it.
    pub lowest: f64,
    /// 1 in 4 is under it.
    pub low: f64,
    /// As many over it as under it.
    pub middle: f64,
    /// 1 in 4 is over it.
    pub high: f64,
    /// 1 in 20 is over it.
    pub highest: f64,
}

impl Spread {
    /// The same with each of its figures changed, as into another unit.
    #[must_use]
    pub fn each(self, change: impl Fn(f64) -> f64) -> Self {
        Self {
            lowest: change(self.lowest),
            low: change(self.low),
            middle: change(self.middle),
            high: change(self.high),
            highest: change(self.highest),
        }
    }

    /// A figure whose logarithm is normal about that of `middle`, with a standard deviation of 0 or more.
    pub fn log_normal(middle: f64, sd: f64) -> Self {
        let at = |z: f64| middle * (z * sd).exp();
        Self { lowest: at(-Q95), low: at(-Q75), middle, high: at(Q75), highest: at(Q95) }
    }

    /// The same, no mark over a bound.
    #[must_use]
    pub fn at_most(self, bound: f64) -> Self {
        self.each(|mark| mark.min(bound))
    }

    /// The same, every mark moved by so much, none under nothing.
    #[must_use]
    pub fn moved(self, by: f64) -> Self {
        self.each(|mark| (mark + by).max(0.0))
    }
}
