//! Strips that are in, and a count taken while they are: whether they hold the mites, and what goes in their place.
//!
//! No rule of its own: what `mites.treat` and `mites.winter-bees` say of a count taken halfway.

use std::cell::OnceCell;

use super::mites_treat::allowed;
use super::{Prompt, Situation};
use crate::colony::treatment::Conditions;
use crate::model::{Action, Course, MiteCount};

/// Share of the count before a course to which half of it must have brought the mites (our choice).
const HELD: f64 = 0.5;

/// Days that strips are in before a count tells whether they hold the mites (our choice: half their six weeks).
pub(super) const HALFWAY: i64 = 21;

/// Whether a course lasts so long that a count taken meanwhile may end it. A shorter one is left to its work.
pub(super) fn is_of_weeks(course: &Course) -> bool {
    (course.until - course.began).num_days() >= 2 * HALFWAY
}

/// The last count before a course.
pub(super) fn before<'a>(s: &Situation<'a>, course: &Course) -> Option<&'a MiteCount> {
    s.hive.washes.iter().rfind(|w| w.on <= course.began)
}

/// Whether what is in the hive is bringing the mites down, by the count taken since: then it is left to end its work.
pub(super) fn holds(s: &Situation<'_>, count: MiteCount) -> bool {
    let Some(course) = s.hive.course_on(s.today()).filter(|c| is_of_weeks(c)) else { return false };
    before(s, course).is_none_or(|before| count.percent() < HELD * before.percent())
}

/// What is allowed; where strips are in that do not hold the mites by a count taken since, or not for certain, in their place.
pub(super) fn in_place(s: &Situation<'_>, prompt: Prompt, conditions: &Conditions) -> Prompt {
    let Some(slow) = s.hive.course_on(s.today()).filter(|c| is_of_weeks(c)) else {
        return allowed(s, prompt, conditions, |_| true);
    };
    let mut without = s.hive.clone();
    for course in without.courses.iter_mut().filter(|c| c.ended.is_none()) {
        course.ended = Some(s.today());
    }
    let bare = Situation { hive: &without, in_force: s.in_force.clone(), record: OnceCell::new(), ..*s };
    let mut prompt = allowed(&bare, prompt, conditions, |t| t != slow.treatment);
    let are_in = format!("The {} in since {}", slow.treatment.word(), s.date(slow.began));
    let words = if s.hive.last_wash().is_some_and(|count| holds(s, *count)) {
        format!(
            "{are_in} may not be enough. They reach the mites on the bees and not those under the caps, so that a wash finds few \
             while they are in: to be sure of the winter bees, another treatment in their place."
        )
    } else {
        format!("{are_in} do not hold them: take them out, and another treatment in.")
    };
    prompt.how.insert(0, words);
    for offer in
        prompt.offers.iter_mut().filter(|o| o.actions.iter().any(|a| matches!(a, Action::Treat { .. })))
    {
        offer.label = format!("strips out, {}", offer.label);
        offer.actions.insert(0, Action::EndTreatment { treatment: slow.treatment });
    }
    prompt
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::mites_treat::RULE;
    use crate::advice::rules::testing::Case;
    use crate::model::Treatment;
    use crate::model::testing::{day, hive};

    /// Strips since 1 July, counted halfway: half of what was there is held, more is not.
    #[test]
    fn strips_that_do_not_hold_the_mites_make_way_for_another_treatment() {
        for (mites, speaks) in [(9, false), (10, true)] {
            let mut state = hive(2);
            let began = day("2026-07-10");
            state.washes.push(MiteCount { on: began, mites: 20, bees: 300 });
            state.washes.push(MiteCount { on: day("2026-08-01"), mites, bees: 300 });
            let until = day("2026-08-21");
            state.courses.push(Course { treatment: Treatment::OxalicStrips, began, until, ended: None });
            let said = Case::of(state).on("2026-08-01").fahrenheit(75.0).speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{mites}");
            let Some(prompt) = said else { continue };
            let first = &prompt.offers[0];
            assert_eq!(first.label, "strips out, thymol gel");
            let out = Action::EndTreatment { treatment: Treatment::OxalicStrips };
            assert_eq!(first.actions[0], out);
            assert!(prompt.offers.iter().all(|o| !o.label.contains("slow-release")), "{:?}", prompt.offers);
        }
    }

    #[test]
    fn a_count_typed_while_formic_acid_is_in_takes_nothing_out() {
        let mut state = hive(2);
        let (began, until) = (day("2026-07-25"), day("2026-08-08"));
        state.washes.push(MiteCount { on: began, mites: 20, bees: 300 });
        state.washes.push(MiteCount { on: day("2026-08-01"), mites: 20, bees: 300 });
        state.courses.push(Course { treatment: Treatment::FormicStrips, began, until, ended: None });
        let prompt = Case::of(state).on("2026-08-01").fahrenheit(75.0).speak(&RULE).unwrap();
        assert!(prompt.offers.is_empty(), "{:?}", prompt.offers);
    }
}
