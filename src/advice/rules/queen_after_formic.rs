//! `queen.after-treatment`: a month after formic acid: does she lay?

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::colony::treatment;
use crate::model::{Finding, QueenStatus, days_after};

pub(super) const RULE: Rule = Rule {
    id: "queen.after-treatment",
    name: "queen after formic acid",
    about: "Formic acid ended three to six weeks ago and no eggs seen since: see whether she lays, and cut no cells",
    caution: None,
    source: "maker's FAQ on queens: look a month after; a queen lost to it is replaced by then",
    answer_holds: Holds::Days(30),
    speak,
    ..Rule::PLAIN
};

/// Days after its end from which a look says something, and to which it is asked for.
const FROM: i64 = 21;
const TO: i64 = 45;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let vapor = |c: &&crate::model::Course| treatment::limits(c.treatment, s.day.practice).full_entrance;
    let ended = s.hive.courses.iter().filter(vapor).filter_map(|c| c.ended).max()?;
    let days = (s.today() - ended).num_days();
    let laid = s.hive.seen.eggs.is_some_and(|e| e.value && (e.on - ended).num_days() >= FROM / 2);
    if !(FROM..=TO).contains(&days) || laid || s.hive.queen.status != QueenStatus::Laying {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(days_after(ended, FROM), days_after(ended, 30), days_after(ended, TO)),
            "After formic acid: does she lay?",
            format!("Formic acid ended on {}, and no eggs were seen since. Some queens stop, and a few are lost.", s.date(ended)),
        )
        .how(&["Eggs are enough. Cells: cut none, they are replacing her. No eggs and no cells: look at the ages of brood."])
        .asks(&[Finding::Eggs, Finding::Cells])
        .doing(&[Deed::LiftsFrames], 5.0)
        .offer(Offer::noted("cells left, no look needed")),
    )
}
