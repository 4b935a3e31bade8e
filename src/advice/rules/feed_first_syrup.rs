//! `feed.first-syrup`: thin syrup when bees fly and pollen comes, where little is stored.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::model::Forecast;
use crate::colony::stores;
use crate::model::{Action, FeederKind, Finding, Flight, Mix, Origin, Volume};
use crate::season::DateId;

pub(super) const RULE: Rule = Rule {
    id: "feed.first-syrup",
    name: "first syrup",
    about: "Bees flying, pollen coming, not much stored: thin syrup; the day stores run out is shown",
    caution: None,
    source: "extension guides, from memory: 10-15 lb a month in early spring; syrup is not taken below 50 F (10 C)",
    answer_holds: Holds::Days(7),
    speak,
    ..Rule::PLAIN
};

/// Stores at which a spring colony is not fed, pounds.
const ENOUGH: f64 = 25.0;
/// Days past the freezing that spring feeding still makes sense.
const AFTER_FROST: i64 = 15;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let opens = s.day.calendar.at_widest(DateId::FirstPollen).opens;
    let closes = crate::model::days_after(
        s.day.calendar.opens(DateId::FramesMayBeLifted),
        AFTER_FROST + s.day.calendar.shift.doubt,
    );
    let new = s.hive.origin != Origin::Overwintered && (today - s.hive.came).num_days() < 90;
    let fed = s.hive.fed.last().is_some_and(|f| (0..7).contains(&(today - f.on()).num_days()));
    let flight = s.within(s.hive.seen.flight, 7);
    let pollen = s.within(s.hive.seen.pollen, 7);
    // What the bees show outranks the date.
    if (today < opens && pollen != Some(true)) || today > closes || new || fed {
        return None;
    }
    let judged = stores::judged(s.hive, today, 30, s.day.practice);
    // A light hive is light whatever its boxes would hold.
    if judged.is_some_and(|j| j.mass.pounds() >= ENOUGH && !super::feed_starving::is_light(s)) {
        return None;
    }
    let opens = opens.min(today);
    let due = Due::new(opens, opens, closes);
    let is_cold = s.takes_syrup() == Some(false);
    match (flight, pollen, judged) {
        (Some(Flight::None), _, _) | (_, Some(false), _) => None,
        (Some(_), Some(true), Some(_)) if is_cold => None,
        (Some(_), Some(true), Some(judged)) => {
            let dry = Forecast::without_flow(s.hive, s.day.calendar, today);
            let until = dry.stores_end().and_then(|end| end.early).map_or_else(String::new, |on| {
                format!(": in 1 such hive of 4 gone by {} if nothing comes in", s.date(on))
            });
            let gallon = Volume::from_gallons(1.0);
            let mut prompt = Prompt::new(
                RULE.id,
                Urgency::Must,
                due,
                format!("Feed {} of thin syrup", s.day.units.volume(gallon)),
                format!(
                    "About {} left ({}){until}. Pollen raises brood; it does not carry the bees through a cold \
                     spell.",
                    s.day.units.mass(judged.mass),
                    judged.doubt()
                ),
            )
            .how(&[
                "1:1 white sugar and warm water by weight, given at dusk, none spilled.",
                "Keep the feeder right against the cluster: in the cold they will not walk to it.",
            ])
            .asks(&[Finding::Feeder])
            .doing(&[Deed::OpensLid, Deed::GivesSyrup, Deed::FeedsThin], 4.0)
            .needs(Need::Syrup { mix: Mix::Thin, volume: gallon });
            let mut offer = Offer::of("fed thin syrup", Action::FeedSyrup { mix: Mix::Thin, volume: gallon });
            if s.hive.feeder.is_none() {
                prompt = prompt.needs(Need::Feeder { kind: FeederKind::Pail });
                offer.actions.insert(0, Action::SetFeeder { feeder: Some(FeederKind::Pail) });
            }
            Some(prompt.offer(offer.promising(7, "look at the feeder")))
        }
        // It is known to be light: `feed.starving` has the word.
        _ if super::feed_starving::is_light(s) => None,
        _ => Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "See whether to feed: flight, pollen, heft",
                "First pollen starts the brood, and the brood eats the last of the stores.",
            )
            .how(&["Watch the entrance for a minute, then lift the back. No frame has to come out."])
            .asks(&[Finding::Flight, Finding::Pollen, Finding::Heft])
            .doing(&[], 2.0),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, hive, seen};
    use crate::model::{Frames, HiveState};

    fn light_and_flying() -> HiveState {
        let mut state = hive(1);
        state.seen.flight = seen("2026-04-01", Flight::Many);
        state.seen.pollen = seen("2026-04-01", true);
        state.seen.honey = seen("2026-04-01", Frames(2.0));
        state
    }

    #[test]
    fn it_asks_to_look_from_first_pollen_to_a_fortnight_after_frost() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-03-25"), day("2026-05-10"))));
    }

    #[test]
    fn a_light_hive_with_pollen_coming_is_fed_and_told_when_it_runs_out() {
        let prompt = Case::of(light_and_flying()).on("2026-04-01").speak(&RULE).unwrap();
        assert_eq!(prompt.urgency, Urgency::Must);
        assert!(prompt.why.contains("if nothing comes in"), "{}", prompt.why);
        assert!(matches!(prompt.offers[0].actions[0], Action::SetFeeder { .. }));
    }

    #[test]
    fn twenty_five_pounds_is_the_boundary_of_feeding() {
        for (frames, fed) in [(4.0, true), (4.25, false)] {
            let mut state = light_and_flying();
            state.seen.honey = seen("2026-04-01", Frames(frames));
            assert_eq!(Case::of(state).on("2026-04-01").speak(&RULE).is_some(), fed, "{frames}");
        }
    }

    #[test]
    fn no_flight_or_no_pollen_means_no_syrup() {
        let mut state = light_and_flying();
        state.seen.flight = seen("2026-04-01", Flight::None);
        assert!(Case::of(state).on("2026-04-01").speak(&RULE).is_none());
        let mut state = light_and_flying();
        state.seen.pollen = seen("2026-04-01", false);
        assert!(Case::of(state).on("2026-04-01").speak(&RULE).is_none());
    }
}
