//! `entrance.narrow`: when the flow ends, entrances are narrowed, the small colonies first.

use super::{Colony, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Entrance, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "entrance.narrow",
    name: "narrowing the entrance",
    about: "The flow ends: entrances narrowed against robbing, small colonies first",
    caution: None,
    source: "common practice, no single source; widths from trade and forum pages",
    answer_holds: Holds::Days(10),
    also_to: &[Colony::Suspect],
    // Two widths of one entrance.
    silent_beside: &[super::robbing_signs::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Frames of bees under which a colony is narrowed first.
const SMALL: f64 = 6.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::EntrancesNarrowed);
    if s.hive.entrance != Entrance::Open || s.day.calendar.is_winter(today) {
        return None;
    }
    let bees = s.within(s.hive.seen.bees, 30).map(|b| b.0);
    let small = bees.is_some_and(|b| b < SMALL) || s.hive.box_frames() < 8;
    // A small colony is narrowed as soon as no flow is on; the strong ones by their date, where that is known.
    let ended = s.day.calendar.flow_ended(today);
    let opens = if small { ended? } else { window.opens };
    if today < opens || (!small && s.day.calendar.shift.is_guess()) {
        return None;
    }
    let (width, words) =
        if small { (Entrance::Small, "1/2 in (1 cm)") } else { (Entrance::Reduced, "3-4 in (8-10 cm)") };
    let late = today > window.closes;
    Some(
        Prompt::new(
            RULE.id,
            if late || small { Urgency::Must } else { Urgency::Should },
            Due::new(opens, if small { opens } else { window.closes }, window.closes.max(days_after(opens, 14))),
            format!("Narrow the entrance to {words}"),
            match bees {
                Some(bees) if small => format!("{bees} frames of bees cannot guard a full entrance, and the flow is over."),
                _ => "The flow is over, and every hive in the yard is looking for a weak one. Small colonies come first.".to_owned(),
            },
        )
        .how(&["Put the reducer in at dusk, notch up. Open it again only for formic acid or a strong fall flow."])
        .doing(&[Deed::Narrows], 1.0)
        .needs(Need::Reducer)
        .offer(Offer::of("entrance narrowed", Action::SetEntrance { entrance: width })),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive};
    use crate::model::{Course, Treatment};

    #[test]
    fn the_strong_are_narrowed_from_late_august_and_the_small_when_the_flow_ends() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-08-25"), day("2026-11-09"))));
        for (bees, speaks) in [(5.75, true), (6.0, false)] {
            let mut state = hive(1);
            state.seen.bees = frames("2026-07-31", bees);
            assert!(Case::of(state.clone()).on("2026-07-31").speak(&RULE).is_none(), "the flow is on");
            assert_eq!(Case::of(state).on("2026-08-01").speak(&RULE).is_some(), speaks, "{bees}");
        }
    }

    #[test]
    fn a_narrow_entrance_needs_nothing() {
        let mut state = hive(1);
        state.entrance = Entrance::Reduced;
        assert_eq!(Case::of(state).days_of(&RULE), None);
    }

    #[test]
    fn formic_acid_needs_the_full_entrance() {
        let mut state = hive(1);
        for (treatment, held) in [(Treatment::FormicStrips, true), (Treatment::ThymolGel, false)] {
            state.courses =
                vec![Course { treatment, began: day("2026-08-20"), until: day("2026-09-03"), ended: None }];
            let advice = Case::of(state.clone()).on("2026-08-28").advise();
            assert_eq!(advice.held.iter().any(|h| h.prompt.rule == RULE.id), held, "{treatment:?}");
        }
    }
}
