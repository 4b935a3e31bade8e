//! `feed.winter-weight`: pounds short for winter, in gallons of thick syrup, feeder fills and days left.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::{stores, syrup};
use crate::model::{Action, FeederKind, Finding, Mass, Mix, Volume, days_after};
use crate::season::DateId;
use crate::wording;

pub(super) const RULE: Rule = Rule {
    id: "feed.winter-weight",
    name: "winter weight",
    about: "Honey boxes off: weigh, and feed what is short of the winter target; too late is said early",
    caution: Some(super::LIFTING),
    source: "target: Farrar 1968, from memory; about 7 lb stored from a gallon of 2:1: two practice pages; syrup is not \
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
/// Days before the feeding window from which weighing makes sense: the honey boxes may be off early.
const EARLY: i64 = 14;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let window = s.day.calendar.window(DateId::FeedingDone);
    let opens = days_after(window.opens, -EARLY);
    if today < opens || s.day.calendar.is_winter(today) {
        return None;
    }
    let due = Due::new(opens, window.opens.max(today), window.closes);
    let Some(judged) = stores::judged(s.hive, today, FRESH, s.day.practice) else {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Weigh it for winter",
                format!("Heavy feeding ends by {}. Find out in time what is missing.", s.date(window.closes)),
            )
            .how(&[
                "Luggage scale under each side of the floor, an inch up, the two added. Or count frames of honey.",
                "Lifting the back is a guess, but better than nothing.",
            ])
            .asks(&[Finding::Weight, Finding::Heft, Finding::Honey])
            .doing(&[], 3.0),
        );
    };
    let target = stores::winter_target(s.hive, s.day.practice);
    let short = stores::short(&judged, s.hive, s.day.practice)?;
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
        "About {} of honey ({}), {} wanted: {} short.",
        units.mass(judged.mass),
        judged.doubt(),
        units.mass(target),
        units.mass(short)
    );
    if days_left < 0 {
        return Prompt::new(
            RULE.id,
            Urgency::Must,
            due,
            format!("Too late for syrup: {} short", units.mass(short)),
            format!("{numbers} They cannot dry syrup given now, and it chills them."),
        )
        .how(&[
            "Give frames of capped honey from a healthy, heavy hive; or unite with a heavier one while it is mild.",
            "Mark it for dry sugar over the cluster, and lift it first in late winter.",
        ])
        .doing(&[], 2.0)
        .offer(Offer::noted("marked for late winter").promising(150, "went into winter light: lift this one first"));
    }
    let first = Volume::from_gallons(gallons.gallons().min(kind.gallons()));
    let time = if days_needed > days_left {
        format!(
            "They take {a_day} a day: {} for it and {days_left} left. It cannot be made by \
             syrup alone: add frames of capped honey, or unite.",
            wording::days(days_needed)
        )
    } else {
        format!("They take {a_day} a day: {}, {days_left} left.", wording::days(days_needed))
    };
    let full = stores::capacity(s.hive);
    let mut prompt = Prompt::new(
        RULE.id,
        Urgency::Must,
        due,
        format!("Feed thick syrup: {} in all", units.volume(gallons)),
        format!("{numbers} {time}"),
    )
    .how(&[
        "2:1 white sugar and hot water by weight; do not boil it. Feed at dusk, none spilled.",
        "Weigh again in a week: what counts is what they have stored.",
    ])
    .asks(&[Finding::Feeder, Finding::Weight])
    .doing(&[Deed::OpensLid, Deed::GivesSyrup], 5.0)
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
    prompt.offer(offer.promising(7, "weigh again, fill the feeder"))
}

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
        assert_eq!(Case::of(hive(1)).days_of(&RULE), Some((day("2026-08-18"), day("2026-11-09"))));
    }

    /// 90 lb wanted for a single deep, 5 frames at 6 lb there: 60 lb short, 60 / 7 = 8.57, so 8.75 gal.
    #[test]
    fn the_shortfall_comes_in_gallons_fills_and_days() {
        let prompt = Case::of(honey("2026-09-01", 5.0)).on("2026-09-01").speak(&RULE).unwrap();
        assert_eq!(prompt.title, "Feed thick syrup: 8.75 gal in all");
        assert!(prompt.why.contains("60 lb short"), "{}", prompt.why);
        assert!(prompt.why.contains("18 days, 29 left"), "{}", prompt.why);
        assert!(prompt.how.iter().any(|h| h.starts_with("3 fills of a top feeder")));
    }

    #[test]
    fn a_feeder_too_small_for_the_days_left_is_changed_for_a_large_one() {
        // 35 lb short are 5 gallons: five fills of a pail, and 29 days are five weekly ones.
        for (on, changed) in [("2026-09-01", false), ("2026-09-05", true)] {
            let mut state = honey(on, 55.0 / 6.0);
            state.feeder = Some(FeederKind::Pail);
            let prompt = Case::of(state).on(on).speak(&RULE).unwrap();
            let sets = prompt.offers[0].actions.iter().any(|a| matches!(a, Action::SetFeeder { .. }));
            assert_eq!(sets, changed, "{on} {}", prompt.title);
            assert_eq!(prompt.how[0].contains("change it for a top feeder"), changed);
        }
    }

    #[test]
    fn five_pounds_short_is_near_enough() {
        for (count, speaks) in [(14.25, false), (14.0, true)] {
            let said = Case::of(honey("2026-09-01", count)).on("2026-09-01").speak(&RULE);
            assert_eq!(said.is_some(), speaks, "{count}");
        }
    }

    #[test]
    fn cannot_make_it_is_said_while_there_is_time() {
        let prompt = Case::of(honey("2026-09-10", 2.0)).on("2026-09-10").speak(&RULE).unwrap();
        assert!(prompt.why.contains("cannot be made by syrup alone"), "{}", prompt.why);
        let late = Case::of(honey("2026-09-30", 2.0)).on("2026-10-01").speak(&RULE).unwrap();
        assert!(late.title.starts_with("Too late for syrup"));
        let last = Case::of(honey("2026-09-30", 2.0)).on("2026-09-30").speak(&RULE).unwrap();
        assert!(last.title.starts_with("Feed thick syrup"));
    }
}
