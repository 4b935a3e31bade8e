//! `queen.missing`: what the ages of brood say about when a queen was last there.

use chrono::NaiveDate;

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::brood;
use crate::model::{Action, CellKind, Finding, Origin, Pattern, Queen, QueenStatus, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "queen.missing",
    name: "missing queen",
    about: "No eggs: the ages of brood say when a queen last laid; a frame with eggs is the test",
    caution: None,
    source: "worker 3 + 6 + 12 days, Winston 1987 ch. 4 as read in a secondary page; laying workers after 3-4 weeks, \
        from memory",
    answer_holds: Holds::Days(6),
    may_need: |_, _, _| vec![Need::Gear(Gear::MatedQueen)],
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
        QueenStatus::Caged
        | QueenStatus::Cell
        | QueenStatus::RipeCell
        | QueenStatus::Virgin
        | QueenStatus::Superseded => return None,
    }
    // A swarm comes without brood, and an after-swarm's queen takes three weeks to lay.
    if s.hive.origin == Origin::Swarm && (s.today() - s.hive.came).num_days() < SETTLES {
        return None;
    }
    let drones = s.within(s.hive.seen.pattern, FRESH) == Some(Pattern::Drone);
    let eggs = s.hive.seen.eggs.filter(|e| (0..=FRESH).contains(&(s.today() - e.on).num_days()));
    if drones {
        return Some(drone_brood(s));
    }
    let Some(eggs) = eggs else { return on_record(s) };
    if eggs.value {
        return None;
    }
    // Late in the season a queen stops of herself.
    if s.today() > s.day.calendar.closes(DateId::FeedingDone) {
        return None;
    }
    // Cells say more than a test frame.
    let cells = s.within(s.hive.seen.cells, FRESH).is_some_and(|c| c.0 > 0);
    let kind = s.within(s.hive.seen.cell_kind, FRESH).filter(|k| *k != CellKind::Cups);
    if cells && kind.is_some() {
        let in_season = s.day.calendar.window(DateId::SwarmSeason).holds(s.today());
        return (!in_season || kind == Some(CellKind::Emergency)).then(|| cells_are_there(s));
    }
    let same_day = |seen: Option<crate::model::Seen<bool>>| seen.filter(|x| x.on == eggs.on).map(|x| x.value);
    let (larvae, sealed) = (same_day(s.hive.seen.larvae), same_day(s.hive.seen.sealed));
    let due = Due::new(eggs.on, eggs.on, days_after(eggs.on, 7));
    if larvae.is_none() || sealed.is_none() {
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
    if s.today() > s.day.calendar.closes(DateId::LastSplit) {
        return Some(too_late(s, due, &when));
    }
    if let Some(given) = s.hive.eggs_given.filter(|on| (0..=STALE).contains(&(s.today() - *on).num_days())) {
        return tested(s, given, &when);
    }
    let gone_for = s.since(s.hive.queen.since).filter(|_| s.hive.queen.status == QueenStatus::Missing);
    if larvae == Some(false) && sealed == Some(false) && gone_for.is_some_and(|days| days >= TOO_LONG) {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "No brood of any age for weeks: unite",
                format!("{when} Workers begin to lay after three to four weeks without brood."),
            )
            .how(&[
                "Look at its brood combs for disease and count mites first; then over paper onto a queenright hive.",
                "Workers laying already (several eggs a cell, on the walls): shake the bees out before a strong hive.",
            ])
            .doing(&[Deed::LiftsFrames], 10.0),
        );
    }
    Some(
        Prompt::new(RULE.id, Urgency::Must, due, "Queen missing: give a frame with eggs", when)
            .how(&[
                "A frame with eggs from a healthy hive, marked: queen cells on it in five days mean there is no queen.",
                "Then a mated queen, or let them raise one from it while drones fly.",
            ])
            .asks(&[Finding::QueenSeen, Finding::Cells])
            .doing(&[Deed::LiftsFrames, Deed::MovesComb], 10.0)
            .needs(Need::DrawnFrames { count: 1 })
            .offer(
                Offer::of("frame with eggs given", Action::GiveEggs { frames: 1 })
                    .promising(5, "frame with eggs: are there cells?"),
            )
            .offer(caged(s)),
    )
}

/// Days after which bees without a queen have begun cells on a frame with eggs (common practice, no single source).
const SHOWS: i64 = 5;
/// Days after a test frame without cells by which a virgin would lay (from memory).
const VIRGIN_LAYS: i64 = 21;
/// Days for which a test frame is one and the same search for a queen (our choice).
const STALE: i64 = 60;

/// A frame with eggs was given, and there are no eggs of their own yet: what it says, and then a queen. Never a second test.
fn tested(s: &Situation<'_>, given: NaiveDate, when: &str) -> Option<Prompt> {
    let days = (s.today() - given).num_days();
    let lays_by = days_after(given, VIRGIN_LAYS);
    if days < SHOWS {
        return None;
    }
    if s.today() < lays_by {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(days_after(given, SHOWS), days_after(given, SHOWS), lays_by),
                "No cells on the test frame: a queen is there",
                format!(
                    "A frame with eggs since {}, and no cells on it: a queen is there, most likely a virgin who does not lay \
                     yet.",
                    s.date(given)
                ),
            )
            .how(&["Keep out of the nest until then; no second frame, and no queen bought into it."])
            .doing(&[], 1.0)
            .offer(Offer::noted("left in peace").promising((lays_by - s.today()).num_days(), "look for the first eggs")),
        );
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Must,
            Due::new(lays_by, lays_by, days_after(lays_by, 7)),
            "Still no eggs: a mated queen, or unite",
            format!("{when} A frame with eggs was given on {}; a virgin would lay by now.", s.date(given)),
        )
        .how(&[
            "Look once more for a queen who does not lay, and take her out. Then a mated queen in a cage.",
            "Or unite with a queenright, healthy hive over paper.",
        ])
        .asks(&[Finding::QueenSeen])
        .doing(&[Deed::LiftsFrames], 10.0)
        .needs(Need::Gear(Gear::MatedQueen))
        .offer(caged(s)),
    )
}

/// Queenless after the last split: one they raise now comes to nothing.
fn too_late(s: &Situation<'_>, due: Due, when: &str) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        "No eggs this late: a mated queen now, or unite",
        format!("{when} One they raise now would fly without drones, too late for winter bees."),
    )
    .how(&[
        "A mated queen in a cage this week; or unite with a queenright, healthy hive over paper.",
        "A frame with eggs only to be sure before you pay: cells on it in five days mean there is no queen.",
    ])
    .asks(&[Finding::QueenSeen, Finding::Cells])
    .doing(&[Deed::LiftsFrames], 10.0)
    .needs(Need::Gear(Gear::MatedQueen))
    .offer(caged(s))
}

/// Days in which a hived swarm's queen begins to lay: ten for a prime swarm, three weeks for an after-swarm.
const SETTLES: i64 = 21;
/// Days without a queen after which workers may lay (from memory: three to four weeks without brood).
const TOO_LONG: i64 = 28;

fn caged(s: &Situation<'_>) -> Offer {
    Offer::of(
        "caged queen given",
        Action::SetQueen { queen: Queen::of_status(QueenStatus::Caged, Some(s.today())) },
    )
}

/// Drone brood in worker cells: a caged queen is killed where workers lay, or where the old queen still walks.
fn drone_brood(s: &Situation<'_>) -> Prompt {
    let known = s.known_since(&[s.hive.seen.pattern.map(|p| p.on)]);
    let due = Due::new(known, known, days_after(known, 7));
    let is_there = s.within(s.hive.seen.queen_seen, FRESH) == Some(true);
    if is_there {
        return Prompt::new(
            RULE.id,
            Urgency::Must,
            due,
            "A drone layer: take her out first",
            "She has no sperm left. A new queen hung beside her is killed.",
        )
        .how(&[
            "Find her and take her out; then a mated queen in a cage, or unite with a queenright hive over paper.",
        ])
        .asks(&[Finding::Bees])
        .doing(&[Deed::LiftsFrames], 10.0)
        .needs(Need::Gear(Gear::MatedQueen))
        .offer(Offer::of(
            "old queen taken out",
            Action::SetQueen { queen: Queen::of_status(QueenStatus::Missing, Some(s.today())) },
        ))
        .offer(Offer { label: "taken out, caged queen given".to_owned(), ..caged(s) });
    }
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        "Drones in worker cells: queen or workers?",
        "A failing queen lays one egg at the bottom of a cell; workers lay several, on the walls. Each is met another way.",
    )
    .how(&[
        "Several eggs a cell, on the walls: workers. Shake the bees out before strong hives, or unite over paper.",
        "One egg a cell: a queen. Find her, take her out, and only then a mated queen.",
        "No caged queen before you know: laying workers kill her.",
    ])
    .asks(&[Finding::QueenSeen, Finding::Eggs])
    .doing(&[Deed::LiftsFrames], 10.0)
}

/// Cells and no eggs, outside swarm season or after the queen was lost: they are raising one.
fn cells_are_there(s: &Situation<'_>) -> Prompt {
    let last = s.day.calendar.closes(DateId::LastSplit);
    let eggs_by = s.in_days(29);
    let known = s.known_since(&[s.hive.seen.cells.map(|c| c.on)]);
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(known, known, days_after(known, 3)),
        "They raise a queen: leave the best cell",
        "Cells and no eggs: the queen is gone, and they know it. No test frame is needed.",
    )
    .how(&["Leave one good cell, two where you cannot judge. Then keep out: eggs in three to four weeks."])
    .doing(&[Deed::LiftsFrames], 6.0)
    .offer(
        Offer::of(
            "best cell left",
            Action::SetQueen { queen: Queen::of_status(QueenStatus::Cell, Some(s.today())) },
        )
        .promising(28, "raised a queen: look for eggs"),
    );
    if s.today() > last {
        prompt.how.push(format!(
            "It is late: drones must still fly, and eggs stand by {}. Otherwise a mated queen now, or unite.",
            s.date(eggs_by)
        ));
        prompt = prompt.offer(caged(s));
    }
    prompt
}

/// What the log says, where nobody has looked of late.
fn on_record(s: &Situation<'_>) -> Option<Prompt> {
    let known = s.known_since(&[s.hive.queen.since]);
    let due = Due::new(known, known, days_after(known, 7));
    match s.hive.queen.status {
        QueenStatus::DroneLayer => Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "A drone layer on record: requeen or unite",
                "She raises no workers: the colony dwindles by the week.",
            )
            .how(&["Take her out first; then a mated queen in a cage, or unite with a queenright hive over paper."])
            .asks(&[Finding::QueenSeen, Finding::Eggs, Finding::Bees])
            .doing(&[Deed::LiftsFrames], 10.0)
            .needs(Need::Gear(Gear::MatedQueen)),
        ),
        QueenStatus::Missing if s.since(s.hive.queen.since).is_none_or(|days| days >= 5) => Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Missing on record: look for eggs and brood",
                "After three to four weeks without brood workers begin to lay, and no queen is taken any more.",
            )
            .asks(&[Finding::Eggs, Finding::Larvae, Finding::Sealed, Finding::Cells])
            .doing(&[Deed::LiftsFrames], 6.0),
        ),
        QueenStatus::Laying
        | QueenStatus::Unknown
        | QueenStatus::Missing
        | QueenStatus::Caged
        | QueenStatus::Cell
        | QueenStatus::RipeCell
        | QueenStatus::Superseded
        | QueenStatus::Virgin => None,
    }
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

    /// Never a second test frame: first nothing, then a virgin is waited for, then a queen.
    #[test]
    fn a_test_frame_is_given_once_and_then_called() {
        for (given, title) in [
            (None, Some("Queen missing: give a frame with eggs")),
            (Some("2026-06-18"), None),
            (Some("2026-06-17"), Some("No cells on the test frame: a queen is there")),
            (Some("2026-06-02"), Some("No cells on the test frame: a queen is there")),
            (Some("2026-06-01"), Some("Still no eggs: a mated queen, or unite")),
            (Some("2026-04-22"), Some("Queen missing: give a frame with eggs")),
        ] {
            let mut state = brood_of(false, Some(false), Some(true));
            state.eggs_given = given.map(|on| on.parse().unwrap());
            let said = Case::of(state).on(DAY).speak(&RULE);
            assert_eq!(said.as_ref().map(|p| p.title.as_str()), title, "{given:?}");
        }
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
