//! `heat`: water, shade, a full entrance and a way out above on days of great heat.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};
use crate::model::{Action, Finding, Temperature};

pub(super) const RULE: Rule = Rule {
    id: "heat",
    name: "water and shade",
    about: "Great heat now or by the forecast: water, shade, the full entrance, a way out above; frames early or not at all",
    caution: Some(
        "Heat harms the keeper first: water, shade, and not alone. A veil hides the signs of heatstroke.",
    ),
    source: "a keeper's page on the dog days of summer; common practice, no single source",
    answer_holds: Holds::Days(14),
    silent_beside: &[super::robbing_signs::RULE.id],
    speak,
    ..Rule::PLAIN
};

/// Temperature from which a colony needs help with cooling, Fahrenheit (our choice; bees hold the brood at 93 to 95).
const HOT: f64 = 95.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let (today, soon) = s.highs();
    let hottest = [s.day.weather.temperature, today, soon].into_iter().flatten().map(Temperature::fahrenheit);
    let hottest = hottest.fold(f64::MIN, f64::max);
    if hottest < HOT {
        return None;
    }
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(s.today(), s.today(), s.in_days(3)),
            "Heat: water, shade and air",
            format!(
                "{} now or by the forecast. They cool the brood with water and by fanning; comb softens above 104 F (40 C).",
                s.day.units.temperature(Temperature::from_fahrenheit(hottest))
            ),
        )
        .how(&[
            "Clean water within sight, with stones to stand on, never dry. Shade at noon: a board on the lid is enough.",
            "Entrance at full width, and a finger's way out above where no robbers are.",
            "Open it early in the day or not at all: no frames out at noon.",
        ])
        .asks(&[Finding::Robbing])
        .doing(&[], 2.0)
        .offer(Offer::of("water and shade given", Action::Other { what: "gave water and shade".to_owned() })),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{hive, seen};

    #[test]
    fn it_speaks_from_95_degrees_by_the_air_or_by_the_forecast() {
        let told = |f| Case::of(hive(2)).on("2026-07-25").fahrenheit(f).speak(&RULE).is_some();
        assert!(!told(94.0) && told(95.0));
        let mut state = hive(2);
        state.seen.high_soon = seen("2026-07-25", Temperature::from_fahrenheit(100.0));
        let on = |day: &str| Case::of(state.clone()).on(day).fahrenheit(75.0).speak(&RULE).is_some();
        assert!(on("2026-07-25") && !on("2026-07-26"), "a forecast is of its day");
    }
}
