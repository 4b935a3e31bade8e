//! `upper-entrance`: a way out for damp and for bees, open before the cold.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::Action;
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "upper-entrance",
    name: "upper entrance",
    about: "Before the cold: an upper entrance open, for damp and for cleansing flights over snow",
    caution: None,
    source: "common practice, no single source; 1/2-3/4 in (13-19 mm) opening, from memory",
    answer_holds: Holds::Days(14),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let window = s.day.calendar.window(DateId::UpperEntrances);
    // Keepers differ on it, and where winters are short it does little.
    let is_long = s.day.calendar.has_long_winter();
    if s.hive.upper_entrance || s.today() < window.opens || !is_long || s.day.calendar.shift.is_guess() {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(window.opens, window.closes, window.closes),
            "Open the upper entrance",
            "Damp kills more wintering bees than cold: it must get out above them, and when snow or dead bees block \
             the lower entrance this is the way to a cleansing flight.",
        )
        .how(&["A notch or hole of 1/2-3/4 in (13-19 mm) under the lid, to the front, out of the wind."])
        .doing(&[Deed::OpensUpper], 1.0)
        .offer(Offer::of("upper entrance open", Action::SetUpperEntrance { open: true })),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive};

    #[test]
    fn it_speaks_from_its_window_until_it_is_open() {
        let mut state = hive(1);
        assert_eq!(Case::of(state.clone()).days_of(&RULE), Some((day("2026-10-10"), day("2026-12-31"))));
        assert_eq!(Case::of(state.clone()).on("2026-11-01").speak(&RULE).unwrap().urgency, Urgency::Should);
        assert!(Case::of(state.clone()).on("2026-11-01").guessed().speak(&RULE).is_none());
        state.upper_entrance = true;
        assert_eq!(Case::of(state).days_of(&RULE), None);
    }
}
