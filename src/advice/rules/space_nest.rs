//! `space.nest`: room before they need it, for a crowded nest swarms.

use chrono::NaiveDate;

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::model::WhenMarks;
use crate::model::{Action, Finding, Frames, Level, Origin, QueenStatus, Role, Seen, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "space.nest",
    name: "room in the nest",
    about: "Frames covered and growth say the nest fills before the next visit: add a box by DATE",
    caution: Some(super::LIFTING),
    source: "extension guides: add a box at 7 to 8 of 10 frames drawn and covered; growth from frames of brood, from \
        memory of Delaplane et al. 2013",
    answer_holds: Holds::Days(5),
    speak,
    ..Rule::PLAIN
};

/// Days a count of bees stands for.
const FRESH: i64 = 21;
/// Days by which the next visit may be late.
const SLACK: i64 = 2;
/// Days before colonies swarm from which room is given, and days a new colony is left alone with it.
const BEFORE: i64 = 7;
const NEW: i64 = 28;
/// Days a new box is given before the next is asked for.
const SETTLE: i64 = 7;
/// Nest boxes beyond which no more are added, whatever the keeper's practice.
const MOST_NEST: usize = 3;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let season = s.day.calendar.at_widest(DateId::SwarmSeason);
    let next = days_after(today, s.comes_every() + SLACK);
    // What fills before the next visit needs its room at this one, up to a week before colonies swarm.
    let is_near = today >= days_after(season.opens, -BEFORE) && next >= season.opens;
    if today > season.closes
        || !is_near
        || s.hive.nest_boxes() >= MOST_NEST
        || s.hive.super_boxes() > 0
        || s.hive.queen.status != QueenStatus::Laying
    {
        return None;
    }
    if s.since(s.hive.box_added).is_some_and(|days| days < SETTLE) {
        return None;
    }
    let fresh =
        |seen: Option<Seen<Frames>>| seen.filter(|b| (0..=FRESH).contains(&(today - b.on).num_days()));
    let counted =
        [fresh(s.hive.seen.seams), fresh(s.hive.seen.bees)].into_iter().flatten().max_by_key(|b| b.on);
    let frames: f64 = s.hive.boxes.iter().map(|b| f64::from(b.frames)).sum();
    let brim = frames * s.day.practice.add_box_at() / 100.0;
    let drawn = s.within(s.hive.seen.drawn, 30).map_or(s.hive.nest_frames(), |d| d.0);
    if drawn < s.hive.nest_frames() * s.day.practice.add_box_at() / 100.0 {
        return None;
    }
    let Some(bees) = counted else { return from_above(s, brim, next) };
    let brood = s.within(s.hive.seen.brood, FRESH).map_or(0.0, |b| b.0);
    let full = covered(s, bees, brim, next)?;
    // Likely before the next visit, or as likely as one in four: a box too early costs less than a swarm.
    let full_on = full.middle.filter(|on| *on <= next).or(full.early.filter(|on| *on <= next))?;
    let (urgency, title) = if full.middle.is_some_and(|on| on <= today) {
        (Urgency::Must, "Add a box now".to_owned())
    } else {
        (Urgency::Should, format!("Add a box by {}", s.date(full_on.max(today))))
    };
    let why = format!(
        "{} frames of bees and {brood} of brood on {}: {} of {frames:.0} frames are covered about {}{}. A nest without room \
         swarms.",
        bees.value.0,
        s.date(bees.on),
        crate::model::trimmed(brim, 1),
        s.date(full_on),
        between(s, &full)
    );
    // By the count and its growth, not by the day it is asked on.
    let (early, middle) = (full.early.unwrap_or(full_on), full.middle.or(full.early).unwrap_or(full_on));
    let due = Due::new(bees.on.min(early), early, middle.max(early));
    let prompt = Prompt::new(RULE.id, urgency, due, title, why).asks(&[Finding::Bees, Finding::Brood]);
    #[allow(clippy::cast_precision_loss, reason = "a handful of boxes")]
    let boxes = s.hive.nest_boxes() as f64;
    let in_nest = boxes < s.day.practice.nest_boxes() || (boxes < 2.0 && s.in_force.boxes_from.is_some());
    Some(if in_nest { nest_box(s, prompt) } else { honey_box(s, prompt) })
}

/// No one has counted, and today no frame is lifted: a look from above tells whether it fills.
fn from_above(s: &Situation<'_>, brim: f64, next: NaiveDate) -> Option<Prompt> {
    let today = s.today();
    let is_cold = s.day.weather.temperature.is_some_and(|t| t.fahrenheit() < s.day.practice.frames_from());
    let is_early = !s.day.calendar.at_widest(DateId::SwarmSeason).holds(today);
    let settled = s.hive.origin == Origin::Overwintered || (today - s.hive.came).num_days() >= NEW;
    if !settled || !(is_cold || is_early) {
        return None;
    }
    let early = s.forecast().full_by(brim, 0.25, next)?;
    let why = format!(
        "No one has counted its bees lately. In 1 hive of 4 like it, {} frames are covered by {}, before you are likely to \
         be back.",
        crate::model::trimmed(brim, 1),
        s.date(early.max(today))
    );
    let season = s.day.calendar.at_widest(DateId::SwarmSeason);
    let since = s.hive.seen.bees.map(|b| days_after(b.on, FRESH)).filter(|on| *on <= today);
    let opens = days_after(season.opens, -BEFORE).max(since.unwrap_or(NaiveDate::MIN));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(opens, opens, days_after(opens, 14)),
            "Lid off: count the seams of bees",
            why,
        )
        .how(&["Look down between the top bars: a gap full of bees is a seam. No frame is lifted."])
        .asks(&[Finding::Seams])
        .doing(&[Deed::OpensLid], 2.0),
    )
}

/// When so many frames are covered, if they may be by the next visit: on the day they were counted, or as the colony is
/// likely to grow.
fn covered(s: &Situation<'_>, bees: Seen<Frames>, brim: f64, next: NaiveDate) -> Option<WhenMarks> {
    let on = Some(bees.on);
    if bees.value.0 >= brim {
        return Some(WhenMarks { earliest: bees.on, early: on, middle: on, late: on, latest: on });
    }
    let ahead = s.forecast();
    // Of most it is told at once that they have room until then.
    ahead.full_by(brim, 0.25, next)?;
    ahead.full_on(brim)
}

/// A further nest box, for one who keeps them so, or where no honey box may go on.
fn nest_box(s: &Situation<'_>, prompt: Prompt) -> Prompt {
    let depth = s.hive.nest_depth();
    let action = |drawn| Action::AddBox {
        depth,
        frames: s.hive.box_frames(),
        role: Role::Nest,
        drawn,
        level: Level::Top,
    };
    prompt
        .how(&[
            "A box of drawn frames over the nest; foundation will do if there is a flow or feed.",
            "Do not put it in the middle of the brood.",
        ])
        .doing(&[Deed::OpensLid, Deed::AddsNestBox], 4.0)
        .needs(Need::Box { depth, role: Role::Nest })
        .offer(Offer::of("box of drawn frames added", action(s.hive.box_frames())))
        .offer(Offer::of("box of foundation added", action(0)))
}

/// The nest stays as it is kept: room goes over it, early.
fn honey_box(s: &Situation<'_>, prompt: Prompt) -> Prompt {
    let depth = s.hive.super_depth();
    let frames = s.hive.box_frames();
    let action = |drawn, role| Action::AddBox { depth, frames, role, drawn, level: Level::AboveNest };
    let second = Action::AddBox {
        depth: s.hive.nest_depth(),
        frames,
        role: Role::Nest,
        drawn: frames,
        level: Level::Top,
    };
    prompt
        .how(&[
            "A honey box over the nest, drawn if you have it, a queen excluder between if you use one.",
            "Or a second brood box, if you keep them in two: set your number of nest boxes in the practice.",
        ])
        .doing(&[Deed::OpensLid, Deed::AddsSuper], 4.0)
        .needs(Need::Box { depth, role: Role::Super })
        .offer(Offer::of("drawn honey box added", action(frames, Role::Super)))
        .offer(Offer::of("honey box of foundation added", action(0, Role::Super)))
        .offer(Offer::of("second brood box added", second))
}

/// The range of the forecast, where it is one.
fn between(s: &Situation<'_>, full: &WhenMarks) -> String {
    match (full.early, full.late) {
        (Some(early), Some(late)) if early < late => format!(" ({} to {})", s.date(early), s.date(late)),
        (Some(early), None) => format!(" (from {})", s.date(early)),
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{day, frames, hive};

    const DAY: &str = "2026-05-03";

    fn nest(bees: f64, brood: f64) -> HiveState {
        let mut state = hive(1);
        state.seen.bees = frames(DAY, bees);
        state.seen.brood = frames(DAY, brood);
        state
    }

    #[test]
    fn three_quarters_covered_is_now() {
        for (bees, title) in [(7.5, Some("Add a box now")), (4.0, None)] {
            let said = Case::of(nest(bees, 0.0)).on(DAY).speak(&RULE).map(|p| p.title);
            assert_eq!(said.as_deref(), title, "{bees}");
        }
    }

    #[test]
    fn growth_names_the_day_it_will_be_full() {
        let prompt = Case::of(nest(6.0, 6.0)).on(DAY).speak(&RULE).unwrap();
        assert_eq!(prompt.urgency, Urgency::Should);
        let full = Case::of(nest(6.0, 6.0)).on(DAY).with(|s| s.forecast().full_on(7.5)).unwrap();
        assert_eq!(prompt.due.latest, full.middle.unwrap());
        assert!((1..=10).contains(&(full.middle.unwrap() - day(DAY)).num_days()), "{full:?}");
        assert!(prompt.why.contains(" to "), "the range is said: {}", prompt.why);
    }

    #[test]
    fn it_is_silent_out_of_season_on_doubles_and_after_a_new_box() {
        assert!(Case::of(nest(9.0, 6.0)).on("2026-04-15").speak(&RULE).is_none());
        let mut double = nest(8.0, 6.0);
        double.boxes.push(double.boxes[0].clone());
        assert!(Case::of(double).on(DAY).speak(&RULE).is_none());
        for (added, speaks) in [("2026-04-27", false), ("2026-04-26", true)] {
            let mut state = nest(9.0, 6.0);
            state.box_added = Some(day(added));
            assert_eq!(Case::of(state).on(DAY).speak(&RULE).is_some(), speaks, "{added}");
        }
    }

    #[test]
    fn a_nest_of_foundation_is_not_full() {
        for (drawn, speaks) in [(7.25, false), (7.5, true)] {
            let mut state = nest(8.0, 4.0);
            state.seen.drawn = frames(DAY, drawn);
            assert_eq!(Case::of(state).on(DAY).speak(&RULE).is_some(), speaks, "{drawn}");
        }
    }
}
