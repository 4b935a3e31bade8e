//! Wash intervals against scipy, and sampling against the papers.

use yardwalk::colony::wash::{YARD_HIVES, chance_above, chance_of_zero, clopper_pearson, wilson};
use yardwalk::model::MiteCount;

use super::{close, day};

/// `wash_intervals.csv`, made by `wash_intervals.py` with scipy's `binomtest` and `beta`.
#[test]
fn intervals_and_chances_are_those_of_scipy() {
    let mut rows = 0;
    for line in include_str!("wash_intervals.csv").lines().skip(2) {
        let cells: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (mites, bees) = (cells[0] as u16, cells[1] as u16);
        let (w, e) = (wilson(mites, bees), clopper_pearson(mites, bees));
        for (figure, printed) in
            [(w.low, cells[2]), (w.high, cells[3]), (e.low, cells[4]), (e.high, cells[5])]
        {
            close(figure, printed, 1e-4);
        }
        close(chance_above(mites, bees, 2.0), cells[6], 1e-5);
        rows += 1;
    }
    assert_eq!(rows, 15);
}

/// Club and extension wash guides: mites on 300 bees, divided by three, is percent.
#[test]
fn nine_mites_on_300_bees_are_three_percent() {
    for (mites, percent) in [(3, 1.0), (6, 2.0), (9, 3.0)] {
        let count = MiteCount { on: day("2026-08-01"), mites, bees: 300 };
        close(count.percent(), percent, 1e-12);
    }
}

/// Oliver, American Bee Journal, April 2020: at a true 1 %, 100 bees show no mite in about 36 % of washes; the figure
/// for 300 bees is worked from the same formula, 0.99^300.
#[test]
fn a_zero_at_one_percent_is_common_on_100_bees_and_rare_on_300() {
    close(100.0 * chance_of_zero(1.0, 100), 36.6, 0.1);
    close(100.0 * chance_of_zero(1.0, 100), 36.0, 1.0);
    close(100.0 * chance_of_zero(1.0, 300), 4.9, 0.05);
}

/// Lee et al. 2010, J. Econ. Entomol. 103:1039-1050, abstract: eight colonies, whatever the size of the apiary.
#[test]
fn a_yard_is_read_from_eight_hives() {
    assert_eq!(YARD_HIVES, 8);
}
