//! What a look may turn up, and what it would take: the second half of the load list.

use chrono::NaiveDate;

use crate::advice::{Need, Prompt, rule};
use crate::model::{HiveState, Practice};

/// What a prompt that asks to look may need in the end, beyond what it needs as it stands: its rule says.
pub fn possible(prompt: &Prompt, hive: &HiveState, practice: &Practice, date: NaiveDate) -> Vec<Need> {
    // A prompt that knows what it needs has had its look.
    if prompt.asks.is_empty() || !prompt.offers.is_empty() {
        return Vec::new();
    }
    rule(prompt.rule).map_or_else(Vec::new, |rule| (rule.may_need)(hive, practice, date))
}
