//! Chance that comes again: the same seed gives the same draws on every machine.

/// A stream of draws (splitmix64, Steele, Lea and Flood 2014, from memory).
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    /// The stream of a seed.
    pub fn of(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to below 1, even.
    pub fn even(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Whether something of this chance happens.
    pub fn happens(&mut self, chance: f64) -> bool {
        self.even() < chance
    }

    /// Normal, by the sum of twelve (within 6 standard deviations).
    pub fn normal(&mut self, mean: f64, sd: f64) -> f64 {
        let sum: f64 = (0..12).map(|_| self.even()).sum();
        mean + sd * (sum - 6.0)
    }

    /// A factor about 1 whose logarithm has this standard deviation.
    pub fn factor(&mut self, sd: f64) -> f64 {
        self.normal(0.0, sd).exp()
    }

    /// How many of so many happen: exact for few, normal for many.
    pub fn count(&mut self, of: u32, chance: f64) -> u32 {
        let chance = chance.clamp(0.0, 1.0);
        if of <= 400 {
            return (0..of).map(|_| u32::from(self.happens(chance))).sum();
        }
        let of = f64::from(of);
        let drawn = self.normal(of * chance, (of * chance * (1.0 - chance)).sqrt()).round().clamp(0.0, of);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the count")]
        let whole = drawn as u32;
        whole
    }

    /// A gamma draw of a shape of 0.02 and more and a scale of 1 (Marsaglia and Tsang 2000, from memory).
    pub fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            return self.gamma(shape + 1.0) * self.even().max(1e-12).powf(1.0 / shape.max(0.02));
        }
        let d = shape - 1.0 / 3.0;
        let c = 1.0 / (9.0 * d).sqrt();
        for _ in 0..64 {
            let x = self.normal(0.0, 1.0);
            let v = (1.0 + c * x).powi(3);
            if v > 0.0 && self.even().max(1e-12).ln() < 0.5 * x * x + d - d * v + d * v.ln() {
                return d * v;
            }
        }
        d
    }

    /// A share about a mean, as if counted on so many.
    pub fn beta(&mut self, mean: f64, counted: f64) -> f64 {
        let (a, b) = ((mean * counted).max(0.02), ((1.0 - mean) * counted).max(0.02));
        let (x, y) = (self.gamma(a), self.gamma(b));
        x / (x + y).max(1e-12)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn draws_have_their_means_and_come_again() {
        let mut random = Random::of(7);
        let n = 20_000;
        let mean = |draw: &mut dyn FnMut() -> f64| (0..n).map(|_| draw()).sum::<f64>() / f64::from(n);
        assert!((mean(&mut || random.even()) - 0.5).abs() < 0.01);
        assert!((mean(&mut || random.normal(3.0, 2.0)) - 3.0).abs() < 0.05);
        assert!((mean(&mut || random.gamma(2.5)) - 2.5).abs() < 0.06);
        assert!((mean(&mut || random.beta(0.03, 60.0)) - 0.03).abs() < 0.002);
        assert!((mean(&mut || f64::from(random.count(300, 0.02))) - 6.0).abs() < 0.1);
        let draws = |seed| {
            let mut random = Random::of(seed);
            (0..5).map(|_| random.even()).collect::<Vec<_>>()
        };
        assert_eq!(draws(3), draws(3));
        assert_ne!(draws(3), draws(4));
    }
}
