//! `registration`: once a year, the yard's registration and inspection, where the law asks for it.

use chrono::{Datelike, NaiveDate};

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::days_after;

pub(super) const RULE: Rule = Rule {
    id: "registration",
    name: "registration",
    about: "Once a year, at the first stand of a yard: registered, and inspected where the law asks; 0 in the practice ends it",
    caution: None,
    source: "many states and countries register hives each year; local law decides",
    answer_holds: Holds::Days(320),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 12")]
    let month = s.day.practice.register_month() as u32;
    let first = s.day.stands.first().is_none_or(|first| first.id == s.hive.id);
    if month == 0 || !first || s.today().month() != month {
        return None;
    }
    let opens = NaiveDate::from_ymd_opt(s.today().year(), month, 1)?;
    Some(
        Prompt::new(
            RULE.id,
            Urgency::May,
            Due::new(opens, days_after(opens, 14), days_after(opens, 27)),
            "Is this yard registered for the year?",
            "Many places ask for yards to be registered, and some for a yearly inspection. It also lets you be told of sprays.",
        )
        .how(&["Set the month to 0 in the practice, and it is not asked again."])
        .offer(Offer::noted("registered")),
    )
}
