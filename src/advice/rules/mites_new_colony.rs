//! `mites.new-colony`: a package or a swarm has no sealed brood in its first days, and every mite can be reached.

use chrono::NaiveDate;

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Urgency};
use crate::colony::treatment::Conditions;
use crate::model::{Origin, Treatment, days_after};

pub(super) const RULE: Rule = Rule {
    id: "mites.new-colony",
    name: "mites of a new colony",
    about: "A package or swarm in the days before its first brood is sealed: one oxalic acid treatment reaches every mite",
    caution: Some(
        "Oxalic acid burns skin, eyes and lungs: acid-proof gloves and goggles, and for vapor a respirator for acid gas, \
         upwind. The label in hand decides; local law and the veterinarian come before this page.",
    ),
    source: "brood is sealed nine days after the egg (Winston 1987); common practice, no single source",
    answer_holds: Holds::Days(30),
    // A count over the limit asks for the same and more.
    silent_beside: &[super::mites_treat::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Days from its coming in which a new colony is left to settle first.
const SETTLES: i64 = 3;
/// Days from the egg to the cap, and the days a queen takes to lay, at the earliest.
const SEALED: i64 = 9;

/// The days without sealed brood, by how the colony came.
fn window(s: &Situation<'_>) -> Option<(NaiveDate, NaiveDate)> {
    let came = s.hive.came;
    let laying_after = match s.hive.origin {
        // In her cage until day 3 at least.
        Origin::Package => 4,
        Origin::Swarm => 2,
        Origin::Nuc | Origin::Split | Origin::Overwintered => return None,
    };
    Some((days_after(came, SETTLES), days_after(came, laying_after + SEALED - 1)))
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let (opens, closes) = window(s)?;
    let today = s.today();
    let sealed = s.hive.seen.sealed.is_some_and(|seen| seen.value && seen.on >= s.hive.came);
    let treated = s.hive.courses.iter().any(|c| c.began >= s.hive.came);
    if today < opens || today > closes || sealed || treated || s.hive.super_boxes() > 0 {
        return None;
    }
    let oxalic = |t: Treatment| matches!(t, Treatment::OxalicDribble | Treatment::OxalicVapour);
    let conditions =
        Conditions { reading: s.day.weather.temperature, units: s.day.units, ..Conditions::default() };
    let prompt = Prompt::new(
        RULE.id,
        Urgency::May,
        Due::new(opens, opens, closes),
        "No sealed brood yet: oxalic acid reaches every mite",
        format!(
            "Until about {} no brood is sealed. One treatment now does what several do later; look that no cell is capped.",
            s.date(closes)
        ),
    )
    .doing(&[Deed::CracksLid, Deed::Treats], 4.0);
    Some(super::mites_treat::allowed(s, prompt, &conditions, oxalic))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive, seen};

    #[test]
    fn it_speaks_from_the_third_day_until_brood_may_be_sealed() {
        for (origin, last, after) in
            [(Origin::Package, "2026-05-13", "2026-05-14"), (Origin::Swarm, "2026-05-11", "2026-05-12")]
        {
            let mut state = hive(1);
            state.origin = origin;
            state.came = day("2026-05-01");
            let told = |on: &str| Case::of(state.clone()).on(on).speak(&RULE).is_some();
            assert!(!told("2026-05-03") && told("2026-05-04"), "{origin:?}");
            assert!(told(last) && !told(after), "{origin:?}");
            let mut sealed = state.clone();
            sealed.seen.sealed = seen("2026-05-06", true);
            assert!(Case::of(sealed).on("2026-05-06").speak(&RULE).is_none());
        }
    }
}
