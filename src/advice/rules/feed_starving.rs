//! `feed.starving`: a light hive is fed on any day of the year, the flow's weeks too, by what it can reach.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::stores::{self, Method};
use crate::model::{Action, FeederKind, Finding, Flight, Heft, Mass, Mix, Volume, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "feed.starving",
    name: "emergency food",
    about: "Light, or hardly a frame of honey, on any day of the year: food today that they can reach",
    caution: Some(super::STINGS),
    source: "bee inspectors' starvation alert of May 2021, as a club's page quotes it; syrup is not taken below 50 F \
        (10 C): extension guides, from memory; amounts: common practice, no single source",
    answer_holds: Holds::Days(4),
    // Whatever feeds it today is enough; to be looked at is not.
    answered_by: &[Deed::GivesSyrup, Deed::FeedsSolid],
    may_need: |_, _, _| vec![Need::Sugar { mass: Mass::from_pounds(4.0) }],
    speak,
    ..Rule::PLAIN
};

/// Days a look at the stores stands for: with brood, a light hive has less than that.
const FRESH: i64 = 7;
/// Frames of honey at or under which a colony with brood is days from starving (the alert named above).
const LEAST_HONEY: f64 = 1.0;
/// Pounds of stores by the scale under which it is as near (our choice: a frame of honey and the scale's doubt).
const LEAST_POUNDS: f64 = 8.0;

/// Whether the last look at its stores, of this week, found it light or next to empty.
pub(super) fn is_light(s: &Situation<'_>) -> bool {
    let heft = s.within(s.hive.seen.heft, FRESH) == Some(Heft::Light);
    let honey = s.within(s.hive.seen.honey, FRESH).is_some_and(|h| h.0 <= LEAST_HONEY);
    let by_weight = stores::judged(s.hive, s.today(), FRESH, s.day.practice)
        .is_some_and(|j| j.method == Method::Weighed && j.mass.pounds() < LEAST_POUNDS);
    let drawn = s.hive.seen.drawn.is_none_or(|d| d.value.0 > LEAST_HONEY);
    heft || (honey && drawn) || by_weight
}

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    if !is_light(s) || s.day.calendar.is_winter(s.today()) && s.within(s.hive.seen.heft, FRESH).is_none() {
        return None;
    }
    let today = s.today();
    let (solid, syrup) = (s.in_force.food.solid_until.is_some(), s.in_force.food.syrup_until.is_some());
    let is_cold = !s.takes_syrup().unwrap_or_else(|| s.day.calendar.frames_may_be_lifted(today))
        || s.within(s.hive.seen.flight, 0) == Some(Flight::None);
    match (is_cold, solid, syrup) {
        (_, true, _) | (false, _, true) => None,
        (true, false, _) => Some(solid_food(s, syrup)),
        (false, false, false) if s.hive.super_boxes() > 0 => Some(beside_honey_boxes(s)),
        (false, false, false) => Some(give_syrup(s)),
    }
}

fn due(s: &Situation<'_>) -> Due {
    let seen = &s.hive.seen;
    let known =
        s.known_since(&[seen.heft.map(|h| h.on), seen.honey.map(|h| h.on), seen.weight.map(|w| w.on)]);
    Due::new(known, known, days_after(known, 2))
}

fn why(s: &Situation<'_>) -> String {
    let brood = s
        .within(s.hive.seen.brood, 14)
        .map_or_else(String::new, |b| format!(" {} frames of brood eat a frame of honey in days.", b.0));
    format!("It is light: a week of rain or a gap in the flow starves it, whatever the month.{brood}")
}

fn solid_food(s: &Situation<'_>, has_syrup: bool) -> Prompt {
    let sugar = Mass::from_pounds(4.0);
    let cold = if has_syrup {
        " There is syrup, but in the cold they do not walk to a feeder."
    } else {
        " Too cold for syrup today."
    };
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due(s),
        "Light and cold: solid food over the cluster today",
        format!("{}{cold}", why(s)),
    )
    .how(&[
        "Fondant or dry white sugar on paper right over the cluster, touching it; the lid is off for seconds.",
        "Or a frame of capped honey from a healthy hive, against the cluster. No frame of brood comes out.",
        "Look again in three weeks, sooner if it was next to empty; syrup once they fly and it is 50 F (10 C).",
    ])
    .doing(&[Deed::FeedsSolid], 4.0)
    .needs(Need::Sugar { mass: sugar })
    .offer(Offer::of("solid food laid on", Action::FeedSugar { mass: sugar }).promising(21, "look at the solid food"))
    .offer(super::honey_frame())
}

fn give_syrup(s: &Situation<'_>) -> Prompt {
    let mix = if s.today() >= s.day.calendar.opens(DateId::FeedingDone) { Mix::Thick } else { Mix::Thin };
    let volume = Volume::from_gallons(1.0);
    let mut offer = Offer::of("fed syrup", Action::FeedSyrup { mix, volume });
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        due(s),
        format!("Light: feed {} of {} syrup today", s.day.units.volume(volume), mix.word()),
        why(s),
    )
    .how(&[
        "White sugar and water inside the hive, at dusk, none spilled; the entrance narrow where robbers are about.",
        "If nights turn under 50 F (10 C) before it is taken: fondant or dry sugar over the cluster instead.",
        "Room comes after food: a colony with nothing to eat does not swarm, it dies.",
    ])
    .asks(&[Finding::Feeder, Finding::Honey])
    .doing(&[Deed::OpensLid, Deed::GivesSyrup, if mix == Mix::Thick { Deed::FeedsThick } else { Deed::FeedsThin }], 4.0)
    .needs(Need::Syrup { mix, volume });
    if s.hive.feeder.is_none() {
        prompt = prompt.needs(Need::Feeder { kind: FeederKind::Pail });
        offer.actions.insert(0, Action::SetFeeder { feeder: Some(FeederKind::Pail) });
    }
    prompt.offer(offer.promising(4, "lift it, look at the feeder"))
}

/// Hungry under honey boxes for people: food comes before harvest, and sugar is not honey.
fn beside_honey_boxes(s: &Situation<'_>) -> Prompt {
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due(s),
        "Light under a honey box: food, but not into honey",
        why(s),
    )
    .how(&[
        "Give back frames of honey: from the honey box beside the brood, or from a healthy, heavy hive.",
        "No honey anywhere: take the honey boxes off first, then feed thin syrup at dusk. Sugar is not honey.",
        "Look at the honey box today. If nectar is coming in by the pound, a week of watching is enough.",
    ])
    .asks(&[Finding::Honey, Finding::SuperFull])
    .doing(&[Deed::OpensLid], 6.0)
    .offer(Offer::of("frames of honey given", Action::GiveHoney { frames: 2 }).asking().promising(4, "lift it again"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::FeederLevel;
    use crate::model::HiveState;
    use crate::model::testing::{day, frames, hive, seen, with_super};

    fn light(mut state: HiveState, on: &str) -> Case {
        state.seen.heft = seen(on, Heft::Light);
        Case::of(state).on(on)
    }

    fn title(case: &Case) -> Option<String> {
        case.speak(&RULE).map(|p| p.title)
    }

    #[test]
    fn a_light_hive_is_fed_on_every_day_of_the_year() {
        let mut today = day("2026-01-01");
        while today < day("2027-01-01") {
            let on = today.to_string();
            assert!(light(hive(1), &on).speak(&RULE).is_some(), "{on}");
            today = crate::model::days_after(today, 1);
        }
    }

    #[test]
    fn the_temperature_decides_between_syrup_and_solid_food() {
        for (f, words) in [(49.0, "solid food"), (50.0, "thin (1:1) syrup")] {
            let said = title(&light(hive(1), "2026-05-20").fahrenheit(f)).unwrap();
            assert!(said.contains(words), "{f}: {said}");
        }
        let fall = title(&light(hive(1), "2026-10-10").fahrenheit(62.0)).unwrap();
        assert!(fall.contains("thick"), "{fall}");
    }

    #[test]
    fn a_full_feeder_in_the_cold_is_no_food() {
        let mut state = hive(1);
        state.seen.feeder = seen("2026-05-10", FeederLevel::Full);
        let warm = light(state.clone(), "2026-05-10").fahrenheit(60.0);
        assert_eq!(title(&warm), None);
        let cold = light(state, "2026-05-10").fahrenheit(45.0).speak(&RULE).unwrap();
        assert!(cold.why.contains("do not walk"), "{}", cold.why);
    }

    #[test]
    fn under_a_honey_box_it_asks_for_honey_first() {
        let said = light(with_super(), "2026-06-14").fahrenheit(57.0).speak(&RULE).unwrap();
        assert!(said.title.contains("under a honey box"));
        assert!(!said.deeds.contains(&Deed::GivesSyrup));
    }

    #[test]
    fn a_frame_of_honey_is_the_boundary_and_a_week_old_look_the_last() {
        for (honey, speaks) in [(1.0, true), (1.25, false)] {
            let mut state = hive(1);
            state.seen.honey = frames("2026-07-20", honey);
            assert_eq!(Case::of(state).on("2026-07-20").speak(&RULE).is_some(), speaks, "{honey}");
        }
        let mut state = hive(1);
        state.seen.heft = seen("2026-07-20", Heft::Light);
        for (on, speaks) in [("2026-07-27", true), ("2026-07-28", false)] {
            assert_eq!(Case::of(state.clone()).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }
}
