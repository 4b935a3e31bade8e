//! `super.add`: honey room overhead, before the last box is full.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Depth, Finding, Level, QueenStatus, Role, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "super.add",
    name: "next super",
    about: "A strong colony in the flow with its last super filling, or with none: add the next",
    caution: Some(super::LIFTING),
    source: "extension guides: 7 to 8 of 10 frames drawn and filled; first supers before the main flow, common practice",
    answer_holds: Holds::Days(5),
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

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let flow = s.day.calendar.window(DateId::MainFlow);
    let opens = days_after(flow.opens, -BEFORE_FLOW);
    let closes = days_after(flow.closes, -BEFORE_END);
    let laying = s.hive.queen.status == QueenStatus::Laying;
    if today < opens || today > closes || !laying || s.since(s.hive.box_added).is_some_and(|d| d < 7) {
        return None;
    }
    let bees = s.within(s.hive.seen.bees, 21).map(|b| b.0);
    let strong = s.hive.nest_frames() * s.day.practice.add_box_at() / 100.0;
    if s.hive.super_boxes() == 0 {
        // A lone box gets its nest room first until the flow is near.
        if s.hive.nest_boxes() < 2 && today < days_after(flow.opens, -10) {
            return None;
        }
        let bees = bees?;
        if bees < strong {
            return None;
        }
        let latest = flow.opens.max(s.in_days(5));
        let due = Due::new(opens, today, latest);
        let why = format!(
            "{bees} frames of bees on {:.0} nest frames, and the main flow from {}: nectar without room goes into \
             the brood's cells.",
            s.hive.nest_frames(),
            s.date(flow.opens)
        );
        return Some(add(s, Urgency::Should, due, "Put on the first super", why));
    }
    match s.within(s.hive.seen.super_full, FRESH) {
        Some(full) if full.0 >= s.day.practice.add_super_at() => {
            let why =
                format!("The top super is {:.0} % filled. In a good flow a super fills in a week.", full.0);
            Some(add(s, Urgency::Must, Due::new(today, today, s.in_days(5)), "Add the next super", why))
        }
        Some(_) => None,
        None => flow.holds(today).then(|| {
            let since =
                s.hive.seen.super_full.map_or(flow.opens, |f| days_after(f.on, FRESH)).max(flow.opens);
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(since, since, days_after(since, 7)),
                "See how full the top super is",
                "The flow is on; no one has looked in ten days.",
            )
            .how(&[
                "Lid off, look down between the top bars: new white wax at the edges means it is filling.",
            ])
            .asks(&[Finding::SuperFull, Finding::Capped])
            .doing(&[Deed::OpensLid], 2.0)
        }),
    }
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
        let mut single = hive(1);
        single.seen.bees = frames("2026-05-28", 9.0);
        assert!(Case::of(single.clone()).on("2026-05-30").speak(&RULE).is_none());
        assert!(Case::of(single).on("2026-05-31").speak(&RULE).is_some());
    }

    #[test]
    fn none_is_added_in_the_last_week_of_the_flow() {
        let mut state = filled(90.0);
        state.seen.super_full = seen("2026-07-24", Percent(90.0));
        assert!(Case::of(state.clone()).on("2026-07-24").speak(&RULE).is_some());
        assert!(Case::of(state).on("2026-07-25").speak(&RULE).is_none());
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
