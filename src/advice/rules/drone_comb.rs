//! `mites.drone-comb`: a drone comb as a trap for mites, for those who like it, and out before they hatch.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "mites.drone-comb",
    name: "drone comb",
    about: "A choice in spring: a drone comb as a mite trap; once it is in, out sealed before the drones hatch",
    caution: None,
    source: "drones hatch on day 24 (Winston 1987); taken out three to four times a season: keepers' pages, read in part",
    answer_holds: Holds::Days(200),
    may_need: |_, _, _| vec![Need::Gear(Gear::DroneComb)],
    speak,
    ..Rule::PLAIN
};

/// Days in which a drone comb is laid and sealed, and the last day before drones hatch.
const SEALED: i64 = 18;
const HATCH: i64 = 23;
/// Frames of bees from which a colony raises drones.
const STRONG: f64 = 7.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    if let Some(given) = s.hive.drone_comb {
        let (opens, latest) = (days_after(given, SEALED), days_after(given, HATCH));
        return (today >= opens).then(|| {
            let late = today > latest;
            Prompt::new(
                RULE.id,
                Urgency::Must,
                Due::new(opens, days_after(given, 21), latest),
                "Take out the drone comb",
                if late {
                    format!("In since {}: drones have hatched, and the mites with them. Count soon.", s.date(given))
                } else {
                    format!("In since {}: drones hatch from {}, and left in it raises mites.", s.date(given), s.date(latest))
                },
            )
            .how(&["Freeze it two days or cut it out; then it may go in again. A comb forgotten is worse than none."])
            .doing(&[Deed::LiftsFrames], 4.0)
            .offer(Offer::of("drone comb out", Action::DroneComb { given: false }))
        });
    }
    let season = s.day.calendar.window(DateId::SwarmSeason);
    let strong = s.within(s.hive.seen.bees, 21).is_some_and(|b| b.0 >= STRONG);
    let has_mites = s.hive.last_wash().is_some_and(|w| s.day.calendar.holds(w.on) && w.mites > 0);
    if !season.holds(today) || !strong || !has_mites || s.hive.course_on(today).is_some() {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::May,
            Due::new(season.opens, season.opens, season.closes),
            "A drone comb against mites, if you like",
            "Mites prefer drone brood many times over. It slows them, it does not replace a count or a treatment.",
        )
        .how(&[
            "One drone comb, or a shallow frame in a deep box, at the edge of the brood.",
            "Out on day 18 to 23, sealed. If you may not be back by then, leave it.",
        ])
        .asks(&[Finding::Bees])
        .doing(&[Deed::LiftsFrames], 3.0)
        .needs(Need::Gear(Gear::DroneComb))
        .offer(Offer::of("drone comb given", Action::DroneComb { given: true }).promising(SEALED + 2, "take out the drone comb")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};

    #[test]
    fn what_is_in_comes_out_before_the_drones_hatch() {
        let mut state = hive(1);
        state.drone_comb = Some(day("2026-05-01"));
        let told = |on: &str| Case::of(state.clone()).on(on).speak(&RULE);
        assert!(told("2026-05-18").is_none());
        assert_eq!(told("2026-05-19").unwrap().urgency, Urgency::Must);
        assert!(told("2026-05-24").unwrap().why.contains("drones hatch"));
        assert!(told("2026-05-25").unwrap().why.contains("have hatched"));
    }
}
