//! Syrup arithmetic: sugar, water, finished volume, and what the bees put by.
//!
//! Density at 20 C by the polynomial in the mass fraction published for sucrose solutions (ICUMSA SPS-4 form;
//! coefficients as printed in two public sources), within 0.0003 g/mL of the handbook tables.

use crate::model::{Mass, Mix, Volume};

/// Density of a sucrose solution at 20 C, kilograms a litre. `fraction` is sugar over all, by mass, 0 to 0.85.
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

/// Sugar in a volume of syrup.
pub fn sugar(mix: Mix, volume: Volume) -> Mass {
    let share = sugar_share(mix);
    Mass::from_kilograms(volume.litres() * density(share) * share)
}

/// Volume of thick syrup to put by a mass of stores, at `pounds_per_gallon` stored; rounded up to quarter gallons.
pub fn thick_for(stores: Mass, pounds_per_gallon: f64) -> Volume {
    let gallons = stores.pounds() / pounds_per_gallon.max(0.1);
    Volume::from_gallons((gallons * 4.0).ceil() / 4.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NBS Circular 440 (1942) as reprinted in a handbook table, 0 to 50 Brix, within 0.0003 g/mL.
    #[test]
    fn density_matches_the_printed_table() {
        for (brix, printed) in
            [(0.0, 0.9982), (10.0, 1.0381), (20.0, 1.0810), (30.0, 1.1270), (40.0, 1.1764), (50.0, 1.2296)]
        {
            assert!((density(brix / 100.0) - printed).abs() < 0.0003, "{brix} {}", density(brix / 100.0));
        }
    }

    /// Worked from the density: a gallon of 2:1 by weight holds 7.38 lb of sugar, of 1:1 holds 5.13 lb.
    #[test]
    fn a_gallon_of_thick_syrup_holds_7_38_pounds_of_sugar() {
        let gallon = Volume::from_gallons(1.0);
        assert!((sugar(Mix::Thick, gallon).pounds() - 7.38).abs() < 0.01);
        assert!((sugar(Mix::Thin, gallon).pounds() - 5.13).abs() < 0.01);
    }

    #[test]
    fn thick_syrup_is_rounded_up_to_quarter_gallons() {
        for (pounds, gallons) in [(0.0, 0.0), (7.0, 1.0), (7.1, 1.25), (35.0, 5.0), (36.0, 5.25)] {
            let volume = thick_for(Mass::from_pounds(pounds), 7.0);
            assert!((volume.gallons() - gallons).abs() < 1e-9, "{pounds}");
        }
    }
}
