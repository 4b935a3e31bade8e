//! The book: all of one keeper's records, and the check that it holds together.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::hive::Hive;
use super::names::{HiveId, VisitId, YardId, mark};
use super::practice::Practice;
use super::units::Units;
use super::visit::Visit;
use super::yard::Yard;

/// The format this program writes and reads. A newer one is refused.
///
/// 2 came with withdrawals (`withdraws`, `logged`) and with hives that have left (`left`); 3 with answers that say
/// themselves that they keep promises, and with findings whose lowest answer is written `NoneSeen`; 4 with deeds such as honey
/// or eggs given, and with who cleared a disease; 5 with the version of the yards, by which changes of two laptops are joined.
pub const FORMAT: u32 = 5;

/// All of one keeper's records.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Book {
    /// Format version of the file.
    pub format: u32,
    /// Which version of the yards this is, written by the program: by it two laptops' changes are told apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub version: Option<String>,
    /// What tells this book from any other, given when it was begun; books from before have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
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
    pub at: FaultAt,
    /// What.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

/// Where a fault is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FaultAt {
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
            version: None,
            id: None,
            keeper: keeper.to_owned(),
            units,
            demo_on: None,
            practice: Practice::default(),
            yards: Vec::new(),
            visits: Vec::new(),
        }
    }

    /// What tells this book from any other: what it was given when it was begun, else a number made from its keeper's name.
    /// Letters, figures and hyphens only.
    pub fn own_name(&self) -> String {
        let given = self.id.as_deref().unwrap_or_default();
        let plain: String =
            given.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-').take(32).collect();
        if plain.is_empty() { mark(&self.keeper) } else { plain }
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

    /// Everything that is wrong, each with its place and how to mend it. `today` bounds the visits' days.
    pub fn faults(&self, today: NaiveDate) -> Vec<Fault> {
        let mut faults = self.yard_faults();
        let yards: BTreeSet<&YardId> = self.yards.iter().map(|y| &y.name).collect();
        let hives: BTreeSet<&HiveId> = self.yards.iter().flat_map(|y| &y.hives).map(|h| &h.id).collect();
        let mut ids: BTreeSet<&VisitId> = BTreeSet::new();
        for visit in &self.visits {
            let mut say = |what: String, mend: &str| {
                faults.push(Fault { at: FaultAt::Visit(visit.id.clone()), what, mend: mend.to_owned() });
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
            if visit.withdraws.is_some() && (visit.replaces.is_some() || !visit.entries.is_empty()) {
                say(
                    "withdraws a visit and holds something else besides".to_owned(),
                    "remove `withdraws`, or its entries and `replaces`",
                );
            }
            if self.is_in_a_ring(visit) {
                say(
                    "corrects a visit that corrects it in turn".to_owned(),
                    "remove `replaces` from the one that was made first",
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

    fn is_in_a_ring(&self, visit: &Visit) -> bool {
        let mut at = visit.replaces.as_ref().filter(|old| **old != visit.id);
        for _ in 0..self.visits.len() {
            let Some(older) = at.and_then(|id| self.visits.iter().find(|v| v.id == *id)) else {
                return false;
            };
            at = older.replaces.as_ref();
            if at == Some(&visit.id) {
                return true;
            }
        }
        false
    }

    fn yard_faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut say = |what: String, mend: &str| {
            faults.push(Fault { at: FaultAt::Yards, what, mend: mend.to_owned() });
        };
        for fault in self.practice.faults() {
            say(format!("practice: {fault}"), "correct the number, or remove it to take the default");
        }
        for clash in self.name_clashes() {
            say(clash, "give one of them another name, or take it out of `formerly`");
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
    fn every_fault_is_listed_with_a_mend() {
        let mut book = Book::empty("T", Units::Us);
        let mut late = visit("late", "2026-06-01", None);
        late.entries = vec![Entry::blank(HiveId::new("ghost"))];
        book.visits = vec![late.clone(), late];
        // Two that correct each other, and a withdrawal that holds something.
        book.visits.extend([visit("x", "2026-05-01", Some("y")), visit("y", "2026-05-01", Some("x"))]);
        let mut odd = visit("odd", "2026-05-01", Some("x"));
        odd.withdraws = Some(VisitId::new("y"));
        book.visits.push(odd);
        let faults = book.faults(day("2026-05-31"));
        let text: Vec<_> = faults.iter().map(|f| f.what.as_str()).collect();
        for part in ["twice", "yard `Creek`", "after today", "hive `ghost`", "in turn", "besides"] {
            assert!(text.iter().any(|t| t.contains(part)), "{part} in {text:?}");
        }
        assert!(faults.iter().all(|f| !f.mend.is_empty()));
    }
}
