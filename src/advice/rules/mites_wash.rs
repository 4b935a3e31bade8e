//! `mites.wash`: an alcohol wash of every colony every month of brood.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Urgency};
use crate::model::{Disease, Finding, Origin, QueenStatus, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "mites.wash",
    name: "mite wash",
    about: "Every month of brood, from the first day frames may be lifted; first of all where few bees wintered",
    caution: Some("Alcohol burns: no smoker near the jar, lid closed, none on the skin or in the eyes."),
    source: "Lee et al. 2010: one 300-bee sample a colony; extension wash guides: half a cup from open brood, shake 60 s",
    answer_holds: Holds::Days(10),
    may_need: super::a_treatment,
    speak,
    ..Rule::PLAIN
};

/// Days a new colony is left before its first wash.
const NEW: i64 = 30;
/// Days from the end of a treatment to the recount (a supplier's teaching page: 10 to 14).
const RECOUNT: i64 = 12;
/// Days between counts of a colony that is on the way over the limit before the winter bees.
const RISING: i64 = 14;
/// Days that crumpled wings ask for a count.
const WINGS: i64 = 21;
/// Days that a count may be old on the date for mites, and days before it by which a newer one is asked for.
const MONTH: i64 = 31;
const BEFORE: i64 = 14;
/// Days before the date for mites from which that is watched.
const RUN_UP: i64 = 42;
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
    // On the way over the limit before the winter bees: not left for a month.
    let check = s.day.calendar.window(DateId::MitesInCheck);
    let run_up = today >= days_after(check.closes, -RUN_UP) && today <= check.closes;
    let rising = run_up && super::mites_winter_bees::coming(s).is_some();
    let every = if rising { every.min(RISING) } else { every };
    let last = s.hive.washes.iter().rfind(|w| s.day.calendar.holds(w.on) && w.on <= today);
    let ended = s.hive.courses.iter().filter_map(|c| c.ended).filter(|on| s.day.calendar.holds(*on)).max();
    let recount = ended.filter(|on| last.is_none_or(|w| w.on <= *on)).map(|on| days_after(on, RECOUNT));
    let new = if s.hive.origin == Origin::Overwintered { window.opens } else { days_after(s.hive.came, NEW) };
    let opens = match (recount, last) {
        (Some(on), _) => on.max(window.opens),
        // The count that speaks for the winter bees must not be older than a month on their date.
        (None, Some(last)) if run_up && last.on < days_after(check.closes, -MONTH) => {
            days_after(last.on, every).min(days_after(check.closes, -BEFORE)).max(window.opens)
        }
        (None, Some(last)) => days_after(last.on, every).max(window.opens),
        (None, None) => window.opens.max(new),
    };
    // Crumpled wings come with mites: the next count is not left for a month.
    let wings = s
        .hive
        .seen
        .disease
        .filter(|d| d.value == Disease::Wings && (0..=WINGS).contains(&(today - d.on).num_days()));
    let wings = wings.filter(|d| last.is_none_or(|w| w.on < d.on));
    let opens = wings.map_or(opens, |d| opens.min(d.on));
    if today < opens {
        return None;
    }
    let few = last.is_none()
        && s.hive.origin == Origin::Overwintered
        && s.within(s.hive.seen.bees, 60).is_some_and(|b| b.0 <= FEW);
    let before_winter_bees = s.day.calendar.window(DateId::MitesInCheck).holds(today);
    let overdue = (today - opens).num_days() > 14;
    let urgency =
        if wings.is_some() || few || before_winter_bees || overdue { Urgency::Must } else { Urgency::Should };
    let why = if wings.is_some() {
        "Crumpled wings: the virus comes with mites, whatever the last count said.".to_owned()
    } else if recount.is_some() {
        "A treatment has ended: only a count says whether it worked.".to_owned()
    } else if few {
        "It wintered down to a few frames: mites are the first suspect, so count it before the others."
            .to_owned()
    } else if let Some(last) = last.filter(|_| rising) {
        format!(
            "{:.1} % on {} may pass your limit before the winter bees: count again after two weeks.",
            last.percent(),
            s.date(last.on)
        )
    } else if let Some(last) = last {
        format!(
            "Last count {} on {}, {} ago. Mites double in about a month while there is brood.",
            format_args!("{} on {} bees ({:.1} %)", last.mites, last.bees, last.percent()),
            s.date(last.on),
            wording::days((today - last.on).num_days())
        )
    } else {
        "Not counted this year yet. A colony looks fine until it is too late.".to_owned()
    };
    Some(
        Prompt::new(RULE.id, urgency, Due::new(opens, days_after(opens, 3), days_after(opens, 10)), "Wash for mites", why)
            .how(&[
                "Find the queen and set her frame aside. Shake bees from open brood and let the old ones fly off for 30 seconds.",
                "Half a cup (about 300) into the jar with alcohol, put the lid on, shake a full minute, count.",
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
    fn before_the_winter_bees_a_rising_count_is_taken_again_after_two_weeks() {
        for (mites, on, speaks) in
            [(3, "2026-07-14", false), (3, "2026-07-15", true), (0, "2026-07-15", false)]
        {
            let mut state = hive(1);
            state.washes.push(MiteCount { on: day("2026-07-01"), mites, bees: 300 });
            assert_eq!(Case::of(state).on(on).speak(&RULE).is_some(), speaks, "{mites} {on}");
        }
    }

    #[test]
    fn for_the_winter_bees_a_count_of_the_last_month_must_stand() {
        for (washed, on, speaks) in [
            ("2026-07-14", "2026-07-31", false),
            ("2026-07-14", "2026-08-01", true),
            ("2026-07-15", "2026-08-13", false),
            ("2026-07-15", "2026-08-14", true),
        ] {
            let mut state = hive(1);
            state.washes.push(MiteCount { on: day(washed), mites: 0, bees: 300 });
            assert_eq!(Case::of(state).on(on).speak(&RULE).is_some(), speaks, "{washed} {on}");
        }
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
