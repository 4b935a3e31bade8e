//! `swarm.check`: in swarm season a strong colony is looked through every 7 to 8 days.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::in_force::Quiet;
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, CellKind, Finding, Origin, Queen, QueenStatus, Role, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "swarm.check",
    name: "queen cells",
    about: "Swarm season and a strong colony: a look every 7-8 days; cells found are read by their kind",
    caution: Some(super::STINGS),
    source: "Winston 1987 ch. 11, from memory: the swarm leaves around the sealing of the first cell, day 8-9; kinds of \
        cells from a general reference page",
    answer_holds: Holds::Days(6),
    may_need: |hive, _, _| {
        let nest = Need::Box { depth: hive.nest_depth(), role: Role::Nest };
        vec![nest, Need::Gear(Gear::FloorAndLid), Need::Gear(Gear::QueenCage)]
    },
    speak,
    ..Rule::PLAIN
};

/// Frames of bees from which a colony may swarm.
const STRONG: f64 = 6.0;
/// Days from the season's opening to the last for its first look (our choice).
const FIRST: i64 = 2;
/// Days a new colony is left to settle.
const NEW: i64 = 28;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let season = s.day.calendar.at_widest(DateId::SwarmSeason);
    let new = s.hive.origin != Origin::Overwintered && (today - s.hive.came).num_days() < NEW;
    if s.hive.queen.status != QueenStatus::Laying
        || s.in_force.peace.is_some_and(|(why, _)| why != Quiet::Supersedure)
    {
        return None;
    }
    #[allow(clippy::cast_possible_truncation, reason = "a practice of at most 14 days")]
    let every = s.day.practice.swarm_every() as i64;
    // Cells that were seen outrank the date, and a look of the week before the season counts as its first.
    let first = days_after(season.opens, -every);
    let cells = s.hive.seen.cells.filter(|c| c.on >= first || (today - c.on).num_days() < every);
    let has_cells = cells.is_some_and(|c| c.value.0 > 0 && (today - c.on).num_days() < every);
    if !has_cells && (!season.holds(today) || new || s.in_force.peace.is_some()) {
        return None;
    }
    if let Some(found) = cells.filter(|c| c.value.0 > 0 && (today - c.on).num_days() < every) {
        let kind = s.hive.seen.cell_kind.filter(|k| k.on >= found.on).map(|k| k.value);
        return found_cells(s, found.value.0, kind, found.on == today);
    }
    let weak = s.within(s.hive.seen.bees, 21).is_some_and(|b| b.0 < STRONG);
    if weak {
        return None;
    }
    let (due, urgency) = match cells {
        Some(last) if (today - last.on).num_days() < every - 1 => return None,
        // A cell begun on the day of the last look is sealed on the ninth, and the swarm gone with it: no later than that.
        Some(last) => {
            let latest = days_after(last.on, every);
            (Due::new(days_after(last.on, every - 1), latest, latest), Urgency::Must)
        }
        // Nobody knows what was begun before the first look: it is not left for a week.
        None => (Due::new(season.opens, season.opens, days_after(season.opens, FIRST)), Urgency::Should),
    };
    let mut why = match s.hive.seen.bees {
        Some(bees) if s.within(Some(bees), 21).is_some() => {
            format!("{} frames of bees in swarm season.", bees.value.0)
        }
        _ => "It is swarm season, and its strength is not known.".to_owned(),
    };
    if let Some(last) = cells {
        let days = (today - last.on).num_days();
        why = format!(
            "{why} Last looked {} ago; a cell is sealed, and the swarm gone, by day 8 or 9.",
            wording::days(days)
        );
    }
    Some(
        Prompt::new(RULE.id, urgency, due, "Look for queen cells", why)
            .how(&[
                "Smoke lightly, tip the upper box, look along the bottom bars; then the edges of the brood frames.",
                "None: 0. If there are some, count them and note the kind.",
            ])
            .asks(&[Finding::Cells, Finding::Bees])
            .doing(&[Deed::LiftsFrames], 8.0),
    )
}

/// Whether no egg was found beside the cells, on the same day or since.
fn have_swarmed(s: &Situation<'_>) -> bool {
    let cells = s.hive.seen.cells.map(|c| c.on);
    let seen = s.hive.seen.queen_seen.is_some_and(|q| q.value && Some(q.on) >= cells);
    !seen && s.hive.seen.eggs.is_some_and(|e| !e.value && Some(e.on) >= cells)
}

/// After a swarm: one cell is the next queen, and every other one leads out more bees.
fn one_cell_left(s: &Situation<'_>, count: u16, due: Due) -> Prompt {
    Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "They have swarmed: leave one good cell",
                format!("{count} swarm cells and no eggs: the old queen is gone with half the bees. There is nothing to split."),
            )
            .how(&[
                "Leave one good open or ripe cell, two where you cannot judge; cut the rest, or each virgin leads out more.",
                "Close it and keep out for three weeks: she hatches, mates and begins to lay.",
                "Then look for eggs. None by four weeks: a mated queen, or unite.",
            ])
            .doing(&[Deed::LiftsFrames, Deed::CutsCells], 8.0)
            .offer(
                Offer::of(
                    "one cell left, the rest cut",
                    Action::SetQueen { queen: Queen::of_status(QueenStatus::RipeCell, Some(s.today())) },
                )
                .promising(21, "they swarmed: look for eggs"),
            )
}

fn found_cells(s: &Situation<'_>, count: u16, kind: Option<CellKind>, today: bool) -> Option<Prompt> {
    let known = s.known_since(&[s.hive.seen.cells.map(|c| c.on)]);
    let due = Due::new(known, known, days_after(known, 1));
    match kind {
        None => today.then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Say which kind of cells",
                format!("{count} found. Many on edges are swarm cells; one to three on a face are for a new queen."),
            )
            .asks(&[Finding::CellKind])
        }),
        Some(CellKind::Cups) => today.then(|| {
            Prompt::new(RULE.id, Urgency::May, due, "Cups only: look again next time", "Empty cups do not mean they plan to swarm.")
        }),
        Some(CellKind::Swarm) if have_swarmed(s) => Some(one_cell_left(s, count, due)),
        Some(CellKind::Swarm) if s.today() > s.day.calendar.closes(DateId::LastSplit) => Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Swarm cells: cut them and give room",
                format!("{count} swarm cells, and the last date for a split has passed: neither half would winter."),
            )
            .how(&["Cut every cell, check every frame before you shake it, give room overhead, look again in six days."])
            .doing(&[Deed::LiftsFrames], 12.0)
            .offer(Offer::of("cells cut, room given", Action::CutCells).promising(6, "swarm cells were cut: look again")),
        ),
        Some(CellKind::Swarm) => Some(
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Swarm cells: split it today",
                format!(
                    "{count} swarm cells. Once the first is sealed the old queen leaves with half the bees; cutting \
                     cells alone only puts it off a week."
                ),
            )
            .how(&[
                "Find the old queen; move her with two frames of brood, one of food and shaken bees to a new stand.",
                "Leave one or two good cells here and cut the rest: every extra virgin may lead out another swarm.",
                "Mark the day: eggs are due in three weeks, and no brood frame is lifted from day 10 to 24.",
            ])
            .doing(&[Deed::LiftsFrames, Deed::Splits], 20.0)
            .needs(Need::Box { depth: s.hive.nest_depth(), role: crate::model::Role::Nest })
            .needs(Need::Gear(Gear::FloorAndLid))
            .needs(Need::Gear(Gear::QueenCage))
            .offer(Offer::of(
                "old queen moved out, cells left",
                Action::SetQueen { queen: Queen::of_status(QueenStatus::Cell, Some(s.today())) },
            ))
            .offer(Offer::of("cells cut, room given", Action::CutCells).promising(6, "swarm cells were cut: look again")),
        ),
        Some(CellKind::Supersedure) => today.then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Supersedure: leave the cells",
                format!("{count} on a face: they are replacing her themselves, and they know why."),
            )
            .how(&["Cut none. Look for eggs in three to four weeks."])
            .offer(
                Offer::of(
                    "cells left to them",
                    Action::SetQueen { queen: Queen { status: QueenStatus::Superseded, since: Some(s.today()), ..s.hive.queen.clone() } },
                )
                .promising(24, "supersedure: look for eggs"),
            )
        }),
        Some(CellKind::Emergency) => today.then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                "Emergency cells: the queen is gone",
                format!("{count} drawn from worker cells: she was lost within the last two weeks."),
            )
            .how(&["Leave one or two of the best, well away from bumps.", "Eggs are due about four weeks after the loss."])
            .offer(Offer::of(
                "cells left",
                Action::SetQueen { queen: Queen::of_status(QueenStatus::Cell, Some(s.today())) },
            ))
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive, seen};
    use crate::model::{Cells, HiveState};

    fn with_cells(count: u16, kind: Option<CellKind>) -> HiveState {
        let mut state = hive(2);
        state.seen.cells = seen("2026-05-20", Cells(count));
        state.seen.cell_kind = kind.and_then(|k| seen("2026-05-20", k));
        state
    }

    #[test]
    fn it_speaks_from_the_end_of_frost_to_the_end_of_swarm_season() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-04-25"), day("2026-06-25"))));
    }

    #[test]
    fn a_week_after_a_clean_look_it_asks_again_and_on_the_eighth_day_at_the_latest() {
        let state = with_cells(0, None);
        assert!(Case::of(state.clone()).on("2026-05-26").speak(&RULE).is_none());
        let prompt = Case::of(state).on("2026-05-27").speak(&RULE).unwrap();
        assert_eq!((prompt.urgency, prompt.due.opens), (Urgency::Must, day("2026-05-27")));
        assert_eq!(prompt.due.latest, day("2026-05-28"));
    }

    #[test]
    fn the_first_look_is_not_left_for_a_week() {
        let prompt = Case::of(hive(1)).on("2026-04-25").speak(&RULE).unwrap();
        assert_eq!((prompt.due.aim, prompt.due.latest), (day("2026-04-25"), day("2026-04-27")));
    }

    #[test]
    fn six_frames_of_bees_is_the_boundary_of_strength() {
        for (bees, speaks) in [(5.75, false), (6.0, true)] {
            let mut state = hive(1);
            state.seen.bees = frames("2026-05-20", bees);
            assert_eq!(Case::of(state).on("2026-05-20").speak(&RULE).is_some(), speaks, "{bees}");
        }
    }

    #[test]
    fn cells_are_read_by_their_kind() {
        for (kind, title) in [
            (None, "Say which kind of cells"),
            (Some(CellKind::Cups), "Cups only: look again next time"),
            (Some(CellKind::Swarm), "Swarm cells: split it today"),
            (Some(CellKind::Supersedure), "Supersedure: leave the cells"),
            (Some(CellKind::Emergency), "Emergency cells: the queen is gone"),
        ] {
            let prompt = Case::of(with_cells(7, kind)).on("2026-05-20").speak(&RULE).unwrap();
            assert_eq!(prompt.title, title);
        }
    }

    #[test]
    fn swarm_cells_are_pressed_until_they_are_dealt_with() {
        let state = with_cells(7, Some(CellKind::Swarm));
        assert!(Case::of(state).on("2026-05-23").speak(&RULE).is_some());
        assert!(Case::of(with_cells(7, Some(CellKind::Cups))).on("2026-05-23").speak(&RULE).is_none());
    }
}
