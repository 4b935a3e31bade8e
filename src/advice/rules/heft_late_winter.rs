//! `heft.late-winter`: lift the back of every hive once, and give dry sugar only to the light.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::model::{Action, Fed, Finding, Flight, Heft, Mass, days_after};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "heft.late-winter",
    name: "late-winter heft",
    about: "In the late-winter window, nothing lifted or weighed in 30 days: lift the back; light: dry sugar",
    caution: Some(super::LIFTING),
    source: "extension guides, from memory: 4-5 lb of dry sugar at the first placing, a look every 3-4 weeks",
    answer_holds: Holds::Days(14),
    may_need: |_, _, _| vec![Need::Sugar { mass: Mass::from_pounds(4.0) }],
    speak,
    ..Rule::PLAIN
};

/// Days a heft stands for.
const FRESH: i64 = 30;
/// Days a first placing of sugar lasts.
const SUGAR_LASTS: i64 = 21;
/// Fondant laid on in deep winter, pounds: a month for a cluster without brood (common practice, no single source).
const FONDANT: f64 = 5.0;
/// First placing of dry sugar, pounds.
const SUGAR: f64 = 4.0;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::LateWinterHeft);
    let is_winter = s.day.calendar.is_winter(today);
    let frames = s.day.calendar.opens(DateId::FramesMayBeLifted);
    let heft = s.within(s.hive.seen.heft, FRESH);
    let weighed = s.within(s.hive.seen.weight, FRESH).is_some();
    let sugared =
        s.hive.fed.iter().any(|f| {
            matches!(f, Fed::Sugar { .. }) && (0..SUGAR_LASTS).contains(&(today - f.on()).num_days())
        });
    if heft == Some(Heft::Light) && !sugared {
        if is_winter {
            return Some(deep_winter(s));
        }
        if today < frames && !syrup_is_taken(s) {
            return Some(give_sugar(s));
        }
        return None;
    }
    if is_winter && heft.is_none() && !weighed && !sugared {
        return lift_early(s);
    }
    if window.holds(today) && heft.is_none() && !weighed {
        let due = Due::new(window.opens, window.opens, window.closes);
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Lift the back of the hive",
                "Late winter is when colonies starve: brood rearing has begun and the stores are at their lowest.",
            )
            .how(&[
                "Lift the back edge an inch, knees bent: two fingers is light, a whole hand is fair, nailed down is heavy.",
                "Light: dry sugar over the frames. Fair or heavy: leave it shut.",
            ])
            .asks(&[Finding::Dead, Finding::Flight, Finding::Heft])
            .doing(&[], 2.0),
        );
    }
    None
}

/// Days a finding of the food stands for what the colony may have left (our choice).
const KNOWN: i64 = 180;
/// Days ahead in which food that may end asks for a lift now (our choice).
const ENDS_IN: i64 = 28;

/// In deep winter only where its food may end before anyone would lift it, by what was last found and fed.
fn lift_early(s: &Situation<'_>) -> Option<Prompt> {
    let seen = &s.hive.seen;
    let is_known = s.within(seen.weight, KNOWN).is_some()
        || s.within(seen.heft, KNOWN).is_some()
        || s.within(seen.honey, KNOWN).is_some();
    if !is_known {
        return None;
    }
    let ends = s.forecast().hungry_by(0.25, s.in_days(ENDS_IN))?;
    let from = days_after(ends, -ENDS_IN);
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(from, from, ends),
            "Lift it now: its food may not last",
            format!(
                "By what was last found and fed, 1 of 4 such hives has eaten its food by {}.",
                s.date(ends)
            ),
        )
        .how(&["Lift the back edge an inch, knees bent, and leave the lid on. Only a light one gets food."])
        .asks(&[Finding::Dead, Finding::Heft])
        .doing(&[], 2.0),
    )
}

/// Whether they fly, carry pollen and it is warm enough: then `feed.first-syrup` speaks.
fn syrup_is_taken(s: &Situation<'_>) -> bool {
    let flies = s.within(s.hive.seen.flight, 7).is_some_and(|f| f != Flight::None);
    flies && s.takes_syrup() != Some(false) && s.within(s.hive.seen.pollen, 7) == Some(true)
}

fn give_sugar(s: &Situation<'_>) -> Prompt {
    let sugar = Mass::from_pounds(SUGAR);
    let known = s.known_since(&[s.hive.seen.heft.map(|h| h.on)]);
    let due = Due::new(known, known, days_after(known, 3));
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        format!("Light: lay {} of dry sugar over the frames", s.day.units.mass(sugar)),
        "It is light, and bees do not take syrup in the cold. They can reach dry sugar on paper over the cluster.",
    )
    .how(&[
        "White granulated sugar only: brown or raw sugar harms wintering bees.",
        "Newspaper over the top bars, the sugar on it, a spray of water, and the lid back on within 30 seconds.",
        "Look again in three weeks, or switch to syrup once they fly every day.",
    ])
    .doing(&[Deed::FeedsSolid], 4.0)
    .needs(Need::Sugar { mass: sugar })
    .offer(Offer::of("dry sugar laid on", Action::FeedSugar { mass: sugar }).promising(21, "look at the dry sugar"))
}

fn deep_winter(s: &Situation<'_>) -> Prompt {
    let known = s.known_since(&[s.hive.seen.heft.map(|h| h.on)]);
    Prompt::new(
        RULE.id,
        Urgency::Should,
        Due::new(known, known, days_after(known, 7)),
        "Light in deep winter: a frame of honey, not sugar alone",
        "A big colony cannot be carried on dry sugar from now to the flow: it needs water to eat it, and two \
         months of it is 20 lb or more.",
    )
    .how(&[
        "In frost only for the seconds it takes; hunger waits for no mild day.",
        "On a mild, still day set a frame of capped honey from a healthy hive against the cluster.",
        "If you have none: fondant right over the cluster now, and more every three weeks.",
        "A cluster of fewer than three frames seldom survives: spend the honey on one that will.",
    ])
    .doing(&[Deed::FeedsSolid], 5.0)
    .offer(
        Offer::of("fondant laid on", Action::FeedSugar { mass: Mass::from_pounds(FONDANT) })
            .promising(21, "look at the fondant"),
    )
    .offer(super::honey_frame())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{day, hive, seen};

    #[test]
    fn it_speaks_in_its_window_only() {
        let case = Case::of(hive(1));
        assert_eq!(case.days_of(&RULE), Some((day("2026-03-15"), day("2026-03-31"))));
    }

    #[test]
    fn in_deep_winter_only_what_may_starve_is_lifted_and_fed_in_frost_too() {
        let weighed = |pounds| {
            let mut state = hive(1);
            state.seen.weight = seen("2026-09-25", Mass::from_pounds(pounds));
            state.series.weight = vec![(day("2026-09-25"), Mass::from_pounds(pounds))];
            state
        };
        let on = |state: HiveState| Case::of(state).on("2027-01-15").fahrenheit(20.0).speak(&RULE);
        assert_eq!(on(weighed(65.0)).unwrap().title, "Lift it now: its food may not last");
        assert!(on(weighed(105.0)).is_none());
        assert!(on(hive(1)).is_none(), "of a hive nobody weighed nothing is known");
        let mut light = hive(1);
        light.seen.heft = seen("2027-01-15", Heft::Light);
        let fed = Case::of(light).on("2027-01-15").fahrenheit(20.0).advise();
        assert!(fed.prompts.iter().any(|p| p.deeds.contains(&Deed::FeedsSolid)), "{:?}", fed.held);
    }

    #[test]
    fn a_heft_within_thirty_days_silences_it() {
        for (heft_on, speaks) in [("2026-02-18", true), ("2026-02-19", false)] {
            let mut state = hive(1);
            state.seen.heft = seen(heft_on, Heft::Fair);
            assert_eq!(Case::of(state).on("2026-03-21").speak(&RULE).is_some(), speaks, "{heft_on}");
        }
    }

    #[test]
    fn only_the_light_get_sugar_and_once_in_three_weeks() {
        for (heft, sugar) in [(Heft::Light, true), (Heft::Fair, false), (Heft::Heavy, false)] {
            let mut state = hive(1);
            state.seen.heft = seen("2026-03-20", heft);
            let offered = Case::of(state).on("2026-03-20").speak(&RULE).is_some_and(|p| !p.offers.is_empty());
            assert_eq!(offered, sugar, "{heft:?}");
        }
        let mut state = hive(1);
        state.seen.heft = seen("2026-03-20", Heft::Light);
        state.fed.push(Fed::Sugar { on: day("2026-03-20"), mass: Mass::from_pounds(4.0) });
        assert!(Case::of(state.clone()).on("2026-04-09").speak(&RULE).is_none());
        assert!(Case::of(state).on("2026-04-10").speak(&RULE).is_some());
    }

    #[test]
    fn deep_winter_says_why_sugar_alone_will_not_do() {
        let mut state = hive(2);
        state.seen.heft = seen("2026-01-10", Heft::Light);
        let prompt = Case::of(state).on("2026-01-10").speak(&RULE).unwrap();
        assert!(prompt.why.contains("cannot be carried on dry sugar"));
    }
}
