//! `nest.size`: in late summer the nest is brought to the size that will winter, before it is fed.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Action, Finding, Level, Role, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "nest.size",
    name: "winter nest",
    about: "Flow over, two or more nest boxes: bees that fit one box fewer are brought together before they are fed",
    caution: Some(super::LIFTING),
    source: "common practice, no single source: feed goes into the boxes they winter in; a cluster of 8 deep frames fills one",
    answer_holds: Holds::Days(30),
    silent_beside: &[super::combine_weak::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Days a count of bees stands for.
const FRESH: i64 = 21;
/// Frames of bees for each box that stays: above that they hang out.
const A_BOX: f64 = 8.0;
/// Days into the feeding window in which boxes may still be changed.
const INTO_FEEDING: i64 = 14;
/// Frames that the queen needs for winter bees (our choice).
const BROOD_NEEDS: f64 = 4.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let opens = days_after(s.day.calendar.closes(DateId::MainFlow), 1);
    let aim = s.day.calendar.opens(DateId::FeedingDone);
    let latest = days_after(aim, INTO_FEEDING);
    if today < opens || today > latest || s.hive.nest_boxes() < 2 {
        return None;
    }
    let due = Due::new(opens, aim, latest);
    #[allow(clippy::cast_precision_loss, reason = "a handful of boxes")]
    let fewer = (s.hive.nest_boxes() - 1) as f64;
    let room = A_BOX * fewer * f64::from(s.hive.box_frames()) / 10.0;
    let bees = s.within(s.hive.seen.bees, FRESH).map(|b| b.0);
    if bees.is_some_and(|bees| bees > room) {
        return None;
    }
    let Some((bees, honey)) = bees.zip(s.within(s.hive.seen.honey, FRESH).map(|h| h.0)) else {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Count the frames of bees and of honey for winter",
                "Decide now whether they winter in all their boxes, before heavy feed fills them.",
            )
            .how(&["Look down between the frames of each box, or lift them: a frame counts when both sides are covered."])
            .asks(&[Finding::Bees, Finding::Honey])
            .doing(&[Deed::LiftsFrames], 3.0),
        );
    };
    // What honey there is must go into the boxes that stay, beside the brood.
    let for_honey = fewer * f64::from(s.hive.box_frames()) - BROOD_NEEDS;
    if honey > for_honey {
        return None;
    }
    let boxes = s.hive.nest_boxes();
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            due,
            format!("Bring the nest from {boxes} boxes to {}", boxes - 1),
            format!(
                "{bees} frames of bees fit into {:.0} box{}: what is fed then stands where the cluster is, and no comb hangs \
                 unguarded for robbers and moth.",
                fewer,
                if boxes == 2 { "" } else { "es" }
            ),
        )
        .how(&[
            "Bring the brood together in the lower box, combs in order, with the fullest honey beside and above it.",
            "Shake the bees off what is left, and store it where moths and mice cannot reach it. Work at dusk if robbers are about.",
        ])
        .doing(&[Deed::LiftsFrames, Deed::TakesNestBox], 12.0)
        .offer(Offer::of("one box taken off", Action::RemoveBox { role: Role::Nest, level: Level::Top })),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive};

    #[test]
    fn eight_frames_go_into_one_box_and_more_keep_two() {
        for (bees, speaks) in [(8.0, true), (8.25, false)] {
            let mut state = hive(2);
            state.seen.bees = frames("2026-08-20", bees);
            state.seen.honey = frames("2026-08-20", 3.0);
            let said = Case::of(state).on("2026-08-20").speak(&RULE);
            assert_eq!(said.is_some_and(|p| !p.offers.is_empty()), speaks, "{bees}");
        }
        let mut three = hive(3);
        three.seen.bees = frames("2026-08-20", 16.0);
        three.seen.honey = frames("2026-08-20", 3.0);
        assert_eq!(
            Case::of(three).on("2026-08-20").speak(&RULE).unwrap().title,
            "Bring the nest from 3 boxes to 2"
        );
    }

    #[test]
    fn honey_that_would_not_fit_beside_the_brood_keeps_its_box() {
        for (honey, speaks) in [(6.0, true), (6.25, false)] {
            let mut state = hive(2);
            state.seen.bees = frames("2026-08-20", 6.0);
            state.seen.honey = frames("2026-08-20", honey);
            assert_eq!(Case::of(state).on("2026-08-20").speak(&RULE).is_some(), speaks, "{honey}");
        }
    }

    #[test]
    fn it_asks_for_a_count_from_the_end_of_the_flow_into_the_feeding() {
        assert_eq!(Case::of(hive(2)).days_of(&RULE), Some((day("2026-08-01"), day("2026-09-15"))));
        assert_eq!(Case::of(hive(1)).days_of(&RULE), None);
    }
}
