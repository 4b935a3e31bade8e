//! `super.off`: honey boxes off before the fall flow, so that what comes then is the bees' own.

use super::{Gear, Holds, Need, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Action, Finding, Level, Role};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "super.off",
    name: "honey boxes off",
    about: "Honey boxes on as the fall flow nears: off by their date",
    caution: Some(super::LIFTING),
    source: "common practice, no single source",
    answer_holds: Holds::Days(4),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::HoneyBoxesOff);
    let count = s.hive.super_boxes();
    // By guessed dates the boxes stay while nectar comes.
    if count == 0
        || today < window.opens
        || s.day.calendar.is_winter(today)
        || s.day.calendar.shift.is_guess()
    {
        return None;
    }
    let late = today > window.closes;
    // Wet honey that may stay a while yet has its word already.
    let wet = s.within(s.hive.seen.moisture, 10).is_some_and(|m| m.0 > s.day.practice.moisture_to());
    let capped = s.within(s.hive.seen.capped, 10).is_some_and(|c| c.0 >= s.day.practice.capped_at());
    if wet && capped && !late {
        return None;
    }
    let boxes = match count {
        1 => "the honey box".to_owned(),
        2 => "both honey boxes".to_owned(),
        _ => format!("all {count} honey boxes"),
    };
    Some(
        Prompt::new(
            RULE.id,
            if late { Urgency::Must } else { Urgency::Should },
            Due::new(window.opens, window.closes, window.closes),
            format!("Take off {boxes}"),
            if late {
                "The date has passed: what comes in now belongs in the nest, and mite treatment and feed have to wait for it."
            } else {
                "What the fall flow brings must go into the nest for winter, and most mite treatments and all \
                 syrup need the honey boxes off."
            },
        )
        .how(&[
            "Clear the bees the evening before, or shake them off frame by frame. Cover the boxes right away.",
            "If some is not ripe, keep those frames for the bees. Do not mix them with ripe honey.",
        ])
        .asks(&[Finding::Capped, Finding::Robbing])
        .doing(&[Deed::OpensLid, Deed::TakesSupers], 8.0)
        .needs(Need::Gear(Gear::HarvestKit))
        .offers(ways(s)),
    )
}

/// All honey boxes off: with their honey, where it is for people, or without.
pub(super) fn ways(s: &Situation<'_>) -> Vec<Offer> {
    let frames: u8 = s.hive.supers().map(|b| b.frames).fold(0, u8::saturating_add);
    let off = || s.hive.supers().map(|_| Action::RemoveBox { role: Role::Super, level: Level::Top });
    let mut harvest = Offer::of("off, honey taken", Action::TakeHoney { frames, mass: None });
    harvest.actions.extend(off());
    let empty = Offer::doing("off, nothing to take", off().collect());
    if s.in_force.unfit.is_none() { vec![harvest, empty] } else { vec![empty] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive, with_super};

    #[test]
    fn it_speaks_from_mid_august_until_they_are_off() {
        assert_eq!(Case::of(with_super()).days_of(&RULE), Some((day("2026-08-15"), day("2026-11-09"))));
        assert_eq!(Case::of(hive(2)).days_of(&RULE), None);
    }

    #[test]
    fn past_its_date_it_is_a_must() {
        for (on, urgency) in [("2026-08-31", Urgency::Should), ("2026-09-01", Urgency::Must)] {
            assert_eq!(Case::of(with_super()).on(on).speak(&RULE).unwrap().urgency, urgency, "{on}");
        }
    }

    #[test]
    fn with_honey_boxes_on_no_syrup_is_given() {
        let mut state = with_super();
        state.seen.honey = crate::model::testing::frames("2026-09-05", 3.0);
        let advice = Case::of(state).on("2026-09-05").advise();
        assert!(advice.prompts.iter().all(|p| !p.deeds.contains(&Deed::GivesSyrup)));
    }
}
