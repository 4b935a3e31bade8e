//! `droppings`: brown streaks on the hive, mostly after a long winter.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Finding, days_after};

pub(super) const RULE: Rule = Rule {
    id: "droppings",
    name: "droppings on the hive",
    about: "Brown streaks on the front or the combs: what it comes from, what helps, when to send a sample",
    caution: None,
    source: "common practice, no single source: dysentery is a sign, of long cold, dark stores, damp or nosema, not a disease",
    answer_holds: Holds::Days(30),
    speak,
    ..Rule::PLAIN
};

/// Days the sign stands for.
const FRESH: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    s.within(s.hive.seen.droppings, FRESH).filter(|seen| *seen)?;
    let on = s.hive.seen.droppings?.on;
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(on, days_after(on, 7), days_after(on, 21)),
            "Droppings: dry them out, look at the stores",
            "Streaks come of long confinement, dark or fermenting stores, damp, or nosema. A few after the first flight are normal.",
        )
        .how(&[
            "Air above and a dry cover; wet or moldy combs out on the first warm day. White sugar only, no brown.",
            "Scrape and scorch the front and the floor, so that house bees do not clean it up.",
            "Many bees dying or crawling beside it: send 50 of them to a laboratory. A drug only by its label and the veterinarian.",
        ])
        .asks(&[Finding::Cover])
        .doing(&[], 2.0)
        .offer(Offer::noted("aired, front scraped").promising(21, "droppings: look again")),
    )
}
