//! `leave-alone`: in winter the best thing to do is nothing.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Finding, Heft};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "leave-alone",
    name: "winter rest",
    about: "Winter: listen, clear the entrance, lift late; open nothing",
    caution: None,
    source: "common practice, no single source",
    answer_holds: Holds::Days(21),
    silent_beside: &[super::heft_late_winter::RULE.id, super::mites_broodless::RULE.id],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    if !s.day.calendar.is_winter(s.today()) || s.within(s.hive.seen.heft, 30) == Some(Heft::Light) {
        return None;
    }
    let opens = s.day.calendar.opens(DateId::LateWinterHeft);
    // After the turn of the year's cluster date the next heft is next year's.
    let until = if s.today() < opens { opens } else { s.day.calendar.closes(DateId::Cluster) };
    Some(
        Prompt::new(
            RULE.id,
            Urgency::May,
            Due::new(s.today(), until, until),
            "Leave it alone",
            "The cluster makes its own heat, and every opening costs it stores.",
        )
        .how(&["Put an ear to the box: a low hum is all you need. Rake dead bees and snow from the entrance. Lift it in late winter."])
        .asks(&[Finding::EntranceClear])
        .doing(&[], 1.0)
        .offer(Offer::noted("listened, all well")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen};

    #[test]
    fn a_heavy_hive_in_winter_is_left_alone_and_a_light_one_is_not() {
        for (on, speaks) in [
            ("2026-01-15", true),
            ("2026-03-14", true),
            ("2026-03-15", false),
            ("2026-11-09", false),
            ("2026-11-10", true),
        ] {
            assert_eq!(Case::of(hive(1)).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
        let mut light = hive(1);
        light.seen.heft = seen("2026-01-10", Heft::Light);
        assert!(Case::of(light).on("2026-01-15").speak(&RULE).is_none());
    }
}
