//! `mites.repeat`: oxalic vapor given while there was brood is one dose of a course, not a treatment done.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, Treatment, days_after};

pub(super) const RULE: Rule = Rule {
    id: "mites.repeat",
    name: "oxalic vapor again",
    about: "Oxalic vapor with brood in the hive: again after a week, or another treatment",
    caution: Some(
        "Oxalic acid burns skin, eyes and lungs: acid-proof gloves and goggles, and a respirator for acid gas, upwind. The \
         label in hand decides; local law and the veterinarian come before this page.",
    ),
    source: "Berry et al. 2022, J. Insect Sci.: seven vapors, five days apart, held counts level at best; the interval from \
        memory",
    answer_holds: Holds::DaysOrNextWash(5),
    silent_beside: &[super::mites_treat::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Days from one vapor to the next.
const AGAIN: i64 = 5;
/// Days after which it is a course broken off, and the count speaks.
const BROKEN_OFF: i64 = 12;
/// Doses of one course at most that are asked for here.
const MOST: usize = 7;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let vapors = s.hive.courses.iter().filter(|c| c.treatment == Treatment::OxalicVapour);
    let last = vapors.clone().map(|c| c.began).max()?;
    let days = (today - last).num_days();
    let given = vapors.filter(|c| (last - c.began).num_days() <= AGAIN * 10).count();
    let other_since = s.hive.courses.iter().any(|c| c.began > last);
    let counted_since = s.hive.last_wash().is_some_and(|w| w.on > last);
    let calendar = s.day.calendar;
    let in_season = last >= calendar.at_widest(crate::season::DateId::FirstPollen).opens
        && last < calendar.at_widest(crate::season::DateId::UpperEntrances).closes;
    let sealed =
        s.hive.seen.sealed.filter(|seen| (seen.on - last).num_days().abs() <= 10).map(|seen| seen.value);
    let had_brood = sealed.unwrap_or(in_season && s.hive.queen.status == crate::model::QueenStatus::Laying);
    if !(AGAIN..=BROKEN_OFF).contains(&days)
        || other_since
        || counted_since
        || given >= MOST
        || !had_brood
        || s.hive.super_boxes() > 0
    {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(days_after(last, AGAIN), days_after(last, 7), days_after(last, BROKEN_OFF)),
            "Oxalic vapor again, or another treatment",
            format!(
                "Vapor on {}, with brood: it reached only the mites on the bees. Given again and again it holds them level at \
                 best; a treatment that reaches under the caps does more.",
                s.date(last)
            ),
        )
        .how(&["By the label's dose, every 5 to 7 days while there is brood. Then count."])
        .asks(&[Finding::Sealed])
        .doing(&[Deed::CracksLid, Deed::Treats], 4.0)
        .needs(Need::Treatment { treatment: Treatment::OxalicVapour })
        .offer(Offer::doing(
            "oxalic acid vapor again",
            vec![
                Action::Treat { treatment: Treatment::OxalicVapour, until: s.in_days(1) },
                Action::EndTreatment { treatment: Treatment::OxalicVapour },
            ],
        )),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::Course;
    use crate::model::testing::{day, hive};

    #[test]
    fn a_vapor_with_brood_is_asked_again_from_the_fifth_day_to_the_twelfth() {
        let mut state = hive(1);
        let began = day("2026-08-20");
        state.courses.push(Course {
            treatment: Treatment::OxalicVapour,
            began,
            until: began,
            ended: Some(began),
        });
        let told = |on: &str| Case::of(state.clone()).on(on).speak(&RULE).is_some();
        for (on, speaks) in
            [("2026-08-24", false), ("2026-08-25", true), ("2026-09-01", true), ("2026-09-02", false)]
        {
            assert_eq!(told(on), speaks, "{on}");
        }
        state.courses[0].began = day("2026-11-25");
        assert!(Case::of(state).on("2026-12-01").speak(&RULE).is_none(), "without brood one is enough");
    }
}
