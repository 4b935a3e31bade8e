//! `nest.bottom-box`: what to do about the lowest of two or more nest boxes, once freezing is over.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Action, BottomBox, Finding, Level, Role, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "nest.bottom-box",
    name: "bottom box",
    about: "Two or more nest boxes: wait for frost, look, then leave, reverse or take off the lowest",
    caution: Some(super::LIFTING),
    source: "extension guides, from memory: reverse when the bottom is empty, night lows above 40 F (4 C), and never \
        cut the brood in two",
    answer_holds: Holds::Days(21),
    speak,
    ..Rule::PLAIN
};

/// Days from the end of frost in which to look.
const LOOK_WITHIN: i64 = 21;
/// Days a count of bees stands for here.
const FRESH: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let frost_over = s.day.calendar.at_widest(DateId::FramesMayBeLifted).opens;
    let season_over = s.day.calendar.opens(DateId::MainFlow);
    let settled = s.hive.nest_changed.is_some_and(|on| s.day.calendar.holds(on));
    // With honey boxes on the time for it is past.
    if s.hive.nest_boxes() < 2 || s.hive.super_boxes() > 0 || settled || today >= season_over {
        return None;
    }
    if today < frost_over {
        return (today >= s.day.calendar.opens(DateId::LateWinterHeft)).then(|| wait(s, frost_over));
    }
    let due = Due::new(frost_over, days_after(frost_over, 7), days_after(frost_over, LOOK_WITHIN));
    let Some(bottom) = s.hive.seen.bottom_box.filter(|b| b.on >= frost_over) else {
        return Some(look(due));
    };
    let bees = s.within(s.hive.seen.bees, FRESH).map(|b| b.0);
    let small = bees.map(|b| b < s.day.practice.small_cluster());
    match (bottom.value, small) {
        (BottomBox::Empty | BottomBox::Bare | BottomBox::Stores, None) => Some(count(due, bottom.value)),
        (BottomBox::Empty, Some(false)) => Some(reverse(due, bees, s.day.calendar.shift.is_guess())),
        (BottomBox::Empty | BottomBox::Bare | BottomBox::Stores, Some(true)) => {
            Some(take_off(s, due, bottom.value, bees))
        }
        // What is left alone is said once, on the day it was seen.
        (BottomBox::Brood | BottomBox::Joint, _) | (BottomBox::Bare | BottomBox::Stores, Some(false)) => {
            (bottom.on == today).then(|| leave(due, bottom.value))
        }
    }
}

fn wait(s: &Situation<'_>, frost_over: chrono::NaiveDate) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::May,
        Due::new(frost_over, days_after(frost_over, 7), days_after(frost_over, LOOK_WITHIN)),
        format!("Leave the boxes as they are until {}", s.date(frost_over)),
        "Freezing is not over: moving boxes now can leave brood where no bees keep it warm.",
    )
}

fn look(due: Due) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::Should,
        due,
        "Look into the bottom box",
        "After winter the nest is often up, and the lowest box empty. What is in it says whether to leave it, \
         reverse it or take it off.",
    )
    .how(&["Tip the upper box back and look down between the frames before any comes out."])
    .asks(&[Finding::BottomBox, Finding::Bees])
    .doing(&[Deed::LiftsFrames], 3.0)
}

fn count(due: Due, bottom: BottomBox) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::Should,
        due,
        "Count the frames of bees",
        format!("The bottom box is {}: whether it stays depends on the size of the cluster.", bottom.word()),
    )
    .asks(&[Finding::Bees])
    .doing(&[Deed::LiftsFrames], 2.0)
}

fn reverse(due: Due, bees: Option<f64>, is_guess: bool) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::Should,
        due,
        if is_guess { "Reverse the two boxes once nights stay above 40 F" } else { "Reverse the two boxes" },
        format!(
            "The bottom box is empty and {} frames of bees live above it. They grow upward: the empty comb belongs \
             over them, and it takes the pressure off.",
            bees.unwrap_or_default()
        ),
    )
    .how(&[
        "Only when nights stay above 40 F (4 C): in frost leave the boxes as they are.",
        "Set the upper box, nest and all, on the floor; the empty one on top. No frame changes place.",
        "Scrape the floor while it is bare.",
    ])
    .doing(&[Deed::LiftsFrames, Deed::Reverses], 6.0)
    .offer(Offer::of("reversed the boxes", Action::ReverseBoxes).promising(14, "see whether the nest has moved up"))
}

fn take_off(s: &Situation<'_>, due: Due, bottom: BottomBox, bees: Option<f64>) -> Prompt {
    let rest = if bottom == BottomBox::Stores {
        "Give back frames of stores beside the cluster, no more than it will soon cover."
    } else {
        "Store the comb where moths and mice cannot reach it."
    };
    Prompt::new(
        RULE.id,
        Urgency::Should,
        due,
        "Take the bottom box off",
        format!(
            "The bottom box is {} and only {} frames of bees are left (small is under {}): they heat one box better \
             than two.",
            bottom.word(),
            bees.unwrap_or_default(),
            s.day.practice.small_cluster()
        ),
    )
    .how(&["Set the nest on the floor as it is, frames in their order.", rest])
    .doing(&[Deed::LiftsFrames, Deed::TakesNestBox], 5.0)
    .offer(Offer::of("bottom box off", Action::RemoveBox { role: Role::Nest, level: Level::Bottom }))
}

fn leave(due: Due, bottom: BottomBox) -> Prompt {
    let why = match bottom {
        BottomBox::Joint => {
            "The brood spans the joint. Reversing would cut it in two, with cold combs between: chilled brood."
        }
        BottomBox::Brood => "The nest is at the bottom, where it should be, with room above it.",
        BottomBox::Bare => "There is no comb down there to lay in. They will draw it when the flow comes.",
        BottomBox::Empty | BottomBox::Stores => "The bees will carry the stores up when they need them.",
    };
    Prompt::new(RULE.id, Urgency::May, due, "Leave the boxes as they are", why)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{day, frames, hive, seen};

    const DAY: &str = "2026-05-03";

    fn looked(bottom: BottomBox, bees: f64) -> HiveState {
        let mut state = hive(2);
        state.seen.bottom_box = seen(DAY, bottom);
        state.seen.bees = frames(DAY, bees);
        state
    }

    fn title(state: HiveState) -> Option<String> {
        Case::of(state).on(DAY).speak(&RULE).map(|p| p.title)
    }

    #[test]
    fn the_whole_table() {
        let leave = "Leave the boxes as they are";
        for (bottom, bees, expected) in [
            (BottomBox::Joint, 9.0, leave),
            (BottomBox::Joint, 3.0, leave),
            (BottomBox::Brood, 9.0, leave),
            (BottomBox::Brood, 3.0, leave),
            (BottomBox::Empty, 5.0, "Reverse the two boxes"),
            (BottomBox::Empty, 4.75, "Take the bottom box off"),
            (BottomBox::Bare, 5.0, leave),
            (BottomBox::Bare, 4.75, "Take the bottom box off"),
            (BottomBox::Stores, 5.0, leave),
            (BottomBox::Stores, 4.75, "Take the bottom box off"),
        ] {
            assert_eq!(title(looked(bottom, bees)).as_deref(), Some(expected), "{bottom:?} {bees}");
        }
    }

    #[test]
    fn before_the_end_of_frost_it_waits_and_then_it_looks() {
        let case = Case::of(hive(2));
        assert_eq!(case.days_of(&RULE), Some((day("2026-03-15"), day("2026-06-09"))));
        assert!(case.clone().on("2026-04-24").speak(&RULE).unwrap().title.contains("until Apr 25"));
        assert_eq!(case.on("2026-04-25").speak(&RULE).unwrap().title, "Look into the bottom box");
    }

    #[test]
    fn an_empty_bottom_without_a_count_asks_for_one() {
        let mut state = looked(BottomBox::Empty, 9.0);
        state.seen.bees = frames("2026-04-18", 9.0);
        assert_eq!(title(state.clone()).as_deref(), Some("Count the frames of bees"));
        state.seen.bees = frames("2026-04-19", 9.0);
        assert_eq!(title(state).as_deref(), Some("Reverse the two boxes"));
    }

    #[test]
    fn a_single_and_a_nest_already_changed_this_year_are_left_in_peace() {
        assert!(Case::of(hive(1)).on(DAY).speak(&RULE).is_none());
        let mut state = hive(2);
        state.nest_changed = Some(day("2026-05-01"));
        assert!(Case::of(state.clone()).on(DAY).speak(&RULE).is_none());
        state.nest_changed = Some(day("2025-05-01"));
        assert!(Case::of(state).on(DAY).speak(&RULE).is_some());
    }

    #[test]
    fn what_is_left_alone_is_said_once() {
        assert!(Case::of(looked(BottomBox::Joint, 9.0)).on("2026-05-04").speak(&RULE).is_none());
    }
}
