//! Syrup arithmetic: sugar, water, finished volume, what the bees put by, and how long it takes.
//!
//! Density at 20 C by the polynomial in the mass fraction published for sucrose solutions (ICUMSA SPS-4 form;
//! coefficients as printed in two public sources), within 0.0003 g/mL of the handbook tables.

use crate::model::{FeederKind, Mass, Mix, Volume};

/// Air temperature from which bees take syrup, Fahrenheit (extension guides, from memory).
pub const TAKEN_FROM: f64 = 50.0;

/// Density of a sucrose solution at 20 C, kilograms a liter. `fraction` is sugar over all, by mass, 0 to 0.85.
pub fn density(fraction: f64) -> f64 {
    const COEFFICIENTS: [f64; 7] = [998.204, 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];
    let w = fraction.clamp(0.0, 0.85);
    COEFFICIENTS.iter().rev().fold(0.0, |sum, c| sum * w + c) / 1000.0
}

/// Share of sugar in a mix, by mass.
pub fn sugar_share(mix: Mix) -> f64 {
    match mix {
        Mix::Thin => 0.5,
        Mix::Thick => 2.0 / 3.0,
    }
}

/// White sugar poured into a measure, kilograms a liter: 200 g a US cup of 236.588 mL. A page gives 227 g of water a
/// cup instead of 236, which makes 2:1 by volume 1.76:1 by mass and not 1.69:1.
pub const POURED_SUGAR: f64 = 0.200 / 0.236_588;

/// Share of sugar by mass of a syrup mixed by volume, so many measures of sugar to one of water (0 to 3).
pub fn share_by_volume(sugar_measures: f64) -> f64 {
    let sugar = sugar_measures.clamp(0.0, 3.0) * POURED_SUGAR;
    sugar / (sugar + density(0.0))
}

/// A batch of syrup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Batch {
    /// Sugar to weigh out.
    pub sugar: Mass,
    /// Water to measure.
    pub water: Volume,
    /// What it makes.
    pub syrup: Volume,
}

/// The batch from a mass of sugar and its share of the syrup by mass, 0.01 to 0.8.
pub fn batch_of_share(sugar: Mass, share: f64) -> Batch {
    let share = share.clamp(0.01, 0.8);
    let sugar_kg = sugar.kilograms();
    let total = sugar_kg.max(0.0) / share;
    Batch {
        sugar: Mass::from_kilograms(sugar_kg.max(0.0)),
        water: Volume::from_litres((total - sugar_kg.max(0.0)) / density(0.0)),
        syrup: Volume::from_litres(total / density(share)),
    }
}

/// The batch from a mass of sugar.
pub fn batch_from_sugar(mix: Mix, sugar: Mass) -> Batch {
    batch_of_share(sugar, sugar_share(mix))
}

/// The batch that makes a volume of syrup.
pub fn batch_for(mix: Mix, syrup: Volume) -> Batch {
    batch_of_share(sugar(mix, syrup), sugar_share(mix))
}

/// Sugar in a volume of syrup.
pub fn sugar(mix: Mix, volume: Volume) -> Mass {
    let share = sugar_share(mix);
    Mass::from_kilograms(volume.litres() * density(share) * share)
}

/// Water in ripe stores: 18.6 %, the most for US grade A and B.
const STORED_WATER: f64 = 0.186;

/// Stores if no sugar were lost: the sugar and 18.6 % water.
pub fn stored_at_best(mix: Mix, volume: Volume) -> Mass {
    Mass::from_kilograms(sugar(mix, volume).kilograms() / (1.0 - STORED_WATER))
}

/// Stores in practice: `pounds_per_gallon` of thick syrup (two practice pages: about 7 lb), thin by its sugar.
///
/// A fifth or so is spent on carrying, inverting and drying it.
pub fn stored(mix: Mix, volume: Volume, pounds_per_gallon: f64) -> Mass {
    let thick = stored_at_best(Mix::Thick, Volume::from_gallons(1.0)).pounds();
    Mass::from_pounds(stored_at_best(mix, volume).pounds() * pounds_per_gallon / thick)
}

/// Volume of thick syrup to put by a mass of stores, at `pounds_per_gallon` stored; rounded up to quarter gallons.
pub fn thick_for(stores: Mass, pounds_per_gallon: f64) -> Volume {
    let gallons = stores.pounds() / pounds_per_gallon.max(0.1);
    // A hair of slack, so that an exact quarter is not rounded to the next.
    Volume::from_gallons((gallons * 4.0 - 1e-9).ceil().max(0.0) / 4.0)
}

/// Fills of a feeder for a volume.
pub fn fills(volume: Volume, feeder: FeederKind) -> u32 {
    whole(volume.gallons() / feeder.gallons())
}

/// Gallons of thick syrup a colony takes down in a day: about half (common practice, no single source); a small one,
/// under six frames, half of that.
pub fn gallons_a_day(frames_of_bees: Option<f64>) -> f64 {
    if frames_of_bees.is_some_and(|bees| bees < 6.0) { 0.25 } else { 0.5 }
}

/// Days to take a volume down.
pub fn days_to_take(volume: Volume, frames_of_bees: Option<f64>) -> u32 {
    whole(volume.gallons() / gallons_a_day(frames_of_bees))
}

/// Sugar to buy for a yard: the sum over its hives' syrup, and a tenth to spare.
pub fn sugar_to_buy(wanted: impl IntoIterator<Item = (Mix, Volume)>) -> Mass {
    let all: f64 = wanted.into_iter().map(|(mix, volume)| sugar(mix, volume).kilograms()).sum();
    Mass::from_kilograms(all * 1.1)
}

/// Rounded up, 0 to 10,000.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
fn whole(number: f64) -> u32 {
    (number - 1e-9).ceil().clamp(0.0, 10_000.0) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn thick_syrup_is_rounded_up_to_quarter_gallons() {
        for (pounds, gallons) in [(0.0, 0.0), (7.0, 1.0), (7.1, 1.25), (35.0, 5.0), (36.0, 5.25)] {
            let volume = thick_for(Mass::from_pounds(pounds), 7.0);
            assert!((volume.gallons() - gallons).abs() < 1e-9, "{pounds}");
        }
    }

    #[test]
    fn fills_days_and_sugar_to_buy() {
        let volume = Volume::from_gallons(8.75);
        assert_eq!((fills(volume, FeederKind::Top), fills(volume, FeederKind::Frame)), (3, 9));
        assert_eq!((days_to_take(volume, Some(9.0)), days_to_take(volume, Some(5.0))), (18, 35));
        let buy =
            sugar_to_buy([(Mix::Thick, Volume::from_gallons(10.0)), (Mix::Thin, Volume::from_gallons(1.0))]);
        assert!((buy.pounds() - 1.1 * (73.8 + 5.13)).abs() < 0.2, "{}", buy.pounds());
    }

    proptest! {
        #[test]
        fn mass_is_conserved_in_every_mix(kg in 0.1f64..100.0, thick in any::<bool>()) {
            let mix = if thick { Mix::Thick } else { Mix::Thin };
            let batch = batch_from_sugar(mix, Mass::from_kilograms(kg));
            let water = batch.water.litres() * density(0.0);
            let syrup = batch.syrup.litres() * density(sugar_share(mix));
            prop_assert!((batch.sugar.kilograms() + water - syrup).abs() < 1e-9 * syrup.max(1.0));
            let again = batch_for(mix, batch.syrup);
            prop_assert!((again.sugar.kilograms() - kg).abs() < 1e-9 * kg.max(1.0));
            prop_assert!((sugar(mix, batch.syrup).kilograms() - kg).abs() < 1e-9 * kg.max(1.0));
            prop_assert!(stored(mix, batch.syrup, 7.0) < stored_at_best(mix, batch.syrup));
        }

        #[test]
        fn more_sugar_is_denser(a in 0.0f64..0.84, more in 0.001f64..0.01) {
            prop_assert!(density(a + more) > density(a));
        }
    }
}
