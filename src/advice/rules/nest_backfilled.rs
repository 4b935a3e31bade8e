//! `nest.backfilled`: a harmless patch of nectar told from a choked nest.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Backfill, Depth, Finding, Level, Role};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "nest.backfilled",
    name: "nectar in the nest",
    about: "Nectar in the brood's cells: a patch with room overhead is fine; more: drawn frames, or the next best",
    caution: Some(super::STINGS),
    source: "common practice, no single source",
    answer_holds: Holds::Days(6),
    may_need: |hive, _, _| {
        let room = Need::Box { depth: hive.super_depth(), role: Role::Super };
        vec![Need::DrawnFrames { count: 3 }, room]
    },
    speak,
    ..Rule::PLAIN
};

/// Days a look stands for.
const FRESH: i64 = 10;
/// Frames to change in a choked nest, at most.
const MOST: u8 = 3;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let (opens, closes) =
        (s.day.calendar.opens(DateId::FramesMayBeLifted), s.day.calendar.closes(DateId::FallFlow));
    let found = s.hive.seen.backfill.filter(|b| (0..=FRESH).contains(&(today - b.on).num_days()))?;
    if today < opens || today > closes {
        return None;
    }
    let room = s.hive.super_boxes() > 0
        && s.hive.seen.super_full.is_none_or(|f| f.value.0 < s.day.practice.add_super_at());
    let due = Due::new(found.on, found.on, crate::model::days_after(found.on, 5));
    match found.value {
        Backfill::None => None,
        Backfill::Patch if room => (found.on == today).then(|| {
            Prompt::new(
                RULE.id,
                Urgency::May,
                due,
                "A patch of nectar: leave it",
                "There is room overhead, and they carry it up at night. Look again next time.",
            )
        }),
        Backfill::Patch => Some(room_overhead(
            s,
            due,
            Urgency::Should,
            "Nectar in the nest: give room overhead",
            "A patch is harmless with room overhead, and there is none.",
        )),
        Backfill::Choked => Some(choked(s, due)),
    }
}

fn choked(s: &Situation<'_>, due: Due) -> Prompt {
    let why = "The queen has hardly a cell to lay in. In swarm season that sends them off; later it costs the bees \
               that should winter.";
    // Late, a box for harvest is no help: what is fed now goes up.
    if s.today() >= s.day.calendar.opens(DateId::HoneyBoxesOff) && s.hive.super_boxes() == 0 {
        return late(s, due);
    }
    match s.within(s.hive.seen.spare_drawn, FRESH).map(|d| d.0) {
        None => Prompt::new(RULE.id, Urgency::Must, due, "Nest choked: do you have drawn frames?", why)
            .asks(&[Finding::SpareDrawn]),
        Some(spare) if spare >= 1.0 => {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 60")]
            let frames = (spare as u8).min(MOST);
            Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                format!("Nest choked: change {} for drawn ones", wording::count(frames.into(), "full frame")),
                why,
            )
            .how(&[
                "Take frames of nectar from beside the brood, not from within it, and put the drawn ones there.",
                "Shake the bees off over the hive. The full frames go overhead, or to a light hive if this one is healthy.",
            ])
            .doing(&[Deed::LiftsFrames, Deed::MovesComb], 10.0)
            .needs(Need::DrawnFrames { count: frames })
            .offer(Offer::of(format!("{} changed", wording::count(frames.into(), "frame")), Action::SwapFrames { frames }))
        }
        Some(_) => {
            let mut prompt =
                room_overhead(s, due, Urgency::Must, "Nest choked, nothing drawn: room overhead", why);
            prompt.how.insert(
                0,
                "Foundation in the nest is drawn too slowly to help: do not break up the brood with it."
                    .to_owned(),
            );
            prompt.how.push(
                "Spin out two or three full frames and bring them back wet at dusk: they are drawn comb."
                    .to_owned(),
            );
            prompt
        }
    }
}

/// Choked when the winter bees are to be raised: comb is emptied, and no more is fed.
fn late(s: &Situation<'_>, due: Due) -> Prompt {
    let frames = s.within(s.hive.seen.spare_drawn, FRESH).map_or(MOST, |d| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 60")]
        let spare = d.0.max(1.0) as u8;
        spare.min(MOST)
    });
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        "Nest choked: stop feeding, give her cells",
        "The winter bees are raised now, and she has hardly a cell to lay in. More feed only makes it worse.",
    )
    .how(&[
        "Feeder off, or left dry, until there is brood in the middle again.",
        "Drawn comb into the nest for two or three full frames; none drawn: spin those out, and back at dusk.",
        "No box for harvest now: it would draw the bees and the feed away from the nest.",
    ])
    .doing(&[Deed::LiftsFrames, Deed::MovesComb], 10.0)
    .needs(Need::DrawnFrames { count: frames })
    .offer(Offer::of(
        format!("{} changed", wording::count(frames.into(), "frame")),
        Action::SwapFrames { frames },
    ))
}

fn room_overhead(s: &Situation<'_>, due: Due, urgency: Urgency, title: &str, why: &str) -> Prompt {
    let depth = s.hive.supers().next_back().map_or(Depth::Medium, |b| b.depth);
    let action = Action::AddBox {
        depth,
        frames: s.hive.box_frames(),
        role: Role::Super,
        drawn: 0,
        level: Level::AboveNest,
    };
    Prompt::new(RULE.id, urgency, due, title, why)
        .how(&["A super right over the nest: nectar moves up, and cells come free within days."])
        .doing(&[Deed::OpensLid, Deed::AddsSuper], 5.0)
        .needs(Need::Box { depth, role: Role::Super })
        .offer(Offer::of("super over the nest", action))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{frames, hive, seen, with_super};
    use crate::model::{HiveState, Percent};

    const DAY: &str = "2026-06-20";

    fn found(mut state: HiveState, backfill: Backfill) -> HiveState {
        state.seen.backfill = seen(DAY, backfill);
        state
    }

    fn prompt(state: HiveState) -> Option<Prompt> {
        Case::of(state).on(DAY).speak(&RULE)
    }

    #[test]
    fn a_patch_with_room_overhead_is_fine_and_without_it_gets_room() {
        assert_eq!(prompt(found(with_super(), Backfill::None)), None);
        assert_eq!(
            prompt(found(with_super(), Backfill::Patch)).unwrap().title,
            "A patch of nectar: leave it"
        );
        assert_eq!(prompt(found(hive(1), Backfill::Patch)).unwrap().urgency, Urgency::Should);
        for (percent, urgency) in [(69.0, Urgency::May), (70.0, Urgency::Should)] {
            let mut full = found(with_super(), Backfill::Patch);
            full.seen.super_full = seen(DAY, Percent(percent));
            assert_eq!(prompt(full).unwrap().urgency, urgency, "{percent}");
        }
    }

    #[test]
    fn a_choked_nest_depends_on_the_drawn_frames_at_hand() {
        let choked = found(with_super(), Backfill::Choked);
        assert!(prompt(choked.clone()).unwrap().title.contains("do you have drawn frames?"));
        for (spare, title) in [
            (0.0, "Nest choked, nothing drawn: room overhead"),
            (0.75, "Nest choked, nothing drawn: room overhead"),
            (1.0, "Nest choked: change 1 full frame for drawn ones"),
            (8.0, "Nest choked: change 3 full frames for drawn ones"),
        ] {
            let mut state = choked.clone();
            state.seen.spare_drawn = frames(DAY, spare);
            assert_eq!(prompt(state).unwrap().title, title);
        }
    }

    #[test]
    fn a_look_stands_ten_days() {
        let state = found(with_super(), Backfill::Choked);
        assert!(Case::of(state.clone()).on("2026-06-30").speak(&RULE).is_some());
        assert!(Case::of(state).on("2026-07-01").speak(&RULE).is_none());
    }
}
