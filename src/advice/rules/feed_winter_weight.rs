//! `feed.winter-weight`: pounds short for winter, in gallons of thick syrup, feeder fills and days left.

use chrono::NaiveDate;

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::{stores, syrup};
use crate::model::{Action, FeederKind, Finding, Heft, Mass, Mix, Volume, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "feed.winter-weight",
    name: "winter weight",
    about: "Honey boxes off: weigh, and feed what is short of the winter target; too late is said early",
    caution: Some(super::LIFTING),
    source: "85 to 95 lb in all for a single, 130 to 150 for two deeps: Univ. of Guelph, Canadian apiculturists; about 7 lb stored from a gallon of 2:1: two practice pages; syrup is not \
        taken below 50 F (10 C)",
    answer_holds: Holds::Days(6),
    may_need: |hive, _, _| {
        let kind = hive.feeder.unwrap_or(FeederKind::Top);
        let syrup = Need::Syrup { mix: Mix::Thick, volume: Volume::from_gallons(kind.gallons()) };
        let feeder = hive.feeder.is_none().then_some(Need::Feeder { kind });
        [syrup].into_iter().chain(feeder).collect()
    },
    speak,
    ..Rule::PLAIN
};

/// Days a weighing stands for.
const FRESH: i64 = 21;
/// Days before the last of heavy feeding in which a judgement must last to its end: one asked for on the last day comes too
/// late to feed by.
const LAST_DAYS: i64 = 10;
/// Days before the feeding window from which weighing makes sense: the honey boxes may be off early.
const EARLY: i64 = 21;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::FeedingDone);
    let opens = days_after(window.opens, -EARLY);
    if today < opens || s.day.calendar.is_winter(today) {
        return None;
    }
    // By guessed dates no day is the last one: the temperature decides.
    let is_guess = s.day.calendar.shift.is_guess();
    let due = if is_guess {
        let seen = &s.hive.seen;
        let known =
            [seen.weight.map(|w| w.on), seen.honey.map(|h| h.on), seen.heft.map(|h| h.on), Some(opens)];
        let known = s.known_since(&known);
        Due::new(known, days_after(known, 7), days_after(known, 21))
    } else {
        Due::new(opens, window.opens, window.closes)
    };
    let until = if is_guess {
        "days fall under 50 F (10 C)".to_owned()
    } else {
        format!("{} has come", s.date(window.closes))
    };
    let left = (due.latest - today).num_days();
    let fresh = if (0..=LAST_DAYS).contains(&left) { FRESH - left } else { FRESH };
    let Some(judged) = stores::judged(s.hive, today, fresh, s.day.practice) else {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Weigh it for winter",
                format!("Heavy feeding is over when {until}. Find out before then what is missing."),
            )
            .how(&[
                "Luggage scale under each side of the floor, an inch up, the two added. Or count frames of honey.",
                "Lifting the back is a guess, but better than nothing.",
            ])
            .asks(&[Finding::Weight, Finding::Heft, Finding::Honey])
            .doing(&[], 3.0),
        );
    };
    // A lift that says full is enough.
    if judged.method == stores::Method::Hefted && s.within(s.hive.seen.heft, FRESH) == Some(Heft::Heavy) {
        return None;
    }
    let target = target(s);
    let short = stores::short_of(&judged, s.hive, target)?;
    let fed_lately = s
        .hive
        .fed
        .last()
        .is_some_and(|f| (0..RULE.answer_holds.days()).contains(&(today - f.on()).num_days()));
    if fed_lately {
        return None;
    }
    Some(short_of(s, due, judged, target, short))
}

/// The honey wanted here.
fn target(s: &Situation<'_>) -> Mass {
    stores::winter_target_at(s.hive, s.day.practice, s.day.calendar.days_of_cluster())
}

/// Late and too cold for syrup: what can still be done.
fn too_cold(s: &Situation<'_>, due: Due, short: Mass, numbers: &str) -> Prompt {
    let units = s.day.units;
    Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        format!("Late since {}: {} short, solid food now", s.date(due.latest), units.mass(short)),
        format!("{numbers} Under 50 F (10 C) they do not take syrup, and what they take they cannot dry."),
    )
    .how(&[
        "Give frames of capped honey from a healthy, heavy hive; or unite with a heavier one while it is mild.",
        "On a day of 50 F (10 C) and more, thick syrup is still worth giving, warm, as fast as they take it.",
        "Mark it for dry sugar over the cluster, and lift it first in late winter.",
    ])
    .doing(&[Deed::FeedsSolid], 4.0)
    .offers(solid(s, short))
}

/// Pounds short from which it does not wait for late winter (our choice).
const FAR_SHORT: f64 = 15.0;
/// Pounds of dry sugar laid on at once (common practice, no single source).
const SUGAR: f64 = 10.0;

/// Solid food now where it would not last to late winter; else a mark to lift it first.
fn solid(s: &Situation<'_>, short: Mass) -> Vec<Offer> {
    let mass = Mass::from_pounds(SUGAR);
    let sugar =
        Offer::of(format!("{} of dry sugar laid on", s.day.units.mass(mass)), Action::FeedSugar { mass })
            .promising(28, "look at the dry sugar");
    let mark = Offer::noted("marked for late winter")
        .promising(lift(s), "went into winter light: lift this one first");
    if short.pounds() < FAR_SHORT { vec![mark, sugar] } else { vec![sugar, mark] }
}

/// Days until a light one is lifted: a month before the others.
fn lift(s: &Situation<'_>) -> i64 {
    let others = s.day.calendar.closes(DateId::Cluster);
    (days_after(others, -28) - s.today()).num_days().max(14)
}

fn short_of(s: &Situation<'_>, due: Due, judged: stores::Stores, target: Mass, short: Mass) -> Prompt {
    let units = s.day.units;
    let gallons = syrup::thick_for(short, s.day.practice.pounds_per_gallon());
    let days_left = (due.latest - s.today()).num_days();
    let bees = s.within(s.hive.seen.bees, 45).map(|b| b.0);
    let days_needed = i64::from(syrup::days_to_take(gallons, bees));
    let kind = feeder_for(s.hive.feeder, gallons, days_left);
    let fills = syrup::fills(gallons, kind);
    let a_day = units.volume(Volume::from_gallons(syrup::gallons_a_day(bees)));
    let numbers = format!(
        "About {} of honey ({}), {} wanted: {} short. On the scale this stack should show about {} in all.",
        units.mass(judged.mass),
        judged.doubt(),
        units.mass(target),
        units.mass(short),
        units.mass(stores::winter_weight(s.hive, target))
    );
    // The date warns, the temperature decides: while they take syrup it is late, not too late.
    if days_left < 0 && s.takes_syrup() != Some(true) {
        return too_cold(s, due, short, &numbers);
    }
    let first = Volume::from_gallons(gallons.gallons().min(kind.gallons()));
    let time = if days_left < 0 {
        format!(
            "Late since {}: give it as fast as they take it, {a_day} a day, and solid food when days fall under 50 F \
             (10 C).",
            s.date(due.latest)
        )
    } else if days_needed > days_left {
        format!(
            "They take {a_day} a day: {} for it and {days_left} left. It cannot be made by \
             syrup alone: add frames of capped honey, or unite.",
            wording::days(days_needed)
        )
    } else {
        format!("They take {a_day} a day: {}, {days_left} left.", wording::days(days_needed))
    };
    // By guessed dates the days left are not known.
    let is_guess = s.day.calendar.shift.is_guess();
    let time = if is_guess {
        format!("They take {a_day} a day: give it as fast as they take it, for cold may come early here.")
    } else {
        time
    };
    let pressing =
        if is_guess { s.today() >= s.day.calendar.opens(DateId::FeedingDone) } else { s.today() >= due.aim };
    let full = stores::capacity(s.hive);
    let mut prompt = Prompt::new(
        RULE.id,
        // Cells filled too early are cells the winter bees are not raised in.
        if pressing { Urgency::Must } else { Urgency::Should },
        due,
        format!("Feed thick syrup: {} in all", units.volume(gallons)),
        format!("{numbers} {time}"),
    )
    .how(&[
        "2:1 white sugar and hot water by weight; do not boil it. Feed at dusk, none spilled.",
        "Weigh again in a week: what counts is what they have stored.",
    ])
    .asks(&[Finding::Feeder, Finding::Weight])
    .doing(&[Deed::OpensLid, Deed::GivesSyrup, Deed::FeedsThick], 5.0)
    .needs(Need::Syrup { mix: Mix::Thick, volume: first });
    prompt.how.push(format!(
        "{fills} fills of a {} ({} each).",
        kind.word(),
        units.volume(Volume::from_gallons(kind.gallons()))
    ));
    if full < target {
        prompt.how.push(format!(
            "This nest's frames hold about {} beside the cluster: fill them, and lift it early in late winter.",
            units.mass(full)
        ));
    }
    let mut offer = Offer::of(
        format!("fed {}", units.volume(first)),
        Action::FeedSyrup { mix: Mix::Thick, volume: first },
    );
    if s.hive.feeder != Some(kind) {
        if let Some(small) = s.hive.feeder {
            prompt.how.insert(
                0,
                format!(
                    "Its {} needs too many fills for the days left: change it for a {}.",
                    small.word(),
                    kind.word()
                ),
            );
        }
        prompt = prompt.needs(Need::Feeder { kind });
        offer.actions.insert(0, Action::SetFeeder { feeder: Some(kind) });
    }
    let offer = offer.promising(7, "weigh again, fill the feeder");
    match flow_to_come(s, due, target, days_needed) {
        Some((on, words)) => {
            prompt.why = format!("{} {words}", prompt.why);
            let days = (on - s.today()).num_days();
            let wait = format!("waiting for the fall flow, weigh again {}", s.date(on));
            prompt.offer(Offer::noted(wait).promising(days, "weigh it again")).offer(offer)
        }
        None => prompt.offer(offer),
    }
}

/// Days of feeding kept in hand where the fall flow is waited for.
const IN_HAND: i64 = 8;

/// Where the fall flow is likely to bring what is wanted, and there is still time to feed if it does not: the day to weigh
/// again, and why.
fn flow_to_come(s: &Situation<'_>, due: Due, target: Mass, days_needed: i64) -> Option<(NaiveDate, String)> {
    let fall = s.day.calendar.window(DateId::FallFlow);
    let last = days_after(due.latest, -(days_needed + IN_HAND)).min(fall.closes);
    if s.day.calendar.shift.is_guess() || s.hive.super_boxes() > 0 || s.today() >= last {
        return None;
    }
    let then = s.forecast().stores(due.latest)?;
    let pounds = |kilograms: f64| Mass::from_kilograms(kilograms);
    if pounds(then.middle).pounds() < target.pounds() - ENOUGH {
        return None;
    }
    let on = last.min(days_after(s.today(), AGAIN));
    let units = s.day.units;
    let words = format!(
        "The fall flow is still to come: a colony like it has {} to {} by {} without feed, in half of such falls. Until {} \
         nothing is lost by waiting, and cells left free now are cells the winter bees are raised in.",
        units.mass(pounds(then.low)),
        units.mass(pounds(then.high)),
        s.date(due.latest),
        s.date(last)
    );
    Some((on, words))
}

/// Pounds under the target that the flow need not bring.
const ENOUGH: f64 = 8.0;
/// Days after which it is weighed again while the flow is on.
const AGAIN: i64 = 14;

/// The feeder to feed with: the one that is on, unless a fill a week of it does not come to what is wanted in time.
fn feeder_for(on: Option<FeederKind>, wanted: Volume, days_left: i64) -> FeederKind {
    let weeks = u32::try_from(days_left.max(0) / 7 + 1).unwrap_or(1);
    on.filter(|kind| syrup::fills(wanted, *kind) <= weeks).unwrap_or(FeederKind::Top)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::HiveState;
    use crate::model::testing::{day, frames, hive};

    fn honey(on: &str, count: f64) -> HiveState {
        let mut state = hive(1);
        state.seen.honey = frames(on, count);
        state
    }

    #[test]
    fn unweighed_it_asks_from_mid_august_to_the_cluster() {
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-08-11"), day("2026-11-09"))));
    }

    /// 50 lb wanted for a single deep, 2 frames at 6 lb there: 38 lb short, 38 / 7 = 5.43, so 5.5 gal.
    #[test]
    fn the_shortfall_comes_in_gallons_fills_and_days() {
        let prompt = Case::of(honey("2026-09-01", 2.0)).on("2026-09-01").speak(&RULE).unwrap();
        assert_eq!(prompt.title, "Feed thick syrup: 5.5 gal in all");
        assert!(prompt.why.contains("38 lb short"), "{}", prompt.why);
        assert!(prompt.why.contains("92 lb in all"), "{}", prompt.why);
        assert!(prompt.why.contains("11 days, 29 left"), "{}", prompt.why);
        assert!(prompt.how.iter().any(|h| h.starts_with("2 fills of a top feeder")));
    }

    #[test]
    fn a_feeder_too_small_for_the_days_left_is_changed_for_a_large_one() {
        // 35 lb short are 5 gallons: five fills of a pail, and 29 days are five weekly ones.
        for (on, changed) in [("2026-09-01", false), ("2026-09-05", true)] {
            let mut state = honey(on, 15.0 / 6.0);
            state.feeder = Some(FeederKind::Pail);
            let prompt = Case::of(state).on(on).speak(&RULE).unwrap();
            let sets = prompt.offers[0].actions.iter().any(|a| matches!(a, Action::SetFeeder { .. }));
            assert_eq!(sets, changed, "{on} {}", prompt.title);
            assert_eq!(prompt.how[0].contains("change it for a top feeder"), changed);
        }
    }

    #[test]
    fn too_late_for_syrup_what_would_not_last_gets_sugar_now() {
        for (count, first) in [(2.0, "10 lb of dry sugar laid on"), (7.0, "marked for late winter")] {
            let prompt =
                Case::of(honey("2026-10-20", count)).on("2026-10-20").fahrenheit(40.0).speak(&RULE).unwrap();
            assert!(prompt.title.starts_with("Late since"), "{}", prompt.title);
            assert_eq!(prompt.offers[0].label, first, "{count}");
        }
    }

    #[test]
    fn five_pounds_short_is_near_enough() {
        for (count, speaks) in [(7.5, false), (7.25, true)] {
            let said = Case::of(honey("2026-09-01", count)).on("2026-09-01").speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{count}");
        }
    }

    #[test]
    fn cannot_make_it_is_said_while_there_is_time() {
        let prompt = Case::of(honey("2026-09-22", 2.0)).on("2026-09-22").speak(&RULE).unwrap();
        assert!(prompt.why.contains("cannot be made by syrup alone"), "{}", prompt.why);
        let late = Case::of(honey("2026-09-30", 2.0)).on("2026-10-01").speak(&RULE).unwrap();
        assert!(late.title.starts_with("Late since Sep 30"));
        let mild = Case::of(honey("2026-09-30", 2.0)).on("2026-10-01").fahrenheit(60.0).speak(&RULE).unwrap();
        assert!(
            mild.title.starts_with("Feed thick syrup") && mild.why.contains("Late since"),
            "{}",
            mild.why
        );
        let last = Case::of(honey("2026-09-30", 2.0)).on("2026-09-30").speak(&RULE).unwrap();
        assert!(last.title.starts_with("Feed thick syrup"));
    }
}
