//! `queen.timeline`: after a split, a cell or a cage, when to look and when to keep out.

use chrono::NaiveDate;

use super::{Gear, Holds, Need, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::colony::brood::{self, Beginning, Timeline};
use crate::model::{Action, Finding, Queen, QueenStatus, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "queen.timeline",
    name: "the new queen",
    about: "After a split, a cell or a cage: when to look, when to leave alone, when to call it failed",
    caution: None,
    source: "worked from Winston 1987, ch. 4: a queen is 16 days from the egg; first eggs after a ripe cell: 177 splits of \
        Aurell et al. 2025; virgins: Norfolk beekeepers; a caged queen lays within ten days of release: common practice",
    answer_holds: Holds::Days(3),
    may_need: |_, _, _| vec![Need::Gear(Gear::MatedQueen)],
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let since = s.hive.queen.since?;
    let beginning = Beginning::of(s.hive.queen.status)?;
    let dates = brood::timeline(beginning, since);
    if beginning == Beginning::Caged {
        return caged(s, since, &dates);
    }
    raising(s, beginning, since, &dates)
}

/// What the day of raising a queen is called: from the split, the cell, the virgin seen, the supersedure.
fn day_words(beginning: Beginning, day: i64) -> String {
    match beginning {
        Beginning::SealedCell | Beginning::RipeCell => {
            format!("Day {day} after a ripe cell was left or given")
        }
        Beginning::Virgin => format!("Day {day} since a virgin was seen"),
        Beginning::Supersedure => format!("Day {day} since cells were left to replace the queen"),
        Beginning::WalkAway | Beginning::Caged | Beginning::PrimeSwarm | Beginning::Package => {
            format!("Day {day} of raising a queen")
        }
    }
}

fn raising(s: &Situation<'_>, beginning: Beginning, since: NaiveDate, dates: &Timeline) -> Option<Prompt> {
    let today = s.today();
    let (quiet_from, quiet_to) = dates.keep_out?;
    let day = (today - since).num_days();
    let said = day_words(beginning, day);
    let looked = s.hive.seen.eggs.filter(|e| e.on >= quiet_to);
    if today < quiet_from {
        // Only where they began from larvae are there cells to count: a ripe one has hatched by then.
        return (beginning == Beginning::WalkAway && day >= 5)
            .then(|| count_cells(s, since, &said, quiet_from))
            .flatten();
    }
    if today < quiet_to {
        return Some(keep_out(s, beginning, (quiet_from, quiet_to), &said));
    }
    if looked.is_some_and(|e| e.value) {
        return None;
    }
    let (first, last) = ((dates.eggs.earliest - since).num_days(), (dates.eggs.latest - since).num_days());
    if today < dates.failed_by {
        if looked.is_some() {
            return Some(
                Prompt::new(
                    RULE.id,
                    Urgency::Should,
                    Due::new(quiet_to, dates.failed_by, dates.failed_by),
                    format!("No eggs yet: wait until {}", s.date(dates.failed_by)),
                    format!("{said}: eggs come from day {first} to {last}, and cold or rain holds her back."),
                )
                .how(&["Leave the nest alone until then. Have a mated queen in mind, or a neighbor to unite with."])
                .offer(Offer::noted("noted")),
            );
        }
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(quiet_to, quiet_to, dates.failed_by),
                "Look for the first eggs",
                format!(
                    "{said}: eggs are due from day {first} to {last}. Without any by {} it has failed.",
                    s.date(dates.failed_by)
                ),
            )
            .how(&[
                "Take one frame from the middle, the sun over your shoulder. Once you see eggs, close up.",
            ])
            .asks(&[Finding::Eggs, Finding::QueenSeen])
            .doing(&[Deed::LiftsFrames], 6.0),
        );
    }
    Some(failed(s, &said, dates.failed_by))
}

fn count_cells(s: &Situation<'_>, since: NaiveDate, said: &str, quiet_from: NaiveDate) -> Option<Prompt> {
    if s.hive.seen.cells.is_some_and(|c| c.on >= since) {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(days_after(since, 5), brood::cells_until(since), quiet_from),
            "Count the cells, once",
            format!("{said}: sealed cells show now. From {} keep out.", s.date(quiet_from)),
        )
        .how(&["Keep one or two good cells and cut the rest.", "No cell at all: give a frame with eggs."])
        .asks(&[Finding::Cells])
        .doing(&[Deed::LiftsFrames], 6.0),
    )
}

fn keep_out(
    s: &Situation<'_>,
    beginning: Beginning,
    (from, to): (NaiveDate, NaiveDate),
    said: &str,
) -> Prompt {
    let (urgency, now) = match beginning {
        Beginning::Supersedure => (
            Urgency::Should,
            "they raise another beside her. Cut no cells, split nothing; what must be looked at stays outside.",
        ),
        Beginning::Virgin => (
            Urgency::Must,
            "she flies and mates now, and lays two to three weeks after hatching. Open the hive and you may lose her.",
        ),
        Beginning::SealedCell | Beginning::RipeCell => (
            Urgency::Must,
            "a sealed cell hatches within eight days; then she flies and mates. Open the hive and you may lose her.",
        ),
        Beginning::WalkAway | Beginning::Caged | Beginning::PrimeSwarm | Beginning::Package => {
            (Urgency::Must, "she emerges, flies and mates now. Open the hive and you may lose her.")
        }
    };
    Prompt::new(
        RULE.id,
        urgency,
        Due::new(from, to, to),
        format!("Keep out of the nest until {}", s.date(to)),
        format!("{said}: {now}"),
    )
    .how(&["Watch the entrance and fill the feeder. Do not lift brood frames."])
    .doing(&[], 1.0)
}

fn failed(s: &Situation<'_>, said: &str, failed_by: NaiveDate) -> Prompt {
    let new_queen = Queen::of_status(QueenStatus::Caged, Some(s.today()));
    Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(failed_by, failed_by, days_after(failed_by, 5)),
        "No eggs by now: give a queen or unite",
        format!("{said}. With no brood at all, workers begin to lay in 3-4 weeks."),
    )
    .how(&[
        "Look once more for eggs. If you see them, note it, and all is well.",
        "If there are none, look for a queen that never laid and take her out. Then hang a mated queen in her cage.",
        "Or unite with a queenright neighbor over paper.",
    ])
    .asks(&[Finding::Eggs, Finding::QueenSeen])
    .doing(&[Deed::LiftsFrames, Deed::BringsQueen], 10.0)
    .needs(Need::Gear(Gear::MatedQueen))
    .offer(Offer::of("caged queen given", Action::SetQueen { queen: new_queen }))
}

fn caged(s: &Situation<'_>, since: NaiveDate, dates: &Timeline) -> Option<Prompt> {
    let (release, eggs) = (dates.out?.earliest, dates.eggs.usual);
    let today = s.today();
    // Late in the season a queen stops of herself: no eggs say nothing about her.
    let lays =
        today <= s.day.calendar.closes(DateId::FeedingDone) && s.day.calendar.frames_may_be_lifted(today);
    if today < release || !lays {
        return None;
    }
    let day = (today - since).num_days();
    let none_seen = s.hive.seen.eggs.is_some_and(|e| !e.value && e.on >= eggs);
    if none_seen && today >= dates.failed_by {
        return Some(no_eggs_of_a_caged_queen(s, day, dates.failed_by));
    }
    let is_look = today >= eggs;
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(release, release, eggs),
        if is_look { "Look for eggs of the new queen" } else { "See whether the queen is out of her cage" },
        format!(
            "Her cage was hung {} ago. Out by day 3 to 5, eggs by about day 8 ({}).",
            wording::days(day),
            s.date(eggs)
        ),
    )
    .asks(if is_look { &[Finding::Eggs, Finding::QueenSeen] } else { &[Finding::QueenSeen] });
    prompt = if is_look {
        prompt
            .how(&["If you see eggs, she is laying: close up and leave them for a week."])
            .doing(&[Deed::LiftsFrames], 5.0)
    } else {
        prompt
            .how(&[
                "Lift only the cage. If bees cling and bite, wait two days. If they are calm, let her walk out.",
                "Leave the frames where they are: she is new, and easily lost.",
            ])
            .doing(&[Deed::OpensLid], 4.0)
            .offer(Offer::noted("she is out of the cage").promising(5, "new queen: look for eggs"))
    };
    Some(prompt)
}

/// The cage was hung two weeks ago, and there is no egg: it is called, not looked at again and again.
fn no_eggs_of_a_caged_queen(s: &Situation<'_>, day: i64, failed_by: NaiveDate) -> Prompt {
    let late = s.today() > s.day.calendar.closes(DateId::LastSplit);
    let then = if late {
        "No queen to be found: another mated one this week, or unite. It is too late for them to raise one."
    } else {
        "No queen to be found: another mated one; or a frame with eggs, to see whether they want one; or unite."
    };
    Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(failed_by, failed_by, days_after(failed_by, 5)),
        "No eggs of the new queen: look for her, then decide",
        format!(
            "Day {day} since her cage was hung. A mated queen lays within about ten days of her release."
        ),
    )
    .how(&["Look for her once, well. A queen that does not lay is taken out first.", then])
    .asks(&[Finding::QueenSeen, Finding::Eggs])
    .doing(&[Deed::LiftsFrames], 10.0)
    .needs(Need::Gear(Gear::MatedQueen))
    .offer(Offer::of(
        "not there: another caged queen given",
        Action::SetQueen { queen: Queen::of_status(QueenStatus::Caged, Some(s.today())) },
    ))
    .offer(Offer::of(
        "not there: no queen given yet",
        Action::SetQueen { queen: Queen::of_status(QueenStatus::Missing, Some(s.today())) },
    ))
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
    fn no_eggs_in_october_say_nothing_of_a_new_queen() {
        let state = || {
            let mut state = hive(1);
            state.queen = Queen::of_status(QueenStatus::Caged, Some(day("2026-09-10")));
            state
        };
        for (on, speaks) in [("2026-09-30", true), ("2026-10-01", false), ("2027-02-10", false)] {
            assert_eq!(Case::of(state()).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
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

    #[test]
    fn a_look_without_eggs_waits_for_the_last_day_and_then_it_has_failed() {
        let mut state = split();
        state.seen.eggs = seen("2026-06-11", false);
        let at = |on: &str| Case::of(state.clone()).on(on).speak(&RULE).unwrap();
        assert_eq!(at("2026-06-11").title, "No eggs yet: wait until Jun 17");
        assert_eq!(at("2026-06-16").urgency, Urgency::Should);
        assert!(at("2026-06-17").title.contains("give a queen or unite"));
    }

    #[test]
    fn each_beginning_has_its_own_days() {
        let at = |status, on: &str| {
            let mut state = hive(1);
            state.queen = Queen::of_status(status, Some(day("2026-06-01")));
            Case::of(state).on(on).speak(&RULE).map(|p| p.title)
        };
        for (status, keep_out, look) in [
            (QueenStatus::Virgin, "2026-06-14", "2026-06-15"),
            (QueenStatus::RipeCell, "2026-06-21", "2026-06-22"),
            (QueenStatus::Superseded, "2026-06-24", "2026-06-25"),
            (QueenStatus::Cell, "2026-06-24", "2026-06-25"),
        ] {
            assert!(at(status, keep_out).unwrap().contains("Keep out"), "{status:?}");
            assert_eq!(at(status, look).as_deref(), Some("Look for the first eggs"), "{status:?}");
        }
    }

    #[test]
    fn a_caged_queen_without_eggs_is_called_after_two_weeks() {
        let mut state = hive(1);
        state.queen = Queen::of_status(QueenStatus::Caged, Some(day("2026-05-01")));
        state.seen.eggs = seen("2026-05-14", false);
        let title = |on: &str| Case::of(state.clone()).on(on).speak(&RULE).unwrap().title;
        assert!(title("2026-05-14").contains("Look for eggs"));
        assert!(title("2026-05-15").contains("look for her, then decide"));
    }
}
