//! `honey.pull`: ripe honey comes off while the flow is on, and wet boxes go back at dusk.

use super::{Gear, Holds, Need, Prompt, Rule, Situation};
use crate::advice::Unfit;
use crate::advice::prompt::{Deed, Due, Offer, Urgency};
use crate::colony::honey;
use crate::model::{Action, Finding, Level, Mass, Role, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "honey.pull",
    name: "pulling honey",
    about: "Enough of the honey capped, or dry enough: pull it, and return the wet boxes at dusk",
    caution: Some(super::LIFTING),
    source: "capped share from extension guides, from memory; 18.6 % water: US Standards for Grades of Extracted Honey, 1985",
    answer_holds: Holds::Days(7),
    speak,
    ..Rule::PLAIN
};

/// Days a look stands for.
const FRESH: i64 = 10;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let off = s.day.calendar.at_widest(DateId::HoneyBoxesOff).closes;
    if s.hive.super_boxes() == 0 || s.day.calendar.is_winter(today) || today > off {
        return None;
    }
    if let Some(unfit) = s.in_force.unfit {
        return Some(not_for_people(s, unfit, off));
    }
    let capped = s.within(s.hive.seen.capped, FRESH)?;
    let seen_on = s.hive.seen.capped.map_or(today, |c| c.on);
    let moisture = s.within(s.hive.seen.moisture, FRESH);
    let limit = s.day.practice.moisture_to();
    // Too wet: where the cover may be propped that is the whole of it.
    if super::cover_prop::speak(s).is_some() {
        return None;
    }
    if let Some(wet) = moisture.filter(|m| m.0 > limit && capped.0 >= s.day.practice.capped_at()) {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                Due::new(seen_on, days_after(seen_on, 7), off),
                "Leave the honey: too wet yet",
                format!(
                    "{:.1} % water; {limit} % is the limit for grades A and B. Wetter honey can ferment. It may stay until {}, \
                     and comes off then as it is.",
                    wet.0,
                    s.date(off)
                ),
            )
            .how(&[
                "Leave it on and look again in a week; do not pull open frames along with ripe ones.",
                "Still wet when the boxes are due off: dry it in a warm room with a dehumidifier, or give it back to the bees.",
            ])
            .asks(&[Finding::Moisture, Finding::Capped]),
        );
    }
    if !honey::is_ripe(capped.0, moisture.map(|m| m.0), s.day.practice.capped_at(), limit) {
        return None;
    }
    let full = s.within(s.hive.seen.super_full, FRESH).map_or(100.0, |f| f.0);
    let (low, high) = s
        .hive
        .supers()
        .map(|b| honey::yield_pounds(b, full))
        .fold((0.0, 0.0), |(low, high), (l, h)| (low + l, high + h));
    let units = s.day.units;
    let expected =
        format!("{} to {}", units.mass(Mass::from_pounds(low)), units.mass(Mass::from_pounds(high)));
    let frames: u8 = s.hive.supers().map(|b| b.frames).fold(0, u8::saturating_add);
    let mut offer = Offer::of("honey taken", Action::TakeHoney { frames, mass: None });
    offer.actions.extend(s.hive.supers().map(|_| Action::RemoveBox { role: Role::Super, level: Level::Top }));
    let dry = moisture.map_or_else(
        || "The moisture was not measured: shake an uncapped frame: no nectar should fly out.".to_owned(),
        |m| format!("{:.1} % water, {limit} % at most.", m.0),
    );
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(seen_on, days_after(seen_on, 3), off.min(days_after(seen_on, 14))),
            "Pull the honey",
            format!("{:.0} % is capped. {dry} Expect {expected} extracted.", capped.0),
        )
        .how(&[
            "Brush or clear the bees, and cover each box right away: open honey starts robbing.",
            "Extract within days. Put wet boxes back over the nest at dusk while the flow lasts.",
        ])
        .asks(&[Finding::Moisture])
        .doing(&[Deed::OpensLid, Deed::TakesHoney], 10.0)
        .needs(Need::Gear(Gear::HarvestKit))
        .offer(offer),
    )
}

/// Honey that was on under a treatment that forbids it, or while syrup was given.
fn not_for_people(s: &Situation<'_>, unfit: Unfit, off: chrono::NaiveDate) -> Prompt {
    let why = match unfit {
        Unfit::Treated(treatment) => format!(
            "It was on the hive under {}, or in its waiting time, and that label lets no honey for people on with it.",
            treatment.word()
        ),
        Unfit::Fed => "Syrup was given while it was on: what is capped now is in part sugar.".to_owned(),
    };
    let known = s.known_since(&[s.hive.supers_since]);
    Prompt::new(
        RULE.id,
        Urgency::Must,
        Due::new(known, known, off),
        "This honey is not for people",
        why,
    )
    .how(&[
        "Mark the box and its frames, so that they are not extracted with others, this year or next.",
        "It may stay as the bees' own food, or come off and be kept for that. The label and the law decide.",
        "If the treatment is still in: honey boxes off, or strips out.",
    ])
    .doing(&[], 2.0)
    .offer(Offer::noted("marked: not for people"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen, with_super};
    use crate::model::{HiveState, Percent};

    const DAY: &str = "2026-07-20";

    fn capped(percent: f64, moisture: Option<f64>) -> HiveState {
        let mut state = with_super();
        state.seen.capped = seen(DAY, Percent(percent));
        state.seen.moisture = moisture.and_then(|m| seen(DAY, Percent(m)));
        state
    }

    fn title(state: HiveState) -> Option<String> {
        Case::of(state).on(DAY).speak(&RULE).map(|p| p.title)
    }

    #[test]
    fn eighty_percent_capped_and_dry_is_ripe() {
        assert_eq!(title(capped(79.0, None)), None);
        assert_eq!(title(capped(80.0, None)).as_deref(), Some("Pull the honey"));
        assert_eq!(title(capped(80.0, Some(18.6))).as_deref(), Some("Pull the honey"));
        assert_eq!(title(capped(80.0, Some(18.7))).as_deref(), Some("Leave the honey: too wet yet"));
        assert_eq!(
            title(capped(70.0, Some(17.5))).as_deref(),
            Some("Pull the honey"),
            "dry and mostly capped"
        );
        assert_eq!(title(hive(2)), None);
    }

    #[test]
    fn every_super_comes_off() {
        let mut state = capped(90.0, None);
        state.boxes.push(state.boxes[2].clone());
        let prompt = Case::of(state).on(DAY).speak(&RULE).unwrap();
        assert_eq!(prompt.offers[0].actions.len(), 3);
    }
}
