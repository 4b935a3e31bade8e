//! Findings for generated hives and books.

use yardwalk::model::{Finding, Kind, Mass, Temperature, Value};

/// A finding's value a share of the way through its range, 0 to 1.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a range")]
pub(crate) fn value(finding: Finding, share: f64) -> Value {
    match finding.kind() {
        Kind::YesNo => Value::YesNo(share >= 0.5),
        Kind::Choice(words) => Value::Choice(((share * words.len() as f64) as usize).min(words.len() - 1)),
        Kind::Count(most) => Value::Count((f64::from(most) * share) as u16),
        Kind::Frames(most) => Value::Frames((most * share * 4.0).round() / 4.0),
        Kind::Percent => Value::Percent(100.0 * share),
        Kind::Mass => Value::Mass(Mass::from_kilograms(200.0 * share)),
        Kind::Temperature => Value::Temperature(Temperature::from_fahrenheit(-20.0 + 130.0 * share)),
    }
}
