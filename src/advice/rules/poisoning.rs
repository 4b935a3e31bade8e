//! `poisoning`: bees dying in a heap, all at once.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, days_after};

pub(super) const RULE: Rule = Rule {
    id: "poisoning",
    name: "poisoning",
    about: "Many bees dying at once before the hive: photographs, a frozen sample, the report, and what to leave alone",
    caution: Some(
        "Gloves for dead bees: what killed them may harm you. The agency that enforces the pesticide law decides what is done.",
    ),
    source: "common practice, no single source: reports ask for photographs and a frozen sample of some 2 cups (from memory)",
    answer_holds: Holds::Days(7),
    may_need: |_, _, _| vec![Need::Gear(Gear::DeadBeeJar)],
    speak,
    ..Rule::PLAIN
};

/// Days the sign stands for.
const FRESH: i64 = 7;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    s.within(s.hive.seen.dying, FRESH).filter(|seen| *seen)?;
    let on = s.hive.seen.dying?.on;
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Must,
            Due::new(on, on, days_after(on, 2)),
            "Bees dying in a heap: sample and report today",
            "Many at once, trembling, tongues out, point to a spray. Robbing, starving and overheating can look like it: rule them out.",
        )
        .how(&[
            "Photograph the heap, the entrance and what is in bloom. Write down the hour, the weather, who sprayed what.",
            "Two cups of fresh dead bees into a clean jar, dated, into the freezer today: tomorrow it proves nothing.",
            "Report it to the agency for pesticides, and tell the inspector. Ask neighbors what was sprayed.",
            "Leave the hive shut. Fresh water near it; feed if it is light; no comb to another hive.",
        ])
        .asks(&[Finding::Robbing, Finding::Heft])
        .doing(&[], 10.0)
        .needs(Need::Gear(Gear::DeadBeeJar))
        .offer(
            Offer::of("sampled and reported", Action::Other { what: "froze a sample, reported a poisoning".to_owned() })
                .promising(7, "poisoning: how strong are they now?"),
        ),
    )
}
