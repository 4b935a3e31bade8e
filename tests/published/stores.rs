//! Weighing and winter stores.

use yardwalk::colony::stores::{Climate, target_by_climate, weighed_by_sides, weighed_on_rails};
use yardwalk::model::Mass;

use super::close;

fn kg(kilograms: f64) -> Mass {
    Mass::from_kilograms(kilograms)
}

/// A UK association's note: left and right added.
#[test]
fn two_sides_are_added() {
    close(weighed_by_sides(kg(18.0), kg(16.5)).kilograms(), 34.5, 1e-9);
}

/// Exeter beekeepers, note on hive weighing: W = (F1 (L1 + X2) + F2 (L2 - X2)) / L1; its printed case L2 = 3 X2 = 3 L1 is
/// 2 (F1 + F2), and F1 = 15 kg, F2 = 20 kg gives 70 kg; its case L2 = 2 L1 = 4 X2 is 1.5 (F1 + F2), 52.5 kg.
#[test]
fn weighing_on_rails_is_the_printed_formula() {
    let (f1, f2) = (kg(15.0), kg(20.0));
    close(weighed_on_rails(f1, f2, 1.0, 3.0, 1.0).unwrap().kilograms(), 70.0, 1e-9);
    close(weighed_on_rails(f1, f2, 2.0, 4.0, 1.0).unwrap().kilograms(), 52.5, 1e-9);
    assert!(weighed_on_rails(f1, f2, 0.0, 3.0, 1.0).is_none());
}

/// A honey columnist's survey of guides: 40, 60 and 80 to 90 lb for south, middle and north of the US.
#[test]
fn stores_by_climate_are_the_surveyed_ones() {
    for (climate, low, high) in
        [(Climate::Mild, 40.0, 40.0), (Climate::Middle, 60.0, 60.0), (Climate::Cold, 80.0, 90.0)]
    {
        let (least, most) = target_by_climate(climate);
        close(least.pounds(), low, 1e-9);
        close(most.pounds(), high, 1e-9);
    }
}
