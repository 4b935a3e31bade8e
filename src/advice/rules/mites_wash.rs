//! `mites.wash`: an alcohol wash of every colony every month of brood.

use super::{Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Urgency};
use crate::model::{Finding, Origin, QueenStatus, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "mites.wash",
    name: "mite wash",
    about: "Every month of brood, from the first day frames may be lifted; first of all where few bees wintered",
    caution: Some("Alcohol burns: no smoker near the jar, lid closed, none on the skin or in the eyes."),
    source: "Lee et al. 2010: one 300-bee sample a colony; extension wash guides: half a cup from open brood, shake 60 s",
    rest_days: 10,
    speak,
};

/// Days a new colony is left before its first wash.
const NEW: i64 = 30;
/// Days from the end of a treatment to the recount (a supplier's teaching page: 10 to 14).
const RECOUNT: i64 = 12;
/// Frames of bees under which a wintered colony is suspected of mites first.
const FEW: f64 = 4.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::FramesMayBeLifted);
    // Without open brood there is nothing to take the sample from.
    let broodless = matches!(
        s.hive.queen.status,
        QueenStatus::Cell | QueenStatus::Virgin | QueenStatus::Caged | QueenStatus::Missing
    );
    if !window.holds(today) || broodless || s.hive.course_on(today).is_some() {
        return None;
    }
    #[allow(clippy::cast_possible_truncation, reason = "a practice of at most 60 days")]
    let every = s.day.practice.wash_every() as i64;
    let last = s.hive.washes.iter().rfind(|w| s.day.calendar.holds(w.on) && w.on <= today);
    let ended = s.hive.courses.iter().filter_map(|c| c.ended).filter(|on| s.day.calendar.holds(*on)).max();
    let recount = ended.filter(|on| last.is_none_or(|w| w.on <= *on)).map(|on| days_after(on, RECOUNT));
    let new = if s.hive.origin == Origin::Overwintered { window.opens } else { days_after(s.hive.came, NEW) };
    let opens = match (recount, last) {
        (Some(on), _) => on.max(window.opens),
        (None, Some(last)) => days_after(last.on, every).max(window.opens),
        (None, None) => window.opens.max(new),
    };
    if today < opens {
        return None;
    }
    let few = last.is_none()
        && s.hive.origin == Origin::Overwintered
        && s.within(s.hive.seen.bees, 60).is_some_and(|b| b.0 <= FEW);
    let before_winter_bees = s.day.calendar.window(DateId::MitesInCheck).holds(today);
    let overdue = (today - opens).num_days() > 14;
    let urgency = if few || before_winter_bees || overdue { Urgency::Must } else { Urgency::Should };
    let why = if recount.is_some() {
        "A treatment has ended: only a count says whether it worked.".to_owned()
    } else if few {
        "It wintered down to a few frames: mites are the first suspect, so count it before the others."
            .to_owned()
    } else if let Some(last) = last {
        format!(
            "Last count {} on {}, {} days ago. Mites double in about a month while there is brood.",
            format_args!("{} on {} bees ({:.1} %)", last.mites, last.bees, last.percent()),
            last.on.format("%-d %b"),
            (today - last.on).num_days()
        )
    } else {
        "Not counted this year yet. A colony looks well until it is too late.".to_owned()
    };
    Some(
        Prompt::new(RULE.id, urgency, Due::new(opens, days_after(opens, 3), days_after(opens, 10)), "Wash for mites", why)
            .how(&[
                "Find the queen and set her frame aside. Shake bees from open brood, let the old ones fly 30 seconds.",
                "Half a cup (about 300) into the jar with alcohol, lid on, shake a full minute, count.",
                "Type the mites; the bees too if it was not about 300.",
            ])
            .asks(&[Finding::Mites, Finding::WashBees])
            .doing(&[Deed::LiftsFrames, Deed::Washes], 6.0)
            .needs(Need::WashKit),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::fold::{Course, MiteCount};
    use crate::model::testing::{day, frames, hive};
    use crate::model::{HiveState, Treatment};

    fn washed(on: &str) -> HiveState {
        let mut state = hive(1);
        state.washes.push(MiteCount { on: day(on), mites: 3, bees: 300 });
        state
    }

    #[test]
    fn the_first_wash_is_on_the_first_day_frames_may_be_lifted() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-04-25"), day("2026-10-31"))));
    }

    #[test]
    fn thirty_days_after_a_wash_it_asks_again() {
        let case = Case::of(washed("2026-06-01"));
        assert!(case.clone().on("2026-06-30").speak(&RULE).is_none());
        let prompt = case.on("2026-07-01").speak(&RULE).unwrap();
        assert_eq!(prompt.urgency, Urgency::Should);
        assert!(prompt.why.contains("3 on 300 bees (1.0 %)"), "{}", prompt.why);
    }

    #[test]
    fn last_years_count_says_nothing_of_this_year() {
        assert!(Case::of(washed("2025-10-20")).on("2026-04-25").speak(&RULE).is_some());
    }

    #[test]
    fn a_treatment_is_left_to_work_and_then_counted() {
        let mut state = washed("2026-06-01");
        let mut course = Course {
            treatment: Treatment::FormicStrips,
            began: day("2026-06-02"),
            until: day("2026-06-16"),
            ended: None,
        };
        state.courses.push(course);
        assert!(Case::of(state.clone()).on("2026-07-20").speak(&RULE).is_none());
        course.ended = Some(day("2026-06-16"));
        state.courses = vec![course];
        assert!(Case::of(state.clone()).on("2026-06-27").speak(&RULE).is_none());
        assert!(Case::of(state).on("2026-06-28").speak(&RULE).unwrap().why.contains("whether it worked"));
    }

    #[test]
    fn a_survivor_on_few_frames_is_first() {
        for (bees, urgency) in [(4.0, Urgency::Must), (4.25, Urgency::Should)] {
            let mut state = hive(1);
            state.seen.bees = frames("2026-04-20", bees);
            assert_eq!(Case::of(state).on("2026-04-26").speak(&RULE).unwrap().urgency, urgency, "{bees}");
        }
    }

    #[test]
    fn before_the_winter_bees_it_is_a_must() {
        assert_eq!(
            Case::of(washed("2026-06-15")).on("2026-07-15").speak(&RULE).unwrap().urgency,
            Urgency::Must
        );
    }
}
