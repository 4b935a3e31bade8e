//! `wind-sun-cracks`: before winter, gaps closed, the wind broken, the sun let in.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "wind-sun-cracks",
    name: "wind, sun and cracks",
    about: "Wrap-up: gaps between boxes closed, the wind kept off, winter sun on the front, the lid weighted",
    caution: Some(super::LIFTING),
    source: "common practice, no single source",
    answer_holds: Holds::Days(200),
    may_need: |_, _, _| vec![Need::Gear(Gear::Tape)],
    speak,
    ..Rule::PLAIN
};

/// Days before the wrap-up opens from which a look counts for it.
const EARLY: i64 = 30;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::UpperEntrances);
    let cluster = s.day.calendar.opens(DateId::Cluster);
    if today < window.opens || today >= cluster || s.day.calendar.shift.is_guess() {
        return None;
    }
    let due = Due::new(window.opens, window.closes, days_after(cluster, -1));
    let looked = s.hive.seen.cracks.filter(|c| c.on >= days_after(window.opens, -EARLY));
    match looked.map(|c| c.value) {
        Some(false) => None,
        Some(true) => Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Close the cracks",
                "A gap in the stack is a draft through the cluster and a door for mice and robbers.",
            )
            .how(&[
                "Tape or clay over gaps between the boxes; replace a warped lid. The entrances stay open.",
                "A stone or strap on the lid, a windbreak to the weather side, the front to the winter sun.",
            ])
            .doing(&[], 4.0)
            .needs(Need::Gear(Gear::Tape))
            .offer(Offer::of("cracks closed", Action::Other { what: "closed the cracks for winter".to_owned() })),
        ),
        None => Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Look for cracks, wind and shade",
                "Wind through the stack costs stores all winter. Sun on the front lets them fly on mild days.",
            )
            .how(&[
                "Walk around it: gaps between boxes, a lid that rocks, a stand that leans. It should tip a little forward.",
                "Is the wind broken to the weather side, and does the winter sun reach the front?",
            ])
            .asks(&[Finding::Cracks])
            .doing(&[], 2.0)
            .offer(Offer::noted("all sound")),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive, seen};

    #[test]
    fn it_is_asked_through_the_wrap_up_until_the_cluster() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-10-10"), day("2026-11-09"))));
    }

    #[test]
    fn cracks_seen_are_closed_and_none_seen_is_the_end_of_it() {
        for (cracks, title) in [(true, Some("Close the cracks")), (false, None)] {
            let mut state = hive(1);
            state.seen.cracks = seen("2026-10-12", cracks);
            assert_eq!(Case::of(state).on("2026-10-12").speak(&RULE).map(|p| p.title).as_deref(), title);
        }
    }

    #[test]
    fn a_look_in_summer_does_not_count() {
        for (on, title) in
            [("2026-09-09", "Look for cracks, wind and shade"), ("2026-09-10", "Close the cracks")]
        {
            let mut state = hive(1);
            state.seen.cracks = seen(on, true);
            assert_eq!(Case::of(state).on("2026-10-12").speak(&RULE).unwrap().title, title, "{on}");
        }
    }
}
