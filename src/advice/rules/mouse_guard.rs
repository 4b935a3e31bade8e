//! `mouse-guard`: on before the mice move in, off when frost is over.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::Action;
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "mouse-guard",
    name: "mouse guard",
    about: "Mouse guard on before the first long cold, off again when frames may be lifted",
    caution: None,
    source: "trade page: 15 September to 15 October at 42-45 N; slots of 3/8 in (9-10 mm), from memory",
    answer_holds: Holds::Days(10),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let window = s.day.calendar.window(DateId::MouseGuards);
    let frost_over = s.day.calendar.opens(DateId::FramesMayBeLifted);
    let today = s.today();
    if !s.hive.mouse_guard && today >= window.opens && !s.day.calendar.shift.is_guess() {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(window.opens, window.closes, window.closes),
                "Put on the mouse guard",
                "Mice are looking for a warm box now. One in the hive ruins comb and disturbs the cluster all winter.",
            )
            .how(&["Make sure none is inside already: lift the back and look through from the front."])
            .doing(&[Deed::Guards], 1.0)
            .needs(Need::MouseGuard)
            .offer(Offer::of("mouse guard on", Action::SetMouseGuard { on: true })),
        );
    }
    if s.hive.mouse_guard && today >= frost_over && today < window.opens {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(frost_over, frost_over, crate::model::days_after(frost_over, 21)),
                "Take off the mouse guard",
                "Frost is over. The guard strips pollen from the bees and gets in the drones' way.",
            )
            .doing(&[], 1.0)
            .offer(Offer::of("mouse guard off", Action::SetMouseGuard { on: false })),
        );
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};

    #[test]
    fn on_in_autumn_and_off_in_spring() {
        let mut state = hive(1);
        assert_eq!(Case::of(state.clone()).days_of(&RULE), Some((day("2026-09-20"), day("2026-12-31"))));
        state.mouse_guard = true;
        assert_eq!(Case::of(state).days_of(&RULE), Some((day("2026-04-25"), day("2026-09-19"))));
    }
}
