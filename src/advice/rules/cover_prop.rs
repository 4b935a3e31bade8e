//! `cover.prop`: the cover propped a finger's width, so that wet honey dries under the bees.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Finding, days_after};

pub(super) const RULE: Rule = Rule {
    id: "cover.prop",
    name: "propping the cover",
    about: "In the flow, supers filling and the honey open or wet: the cover propped for drying, never in robbing",
    caution: Some(super::STINGS),
    source: "common practice, no single source; above 55 % humidity honey does not dry below about 18 %: a French practice \
        page",
    answer_holds: Holds::Days(10),
    speak,
    ..Rule::PLAIN
};

/// Days a look at the honey stands for.
const FRESH: i64 = 10;
/// Share of the top super filled from which there is honey worth drying, percent.
const FILLED: f64 = 60.0;
/// Days the prop stays in before it is looked at.
const STAYS: i64 = 7;
/// Days since robbing in which no gap is made.
const ROBBED: i64 = 14;

pub(super) fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let flow = s.day.calendar.flow_about(today).filter(|flow| flow.holds(today))?;
    if s.hive.super_boxes() == 0 || s.hive.robbed_within(ROBBED, today) {
        return None;
    }
    let capped = s.within(s.hive.seen.capped, FRESH)?;
    let full = s.within(s.hive.seen.super_full, FRESH)?;
    let (limit, ripe) = (s.day.practice.moisture_to(), s.day.practice.capped_at());
    let wet = s.within(s.hive.seen.moisture, FRESH).filter(|m| m.0 > limit);
    if full.0 < FILLED || (capped.0 >= ripe && wet.is_none()) {
        return None;
    }
    let (urgency, why) = match wet {
        Some(wet) => (
            Urgency::Should,
            format!(
                "{:.1} % water, and {limit} % is the limit for grades A and B. Wetter honey can ferment, so leave it on.",
                wet.0
            ),
        ),
        None => (
            Urgency::May,
            format!(
                "{:.0} % filled and {:.0} % capped: the bees are drying it, and a draft helps.",
                full.0, capped.0
            ),
        ),
    };
    let known = s.known_since(&[s.hive.seen.capped.map(|c| c.on)]);
    let days = STAYS.min((flow.closes - today).num_days()).max(1);
    Some(
        Prompt::new(
            RULE.id,
            urgency,
            Due::new(known, known, days_after(flow.closes, -1)),
            "Prop the cover to dry the honey",
            why,
        )
        .how(&[
            "Slide the outer cover back, or lay a stick under the front of the inner one: a finger's gap, no wider than bees guard.",
            "Both ways are taught. Only in warm, dry days without robbers; close it before rain, or when the flow ends.",
            "Above 55 % humidity it hardly helps: leave the honey on longer.",
        ])
        .doing(&[Deed::CracksLid], 1.0)
        .needs(Need::Gear(Gear::Wedge))
        .offer(
            Offer::of("cover propped", Action::Other { what: "propped the cover for drying".to_owned() })
                .promising(days, "take the prop from under the cover"),
        ),
    )
    .map(|prompt| prompt.asks(if wet.is_some() { &[] } else { &[Finding::Moisture] }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{seen, with_super};
    use crate::model::{HiveState, Percent, Robbing};

    const DAY: &str = "2026-07-10";

    fn supers(full: f64, capped: f64, moisture: Option<f64>) -> HiveState {
        let mut state = with_super();
        state.seen.super_full = seen(DAY, Percent(full));
        state.seen.capped = seen(DAY, Percent(capped));
        state.seen.moisture = moisture.and_then(|m| seen(DAY, Percent(m)));
        state
    }

    #[test]
    fn full_and_open_or_capped_and_wet_is_dried_and_ripe_is_not() {
        for (full, capped, moisture, urgency) in [
            (60.0, 79.0, None, Some(Urgency::May)),
            (59.0, 79.0, None, None),
            (90.0, 80.0, None, None),
            (90.0, 80.0, Some(18.6), None),
            (90.0, 80.0, Some(18.7), Some(Urgency::Should)),
        ] {
            let said = Case::of(supers(full, capped, moisture)).on(DAY).speak(&RULE);
            assert_eq!(said.map(|p| p.urgency), urgency, "{full} {capped} {moisture:?}");
        }
    }

    #[test]
    fn no_gap_is_made_in_robbing_or_after_the_flow() {
        for (on, speaks) in [("2026-06-26", true), ("2026-06-25", false)] {
            let mut state = supers(90.0, 40.0, None);
            state.seen.robbing = seen(on, Robbing::Probing);
            assert_eq!(Case::of(state).on(DAY).speak(&RULE).is_some(), !speaks, "{on}");
        }
        let case = Case::of(supers(90.0, 40.0, None));
        assert!(case.clone().on("2026-06-09").speak(&RULE).is_none());
        let mut late = supers(90.0, 40.0, None);
        late.seen.super_full = seen("2026-07-30", Percent(90.0));
        late.seen.capped = seen("2026-07-30", Percent(40.0));
        let prompt = Case::of(late.clone()).on("2026-07-30").speak(&RULE).unwrap();
        assert_eq!(prompt.offers[0].promises[0].0, 1, "out again when the flow ends");
        assert!(Case::of(late).on("2026-08-01").speak(&RULE).is_none());
    }
}
