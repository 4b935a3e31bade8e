//! The few best trip dates of a yard in the weeks ahead: hives whose windows overlap share one.
//!
//! The rules are run forward day by day. What opens is a need with a window; the fewest dates that meet every window are
//! chosen; each trip is taken as done as asked, and the run goes on from there, so that what comes again comes again.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Outlook;
use super::day::minutes;
use super::pace::Pace;
use crate::advice::rules::{RuleName, by_name};
use crate::advice::{Advice, Due, Prompt, Urgency};
use crate::model::{Action, Entry, HiveId, HiveState, Promise, days_after};

/// Something a hive needs within a window.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TripNeed {
    /// The hive.
    pub hive: HiveId,
    /// The rule.
    #[serde(with = "by_name")]
    pub rule: RuleName,
    /// What, in a few words.
    pub title: String,
    /// Why.
    pub why: String,
    /// How pressing.
    pub urgency: Urgency,
    /// When.
    pub window: Due,
    /// Whether its last day was past when it came up.
    pub is_late: bool,
}

/// One trip to a yard.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Trip {
    /// The day.
    pub on: NaiveDate,
    /// The last day it could be moved to without missing a window.
    pub until: NaiveDate,
    /// What it meets, the most pressing first.
    pub needs: Vec<TripNeed>,
    /// Minutes in the yard.
    pub minutes: u32,
}

impl Trip {
    /// The hives to be seen.
    pub fn hives(&self) -> Vec<&HiveId> {
        let mut hives: Vec<&HiveId> = Vec::new();
        for need in &self.needs {
            if !hives.contains(&&need.hive) {
                hives.push(&need.hive);
            }
        }
        hives
    }
}

/// Days looked ahead: eight weeks.
pub const WEEKS_AHEAD: i64 = 56;
/// Days within which what is late already is to be met.
const GRACE: i64 = 3;
/// Rounds of looking and doing at a hive in one visit, at most.
const ROUNDS: usize = 4;
/// Days within which the same words are the same work.
const SAME: i64 = 3;
/// Trips at most, against a rule that never rests.
const MOST: usize = 30;

/// The fewest dates that meet every span, each as near to its aims as it can be; in order.
///
/// The earliest last day is met as late as it must be, with all that is open by then: no other choice needs fewer dates.
pub fn choose(spans: &[Due]) -> Vec<NaiveDate> {
    let mut left: Vec<Due> = spans.to_vec();
    left.sort_by_key(|s| (s.latest, s.opens));
    let mut dates = Vec::new();
    while let Some(first) = left.first().copied() {
        let met: Vec<Due> = left.iter().copied().filter(|s| s.opens <= first.latest).collect();
        let opens = met.iter().map(|s| s.opens).max().unwrap_or(first.opens);
        dates.push(best_between(&met, opens, first.latest));
        left.retain(|s| s.opens > first.latest);
    }
    dates
}

/// The day between two that is least away from the aims, the earlier where two are alike.
fn best_between(spans: &[Due], from: NaiveDate, to: NaiveDate) -> NaiveDate {
    let away = |day: NaiveDate| -> i64 { spans.iter().map(|s| (s.aim - day).num_days().abs()).sum() };
    from.iter_days().take_while(|day| *day <= to).min_by_key(|day| away(*day)).unwrap_or(from)
}

/// The trips to a yard from a day on, eight weeks ahead.
pub fn trips(outlook: &mut Outlook<'_>, from: NaiveDate, pace: Pace) -> Vec<Trip> {
    let until = days_after(from, WEEKS_AHEAD);
    let mut states: Vec<HiveState> = outlook.stands().iter().map(|h| (*h).clone()).collect();
    let mut needs: BTreeMap<HiveId, Vec<TripNeed>> =
        states.iter().map(|s| (s.id.clone(), forward(outlook, s, from, until))).collect();
    let mut trips = Vec::new();
    for _ in 0..MOST {
        // What may wait beyond the weeks looked at forces no trip, but goes along with one.
        let pressing: Vec<Due> =
            needs.values().flatten().map(|n| n.window).filter(|w| w.latest <= until).collect();
        let Some(on) = choose(&pressing).first().copied() else { break };
        let mut met: Vec<TripNeed> =
            needs.values().flatten().filter(|n| n.window.opens <= on).cloned().collect();
        met.sort_by_key(|n| (n.urgency, n.window.latest));
        let last = met.iter().map(|n| n.window.latest).min().unwrap_or(on).max(on);
        let mut spent = 0;
        for state in &mut states {
            if !met.iter().any(|n| n.hive == state.id) {
                continue;
            }
            let mut advice = outlook.advice(state, on);
            spent += minutes(&advice, pace.factor);
            // A look may turn up the next thing to do, which is done in the same visit.
            for _ in 0..ROUNDS {
                if !advice.makes_a_trip() {
                    break;
                }
                do_as_asked(state, &advice, on);
                advice = outlook.advice(state, on);
            }
            // What that does not settle, or what is back within days in the same words, is the same work still: it stands
            // in one trip, and not in each.
            let left = advice.prompts;
            let is_left = |need: &TripNeed| left.iter().any(|p| p.makes_a_trip() && p.rule == need.rule);
            let is_back = |need: &TripNeed| {
                need.window.opens <= days_after(on, SAME)
                    && met.iter().any(|m| m.hive == need.hive && m.rule == need.rule && m.title == need.title)
            };
            let mut next = forward(outlook, state, days_after(on, 1), until);
            next.retain(|need| !is_left(need) && !is_back(need));
            needs.insert(state.id.clone(), next);
        }
        trips.push(Trip { on, until: last, needs: met, minutes: spent });
    }
    trips
}

/// What a hive needs from a day to another, each on the first day it is asked for.
fn forward(outlook: &mut Outlook<'_>, state: &HiveState, from: NaiveDate, until: NaiveDate) -> Vec<TripNeed> {
    let mut found: Vec<TripNeed> = Vec::new();
    let days = from.iter_days().take_while(|day| *day <= until);
    outlook.each_day(state, days, |day, advice| {
        for prompt in advice.prompts {
            if prompt.makes_a_trip() && !found.iter().any(|n| n.rule == prompt.rule) {
                found.push(need(state, &prompt, day));
            }
        }
        None::<()>
    });
    found
}

fn need(state: &HiveState, prompt: &Prompt, day: NaiveDate) -> TripNeed {
    let is_late = prompt.due.latest < day;
    let latest = if is_late { days_after(day, GRACE) } else { prompt.due.latest };
    TripNeed {
        hive: state.id.clone(),
        rule: prompt.rule,
        title: prompt.title.clone(),
        why: prompt.why.clone(),
        urgency: prompt.urgency,
        window: Due::new(day, prompt.due.aim, latest),
        is_late,
    }
}

/// Takes a hive as if all that is asked on a day were done: looked at and found as before, the first way taken.
fn do_as_asked(state: &mut HiveState, advice: &Advice, on: NaiveDate) {
    let mut entry = Entry::blank(state.id.clone());
    for prompt in &advice.prompts {
        for finding in &prompt.asks {
            let known = state.seen.get(*finding).map(|(_, value)| value);
            let found = known.or_else(|| finding.all_well());
            if entry.findings.get(*finding).is_none() {
                entry.findings.set(*finding, found);
            }
        }
        // That a disease is cleared is not taken for granted, nor is a colony made two.
        let is_open =
            |action: &Action| matches!(action, Action::DiseaseCleared { .. } | Action::SplitInto { .. });
        let taken = prompt.offers.first().filter(|offer| !offer.actions.iter().any(is_open));
        if let Some(offer) = taken {
            entry.actions.extend(offer.actions.iter().cloned());
            let promises = offer.promises.iter();
            entry.promises.extend(
                promises.map(|(days, what)| Promise { on: days_after(on, *days), what: what.clone() }),
            );
        }
        entry.answer(prompt.taken(taken, on));
    }
    state.apply(&entry, on);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use proptest::prelude::*;

    fn span(opens: i64, long: i64) -> Due {
        let first = days_after(day("2026-05-01"), opens);
        Due::new(first, days_after(first, long / 2), days_after(first, long))
    }

    fn meets(dates: &[NaiveDate], spans: &[Due]) -> bool {
        spans.iter().all(|s| dates.iter().any(|d| s.opens <= *d && *d <= s.latest))
    }

    /// The fewest dates of a fortnight that meet every span, by trying every set of them.
    fn fewest(spans: &[Due]) -> u32 {
        let all: Vec<NaiveDate> = (0..14).map(|d| days_after(day("2026-05-01"), d)).collect();
        (0u32..1 << 14)
            .filter(|set| {
                let dates: Vec<NaiveDate> =
                    all.iter().enumerate().filter(|(at, _)| set >> at & 1 == 1).map(|(_, d)| *d).collect();
                meets(&dates, spans)
            })
            .map(u32::count_ones)
            .min()
            .unwrap()
    }

    #[test]
    fn two_hives_whose_windows_overlap_share_a_trip() {
        assert_eq!(choose(&[span(0, 5), span(4, 6)]), [days_after(day("2026-05-01"), 4)]);
        assert_eq!(choose(&[span(0, 3), span(5, 2)]).len(), 2);
        assert!(choose(&[]).is_empty());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn the_choice_is_as_good_as_the_best_found_by_trying_all(
            spans in proptest::collection::vec((0i64..10, 0i64..4), 1..7)
        ) {
            let spans: Vec<Due> = spans.into_iter().map(|(opens, long)| span(opens, long)).collect();
            let dates = choose(&spans);
            prop_assert!(meets(&dates, &spans));
            prop_assert_eq!(u32::try_from(dates.len()).unwrap(), fewest(&spans));
            prop_assert!(dates.windows(2).all(|w| w[0] < w[1]));
        }

        #[test]
        fn shared_trips_are_never_more_than_each_hive_alone_would_take(
            hives in proptest::collection::vec(proptest::collection::vec((0i64..60, 0i64..20), 1..4), 1..8)
        ) {
            let of = |hive: &Vec<(i64, i64)>| hive.iter().map(|(o, l)| span(*o, *l)).collect::<Vec<_>>();
            let alone: usize = hives.iter().map(|h| choose(&of(h)).len()).sum();
            let all: Vec<Due> = hives.iter().flat_map(of).collect();
            let shared = choose(&all);
            prop_assert!(shared.len() <= alone);
            prop_assert!(meets(&shared, &all));
        }
    }
}
