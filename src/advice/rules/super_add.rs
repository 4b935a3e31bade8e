//! `super.add`: honey room overhead, before the last box is full.

use chrono::NaiveDate;

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Depth, Finding, Level, QueenStatus, Role, days_after};
use crate::season::{DateId, Window};

pub(super) const RULE: Rule = Rule {
    id: "super.add",
    name: "next super",
    about: "A strong colony in the flow with its last super filling, or with none: add the next",
    caution: Some(super::LIFTING),
    source: "extension guides: 7 to 8 of 10 frames drawn and filled; first supers before the main flow, common practice",
    answer_holds: Holds::Days(5),
    // The same box, asked for the nest's sake.
    silent_beside: &[super::space_nest::RULE.id],
    may_need: |hive, _, _| vec![Need::Box { depth: hive.super_depth(), role: Role::Super }],
    speak,
    ..Rule::PLAIN
};

/// Days before the main flow from which a first super makes sense.
const BEFORE_FLOW: i64 = 26;
/// Days before the end of the flow in which none is added.
const BEFORE_END: i64 = 7;
/// Days a look at the super stands for.
const FRESH: i64 = 10;
/// Share of the bees at which room is given that is enough once the main flow is on (our choice).
const IN_FLOW: f64 = 0.75;
/// Days a count of the bees stands for.
const COUNTED: i64 = 21;
/// Days in which wet boxes go back.
const WET: i64 = 7;

/// Whether a colony will fill a box: one that raises a queen has less brood to feed and gathers all the more.
fn gathers(queen: QueenStatus) -> bool {
    match queen {
        QueenStatus::Laying
        | QueenStatus::Cell
        | QueenStatus::RipeCell
        | QueenStatus::Virgin
        | QueenStatus::Superseded
        | QueenStatus::Caged => true,
        QueenStatus::Missing | QueenStatus::DroneLayer | QueenStatus::Unknown => false,
    }
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let flow = s.day.calendar.flow_about(today);
    if !gathers(s.hive.queen.status) {
        return None;
    }
    if s.hive.super_boxes() > 0
        && let Some(crowded) = crowded(s)
    {
        return Some(crowded);
    }
    // A box that went on in the week stands for room, but not once it came off again with its honey.
    if s.since(s.hive.box_added).is_some_and(|d| d < 7) {
        return wet_boxes(s, flow).filter(|_| s.hive.super_boxes() == 0);
    }
    // Where no flow is known, the bees say when there is one.
    let season = Window {
        opens: s.day.calendar.at_widest(DateId::SwarmSeason).opens,
        closes: s.day.calendar.opens(DateId::HoneyBoxesOff),
    };
    let (opens, closes) = flow.map_or((season.opens, season.closes), |flow| {
        (days_after(flow.opens, -BEFORE_FLOW), days_after(flow.closes, -BEFORE_END))
    });
    // What comes after the boxes are due off is the bees' own.
    let off = s.day.calendar.opens(DateId::HoneyBoxesOff);
    let is_over = today >= off && !s.day.calendar.shift.is_guess();
    if is_over || today < season.opens.min(opens) {
        return None;
    }
    let full = s.within(s.hive.seen.super_full, FRESH);
    if let Some(full) = full.filter(|f| s.hive.super_boxes() > 0 && f.0 >= s.day.practice.add_super_at()) {
        // A box that fills needs the next to the last day of the flow.
        if today > flow.map_or(season.closes, |flow| flow.closes) {
            return None;
        }
        let known = s.known_since(&[s.hive.seen.super_full.map(|f| f.on)]);
        let why = format!("The top super is {:.0} % filled. In a good flow a super fills in a week.", full.0);
        return Some(add(
            s,
            Urgency::Must,
            Due::new(known, known, days_after(known, 5)),
            "Add the next super",
            why,
        ));
    }
    if today < opens || today > closes {
        return None;
    }
    if s.hive.super_boxes() == 0 {
        return wet_boxes(s, flow).or_else(|| first(s, opens, flow));
    }
    let is_flow = s.day.calendar.is_flow(today) || flow.is_none();
    (full.is_none() && is_flow).then(|| {
        let from = flow.map_or(season.opens, |flow| flow.opens);
        let since = s.hive.seen.super_full.map_or(from, |f| days_after(f.on, FRESH)).max(from);
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(since, since, days_after(since, 7)),
            "See how full the top super is",
            if flow.is_some() {
                "The flow is on; no one has looked in ten days."
            } else {
                "In season a box fills in a week when nectar comes; no one has looked in ten days."
            },
        )
        .how(&["Lid off, look down between the top bars: new white wax at the edges means it is filling."])
        .asks(&[Finding::SuperFull, Finding::Capped])
        .doing(&[Deed::OpensLid], 2.0)
    })
}

/// Bees for more room than there is by the next visit, however little honey is in it: they swarm from a crowded hive.
fn crowded(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let counted = s.hive.seen.bees.filter(|b| (0..=COUNTED).contains(&(today - b.on).num_days()))?;
    if !s.day.calendar.at_widest(DateId::SwarmSeason).holds(today) {
        return None;
    }
    let room = 10.0 * s.hive.boxes.iter().map(crate::model::HiveBox::deep_share).sum::<f64>();
    let brim = room * s.day.practice.add_box_at() / 100.0;
    let on = s.forecast().full_by(brim, 0.5, days_after(today, s.comes_every()))?;
    let why = format!(
        "By the last count and its growth, bees for {} deep frames are here by {}: as many as its boxes should hold. A \
         crowded colony swarms.",
        crate::model::trimmed(brim, 1),
        s.date(on)
    );
    Some(add(s, Urgency::Should, Due::new(counted.on.min(on), on, on), "Add the next super, for room", why))
}

/// Honey was taken in the flow: the wet boxes go back, for it is not over.
fn wet_boxes(s: &Situation<'_>, flow: Option<Window>) -> Option<Prompt> {
    let taken = s.hive.honey_taken?;
    let back = s.since(Some(taken)).is_some_and(|days| days <= WET);
    if !back || !s.day.calendar.is_flow(s.today()) {
        return None;
    }
    let until =
        flow.map_or_else(String::new, |flow| format!(" and lasts until about {}", s.date(flow.closes)));
    let why = format!("Honey was taken on {}, and the flow is on{until}.", s.date(taken));
    let due = Due::new(taken, taken, days_after(taken, 5));
    Some(add(s, Urgency::Should, due, "Wet boxes back at dusk", why))
}

fn first(s: &Situation<'_>, opens: NaiveDate, flow: Option<Window>) -> Option<Prompt> {
    let today = s.today();
    // A nest that is to grow gets its own room first, until the flow is near.
    #[allow(clippy::cast_precision_loss, reason = "a handful of boxes")]
    let grows = (s.hive.nest_boxes() as f64) < s.day.practice.nest_boxes();
    if grows && flow.is_some_and(|flow| today < days_after(flow.opens, -10)) {
        return None;
    }
    let Some(bees) = s.within(s.hive.seen.bees, COUNTED).map(|b| b.0) else {
        return wants_a_look(s, opens, flow);
    };
    // In the flow the nectar of one visit to the next needs room before the bees do.
    let in_flow = if s.day.calendar.is_flow(today) { IN_FLOW } else { 1.0 };
    if bees < in_flow * s.hive.nest_frames() * s.day.practice.add_box_at() / 100.0 {
        return None;
    }
    let known = s.known_since(&[s.hive.seen.bees.map(|b| b.on)]);
    let latest = flow.map_or(known, |flow| flow.opens).max(days_after(known, 5));
    let when =
        flow.map_or_else(String::new, |flow| format!(", and the main flow from {}", s.date(flow.opens)));
    let why = format!(
        "{bees} frames of bees on {:.0} nest frames{when}: nectar without room goes into the brood's cells.",
        s.hive.nest_frames()
    );
    Some(add(s, Urgency::Should, Due::new(opens.min(known), known, latest), "Put on the first super", why))
}

/// No one has counted the bees of late: a colony whose box comes late puts its nectar into the nest.
fn wants_a_look(s: &Situation<'_>, opens: NaiveDate, flow: Option<Window>) -> Option<Prompt> {
    let flow = flow?;
    let since = s.hive.seen.bees.map_or(opens, |b| days_after(b.on, COUNTED + 1)).max(opens);
    let latest = flow.opens.max(days_after(since, 7));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(since, since, latest),
            "See whether it needs a honey box",
            format!(
                "The main flow is from {} to {}, and no one has counted the bees in three weeks.",
                s.date(flow.opens),
                s.date(flow.closes)
            ),
        )
        .how(&["Lid off, smoke lightly, count the spaces between the frames that are full of bees."])
        .asks(&[Finding::Bees])
        .doing(&[Deed::OpensLid], 2.0),
    )
}

fn add(s: &Situation<'_>, urgency: Urgency, due: Due, title: &str, why: String) -> Prompt {
    let depth = s.hive.supers().next_back().map_or(Depth::Medium, |b| b.depth);
    let frames = s.hive.box_frames();
    let action = |drawn, level| Action::AddBox { depth, frames, role: Role::Super, drawn, level };
    Prompt::new(RULE.id, urgency, due, title, why)
        .how(&[
            "Drawn frames go on top. Foundation goes right over the nest, under the filled super.",
            "No treatment in the hive that forbids honey boxes.",
        ])
        .asks(&[Finding::SuperFull])
        .doing(&[Deed::OpensLid, Deed::AddsSuper], 4.0)
        .needs(Need::Box { depth, role: Role::Super })
        .offer(Offer::of("drawn super on top", action(frames, Level::Top)))
        .offer(Offer::of("foundation over the nest", action(0, Level::AboveNest)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive, seen, with_super};
    use crate::model::{HiveState, Percent};

    fn filled(percent: f64) -> HiveState {
        let mut state = with_super();
        state.seen.super_full = seen("2026-06-20", Percent(percent));
        state
    }

    #[test]
    fn seventy_percent_is_the_boundary() {
        for (percent, speaks) in [(69.0, false), (70.0, true)] {
            let said = Case::of(filled(percent)).on("2026-06-20").speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{percent}");
        }
    }

    #[test]
    fn unseen_for_ten_days_it_asks_to_look() {
        let case = Case::of(filled(30.0));
        assert!(case.clone().on("2026-06-30").speak(&RULE).is_none());
        assert!(case.on("2026-07-01").speak(&RULE).unwrap().offers.is_empty());
    }

    #[test]
    fn a_first_super_goes_on_strong_doubles_before_the_flow() {
        for (bees, speaks) in [(14.75, false), (15.0, true)] {
            let mut state = hive(2);
            state.seen.bees = frames("2026-05-20", bees);
            assert_eq!(Case::of(state).on("2026-05-20").speak(&RULE).is_some(), speaks, "{bees}");
        }
        // One that is kept in two boxes gets its nest room first, until ten days before the flow.
        let mut single = hive(1);
        single.seen.bees = frames("2026-05-28", 9.0);
        let mut case = Case::of(single);
        assert!(case.clone().on("2026-05-30").speak(&RULE).is_some(), "kept in one box");
        assert!(case.practice.set("nest_boxes", Some(2.0)));
        assert!(case.clone().on("2026-05-30").speak(&RULE).is_none());
        assert!(case.on("2026-05-31").speak(&RULE).is_some());
    }

    #[test]
    fn a_full_box_is_followed_to_the_end_of_the_flow_and_no_first_one_in_its_last_week() {
        let mut state = filled(90.0);
        state.seen.super_full = seen("2026-07-24", Percent(90.0));
        assert!(Case::of(state.clone()).on("2026-07-31").speak(&RULE).is_some());
        assert!(Case::of(state).on("2026-08-01").speak(&RULE).is_none());
        let mut first = hive(2);
        first.seen.bees = frames("2026-07-24", 17.0);
        assert!(Case::of(first.clone()).on("2026-07-24").speak(&RULE).is_some());
        assert!(Case::of(first).on("2026-07-25").speak(&RULE).is_none());
    }

    #[test]
    fn a_treatment_that_forbids_honey_boxes_holds_it() {
        use crate::model::{Course, Treatment};
        let mut state = filled(90.0);
        let began = day("2026-06-15");
        for (treatment, held) in [(Treatment::AmitrazStrips, true), (Treatment::FormicStrips, false)] {
            state.courses = vec![Course { treatment, began, until: day("2026-07-27"), ended: None }];
            let advice = Case::of(state.clone()).on("2026-06-20").advise();
            assert_eq!(advice.held.iter().any(|h| h.prompt.rule == RULE.id), held, "{treatment:?}");
        }
    }
}
