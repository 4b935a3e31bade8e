//! `weather.guard`: too cold, too windy or too wet to lift frames.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::engine::no_frames;
use crate::advice::prompt::{Due, Urgency};
use crate::model::Weather;

pub(super) const RULE: Rule = Rule {
    id: "weather.guard",
    name: "frames stay in",
    about: "Too cold, too much wind or rain: frames stay in, and what needs them waits",
    caution: None,
    source: "trade page: full inspection from 60 F (15 C); wind 15 mph (24 km/h), common practice, from memory",
    answer_holds: Holds::Days(1),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    // Without any weather entered, the season alone speaks, and every prompt says so itself.
    if s.day.weather == Weather::default() {
        return None;
    }
    let because = no_frames(s)?;
    Some(
        Prompt::new(
            RULE.id,
            // A reason to do nothing is information.
            Urgency::May,
            Due::on(s.today()),
            "Too cold, wet or windy to pull frames",
            format!("{}. Brood chills within minutes.", crate::wording::capital(&because)),
        )
        .how(&["Work from outside: entrance, heft, feeder, lid for seconds. What needs frames waits for a better day."]),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::prompt::Deed;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::hive;

    #[test]
    fn sixty_degrees_and_fifteen_miles_an_hour_are_the_boundaries() {
        let case = || Case::of(hive(2)).on("2026-05-10");
        assert!(case().speak(&RULE).is_none(), "nothing entered");
        assert!(case().fahrenheit(59.0).speak(&RULE).is_some());
        assert!(case().fahrenheit(60.0).speak(&RULE).is_none());
        assert!(case().fahrenheit(70.0).wind(15.0).speak(&RULE).is_none());
        assert!(case().fahrenheit(70.0).wind(16.0).speak(&RULE).is_some());
        assert!(case().fahrenheit(70.0).rain().speak(&RULE).is_some());
    }

    #[test]
    fn what_needs_frames_is_held_with_the_reason() {
        let advice = Case::of(hive(2)).on("2026-05-10").fahrenheit(50.0).advise();
        assert!(advice.prompts.iter().all(|p| !p.deeds.contains(&Deed::LiftsFrames)));
        assert!(advice.held.iter().any(|h| h.prompt.rule == "mites.wash" && h.because.contains("60 F")));
        let advice = Case::of(hive(2)).on("2026-05-10").fahrenheit(65.0).advise();
        assert!(advice.prompts.iter().any(|p| p.rule == "mites.wash"));
    }

    #[test]
    fn a_warm_day_before_the_season_opens_the_hive() {
        let advice = Case::of(hive(1)).on("2026-04-20").fahrenheit(66.0).advise();
        assert!(advice.prompts.iter().all(|p| p.rule != RULE.id));
    }
}
