//! `entrance.open`: a strong colony's entrance is opened again once the season is on.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::model::{Action, Entrance};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "entrance.open",
    name: "opening the entrance",
    about: "Strong, in season, and the entrance still small from fall: open it",
    caution: None,
    source: "a keeper's page on the dog days of summer; common practice, no single source",
    answer_holds: Holds::Days(14),
    // Two widths of one entrance.
    silent_beside: &[super::robbing_signs::RULE.id, super::entrance_narrow::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Frames of bees that guard a full entrance.
const STRONG: f64 = 10.0;
/// Days after robbing in which it stays narrow.
const AFTER_ROBBING: i64 = 14;
/// Air temperature from which a crowded hive must have air, Fahrenheit (our choice).
const HOT: f64 = 88.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let opens = s.day.calendar.at_widest(DateId::SwarmSeason).opens;
    let strong = s.within(s.hive.seen.bees, 30).is_some_and(|b| b.0 >= STRONG);
    let hot = s.day.weather.temperature.is_some_and(|t| t.fahrenheit() >= HOT);
    // When the flow is over it stays as narrow as it is, but for great heat; and it is not opened to be narrowed again.
    let is_over = s.day.calendar.flow_ended(today).is_some() && !hot;
    let narrowed = s.day.calendar.opens(DateId::EntrancesNarrowed);
    if s.hive.entrance == Entrance::Open || !strong || today < opens || today >= narrowed || is_over {
        return None;
    }
    if s.hive.robbed_within(AFTER_ROBBING, today) {
        return None;
    }
    let known = s.known_since(&[s.hive.seen.bees.map(|b| b.on)]);
    Some(
        Prompt::new(
            RULE.id,
            if hot { Urgency::Must } else { Urgency::Should },
            Due::new(opens, opens, crate::model::days_after(opens.max(known), 30)),
            "Open the entrance to its full width",
            "It is still narrow, and the colony is strong: foragers jam in it, and in heat they cannot cool the nest.",
        )
        .how(&["Take the reducer out. If robbers probe, put it back."])
        .doing(&[Deed::Widens], 1.0)
        .offer(Offer::of("entrance opened", Action::SetEntrance { entrance: Entrance::Open })),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{frames, hive, seen};
    use crate::model::{HiveState, Robbing};

    fn narrow(bees: f64) -> HiveState {
        let mut state = hive(2);
        state.entrance = Entrance::Small;
        state.seen.bees = frames("2026-06-12", bees);
        state
    }

    #[test]
    fn ten_frames_guard_a_full_entrance() {
        for (bees, speaks) in [(9.75, false), (10.0, true)] {
            assert_eq!(Case::of(narrow(bees)).on("2026-06-12").speak(&RULE).is_some(), speaks, "{bees}");
        }
    }

    #[test]
    fn in_heat_it_is_a_must_and_after_robbing_it_waits() {
        for (f, urgency) in [(87.0, Urgency::Should), (88.0, Urgency::Must)] {
            let said = Case::of(narrow(18.0)).on("2026-06-12").fahrenheit(f).speak(&RULE).unwrap();
            assert_eq!(said.urgency, urgency, "{f}");
        }
        let mut state = narrow(18.0);
        state.seen.robbing = seen("2026-06-01", Robbing::Probing);
        for (on, speaks) in [("2026-06-15", false), ("2026-06-16", true)] {
            assert_eq!(Case::of(state.clone()).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }
}
