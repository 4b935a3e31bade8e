//! `queen.timeline`: after a split, a cell or a cage, when to look and when to keep out.

use super::{Holds, Prompt, Rule, Situation, gear};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::colony::brood::{self, Beginning};
use crate::model::{Action, Finding, Queen, QueenStatus};
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "queen.timeline",
    name: "the new queen",
    about: "After a split, a cell or a cage: when to look, when to leave alone, when to call it failed",
    caution: None,
    source: "worked from Winston 1987, ch. 4: a queen is 16 days from the egg; mating and first eggs from general pages",
    answer_holds: Holds::Days(3),
    may_need: |_, _, _| vec![gear::MATED_QUEEN],
    speak,
    ..Rule::PLAIN
};

/// Why brood frames stay in, while a virgin is out to mate.
pub(in crate::advice) fn quiet(s: &Situation<'_>) -> Option<String> {
    let since = raising_since(s)?;
    let (from, to) = brood::timeline(Beginning::WalkAway, since).keep_out?;
    (from <= s.today() && s.today() < to)
        .then(|| format!("a virgin may be out mating: no brood frame is lifted until {}", s.date(to)))
}

fn raising_since(s: &Situation<'_>) -> Option<chrono::NaiveDate> {
    matches!(s.hive.queen.status, QueenStatus::Cell | QueenStatus::Virgin)
        .then_some(s.hive.queen.since)
        .flatten()
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    if s.hive.queen.status == QueenStatus::Caged {
        return caged(s);
    }
    let since = raising_since(s)?;
    let today = s.today();
    let dates = brood::timeline(Beginning::WalkAway, since);
    let (quiet_from, quiet_to) = dates.keep_out?;
    let day = (today - since).num_days();
    let looked = |from: chrono::NaiveDate| s.hive.seen.eggs.is_some_and(|e| e.on >= from);
    let at = |on: chrono::NaiveDate| s.date(on);
    if today < quiet_from {
        let seen = s.hive.seen.cells.is_some_and(|c| c.on >= since);
        return (day >= 5 && !seen).then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(crate::model::days_after(since, 5), brood::cells_until(since), quiet_from),
                "Count the cells, once",
                format!(
                    "Day {day} of raising a queen: sealed cells show now. From {} keep out.",
                    at(quiet_from)
                ),
            )
            .how(&["Keep one or two good cells and cut the rest.", "No cell at all: give a frame with eggs."])
            .asks(&[Finding::Cells])
            .doing(&[Deed::LiftsFrames], 6.0)
        });
    }
    if today < quiet_to {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                Due::new(quiet_from, quiet_to, quiet_to),
                format!("Keep out of the nest until {}", at(quiet_to)),
                format!(
                    "Day {day} of raising a queen: she emerges, flies and mates now. Open the hive and you may lose her."
                ),
            )
            .how(&["Watch the entrance and fill the feeder. Do not lift brood frames."])
            .doing(&[], 1.0),
        );
    }
    if today < dates.failed_by {
        return (!looked(quiet_to)).then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(quiet_to, quiet_to, dates.failed_by),
                "Look for the first eggs",
                format!(
                    "Day {day}: eggs are due from day 19 to 29. Without any by {} it has failed.",
                    at(dates.failed_by)
                ),
            )
            .how(&[
                "Take one frame from the middle, the sun over your shoulder. Once you see eggs, close up.",
            ])
            .asks(&[Finding::Eggs, Finding::QueenSeen])
            .doing(&[Deed::LiftsFrames], 6.0)
        });
    }
    if looked(dates.failed_by) && s.hive.seen.eggs.is_some_and(|e| e.value) {
        return None;
    }
    let new_queen = Queen::of_status(QueenStatus::Caged, Some(today));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Must,
            Due::new(dates.failed_by, dates.failed_by, crate::model::days_after(dates.failed_by, 5)),
            "No eggs by now: give a queen or unite",
            format!("Day {day} after the queen was taken. With no brood at all, workers begin to lay in 3-4 weeks."),
        )
        .how(&[
            "Look once more for eggs. If you see them, note it, and all is well.",
            "If there are none, hang a mated queen in her cage, or unite with a queenright neighbor over paper.",
        ])
        .asks(&[Finding::Eggs, Finding::QueenSeen])
        .doing(&[Deed::LiftsFrames], 10.0)
        .needs(gear::MATED_QUEEN)
        .offer(Offer::of("caged queen given", Action::SetQueen { queen: new_queen })),
    )
}

fn caged(s: &Situation<'_>) -> Option<Prompt> {
    let since = s.hive.queen.since?;
    let dates = brood::timeline(Beginning::Caged, since);
    let (release, eggs) = (dates.out?.earliest, dates.eggs.usual);
    let today = s.today();
    if today < release {
        return None;
    }
    let day = (today - since).num_days();
    let due = Due::new(release, release, eggs);
    let laying = Queen { status: QueenStatus::Laying, since: Some(today), ..s.hive.queen.clone() };
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Must,
            due,
            if today < eggs {
                "See whether the queen is out of her cage"
            } else {
                "Look for eggs of the new queen"
            },
            format!(
                "Her cage was hung {} ago. Out by day 3 to 5, eggs by about day 8 ({}).",
                wording::days(day),
                s.date(eggs)
            ),
        )
        .how(&[
            "Lift only the cage. If bees cling and bite, wait two days. If they are calm, let her walk out.",
            "If you see eggs, she is laying: close up and leave them for a week.",
        ])
        .asks(&[Finding::Eggs, Finding::QueenSeen])
        .doing(&[Deed::OpensLid], 4.0)
        .offer(
            Offer::of(
                "she is out",
                Action::SetQueen { queen: Queen { status: QueenStatus::Laying, ..laying } },
            )
            .promising(7, "new queen: look for eggs"),
        ),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive, seen};
    use crate::model::{Cells, HiveState};

    fn split() -> HiveState {
        let mut state = hive(1);
        state.queen = Queen::of_status(QueenStatus::Cell, Some(day("2026-05-18")));
        state
    }

    fn title(on: &str) -> Option<String> {
        Case::of(split()).on(on).speak(&RULE).map(|p| p.title)
    }

    #[test]
    fn each_day_after_a_split_has_its_word() {
        assert_eq!(title("2026-05-22"), None);
        assert_eq!(title("2026-05-23").as_deref(), Some("Count the cells, once"));
        assert_eq!(title("2026-05-28").as_deref(), Some("Keep out of the nest until Jun 11"));
        assert_eq!(title("2026-06-10").as_deref(), Some("Keep out of the nest until Jun 11"));
        assert_eq!(title("2026-06-11").as_deref(), Some("Look for the first eggs"));
        assert_eq!(title("2026-06-17").as_deref(), Some("No eggs by now: give a queen or unite"));
    }

    #[test]
    fn cells_counted_once_are_not_asked_for_again() {
        let mut state = split();
        state.seen.cells = seen("2026-05-23", Cells(3));
        assert!(Case::of(state).on("2026-05-24").speak(&RULE).is_none());
    }

    #[test]
    fn while_she_mates_no_other_rule_may_lift_a_frame() {
        let advice = Case::of(split()).on("2026-06-01").advise();
        assert!(advice.prompts.iter().all(|p| !p.deeds.contains(&Deed::LiftsFrames)));
        assert!(advice.prompts.iter().any(|p| p.rule == RULE.id));
    }

    #[test]
    fn a_cage_is_looked_at_on_day_three() {
        let mut state = hive(1);
        state.queen = Queen::of_status(QueenStatus::Caged, Some(day("2026-05-01")));
        assert!(Case::of(state.clone()).on("2026-05-03").speak(&RULE).is_none());
        assert!(Case::of(state.clone()).on("2026-05-04").speak(&RULE).unwrap().title.contains("cage"));
        assert!(Case::of(state).on("2026-05-09").speak(&RULE).unwrap().title.contains("eggs"));
    }
}
