//! Sucrose density and syrup sums.

use yardwalk::colony::syrup::{batch_for, batch_from_sugar, density, share_by_volume, stored_at_best, sugar};
use yardwalk::model::{Mass, Mix, Volume};

use super::close;

/// NBS Circular 440 (1942), density of sucrose solutions at 20 C, as read in a handbook's extract: 0 to 50 Brix.
#[test]
fn density_is_that_of_the_printed_table() {
    for (brix, printed) in
        [(0.0, 0.9982), (10.0, 1.0381), (20.0, 1.0810), (30.0, 1.1270), (40.0, 1.1764), (50.0, 1.2296)]
    {
        close(density(brix / 100.0), printed, 0.0003);
    }
}

/// The upper rows of the same circular, from memory, not opened.
#[test]
fn density_rows_from_memory() {
    for (brix, printed) in [(60.0, 1.2865), (65.0, 1.3163)] {
        close(density(brix / 100.0), printed, 0.0004);
    }
}

/// Worked from the polynomial (ICUMSA SPS-4 form, coefficients as printed in two public sources).
#[test]
fn a_gallon_and_a_sack_come_out_as_worked() {
    let gallon = Volume::from_gallons(1.0);
    close(sugar(Mix::Thick, gallon).pounds(), 7.38, 0.02);
    close(sugar(Mix::Thin, gallon).pounds(), 5.13, 0.02);
    close(stored_at_best(Mix::Thick, gallon).pounds(), 9.07, 0.02);
    close(stored_at_best(Mix::Thin, gallon).pounds(), 6.30, 0.02);
    for (mix, pounds, water, syrup) in [
        (Mix::Thin, 10.0, 1.20, 1.95),
        (Mix::Thin, 25.0, 3.00, 4.87),
        (Mix::Thick, 10.0, 0.60, 1.36),
        (Mix::Thick, 25.0, 1.50, 3.39),
    ] {
        let batch = batch_from_sugar(mix, Mass::from_pounds(pounds));
        close(batch.water.gallons(), water, 0.01);
        close(batch.syrup.gallons(), syrup, 0.01);
    }
    close(batch_for(Mix::Thick, gallon).sugar.pounds(), 7.38, 0.02);
}

/// Worked at 200 g of sugar a US cup: 1:1 by volume is 45.9 Brix, 2:1 by volume 62.9 Brix; a page prints 1.76:1 by mass
/// for 2:1 by volume, taking 227 g of water a cup, where 1.69:1 is worked.
#[test]
fn by_volume_it_is_thinner_than_by_weight() {
    close(100.0 * share_by_volume(1.0), 45.9, 0.1);
    close(100.0 * share_by_volume(2.0), 62.9, 0.1);
    let ratio = share_by_volume(2.0) / (1.0 - share_by_volume(2.0));
    close(ratio, 1.69, 0.01);
    close(2.0 * 200.0 / 227.0, 1.76, 0.005);
}
