//! `mites.broodless`: in early winter, without brood, every mite sits on a bee and can be reached.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Urgency};
use crate::colony::treatment::Conditions;
use crate::model::{Treatment, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "mites.broodless",
    name: "mites without brood",
    about: "Early winter, no brood: an oxalic acid treatment where the fall count was high, or there was none",
    caution: Some(
        "Oxalic acid burns skin, eyes and lungs: acid-proof gloves and goggles, and for vapor a respirator for acid gas, \
         upwind. The label in hand decides; local law and the veterinarian come before this page.",
    ),
    source: "common practice, no single source: oxalic acid does not reach under the caps; treatment rows name their own",
    answer_holds: Holds::DaysOrNextWash(60),
    once_a_year: true,
    speak,
    ..Rule::PLAIN
};

/// Days into the cluster from which the last brood is out.
const AFTER_CLUSTER: i64 = 7;
/// Days the broodless time is sure to last.
const LASTS: i64 = 38;
/// Days since oxalic acid in which it is not given again.
const RECENT: i64 = 60;

/// Chance of being over the limit by now from which it should be given.
const LIKELY: f64 = 0.3;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let cluster = s.day.calendar.opens(DateId::Cluster);
    let (opens, closes) = (days_after(cluster, AFTER_CLUSTER), days_after(cluster, AFTER_CLUSTER + LASTS));
    if today < opens || today > closes || s.hive.course_on(today).is_some() || s.hive.super_boxes() > 0 {
        return None;
    }
    let oxalic = |t: Treatment| matches!(t, Treatment::OxalicDribble | Treatment::OxalicVapour);
    // By guessed dates nobody knows when the brood is out.
    if s.day.calendar.shift.is_guess() {
        return None;
    }
    if s.hive.courses.iter().any(|c| oxalic(c.treatment) && (today - c.began).num_days() < RECENT) {
        return None;
    }
    let limit = s.day.practice.mite_limit();
    let since = s.day.calendar.closes(DateId::MitesInCheck);
    let count = s.hive.last_wash().filter(|w| w.on >= since);
    // By the model they may be over it by now, whatever the last count said: mites come in with robbers until the cold.
    let chance = || s.forecast().chance_over(today, limit).unwrap_or(0.0);
    let (urgency, why) = match count {
        Some(w) if w.percent() <= limit / 2.0 => {
            let chance = if w.mites == 0 { 0.0 } else { chance() };
            if chance <= LIKELY {
                return None;
            }
            let why = format!(
                "{:.1} % on {}, and mites may have come in since: over your limit of {limit} % by now in {} of 10 such hives.",
                w.percent(),
                s.date(w.on),
                wording::of_ten(chance)
            );
            (Urgency::Should, why)
        }
        Some(w) if w.percent() > limit => (
            Urgency::Should,
            format!("{:.1} % on {}, over your limit of {limit} %.", w.percent(), s.date(w.on)),
        ),
        Some(w) => (
            if chance() > LIKELY { Urgency::Should } else { Urgency::May },
            format!("{:.1} % on {}, more than half your limit of {limit} %.", w.percent(), s.date(w.on)),
        ),
        None => (Urgency::May, format!("No count since {}.", s.date(since))),
    };
    let conditions =
        Conditions { reading: s.day.weather.temperature, units: s.day.units, ..Conditions::default() };
    let prompt = Prompt::new(
        RULE.id,
        urgency,
        Due::new(opens, days_after(opens, 14), closes),
        "If there is no brood, oxalic acid reaches every mite",
        format!("{why} Without brood one treatment gets most of the mites, and spring starts low."),
    )
    .doing(&[Deed::CracksLid, Deed::Treats], 4.0);
    Some(super::mites_treat::allowed(s, prompt, &conditions, oxalic))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive};
    use crate::model::{Course, HiveState, MiteCount};

    fn counted(mites: u16) -> HiveState {
        let mut state = hive(1);
        state.seen.bees = frames("2026-10-20", 8.0);
        state.washes.push(MiteCount { on: day("2026-10-15"), mites, bees: 300 });
        state
    }

    #[test]
    fn it_speaks_for_five_weeks_of_early_winter() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-11-17"), day("2026-12-25"))));
    }

    #[test]
    fn a_jar_of_none_in_fall_leaves_them_shut() {
        for (mites, urgency) in
            [(0, None), (1, Some(Urgency::Should)), (4, Some(Urgency::Should)), (7, Some(Urgency::Should))]
        {
            let said = Case::of(counted(mites)).on("2026-11-25").speak(&RULE);
            assert_eq!(said.map(|p| p.urgency), urgency, "{mites}");
        }
    }

    #[test]
    fn only_oxalic_acid_is_offered_in_its_temperature_and_once() {
        let prompt = Case::of(counted(9)).on("2026-11-25").fahrenheit(42.0).speak(&RULE).unwrap();
        let offers: Vec<_> = prompt.offers.iter().map(|o| o.label.as_str()).collect();
        assert_eq!(offers, ["oxalic acid dribble", "oxalic acid vapor"]);
        let frost = Case::of(counted(9)).on("2026-11-25").fahrenheit(20.0).advise();
        assert!(frost.prompts.iter().all(|p| p.rule != RULE.id), "the lid stays on in frost");
        let mut state = counted(9);
        let began = day("2026-11-20");
        state.courses.push(Course {
            treatment: Treatment::OxalicVapour,
            began,
            until: began,
            ended: Some(began),
        });
        assert!(Case::of(state).on("2026-11-25").speak(&RULE).is_none());
    }
}
