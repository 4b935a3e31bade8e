//! When a hive is next due: the rules run forward day by day.

use chrono::NaiveDate;

use super::Outlook;
use crate::advice::{Prompt, Urgency};
use crate::model::HiveState;

/// The next day on which a hive needs something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NextDue {
    /// The day.
    pub on: NaiveDate,
    /// The rule that opens then.
    pub rule: &'static str,
    /// What, in a few words.
    pub title: String,
    /// Why, with this hive's numbers.
    pub why: String,
    /// How pressing.
    pub urgency: Urgency,
}

/// Days looked ahead at most.
const AHEAD: usize = 365;

/// The first day after `from` on which a must or a should speaks; `None` where a year holds nothing.
pub fn next_due(outlook: &mut Outlook<'_>, state: &HiveState, from: NaiveDate) -> Option<NextDue> {
    outlook.each_day(state, from.iter_days().skip(1).take(AHEAD), |day, advice| {
        let prompt = advice.prompts.into_iter().find(Prompt::makes_a_trip)?;
        Some(NextDue {
            on: day,
            rule: prompt.rule,
            title: prompt.title,
            why: prompt.why,
            urgency: prompt.urgency,
        })
    })
}
