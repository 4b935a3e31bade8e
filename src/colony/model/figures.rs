//! Every figure of the model: its range, its unit, where it is from, and how sure that is.

/// How sure a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in the source.
    Read,
    /// From memory of the source.
    Memory,
    /// Fitted to the public data named.
    Fitted,
    /// No source: our choice.
    Guess,
}

/// One figure. Nine in ten colonies lie between `low` and `high`; both are `middle` where it does not vary.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Its name in the model.
    pub name: &'static str,
    /// 1 in 20 is under it.
    pub low: f64,
    /// The middle.
    pub middle: f64,
    /// 1 in 20 is over it.
    pub high: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Where it is from.
    pub source: &'static str,
    /// How sure.
    pub status: Status,
}

/// Standard normal quantile at 19 in 20.
const Q95: f64 = 1.644_853_626_951_472_2;

impl Figure {
    /// The figure of a colony that stands so many standard deviations from the middle, on a log scale;
    /// on a plain one where the range reaches nothing.
    pub fn at(&self, z: f64) -> f64 {
        if self.high <= self.low {
            return self.middle;
        }
        if self.low <= 0.0 {
            return self.middle + z * (self.high - self.low) / (2.0 * Q95);
        }
        self.middle * (z * (self.high / self.low).ln() / (2.0 * Q95)).exp()
    }
}

macro_rules! figures {
    ($( $name:ident $low:literal, $middle:literal, $high:literal, $unit:literal, $status:ident, $source:literal; )+) => {
        /// The figures of one colony.
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct Figures {
            $( #[doc = concat!($unit, ": ", $source)] pub $name: f64, )+
        }

        /// All of them, with their ranges.
        pub const FIGURES: &[Figure] = &[ $( Figure {
            name: stringify!($name), low: $low, middle: $middle, high: $high, unit: $unit, source: $source,
            status: Status::$status,
        } ),+ ];

        impl Figures {
            /// A colony's figures by where it stands in each range, in standard deviations, in the order of the table.
            pub fn drawn(mut z: impl FnMut(usize) -> f64) -> Self {
                let mut at = 0;
                let mut next = || {
                    at += 1;
                    let row = FIGURES.get(at - 1);
                    row.map_or(0.0, |row| if row.low < row.high { row.at(z(at - 1)) } else { row.middle })
                };
                Self { $( $name: next() ),+ }
            }
        }
    };
}

figures! {
    most_eggs 1250.0, 1600.0, 1950.0, "eggs a day", Read, "Becher et al. 2014 and HoPoMo, about 1,600; its range is ours";
    eggs_a_bee 0.085, 0.107, 0.135, "eggs a day and bee", Read, "3 a nurse in 21 days: Free and Racey 1968; 2.65: Becher 2010; its range is ours";
    summer_life 0.78, 1.0, 1.28, "share of the death of bees that fly", Guess, "common practice: 15 to 38 days, no single source";
    winter_life 0.7, 1.0, 1.4, "share of the death of winter bees", Guess, "half dead in winter at 0.0038 a day (Martin 2001); its range is ours";
    daughters 0.58, 0.86, 1.22, "share of the daughters of a mite", Guess, "Harris et al. 2003: years and colonies differ; the range is set to hold the counts of Vermont";
    invasion 0.7, 1.0, 1.43, "share of the pace at which mites enter cells", Guess, "about Boot et al. 1995";
    carried_in 0.5, 2.2, 9.0, "mites a day, late July to November", Read, "Frey and Rosenkranz 2014: 72 to 1,171 in 3.5 months";
    drone_share 0.02, 0.04, 0.07, "share of the eggs, spring and summer", Read, "Wilkinson and Smith 2002, Allen 1963; its range is ours";
    flow 0.45, 1.0, 2.2, "share of a middling flow", Guess, "US yields differ this much between yards and years";
    eaten 0.75, 1.0, 1.33, "share of what they eat", Fitted, "two German hive scales 2017 to 2019: 2 to 3 lb a month in winter";
    late -8.2, 0.0, 8.2, "days by which a spring is late", Guess, "about one standard deviation of five days";
    works -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations in a treatment's range", Read, "kill.rs";
    wait -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations in a queen's wait", Fitted, "177 splits, Aurell et al. 2025: 10 to 28 days from a ripe cell";
    sees -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations; over 0, she is taken for gone where no egg was seen", Guess, "one in two";
    start_bees -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations of its bees at the start", Guess, "start.rs";
    start_mites -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations of its mites at the start", Guess, "start.rs";
    start_stores -1.644_853_626_951_472_2, 0.0, 1.644_853_626_951_472_2, "standard deviations of its stores at the start", Guess, "start.rs";
    parted 0.22, 0.38, 0.6, "share of the bees that leave with a split", Guess, "common practice, no single source";
    brood_lives 0.86, 0.86, 0.86, "share of eggs that are sealed", Read, "0.97 a day for 3 days, 0.99 for 6: HoPoMo";
    sealed_lives 0.988, 0.988, 0.988, "share of sealed brood that comes out", Read, "0.999 a day for 12 days: HoPoMo";
    worker_daughters 1.01, 1.01, 1.01, "daughters a mother in a worker cell", Read, "Martin 1998";
    drone_daughters 2.91, 2.91, 2.91, "daughters a mother in a drone cell", Read, "Martin 1998";
    fall_worker 0.30, 0.30, 0.30, "share lost on leaving a worker cell", Read, "Martin 1998";
    fall_drone 0.20, 0.20, 0.20, "share lost on leaving a drone cell", Read, "Martin 1998";
    enters_worker 0.56, 0.56, 0.56, "worker cells sealed in a day, a gram of bees", Read, "Boot et al. 1995";
    enters_drone 6.49, 6.49, 6.49, "drone cells sealed in a day, a gram of bees", Read, "Boot et al. 1995";
    mite_dies 0.006, 0.006, 0.006, "share a day on bees, with brood", Read, "Fries et al. 1994";
    mite_winters 0.003, 0.003, 0.003, "share a day on bees, without brood", Read, "0.002 Martin 1998, 0.004 Fries et al. 1994";
    at_rest 0.0085, 0.0085, 0.0085, "share of bees that die in a day in the hive", Guess, "with flight about 31 days in all";
    in_flight 0.0235, 0.0235, 0.0235, "share more in a day of full flight", Guess, "about 31 days in all, Winston 1987 from memory";
    in_winter 0.003, 0.003, 0.003, "share of winter bees that die in a day", Read, "0.0038: Martin 2001";
    harm 0.06, 0.06, 0.06, "share of bees that die in a day for each mite a bee", Guess, "sick bees die at 0.012 instead of 0.004: Martin 2001";
    bee_eats 0.011, 0.011, 0.011, "grams of honey a day, warm", Read, "Rortais et al. 2005";
    bee_winters 0.004, 0.004, 0.004, "grams of honey a day in the cluster", Fitted, "two German hive scales 2017 to 2019";
    larva_eats 0.0109, 0.0109, 0.0109, "grams of honey a day", Read, "HoPoMo";
    warmth 0.0042, 0.0042, 0.0042, "grams of honey a day and cell of brood", Read, "0.0141 where bees heat: Rortais et al. 2005; a third of cells, ours";
}

/// Bees on both sides of a deep frame.
pub const FRAME_OF_BEES: f64 = crate::colony::strength::DEEP_FRAME.mid;
/// Cells of a frame with brood, both sides of a deep: 6,688 in Aurell et al. 2025, four fifths of them filled (ours).
pub const FRAME_OF_BROOD: f64 = 5_350.0;
/// Honey of a deep frame, kg (six to eight pounds, trade pages).
pub const FRAME_OF_HONEY: f64 = 2.8;
/// Honey of a medium honey box, kg (35 lb in ten frames, trade pages, from memory).
pub const SUPER: f64 = 14.0;

/// Doubt added by a day that no one looks, variance of the logarithm: weather and all that is not in the model.
///
/// Fitted so that the ranges hold their share of the splits of Aurell et al. 2025; stores by analogy (a guess).
pub const DRIFT: Drift = Drift { bees: 0.0050, brood: 0.008, mites: 0.000_5, stores: 0.004 };
/// Days after which it hardly grows any more: what a colony lost or gained by chance evens out (a guess).
const EVENS_OUT: f64 = 30.0;

/// The doubt that has grown in so many days, at so much a day.
pub(super) fn drift(a_day: f64, days: i64) -> f64 {
    a_day * EVENS_OUT * (1.0 - (-(days.max(0) as f64) / EVENS_OUT).exp())
}

/// See [`DRIFT`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Bees.
    pub bees: f64,
    /// Brood.
    pub brood: f64,
    /// Mites.
    pub mites: f64,
    /// Stores.
    pub stores: f64,
}

/// A reader's error, standard deviation of the logarithm: bees, brood, honey (two readers on 55 hives, Georgia 2020).
pub const READER: (f64, f64, f64) = (0.13, 0.17, 0.25);
/// A jar's doubt beyond its counting noise, variance of the logarithm (fitted to Aurell et al. 2025).
pub const UNEVEN: f64 = crate::colony::next_count::UNEVEN;
/// Error of one lift, standard deviation of the logarithm of the honey (a guess).
pub const LIFT: f64 = 0.5;
/// Error of a scale and of what the boxes weigh, kg (ten pounds, ours).
pub const SCALE: f64 = 3.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_range_is_in_order_and_says_its_source() {
        for row in FIGURES {
            assert!(row.low <= row.middle && row.middle <= row.high, "{}", row.name);
            assert!(!row.source.is_empty() && !row.unit.is_empty(), "{}", row.name);
        }
    }

    #[test]
    fn a_tenth_of_colonies_lies_outside_a_range() {
        let late = FIGURES.iter().find(|row| row.name == "late").unwrap();
        assert!((late.at(1.0) - 4.985).abs() < 0.01);
        let eggs = FIGURES.iter().find(|row| row.name == "most_eggs").unwrap();
        assert!((eggs.at(0.0) - 1_600.0).abs() < 1e-9);
        assert!(eggs.at(-Q95) < 1_290.0 && eggs.at(Q95) > 1_940.0);
    }
}
