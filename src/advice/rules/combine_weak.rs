//! `combine.weak`: a colony too small to winter is united with a healthy neighbor, never a sick or robbed one.

use super::{Holds, Prompt, Rule, Situation, gear};
use crate::advice::prompt::{Deed, Due, Gear, Need, Offer, Urgency};
use crate::colony::wash::{self, Reading};
use crate::model::{Action, Disease, HiveState, QueenStatus, days_after};
use crate::season::DateId;

/// What keeps two colonies apart until they know each other.
const NEWSPAPER: Need = Need::Gear(Gear::used("sheet of newspaper", 0.1));

pub(super) const RULE: Rule = Rule {
    id: "combine.weak",
    name: "uniting the weak",
    about: "Flow over and too few bees to winter: unite with a healthy hive of this yard, never with a sick or robbed one",
    caution: Some(super::STINGS),
    source: "common practice, no single source: unite over a sheet of newspaper, one queen only",
    answer_holds: Holds::Days(14),
    speak,
    ..Rule::PLAIN
};

/// Days a count of bees stands for.
const FRESH: i64 = 21;
/// Days a neighbor's count of bees stands for.
const NEIGHBOUR_FRESH: i64 = 45;
/// Days since robbing in which no union is made.
const ROBBED: i64 = 14;
/// Days a look for disease must not be older than.
const LOOKED: i64 = 60;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let opens = days_after(s.day.calendar.closes(DateId::MainFlow), 1);
    let aim = s.day.calendar.opens(DateId::FeedingDone);
    let latest = s.day.calendar.closes(DateId::FeedingDone);
    if today < opens || today > latest {
        return None;
    }
    let bees = s.within(s.hive.seen.bees, FRESH)?.0;
    if bees >= s.day.practice.small_cluster() || is_raising(s.hive) {
        return None;
    }
    // A pair that is robbed, or sick, makes one hive that is.
    if s.hive.robbed_within(ROBBED, today) || has_signs(s.hive) {
        return None;
    }
    let due = Due::new(opens, aim, latest);
    let small = s.day.practice.small_cluster();
    let why = format!("{bees} frames of bees; fewer than {small} seldom winter alone.");
    if over_limit(s, s.hive) {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Too small to winter: treat its mites, then unite",
                format!("{why} Its mites are over the limit: unite now, and they go to the other hive."),
            )
            .how(&["Treat it for mites, count again, and unite before the feeding ends."]),
        );
    }
    let Some(partner) = partner(s) else {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                "Too small to winter, and no hive here to unite with",
                format!(
                    "{why} A partner must be queenright, counted for mites and looked at for disease within two months, \
                     and neither robbed nor under treatment."
                ),
            )
            .how(&["Look at the neighbors first; or bring a healthy hive of another yard; or winter it over a strong one."]),
        );
    };
    let name = partner.id.clone();
    let strength = partner.seen.bees.map_or_else(String::new, |b| format!(", {} frames of bees", b.value.0));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            due,
            format!("Unite with {name}"),
            format!("{why} {name} is healthy and queenright{strength}, and stands nearest."),
        )
        .how(&[
            "A day before, find the poorer of the two queens and take her out.",
            "At dusk, lay a sheet of newspaper with a few pin holes over the stronger one and set the weaker on top.",
            "Leave it shut for a week, then bring the frames together in one nest.",
        ])
        .doing(&[Deed::LiftsFrames, Deed::Unites, Deed::MovesComb], 15.0)
        .needs(NEWSPAPER)
        .needs(gear::QUEEN_CAGE)
        .offer(Offer::of(format!("united into {name}"), Action::JoinInto { hive: name })),
    )
}

fn is_raising(hive: &HiveState) -> bool {
    matches!(hive.queen.status, QueenStatus::Cell | QueenStatus::Virgin | QueenStatus::Caged)
}

fn has_signs(hive: &HiveState) -> bool {
    hive.disease_suspected.is_some() || hive.seen.disease.is_some_and(|d| d.value != Disease::None)
}

fn over_limit(s: &Situation<'_>, hive: &HiveState) -> bool {
    hive.last_wash().is_some_and(|w| {
        let fresh = (0..=NEIGHBOUR_FRESH).contains(&(s.today() - w.on).num_days());
        let treated = hive.courses.iter().any(|c| c.began >= w.on);
        fresh
            && !treated
            && matches!(wash::read(w, s.day.practice.mite_limit()), Reading::LikelyOver | Reading::Over)
    })
}

/// The nearest stand with a hive fit to take this one in.
fn partner<'a>(s: &Situation<'a>) -> Option<&'a HiveState> {
    let here = s.day.stands.iter().position(|h| h.id == s.hive.id).unwrap_or(0);
    s.day
        .stands
        .iter()
        .enumerate()
        .filter(|(_, other)| other.id != s.hive.id && is_fit(s, other))
        .min_by_key(|(at, _)| at.abs_diff(here))
        .map(|(_, other)| *other)
}

fn is_fit(s: &Situation<'_>, other: &HiveState) -> bool {
    let today = s.today();
    let counted = other.last_wash().is_some_and(|w| (0..=LOOKED).contains(&(today - w.on).num_days()));
    let looked = s.within(other.seen.disease, LOOKED) == Some(Disease::None);
    let bees = s.within(other.seen.bees, NEIGHBOUR_FRESH).is_some();
    other.is_alive()
        && other.queen.status == QueenStatus::Laying
        && !has_signs(other)
        && looked
        && bees
        && counted
        && !over_limit(s, other)
        && !other.robbed_within(ROBBED, today)
        && other.course_on(today).is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::{day, frames, hive, seen};
    use crate::model::{HiveId, MiteCount, Robbing};

    const DAY: &str = "2026-08-20";

    fn weak(bees: f64) -> HiveState {
        let mut state = hive(1);
        state.seen.bees = frames(DAY, bees);
        state
    }

    fn fit(id: &str) -> HiveState {
        let mut state = hive(1);
        state.id = HiveId::new(id);
        state.seen.bees = frames("2026-08-10", 9.0);
        state.seen.disease = seen("2026-08-10", Disease::None);
        state.washes.push(MiteCount { on: day("2026-08-10"), mites: 2, bees: 300 });
        state
    }

    fn title(state: HiveState, beside: Vec<HiveState>) -> Option<String> {
        Case::of(state).beside(beside).on(DAY).speak(&RULE).map(|p| p.title)
    }

    #[test]
    fn five_frames_winter_and_fewer_are_united_with_the_nearest_that_is_fit() {
        assert_eq!(title(weak(5.0), vec![fit("A1")]), None);
        assert_eq!(title(weak(4.75), vec![fit("A1"), fit("A2")]).as_deref(), Some("Unite with A2"));
    }

    #[test]
    fn a_sick_robbed_mitey_queenless_or_unknown_neighbour_is_never_proposed() {
        let spoil: [fn(&mut HiveState); 9] = [
            |h| h.disease_suspected = Some((day("2026-08-01"), Disease::Sunken)),
            |h| h.seen.disease = seen("2026-08-10", Disease::Chalk),
            |h| h.seen.disease = None,
            |h| h.seen.robbing = seen("2026-08-15", Robbing::Probing),
            |h| h.washes = vec![MiteCount { on: day("2026-08-10"), mites: 12, bees: 300 }],
            |h| h.washes.clear(),
            |h| h.queen.status = QueenStatus::Missing,
            |h| h.lost = Some((day("2026-08-01"), crate::model::Loss::Robbed)),
            |h| h.seen.bees = None,
        ];
        for (at, spoil) in spoil.into_iter().enumerate() {
            let mut near = fit("A2");
            spoil(&mut near);
            assert_eq!(title(weak(3.0), vec![fit("A1"), near]).as_deref(), Some("Unite with A1"), "{at}");
        }
    }

    #[test]
    fn a_robbed_or_sick_hive_is_not_united_and_a_mitey_one_is_treated_first() {
        let mut robbed = weak(3.0);
        robbed.seen.robbing = seen("2026-08-15", Robbing::Robbed);
        assert_eq!(title(robbed, vec![fit("A1")]), None);
        let mut sick = weak(3.0);
        sick.seen.disease = seen(DAY, Disease::Chalk);
        assert_eq!(title(sick, vec![fit("A1")]), None);
        let mut mitey = weak(3.0);
        mitey.washes.push(MiteCount { on: day(DAY), mites: 12, bees: 300 });
        assert!(title(mitey, vec![fit("A1")]).unwrap().contains("treat its mites"));
        assert!(title(weak(3.0), Vec::new()).unwrap().contains("no hive here"));
    }

    #[test]
    fn from_the_end_of_the_flow_to_the_end_of_feeding() {
        for (on, speaks) in
            [("2026-07-31", false), ("2026-08-01", true), ("2026-09-30", true), ("2026-10-01", false)]
        {
            let mut state = weak(3.0);
            state.seen.bees = frames(on, 3.0);
            assert_eq!(Case::of(state).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }
}
