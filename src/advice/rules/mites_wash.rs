//! `mites.wash`: an alcohol wash of every colony every month of brood.

use chrono::NaiveDate;

use super::{Holds, Prompt, Rule, Situation, mites_halfway};
use crate::advice::prompt::{Deed, Due, Need, Urgency};
use crate::model::{Course, Disease, Finding, MiteCount, Origin, QueenStatus, Seen, days_after};
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

/// Days before the month is out from which a visit may count, at most: two visits of two weeks come on day 28.
const EARLY: i64 = 4;
/// Days a new colony is left before its first wash.
const NEW: i64 = 30;
/// Days that are left it where the date for mites is near.
const SETTLES: i64 = 14;
/// Days from the end of a treatment to the recount (a supplier's teaching page: 10 to 14).
const RECOUNT: i64 = 12;
/// Days of a course after which the day it comes out tells: all brood sealed before it has come out from the caps.
const TELLS: i64 = 28;
/// Days that a look at eggs stands for (our choice).
const EGGS: i64 = 14;
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
/// Days a look without open brood stands for.
const OPEN_BROOD: i64 = 9;

/// A warm day before the date: the few that wintered are counted first.
fn on_a_warm_day(s: &Situation<'_>) -> Option<Prompt> {
    let is_spring = s.today() >= s.day.calendar.at_widest(DateId::LateWinterHeft).opens
        && s.today() < s.day.calendar.at_widest(DateId::FramesMayBeLifted).opens;
    let is_warm = s.day.weather.temperature.is_some_and(|t| t.fahrenheit() >= s.day.practice.frames_from());
    let few = s.within(s.hive.seen.bees, 60).or(s.within(s.hive.seen.seams, 60)).is_some_and(|b| b.0 <= FEW);
    let counted = s.hive.washes.iter().any(|w| s.day.calendar.holds(w.on));
    (is_spring && is_warm && few && !counted).then(|| {
        prompt(
            Urgency::Should,
            Due::new(s.today(), s.today(), s.day.calendar.at_widest(DateId::FramesMayBeLifted).opens),
            "It wintered down to a few frames, and it is warm enough today: mites are the first suspect.".to_owned(),
        )
        .how(&["One frame from the edge of the brood is enough, the queen found first. Some would spare so few bees."])
    })
}

/// Whether there is nothing to take the sample from: a queen is being raised, or was looked for in vain.
fn has_no_open_brood(s: &Situation<'_>) -> bool {
    let is_raising = matches!(
        s.hive.queen.status,
        QueenStatus::Cell
            | QueenStatus::RipeCell
            | QueenStatus::Virgin
            | QueenStatus::Caged
            | QueenStatus::Missing
    );
    // No open brood was found: the queen is looked to first.
    let none_open = |seen: Option<Seen<bool>>| s.within(seen, OPEN_BROOD) == Some(false);
    is_raising || (none_open(s.hive.seen.eggs) && none_open(s.hive.seen.larvae))
}

fn prompt(urgency: Urgency, due: Due, why: String) -> Prompt {
    Prompt::new(RULE.id, urgency, due, "Wash for mites", why)
        .how(&[
            "Find the queen and set her frame aside. Shake bees from open brood and let the old ones fly off for 30 seconds.",
            "Half a cup (about 300) into the jar with alcohol, put the lid on, shake a full minute, count.",
            "Type the mites; the bees too if it was not about 300.",
        ])
        .asks(&[Finding::Mites, Finding::WashBees])
        .doing(&[Deed::LiftsFrames, Deed::Washes], 6.0)
        .needs(Need::WashKit)
}

/// Times the limit from which a course of weeks is not left to itself (our choice).
const HIGH: f64 = 2.0;

/// Strips may lose the race: a count halfway, while there is time for another treatment.
fn halfway(s: &Situation<'_>, course: &Course) -> Option<Prompt> {
    let tells = days_after(course.began, mites_halfway::HALFWAY);
    let counted = s.hive.washes.iter().any(|w| w.on >= days_after(tells, -EARLY) && w.on <= s.today());
    let before = mites_halfway::before(s, course);
    let in_doubt = super::mites_treat::is_slow(course.treatment)
        || before.is_some_and(|w| w.percent() > HIGH * s.day.practice.mite_limit());
    if !mites_halfway::is_of_weeks(course) || !in_doubt || s.today() < tells || counted {
        return None;
    }
    Some(prompt(
        Urgency::Should,
        Due::new(tells, days_after(tells, 3), course.until.max(tells)),
        format!(
            "{} have been in since {}. They work slowly, and in some yards not at all: count while another treatment can \
             still go in.",
            wording::capital(course.treatment.word()),
            s.date(course.began)
        ),
    ))
}

/// The day from which a course that has ended is counted on, where nobody has since.
fn recount(s: &Situation<'_>, last: Option<&MiteCount>) -> Option<NaiveDate> {
    let ended = s.hive.courses.iter().filter_map(|c| Some((c.ended?, c.began, c.until)));
    let (on, began, until) = ended.filter(|(on, ..)| s.day.calendar.holds(*on)).max()?;
    // What was left in past its days did its work by then.
    let worked = days_after(until.min(on), RECOUNT).max(on);
    let counts_on = if (on - began).num_days() >= TELLS { on } else { worked };
    last.is_none_or(|w| w.on <= on).then_some(counts_on)
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::FramesMayBeLifted);
    if has_no_open_brood(s) {
        return None;
    }
    if let Some(course) = s.hive.course_on(today) {
        return halfway(s, course);
    }
    if !s.day.calendar.at_widest(DateId::FramesMayBeLifted).holds(today) {
        return on_a_warm_day(s);
    }
    #[allow(clippy::cast_possible_truncation, reason = "a practice of at most 60 days")]
    let every = s.day.practice.wash_every() as i64;
    // On the way over the limit before the winter bees: not left for a month.
    let check = s.day.calendar.window(DateId::MitesInCheck);
    let from_run_up = today >= days_after(check.closes, -RUN_UP);
    let raised = today <= days_after(check.closes, RUN_UP);
    let rising = from_run_up && raised && super::mites_winter_bees::rising(s).is_some();
    let every = if rising { every.min(RISING) } else { every - EARLY.min(every / 7) };
    let last = s.hive.washes.iter().rfind(|w| s.day.calendar.holds(w.on) && w.on <= today);
    let recount = recount(s, last);
    // A new colony settles first, but not past the date for mites.
    let settled = days_after(s.hive.came, NEW).min(days_after(check.closes, -BEFORE));
    let new = if s.hive.origin == Origin::Overwintered {
        window.opens
    } else {
        settled.max(days_after(s.hive.came, SETTLES))
    };
    let opens = match (recount, last) {
        (Some(on), _) => on.max(window.opens),
        // The count that speaks for the winter bees must not be older than a month on their date.
        (None, Some(last)) if from_run_up && last.on < days_after(check.closes, -MONTH) => {
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
    let before_winter_bees = check.holds(today);
    // A count over the limit with nothing done since is not wiped out by its age.
    let limit = s.day.practice.mite_limit();
    let was_over = last.filter(|w| w.percent() > limit && !s.hive.courses.iter().any(|c| c.began >= w.on));
    let overdue = (today - opens).num_days() > 14;
    let urgency = if wings.is_some() || few || before_winter_bees || overdue || was_over.is_some() {
        Urgency::Must
    } else {
        Urgency::Should
    };
    let why = if wings.is_some() {
        "Crumpled wings: the virus comes with mites, whatever the last count said.".to_owned()
    } else if recount.is_some() {
        "A treatment has ended: only a count says whether it worked.".to_owned()
    } else if few {
        if today < s.day.calendar.opens(DateId::MainFlow) {
            "It wintered down to a few frames: mites are the first suspect, so count it before the others."
                .to_owned()
        } else {
            "Few bees, and never counted: mites, a failing queen and disease are the reasons to look for."
                .to_owned()
        }
    } else if let Some(over) = was_over {
        format!(
            "{:.1} % on {}, over your limit of {limit} %, and nothing was done: count it or treat it now.",
            over.percent(),
            s.date(over.on)
        )
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
        "Not counted this year yet. A colony full of mites looks fine for months.".to_owned()
    };
    let mut prompt = prompt(urgency, Due::new(opens, days_after(opens, 3), days_after(opens, 10)), why);
    // The bees of the wash come from open brood: whether there are eggs is seen by the way, and in summer nobody else asks.
    if s.within(s.hive.seen.eggs, EGGS).is_none() {
        prompt = prompt.asks(&[Finding::Mites, Finding::WashBees, Finding::Eggs]);
    }
    if wings.is_some() {
        "Crumpled wings: wash for mites now".clone_into(&mut prompt.title);
    }
    Some(prompt)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
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
    fn a_month_after_a_wash_less_four_days_it_asks_again() {
        let case = Case::of(washed("2026-06-01"));
        assert!(case.clone().on("2026-06-26").speak(&RULE).is_none());
        let prompt = case.on("2026-06-27").speak(&RULE).unwrap();
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
            ("2026-07-15", "2026-08-09", false),
            ("2026-07-15", "2026-08-10", true),
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
    fn strips_of_weeks_are_counted_halfway_where_they_are_slow_or_the_count_was_high() {
        for (treatment, mites, on, speaks) in [
            (Treatment::OxalicStrips, 7, "2026-07-21", false),
            (Treatment::OxalicStrips, 7, "2026-07-22", true),
            (Treatment::AmitrazStrips, 12, "2026-07-22", false),
            (Treatment::AmitrazStrips, 13, "2026-07-22", true),
            (Treatment::ThymolGel, 13, "2026-07-22", false),
        ] {
            let mut state = hive(1);
            let began = day("2026-07-01");
            state.washes.push(MiteCount { on: began, mites, bees: 300 });
            let days = if treatment == Treatment::ThymolGel { 28 } else { 42 };
            state.courses.push(Course { treatment, began, until: days_after(began, days), ended: None });
            assert_eq!(Case::of(state).on(on).speak(&RULE).is_some(), speaks, "{treatment:?} {mites} {on}");
        }
    }

    #[test]
    fn a_course_of_four_weeks_is_counted_on_the_day_it_comes_out() {
        for (began, speaks) in [("2026-06-01", true), ("2026-06-02", false)] {
            let mut state = washed("2026-05-30");
            let ended = day("2026-06-29");
            state.courses.push(Course {
                treatment: Treatment::ThymolGel,
                began: day(began),
                until: ended,
                ended: Some(ended),
            });
            assert_eq!(Case::of(state).on("2026-06-29").speak(&RULE).is_some(), speaks, "{began}");
        }
    }

    /// Formic acid works two weeks, however long its pads are left in.
    #[test]
    fn what_was_left_in_too_long_is_counted_from_the_end_of_its_days() {
        for (ended, first) in
            [("2026-06-15", "2026-06-27"), ("2026-06-20", "2026-06-27"), ("2026-06-28", "2026-06-28")]
        {
            let mut state = washed("2026-05-30");
            let (began, until) = (day("2026-06-01"), day("2026-06-15"));
            let ended = Some(day(ended));
            state.courses.push(Course { treatment: Treatment::FormicStrips, began, until, ended });
            let case = Case::of(state);
            let asked_on = |on| case.clone().on(on).speak(&RULE).is_some();
            assert!(asked_on(first) && !asked_on(&days_after(day(first), -1).to_string()), "{ended:?}");
        }
    }

    #[test]
    fn eggs_are_asked_with_the_wash_where_nobody_looked_in_two_weeks() {
        for (looked, asks) in [("2026-07-01", false), ("2026-06-30", true)] {
            let mut state = washed("2026-06-10");
            state.seen.eggs = crate::model::testing::seen(looked, true);
            let prompt = Case::of(state).on("2026-07-15").speak(&RULE).unwrap();
            assert_eq!(prompt.asks.contains(&Finding::Eggs), asks, "{looked}");
        }
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
