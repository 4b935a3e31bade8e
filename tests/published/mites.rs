//! Growth of mites, and treatment temperatures.

use yardwalk::colony::treatment::limits;
use yardwalk::colony::varroa::{Course, FAST, SLOW, doubling_days, grown};
use yardwalk::model::{Practice, Treatment};

use super::close;

/// Worked: 0.021 a day doubles in 33.0 days and is 1.88-fold in 30; 0.020 doubles in 34.7, is 1.82-fold in 30 days and
/// 7.39-fold in 100; 2 % on 1 July at 0.021 is 3.76 % on 31 July.
#[test]
fn growth_rates_double_as_worked() {
    close(doubling_days(0.021), 33.0, 0.05);
    close(doubling_days(0.020), 34.7, 0.05);
    close(grown(1.0, 0.021, 30.0, Course::LEVEL), 1.88, 0.005);
    close(grown(1.0, 0.020, 30.0, Course::LEVEL), 1.82, 0.005);
    close(grown(1.0, 0.020, 100.0, Course::LEVEL), 7.39, 0.005);
    close(grown(2.0, 0.021, 30.0, Course::LEVEL), 3.76, 0.01);
}

/// From memory, not opened: Martin 1998, Ecol. Modelling 109:267-281 and Fries et al. 1994: about 0.020 to 0.025 a day,
/// doubling in 28 to 35 days.
#[test]
fn the_rates_used_are_from_memory() {
    close(SLOW, 0.020, 1e-12);
    close(FAST, 0.025, 1e-12);
    close(doubling_days(FAST), 27.7, 0.05);
}

/// The maker's pages for the US 14-day form of formic acid strips: 50 to 85 F on the day of application.
#[test]
fn formic_acid_goes_in_from_50_to_85_fahrenheit() {
    let row = limits(Treatment::FormicStrips, &Practice::default());
    close(row.from_f.value, 50.0, 0.0);
    close(row.to_f.value, 85.0, 0.0);
}
