//! `nest.nuc`: a colony in a small box that fills it goes into a full-size one.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, HiveBox, Role, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "nest.nuc",
    name: "nuc into a full box",
    about: "A small box nearly full of bees or comb, in season: into a full-size box, or a second one on top",
    caution: Some(super::STINGS),
    source: "common practice, no single source",
    answer_holds: Holds::Days(5),
    silent_beside: &[super::combine_weak::RULE.id],
    may_need: |hive, _, _| vec![Need::Box { depth: hive.nest_depth(), role: Role::Nest }],
    speak,
    ..Rule::PLAIN
};

/// Frames up to which a box counts as small.
const SMALL: u8 = 6;
/// Frames of a full-size box.
const FULL: u8 = 10;
/// Days a look stands for.
const FRESH: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let calendar = s.day.calendar;
    if s.hive.nest_boxes() != 1 || s.hive.box_frames() > SMALL || s.hive.super_boxes() > 0 {
        return None;
    }
    let season = calendar.at_widest(DateId::FramesMayBeLifted).opens..=calendar.closes(DateId::MitesInCheck);
    if !season.contains(&today) {
        return None;
    }
    let frames = f64::from(s.hive.box_frames());
    let bees = s.within(s.hive.seen.bees, FRESH)?.0;
    let drawn = s.within(s.hive.seen.drawn, 30).map_or(frames, |d| d.0);
    if bees < frames * 0.8 || drawn < frames * 0.8 {
        return None;
    }
    let known = s.known_since(&[s.hive.seen.bees.map(|b| b.on)]);
    let full = bees >= frames;
    let depth = s.hive.nest_depth();
    Some(
        Prompt::new(
            RULE.id,
            if full { Urgency::Must } else { Urgency::Should },
            Due::new(known, known, days_after(known, 5)),
            "Move it into a full-size box",
            format!("{bees} frames of bees on {frames:.0}: the box is full, and without room they swarm."),
        )
        .how(&[
            "The full-size box on its stand, its frames into the middle in their order, foundation or drawn comb beside them.",
            "Or a second box of the same size on top. Feed while they draw, unless nectar comes in.",
        ])
        .asks(&[Finding::Bees, Finding::Drawn])
        .doing(&[Deed::LiftsFrames, Deed::AddsNestBox], 8.0)
        .needs(Need::Box { depth, role: Role::Nest })
        .offer(Offer::of(
            "moved into a full-size box",
            Action::SetBoxes { boxes: vec![HiveBox::with_drawn(depth, FULL, Role::Nest, s.hive.box_frames())] },
        )),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::Depth;
    use crate::model::testing::{frames, hive};

    #[test]
    fn a_small_box_is_left_when_it_is_full() {
        for (size, bees, urgency) in [
            (5, 3.75, None),
            (5, 4.0, Some(Urgency::Should)),
            (5, 5.0, Some(Urgency::Must)),
            (10, 10.0, None),
        ] {
            let mut state = hive(1);
            state.boxes = vec![HiveBox::new(Depth::Deep, size, Role::Nest)];
            state.seen.bees = frames("2026-07-01", bees);
            let told = Case::of(state).on("2026-07-01").speak(&RULE).map(|p| p.urgency);
            assert_eq!(told, urgency, "{size} {bees}");
        }
    }
}
