//! `combine.weak`: a colony too small to winter is united with a healthy neighbor, never a sick or robbed one.

use super::{Gear, Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Need, Offer, Urgency};
use crate::colony::wash::{self, Reading};
use crate::model::{Action, Disease, Finding, HiveState, Origin, QueenStatus, days_after};
use crate::season::DateId;

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
    let bees = s.within(s.hive.seen.bees, FRESH)?.0;
    if is_raising(s.hive) || s.hive.robbed_within(ROBBED, today) || s.hive.disease_suspected.is_some() {
        return None;
    }
    let (due, small, small_for, why) = when(s, bees)?;
    if bees >= small {
        return None;
    }
    // The one that dwindles is the suspect: a pair with it sick, or full of mites, makes one hive that is.
    if has_signs(s.hive) {
        return None;
    }
    if today > due.latest && s.takes_syrup() == Some(true) {
        return Some(while_it_is_mild(s, due, &why));
    }
    let looked = s.within(s.hive.seen.disease, LOOKED) == Some(Disease::None);
    let counted = s.hive.last_wash().is_some_and(|w| (0..=LOOKED).contains(&(today - w.on).num_days()));
    if !looked || !counted {
        let what = match (looked, counted) {
            (false, false) => "look at its brood, wash",
            (false, true) => "look at its brood",
            (true, _) => "count its mites",
        };
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                format!("{small_for}: {what}, then unite"),
                format!("{why} What made it weak goes with it to the next hive."),
            )
            .how(&[
                "Brood in all stages, caps flat and whole, larvae white and curled. Anything else: stop, and call the inspector.",
                "Half a cup of bees for a wash: few bees can carry many mites.",
                "Both sound: unite it with a healthy, queenright hive; or winter it small and warm over a strong one.",
            ])
            .asks(&[Finding::Disease, Finding::Mites, Finding::Eggs])
            .doing(&[Deed::LiftsFrames], 8.0),
        );
    }
    if over_limit(s, s.hive) {
        return Some(
            Prompt::new(
                RULE.id,
                Urgency::Should,
                due,
                format!("{small_for}: treat its mites, then unite"),
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
                format!("{small_for}, and no hive here to unite with"),
                format!(
                    "{why} A partner must be queenright, counted for mites and looked at for disease within two months, \
                     and neither robbed nor under treatment."
                ),
            )
            .how(&["Look at the neighbors first; or bring a healthy hive of another yard.", "Or nurse it: one small, warm box, entrance narrow, fed; in fall over a strong hive, a screen between."]),
        );
    };
    let name = partner.id.clone();
    let strength = partner.seen.bees.map_or_else(String::new, |b| format!(", {} frames of bees", b.value.0));
    Some(
        Prompt::new(
            RULE.id,
            Urgency::Should,
            due,
            if today > due.latest { format!("Unite with {name} while it is mild") } else { format!("Unite with {name}") },
            format!("{why} {name} is healthy and queenright{strength}, and stands nearest."),
        )
        .how(&[
            "A day before, find the poorer of the two queens and take her out.",
            "At dusk, lay a sheet of newspaper with a few pin holes over the stronger one and set the weaker on top.",
            "Leave it shut for a week, then bring the frames together in one nest.",
        ])
        .doing(&[Deed::LiftsFrames, Deed::Unites, Deed::MovesComb], 15.0)
        .needs(Need::Gear(Gear::Newspaper))
        .needs(Need::Gear(Gear::QueenCage))
        .offer(Offer::of(format!("united into {name}"), Action::JoinInto { hive: name })),
    )
}

/// Late, and too cool for frames: over paper it is done without lifting any, if nothing speaks against it.
fn while_it_is_mild(s: &Situation<'_>, due: Due, why: &str) -> Prompt {
    let partner = partner(s).map(|p| p.id.clone());
    let name = partner.as_ref().map_or_else(|| "a healthy hive".to_owned(), ToString::to_string);
    let prompt = Prompt::new(
        RULE.id,
        Urgency::Should,
        due,
        format!("Unite it with {name} while it is mild"),
        format!("{why} Late since {}, but days like this one are left.", s.date(due.latest)),
    )
    .how(&[
        "First from above: dead or sunken brood, a foul smell, crumpled wings: leave it closed, and do not unite it.",
        "A sheet of newspaper over the other hive's frames, this box on top; no frame is lifted. One queen will be left.",
        "If it stays alone: thick syrup on warm days, then solid food; the entrance small.",
    ])
    .doing(&[Deed::OpensLid, Deed::Unites], 8.0)
    .needs(Need::Gear(Gear::Newspaper));
    match partner {
        Some(name) => prompt.offer(Offer::of(format!("united into {name}"), Action::JoinInto { hive: name })),
        None => prompt,
    }
}

/// Frames of bees under which a spring colony does not build up alone (from memory: three).
const SPRING_FEW: f64 = 3.0;
/// Days past the swarm season's opening in which a small spring colony is spoken of.
const SPRING_DAYS: i64 = 45;

/// When a small colony is united, under how many frames of bees it is small, what it is too small for, and why.
fn when(s: &Situation<'_>, bees: f64) -> Option<(Due, f64, &'static str, String)> {
    let today = s.today();
    let calendar = s.day.calendar;
    let spring = calendar.opens(DateId::FramesMayBeLifted);
    let spring_ends = days_after(spring, SPRING_DAYS);
    if (days_after(spring, -14)..=spring_ends).contains(&today) && s.hive.origin == Origin::Overwintered {
        let why = format!("{bees} frames of bees in spring: under {SPRING_FEW} they seldom build up alone.");
        return Some((
            Due::new(spring.min(today), spring, spring_ends),
            SPRING_FEW,
            "Too small to grow",
            why,
        ));
    }
    let opens = if calendar.knows_its_flow() {
        days_after(calendar.flow_ended(today)?, 1)
    } else {
        calendar.opens(DateId::MitesInCheck)
    };
    let aim = calendar.opens(DateId::FeedingDone);
    let latest = calendar.closes(DateId::FeedingDone);
    // Past the date it is done all the same while the days are mild.
    let is_mild = s.day.weather.temperature.is_some_and(|t| t.fahrenheit() >= s.day.practice.lid_from());
    let ends = if is_mild {
        calendar.opens(DateId::Cluster)
    } else {
        latest.max(calendar.opens(DateId::UpperEntrances))
    };
    if today < opens || today > ends {
        return None;
    }
    let small = s.day.practice.small_cluster();
    let why = format!("{bees} frames of bees; fewer than {small} seldom winter alone.");
    Some((Due::new(opens.min(aim), aim, latest), small, "Too small", why))
}

fn is_raising(hive: &HiveState) -> bool {
    matches!(
        hive.queen.status,
        QueenStatus::Cell
            | QueenStatus::RipeCell
            | QueenStatus::Virgin
            | QueenStatus::Superseded
            | QueenStatus::Caged
    )
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
        state.seen.disease = seen("2026-08-10", Disease::None);
        state.washes.push(MiteCount { on: day("2026-08-10"), mites: 1, bees: 300 });
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
        let mut unknown = weak(3.0);
        unknown.seen.disease = None;
        assert!(title(unknown, vec![fit("A1")]).unwrap().contains("look at its brood"));
    }

    #[test]
    fn from_the_end_of_the_flow_to_the_wrap_up() {
        for (on, speaks) in
            [("2026-07-31", false), ("2026-08-01", true), ("2026-10-10", true), ("2026-10-11", false)]
        {
            let mut state = weak(3.0);
            state.seen.bees = frames(on, 3.0);
            assert_eq!(Case::of(state).on(on).speak(&RULE).is_some(), speaks, "{on}");
        }
    }
}
