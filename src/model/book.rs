//! The book: all of one keeper's records, and the check that it holds together.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::hive::Hive;
use super::names::{HiveId, VisitId, YardId};
use super::practice::Practice;
use super::units::Units;
use super::visit::Visit;
use super::yard::Yard;

/// The format this program writes and reads. A newer one is refused.
pub const FORMAT: u32 = 1;

/// All of one keeper's records.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Book {
    /// Format version of the file.
    pub format: u32,
    /// Whose book it is.
    pub keeper: String,
    /// Units shown.
    #[serde(default)]
    pub units: Units,
    /// The day a demonstration book is opened on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub demo_on: Option<NaiveDate>,
    /// The keeper's own thresholds.
    #[serde(default)]
    pub practice: Practice,
    /// The yards, each with its hives.
    pub yards: Vec<Yard>,
    /// The visits. In a book folder each is a file of its own, and this list is not in `yard.ron`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub visits: Vec<Visit>,
}

/// One thing that is wrong in a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where: the visit, or the yard file.
    pub at: Place,
    /// What.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

/// Where a fault is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// In the yard file.
    Yards,
    /// In a visit.
    Visit(VisitId),
}

impl Book {
    /// A book with nothing in it.
    pub fn empty(keeper: &str, units: Units) -> Self {
        Self {
            format: FORMAT,
            keeper: keeper.to_owned(),
            units,
            demo_on: None,
            practice: Practice::default(),
            yards: Vec::new(),
            visits: Vec::new(),
        }
    }

    /// The last day a visit may be dated: the clock's, or a demonstration's own where that is later.
    pub fn last_day(&self, clock: NaiveDate) -> NaiveDate {
        self.demo_on.map_or(clock, |on| on.max(clock))
    }

    /// A yard by its name, whatever the case.
    pub fn yard(&self, name: &str) -> Option<&Yard> {
        self.yards
            .iter()
            .find(|y| y.name.as_str() == name)
            .or_else(|| self.yards.iter().find(|y| y.name.as_str().eq_ignore_ascii_case(name)))
    }

    /// A hive and its yard by the hive's name, whatever the case.
    pub fn hive_named(&self, name: &str) -> Option<(&Yard, &Hive)> {
        let all = || self.yards.iter().flat_map(|y| y.hives.iter().map(move |h| (y, h)));
        all()
            .find(|(_, h)| h.id.as_str() == name)
            .or_else(|| all().find(|(_, h)| h.id.as_str().eq_ignore_ascii_case(name)))
    }

    /// A hive and its yard.
    pub fn hive(&self, id: &HiveId) -> Option<(&Yard, &Hive)> {
        self.yards.iter().find_map(|y| y.hives.iter().find(|h| h.id == *id).map(|h| (y, h)))
    }

    /// The visits that stand, up to and including a day, oldest first: corrected ones are left out.
    ///
    /// The order is by day, hour and name, so it does not depend on how the files arrived.
    pub fn standing_visits(&self, as_of: NaiveDate) -> Vec<&Visit> {
        let replaced: BTreeSet<&VisitId> = self
            .visits
            .iter()
            .filter(|v| v.replaces.as_ref() != Some(&v.id))
            .filter_map(|v| v.replaces.as_ref())
            .collect();
        let mut visits: Vec<&Visit> =
            self.visits.iter().filter(|v| v.on <= as_of && !replaced.contains(&v.id)).collect();
        visits.sort_by(|a, b| (a.on, a.began, &a.id).cmp(&(b.on, b.began, &b.id)));
        visits
    }

    /// Everything that is wrong, each with its place and how to mend it. `today` bounds the visits' days.
    pub fn faults(&self, today: NaiveDate) -> Vec<Fault> {
        let mut faults = self.yard_faults();
        let yards: BTreeSet<&YardId> = self.yards.iter().map(|y| &y.name).collect();
        let hives: BTreeSet<&HiveId> = self.yards.iter().flat_map(|y| &y.hives).map(|h| &h.id).collect();
        let mut ids: BTreeSet<&VisitId> = BTreeSet::new();
        for visit in &self.visits {
            let mut say = |what: String, mend: &str| {
                faults.push(Fault { at: Place::Visit(visit.id.clone()), what, mend: mend.to_owned() });
            };
            if !ids.insert(&visit.id) {
                say("stands twice in this book".to_owned(), "remove one of the two");
            }
            if !yards.contains(&visit.yard) {
                say(
                    format!("is to a yard `{}` that is not in the book", visit.yard),
                    "correct the yard's name, or add the yard to yard.ron",
                );
            }
            if visit.on > today {
                say(
                    format!("is dated {}, after today, {today}", visit.on),
                    "correct the date, or the laptop's clock",
                );
            }
            let mut seen: BTreeSet<&HiveId> = BTreeSet::new();
            for entry in &visit.entries {
                if !hives.contains(&entry.hive) {
                    say(
                        format!("has an entry for a hive `{}` that is not in the book", entry.hive),
                        "correct the hive's name, or add the hive to yard.ron",
                    );
                }
                if !seen.insert(&entry.hive) {
                    say(format!("has two entries for hive `{}`", entry.hive), "join the two into one");
                }
                for fault in entry.faults() {
                    say(format!("hive `{}`: {fault}", entry.hive), "correct the number");
                }
            }
        }
        faults
    }

    fn yard_faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut say = |what: String, mend: &str| {
            faults.push(Fault { at: Place::Yards, what, mend: mend.to_owned() });
        };
        for fault in self.practice.faults() {
            say(format!("practice: {fault}"), "correct the number, or remove it to take the default");
        }
        let mut yards: BTreeSet<&YardId> = BTreeSet::new();
        let mut hives: BTreeMap<&HiveId, &YardId> = BTreeMap::new();
        for yard in &self.yards {
            if let Some(fault) = yard.name.fault() {
                say(format!("the yard name {:?} {fault}", yard.name.as_str()), "give it another name");
            }
            if !yards.insert(&yard.name) {
                say(format!("two yards are named `{}`", yard.name), "rename one of them");
            }
            for fault in yard.faults() {
                say(format!("yard `{}`: {fault}", yard.name), "correct the number");
            }
            for hive in &yard.hives {
                if let Some(fault) = hive.id.fault() {
                    say(format!("the hive name {:?} {fault}", hive.id.as_str()), "give it another name");
                }
                if let Some(other) = hives.insert(&hive.id, &yard.name) {
                    say(
                        format!("two hives are named `{}`, in yards `{other}` and `{}`", hive.id, yard.name),
                        "rename one of them",
                    );
                }
                for fault in hive.faults() {
                    say(format!("hive `{}` {fault}", hive.id), "correct its description");
                }
            }
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Entry;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn visit(id: &str, on: &str, replaces: Option<&str>) -> Visit {
        Visit {
            replaces: replaces.map(VisitId::new),
            ..Visit::begun(VisitId::new(id), YardId::new("Creek"), day(on))
        }
    }

    #[test]
    fn visits_stand_in_order_of_day_whatever_the_order_of_the_files() {
        let mut book = Book::empty("T", Units::Us);
        book.visits = vec![
            visit("c", "2026-05-03", None),
            visit("a", "2026-05-01", None),
            visit("b", "2026-05-01", None),
        ];
        let names: Vec<_> = book.standing_visits(day("2026-05-02")).iter().map(|v| v.id.as_str()).collect();
        assert_eq!(names, ["a", "b"]);
    }

    #[test]
    fn a_corrected_visit_gives_way_and_a_visit_cannot_correct_itself_away() {
        let mut book = Book::empty("T", Units::Us);
        book.visits = vec![
            visit("a", "2026-05-01", None),
            visit("b", "2026-05-01", Some("a")),
            visit("c", "2026-05-02", Some("c")),
        ];
        let names: Vec<_> = book.standing_visits(day("2026-12-01")).iter().map(|v| v.id.as_str()).collect();
        assert_eq!(names, ["b", "c"]);
    }

    #[test]
    fn every_fault_is_listed_with_a_mend() {
        let mut book = Book::empty("T", Units::Us);
        let mut late = visit("late", "2026-06-01", None);
        late.entries = vec![Entry::blank(HiveId::new("ghost"))];
        book.visits = vec![late.clone(), late];
        let faults = book.faults(day("2026-05-31"));
        let text: Vec<_> = faults.iter().map(|f| f.what.as_str()).collect();
        for part in ["twice", "yard `Creek`", "after today", "hive `ghost`"] {
            assert!(text.iter().any(|t| t.contains(part)), "{part} in {text:?}");
        }
        assert!(faults.iter().all(|f| !f.mend.is_empty()));
    }
}
