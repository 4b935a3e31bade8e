//! `queen.missing`: what the ages of brood say about when a queen was last there.

use super::{Holds, Prompt, Rule, Situation, gear};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::brood;
use crate::model::{Action, Finding, Pattern, Queen, QueenStatus};

pub(super) const RULE: Rule = Rule {
    id: "queen.missing",
    name: "missing queen",
    about: "No eggs: the ages of brood say when a queen last laid; a frame with eggs is the test",
    caution: None,
    source: "worker 3 + 6 + 12 days, Winston 1987 ch. 4 as read in a secondary page; laying workers after 3-4 weeks, \
        from memory",
    answer_holds: Holds::Days(6),
    may_need: |_, _, _| vec![gear::MATED_QUEEN],
    speak,
    ..Rule::PLAIN
};

/// Days a look at the brood stands for.
const FRESH: i64 = 7;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    if !s.day.calendar.frames_may_be_lifted(s.today()) {
        return None;
    }
    match s.hive.queen.status {
        QueenStatus::Laying | QueenStatus::Unknown | QueenStatus::Missing | QueenStatus::DroneLayer => {}
        QueenStatus::Caged | QueenStatus::Cell | QueenStatus::Virgin => return None,
    }
    let eggs = s.hive.seen.eggs.filter(|e| (0..=FRESH).contains(&(s.today() - e.on).num_days()))?;
    let drones = s.within(s.hive.seen.pattern, FRESH) == Some(Pattern::Drone);
    if eggs.value && !drones {
        return None;
    }
    // Late in the season a queen stops of herself.
    if !drones && s.today() > s.day.calendar.closes(crate::season::DateId::FeedingDone) {
        return None;
    }
    let same_day = |seen: Option<crate::model::Seen<bool>>| seen.filter(|x| x.on == eggs.on).map(|x| x.value);
    let (larvae, sealed) = (same_day(s.hive.seen.larvae), same_day(s.hive.seen.sealed));
    let due = Due::new(s.today(), s.today(), s.in_days(7));
    if !drones && (larvae.is_none() || sealed.is_none()) {
        return (eggs.on == s.today()).then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "No eggs: say what brood there is",
                "Open and sealed brood tell when she last laid, and how much time is left.",
            )
            .asks(&[Finding::Larvae, Finding::Sealed, Finding::QueenSeen, Finding::Cells])
            .doing(&[Deed::LiftsFrames], 3.0)
        });
    }
    let when = match brood::last_laid(eggs.on, false, larvae == Some(true), sealed == Some(true)) {
        Some((earliest, latest)) => format!(
            "The youngest brood says she last laid between {} and {}.",
            s.date(earliest),
            s.date(latest)
        ),
        None => "No brood of any age: she has not laid for three weeks or more.".to_owned(),
    };
    let (title, why) = if drones {
        (
            "Drones in worker cells: requeen or unite",
            "A failing queen or laying workers: neither fixes itself.".to_owned(),
        )
    } else {
        ("Queen missing: give a frame with eggs", when)
    };
    Some(
        Prompt::new(RULE.id, Urgency::Must, due, title, why)
            .how(&[
                "A frame with eggs from a healthy hive, marked: queen cells on it in five days mean there is no queen.",
                "Cells or a virgin already there: leave them, and look for eggs in three weeks.",
                "No brood for over three weeks: unite with a queenright hive over paper rather than requeen.",
            ])
            .asks(&[Finding::QueenSeen, Finding::Cells])
            .doing(&[Deed::LiftsFrames], 10.0)
            .needs(Need::DrawnFrames { count: 1 })
            .offer(
                Offer::of(
                    "frame with eggs given",
                    Action::SetQueen { queen: Queen::of_status(QueenStatus::Missing, Some(s.today())) },
                )
                .promising(5, "frame with eggs: are there cells?"),
            )
            .offer(Offer::of(
                "caged queen given",
                Action::SetQueen { queen: Queen::of_status(QueenStatus::Caged, Some(s.today())) },
            )),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{hive, seen};

    const DAY: &str = "2026-06-22";

    fn brood_of(eggs: bool, larvae: Option<bool>, sealed: Option<bool>) -> HiveState {
        let mut state = hive(1);
        state.seen.eggs = seen(DAY, eggs);
        state.seen.larvae = larvae.and_then(|v| seen(DAY, v));
        state.seen.sealed = sealed.and_then(|v| seen(DAY, v));
        state
    }

    fn why(state: HiveState) -> Option<String> {
        Case::of(state).on(DAY).speak(&RULE).map(|p| p.why)
    }

    #[test]
    fn eggs_or_no_look_silence_it() {
        assert_eq!(why(brood_of(true, None, None)), None);
        assert_eq!(why(hive(1)), None);
    }

    #[test]
    fn the_youngest_brood_dates_her_last_day() {
        assert!(why(brood_of(false, Some(true), Some(true))).unwrap().contains("between Jun 13 and Jun 19"));
        assert!(why(brood_of(false, Some(false), Some(true))).unwrap().contains("between Jun 1 and Jun 13"));
        assert!(why(brood_of(false, Some(false), Some(false))).unwrap().contains("three weeks or more"));
        assert!(why(brood_of(false, None, None)).unwrap().contains("how much time is left"));
    }

    #[test]
    fn a_week_is_how_long_a_look_stands() {
        let state = brood_of(false, Some(false), Some(false));
        assert!(Case::of(state.clone()).on("2026-06-29").speak(&RULE).is_some());
        assert!(Case::of(state).on("2026-06-30").speak(&RULE).is_none());
    }

    #[test]
    fn drones_in_worker_cells_speak_even_with_eggs() {
        let mut state = brood_of(true, None, None);
        state.seen.pattern = seen(DAY, Pattern::Drone);
        assert!(Case::of(state).on(DAY).speak(&RULE).unwrap().title.contains("Drones"));
    }
}
