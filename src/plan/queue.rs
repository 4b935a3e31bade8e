//! The order in which to see the hives of a day, and why each stands where it does.
//!
//! Urgency; suspected disease last, always; calm before hot; small colonies before the rush of robbers once the flow is
//! over; then along the stands, turning at their end, so that nobody walks back and forth.

use chrono::NaiveDate;

use super::day::Stop;
use crate::advice::Urgency;
use crate::model::{Entrance, HiveId, HiveState, Temper};
use crate::season::{Calendar, DateId};

/// Days a look at temper or strength stands for.
const FRESH: i64 = 120;
/// Frames of bees under which a colony is robbed out easily.
const SMALL: f64 = 6.0;

/// What of a hive decides its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Class {
    is_sick: bool,
    urgency: Urgency,
    is_hot: bool,
    is_large: bool,
}

fn class(stop: &Stop, hive: &HiveState, calendar: &Calendar, date: NaiveDate) -> Class {
    let fresh = |on: NaiveDate| (0..=FRESH).contains(&(date - on).num_days());
    let is_hot = hive.seen.temper.is_some_and(|t| fresh(t.on) && t.value == Temper::Hot);
    // Between two flows and after the last, a small one is robbed first.
    let dearth = calendar.flow_ended(date).is_some() && date <= calendar.closes(DateId::FeedingDone);
    let small = hive.seen.bees.is_some_and(|b| fresh(b.on) && b.value.0 < SMALL) || hive.box_frames() < 8;
    Class {
        is_sick: hive.disease_suspected.is_some() || stop.advice.urgency() == Some(Urgency::Stop),
        urgency: stop.advice.urgency().unwrap_or(Urgency::May),
        is_hot,
        is_large: !(dearth && small && hive.entrance != Entrance::Small),
    }
}

/// Puts the stops of a yard in order; each comes with the place of its stand, from 0, and its hive.
pub(super) fn in_order(
    stops: Vec<(usize, Stop, &HiveState)>,
    calendar: &Calendar,
    date: NaiveDate,
) -> Vec<Stop> {
    let mut ranked: Vec<(Class, usize, Stop)> =
        stops.into_iter().map(|(at, stop, hive)| (class(&stop, hive, calendar, date), at, stop)).collect();
    ranked.sort_by_key(|(class, at, _)| (*class, *at));
    let mut queue: Vec<Stop> = Vec::with_capacity(ranked.len());
    let mut stand: usize = 0;
    while let Some(class) = ranked.first().map(|(class, _, _)| *class) {
        let count = ranked.iter().take_while(|(c, _, _)| *c == class).count();
        let mut group: Vec<_> = ranked.drain(..count).collect();
        // From whichever end of the group is nearer to where one stands now.
        let (near, far) = (group.first().map_or(0, |g| g.1), group.last().map_or(0, |g| g.1));
        if stand.abs_diff(far) < stand.abs_diff(near) {
            group.reverse();
        }
        for (class, at, mut stop) in group {
            stop.reason = reason(class, at);
            stand = at;
            queue.push(stop);
        }
    }
    queue
}

fn reason(class: Class, stand: usize) -> String {
    let mut words = vec![class.urgency.word().to_owned()];
    if class.is_sick {
        words.push("disease suspected: last of all".to_owned());
    }
    if class.is_hot {
        words.push("hot: after the calm".to_owned());
    }
    if !class.is_large {
        words.push("small: before the robbers wake".to_owned());
    }
    words.push(format!("stand {}", stand + 1));
    words.join(", ")
}

/// Puts a queue as the keeper wants it: pinned hives first, then those moved by hand, the others as they were.
///
/// A hive with suspected disease stays last whatever is wanted.
pub fn arrange(queue: &mut [Stop], pinned: &[HiveId], moved: &[HiveId]) {
    let rank = |list: &[HiveId], stop: &Stop| list.iter().position(|h| *h == stop.hive);
    let sick = |stop: &Stop| stop.advice.urgency() == Some(Urgency::Stop);
    if !moved.is_empty() {
        queue.sort_by_key(|stop| (sick(stop), rank(moved, stop).unwrap_or(usize::MAX)));
    }
    queue.sort_by_key(|stop| (sick(stop), rank(pinned, stop).unwrap_or(usize::MAX)));
    for stop in queue.iter_mut() {
        if pinned.contains(&stop.hive) && !sick(stop) {
            "pinned by you".clone_into(&mut stop.reason);
        } else if moved.contains(&stop.hive) && !sick(stop) && !stop.reason.ends_with("put here by you") {
            stop.reason.push_str(", put here by you");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::{Advice, Due, Prompt};
    use crate::model::Disease;
    use crate::model::testing::{day, frames, hive, seen};
    use crate::season::Shift;

    fn stop(id: &str, urgency: Urgency) -> Stop {
        let prompts = vec![Prompt::new("mites.wash", urgency, Due::on(day("2026-08-10")), "Wash", "why")];
        Stop {
            hive: HiveId::new(id),
            minutes: 5,
            advice: Advice { prompts, held: Vec::new() },
            reason: String::new(),
        }
    }

    fn state(id: &str, change: impl FnOnce(&mut HiveState)) -> HiveState {
        let mut state = hive(1);
        state.id = HiveId::new(id);
        state.seen.bees = frames("2026-08-01", 12.0);
        change(&mut state);
        state
    }

    fn order(hives: &[(HiveState, Urgency)], on: &str) -> Vec<String> {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let stops = hives.iter().enumerate().map(|(at, (h, u))| (at, stop(h.id.as_str(), *u), h)).collect();
        in_order(stops, &calendar, day(on)).into_iter().map(|s| s.hive.to_string()).collect()
    }

    #[test]
    fn urgency_then_calm_then_small_then_along_the_stands_and_sickness_last() {
        let hives = [
            (
                state("sick", |h| h.disease_suspected = Some((day("2026-08-01"), Disease::Sunken))),
                Urgency::Stop,
            ),
            (state("1", |_| {}), Urgency::Should),
            (state("2", |_| {}), Urgency::Must),
            (state("hot", |h| h.seen.temper = seen("2026-07-01", Temper::Hot)), Urgency::Must),
            (state("small", |h| h.seen.bees = frames("2026-08-01", 5.75)), Urgency::Must),
            (state("3", |_| {}), Urgency::Must),
        ];
        assert_eq!(order(&hives, "2026-08-10"), ["small", "3", "2", "hot", "1", "sick"]);
        // In the flow a small colony has no rush to fear.
        assert_eq!(order(&hives, "2026-07-10"), ["2", "small", "3", "hot", "1", "sick"]);
    }

    #[test]
    fn the_way_turns_at_the_end_of_the_stands() {
        let must = |id| (state(id, |_| {}), Urgency::Must);
        let should = |id| (state(id, |_| {}), Urgency::Should);
        let hives = [should("1"), must("2"), should("3"), must("4"), should("5"), must("6")];
        assert_eq!(order(&hives, "2026-06-10"), ["2", "4", "6", "5", "3", "1"]);
    }

    #[test]
    fn the_keeper_pins_and_moves_but_sickness_stays_last() {
        let mut queue = vec![
            stop("a", Urgency::Must),
            stop("b", Urgency::Must),
            stop("c", Urgency::Should),
            stop("s", Urgency::Stop),
        ];
        let ids = |list: &[&str]| list.iter().map(|id| HiveId::new(*id)).collect::<Vec<_>>();
        arrange(&mut queue, &ids(&["s", "c"]), &ids(&["b", "a"]));
        let order: Vec<_> = queue.iter().map(|s| s.hive.as_str()).collect();
        assert_eq!(order, ["c", "b", "a", "s"]);
        assert_eq!(queue[0].reason, "pinned by you");
        assert!(queue[1].reason.ends_with("put here by you"));
    }
}
