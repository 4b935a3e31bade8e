//! What a visit came to, hive by hive: the words of the wrap-up, on the screen and line by line.

use chrono::NaiveDate;

use super::facts::findings_words;
use crate::advice::{Advice, rule_name};
use crate::model::{Entry, Findings, HiveId, Reply, Units};
use crate::plan::NextDue;
use crate::wording;

/// One hive of a wrap-up, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrapped {
    /// The hive.
    pub hive: HiveId,
    /// What was done.
    pub done: String,
    /// What was found and counted; empty where nothing was.
    pub found: String,
    /// What was put off, and then what was asked and is still open.
    pub open: Vec<(bool, String)>,
    /// What it needs next.
    pub next: Option<String>,
}

/// What one hive's entry came to.
pub fn wrapped(
    entry: &Entry,
    advice: Option<&Advice>,
    next: Option<&NextDue>,
    (today, units): (NaiveDate, Units),
) -> Wrapped {
    let put_off = entry.answers.iter().filter_map(|answer| match &answer.reply {
        Reply::PutOff { reason, until } => {
            let until = wording::day(units, *until);
            Some((true, format!("{} put off to {until}: {reason}", rule_name(&answer.rule))))
        }
        Reply::Done | Reply::NotNeeded => None,
    });
    let prompts = advice.into_iter().flat_map(|advice| &advice.prompts).filter(|p| p.makes_a_trip());
    let open = prompts.map(|p| (false, format!("still due: {}", p.by_when(today, units))));
    let open: Vec<(bool, String)> = put_off.chain(open).collect();
    let is_open = open.iter().any(|(is_put_off, _)| !is_put_off);
    let next = match next {
        Some(next) => Some(format!("next {}: {}", wording::weekday_and_day(units, next.on), next.title)),
        None if is_open => None,
        None => Some("nothing more due within a year".to_owned()),
    };
    let done = if entry.is_blank() { "new today".to_owned() } else { entry.done_words(units).join("; ") };
    // That it is fine is what was done.
    let found = findings_words(&Findings { fine: None, ..entry.findings }, units);
    Wrapped { hive: entry.hive.clone(), done, found, open, next }
}
