//! The dose of a treatment for a hive, in words.

use super::treatment::{DoseRule, Limits};
use crate::model::HiveState;

/// The dose for a hive's boxes and seams, in words. Seams not looked at are taken from the frames of bees.
pub fn dose(row: &Limits, hive: &HiveState) -> String {
    let boxes = u32::try_from(hive.nest_boxes()).unwrap_or(1).max(1);
    let bees = hive.seen.bees.map(|b| b.value.0);
    match row.dose.value {
        DoseRule::PerHive { pieces, what, .. } => format!("{pieces} {what}"),
        DoseRule::PerBox { pieces, what } => format!("{} {what}", pieces * boxes),
        DoseRule::PerFrames { frames, most, what } => {
            let wanted = bees.map_or(most * boxes, |bees| whole(bees / frames).clamp(1, most * boxes));
            format!("{wanted} {what}")
        }
        DoseRule::PerSeam { millilitres, most } => match hive.seen.seams.map(|s| s.value.0).or(bees) {
            Some(seams) => {
                let ml = (millilitres * seams.ceil()).min(most);
                format!("{ml:.0} mL ({millilitres:.0} mL a seam, {seams:.0} seams)")
            }
            None => format!("{millilitres:.0} mL a seam, {most:.0} mL at most"),
        },
        DoseRule::ByLabel => "the dose of its label".to_owned(),
        DoseRule::GramsPerBox { grams } => {
            format!("{:.0} g ({grams:.0} g a brood box)", grams * f64::from(boxes))
        }
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped")]
fn whole(number: f64) -> u32 {
    number.ceil().clamp(0.0, 1_000.0) as u32
}
