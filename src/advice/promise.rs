//! What was promised at a visit: which looks keep it, and how long it is of use.
//!
//! Days of use are common practice, no single source: a robbing is over in a week or two, a feeder is empty in a month.

use chrono::NaiveDate;

use crate::model::fold::OpenPromise;
use crate::model::{Finding, HiveState, days_after};

/// A promise known by the beginning of its words.
struct Known {
    words: &'static str,
    /// What is looked at.
    looks: &'static [Finding],
    /// Days past its day for which it is of use; none where it stays until it is done.
    holds: Option<i64>,
}

const fn known(words: &'static str, looks: &'static [Finding], holds: Option<i64>) -> Known {
    Known { words, looks, holds }
}

const KNOWN: &[Known] = &[
    known("count mites again", &[Finding::Mites, Finding::WashBees], Some(45)),
    known("weigh again", &[Finding::Weight], Some(45)),
    known("weigh it again", &[Finding::Weight], Some(45)),
    known("lift it again", &[Finding::Heft], Some(30)),
    known("lift it, look at the feeder", &[Finding::Heft, Finding::Feeder], Some(30)),
    known("honey frame: lift it again", &[Finding::Heft], Some(30)),
    known("look at the feeder", &[Finding::Feeder], Some(30)),
    known("look at the", &[], Some(45)),
    known("robbing", &[Finding::Robbing], Some(14)),
    known("frame with eggs", &[Finding::Eggs, Finding::Cells], Some(30)),
    known("look for the first eggs", &[Finding::Eggs], Some(45)),
    known("raised a queen", &[Finding::Eggs], Some(45)),
    known("new queen", &[Finding::Eggs], Some(45)),
    known("supersedure", &[Finding::Eggs], Some(45)),
    known("they swarmed", &[Finding::Eggs], Some(45)),
    known("swarm cells were cut", &[Finding::Cells], Some(30)),
    known("sick-looking brood", &[Finding::Disease, Finding::Pattern], Some(45)),
    known("poisoning: how", &[Finding::Bees], Some(45)),
    known("see whether the nest has moved up", &[Finding::BottomBox], Some(60)),
    known("pests: look", &[], Some(45)),
    known("droppings: look", &[], Some(45)),
    known("went into winter light", &[Finding::Heft], Some(60)),
];

/// Days before its day from which a look keeps it: a visit is seldom on the very day.
const EARLY: i64 = 2;

fn known_of(what: &str) -> Option<&'static Known> {
    KNOWN.iter().find(|known| what.starts_with(known.words))
}

/// What is looked at where this was promised.
pub(super) fn looks_of(what: &str) -> &'static [Finding] {
    known_of(what).map_or(&[], |known| known.looks)
}

/// Whether a promise still stands on a day: it is neither kept by its looks nor of a time that is over.
pub fn is_open(promise: &OpenPromise, hive: &HiveState, today: NaiveDate) -> bool {
    let Some(known) = known_of(&promise.what) else { return true };
    let is_over = known.holds.is_some_and(|days| today > days_after(promise.on, days));
    let from = days_after(promise.on, -EARLY).max(days_after(promise.made, 1));
    // A count stands in the washes.
    let counted = hive.last_wash().is_some_and(|wash| wash.on >= from);
    let was_seen = |finding: &Finding| {
        let is_count = matches!(finding, Finding::Mites | Finding::WashBees);
        hive.seen.get(*finding).is_some_and(|(on, _)| on >= from) || (is_count && counted)
    };
    let is_kept = !known.looks.is_empty() && known.looks.iter().all(was_seen);
    !is_over && !is_kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::{day, hive, seen};

    #[test]
    fn a_promise_is_kept_by_its_look_and_is_over_with_its_season() {
        let promise = |what: &str| OpenPromise {
            made: day("2026-08-01"),
            on: day("2026-08-03"),
            what: what.to_owned(),
        };
        let mut state = hive(1);
        let robbing = promise("robbing: look at the entrance at noon");
        assert!(is_open(&robbing, &state, day("2026-08-17")));
        assert!(!is_open(&robbing, &state, day("2027-01-10")), "no robbing is looked for in January");
        let eggs = promise("new queen: look for eggs");
        assert!(is_open(&eggs, &state, day("2026-08-10")));
        state.seen.eggs = seen("2026-08-01", true);
        assert!(is_open(&eggs, &state, day("2026-08-10")), "a look on the day it was made keeps nothing");
        state.seen.eggs = seen("2026-08-02", false);
        assert!(!is_open(&eggs, &state, day("2026-08-10")));
        // What nobody knows the use of stands until it is answered.
        assert!(is_open(&promise("paint the stand"), &state, day("2027-01-10")));
        assert!(is_open(&promise("take out the drone comb"), &state, day("2026-10-10")));
    }
}
