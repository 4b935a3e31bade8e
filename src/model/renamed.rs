//! Names that were changed: what was logged under a former name is read under the one of today.

use std::collections::{BTreeMap, BTreeSet};

use super::book::Book;
use super::hive::Hive;
use super::names::{HiveId, YardId};
use super::visit::Visit;
use super::yard::Yard;

/// Names under which something was logged.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LoggedNames {
    hives: BTreeSet<HiveId>,
    yards: BTreeSet<YardId>,
}

impl LoggedNames {
    /// Takes in the names of a visit.
    pub fn take_in(&mut self, visit: &Visit) {
        self.yards.insert(visit.yard.clone());
        for entry in &visit.entries {
            self.hives.insert(entry.hive.clone());
            for mut action in entry.actions.iter().cloned() {
                self.hives.extend(action.named_hives().into_iter().map(|hive| hive.clone()));
            }
        }
    }
}

/// Former names, each with that of today.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PresentNames {
    hives: BTreeMap<HiveId, HiveId>,
    yards: BTreeMap<YardId, YardId>,
}

impl PresentNames {
    /// Gives a hive its name of today.
    pub fn hive(&self, id: &mut HiveId) {
        if let Some(now) = self.hives.get(id) {
            id.clone_from(now);
        }
    }

    /// The way back for names that other yards do not know as former ones: a renaming that is undone.
    fn not_known_to(&self, yards: &Book) -> Self {
        let known = yards.names();
        Self {
            hives: self
                .hives
                .iter()
                .filter(|(old, _)| !known.hives.contains_key(*old))
                .map(|(old, now)| (now.clone(), old.clone()))
                .collect(),
            yards: self
                .yards
                .iter()
                .filter(|(old, _)| !known.yards.contains_key(*old))
                .map(|(old, now)| (now.clone(), old.clone()))
                .collect(),
        }
    }

    /// Gives the hives and the yard of a visit their names of today.
    pub fn bring_up(&self, visit: &mut Visit) {
        if let Some(now) = self.yards.get(&visit.yard) {
            visit.yard.clone_from(now);
        }
        for entry in &mut visit.entries {
            self.hive(&mut entry.hive);
            for action in &mut entry.actions {
                action.named_hives().into_iter().for_each(|hive| self.hive(hive));
            }
        }
    }
}

impl Book {
    /// The book with every former name of a hive or yard in its visits replaced by the present one.
    #[must_use]
    pub fn under_present_names(mut self) -> Self {
        let names = self.names();
        for visit in &mut self.visits {
            names.bring_up(visit);
        }
        self
    }

    /// The book with other yards: its visits under the names these know, also where a renaming is undone.
    #[must_use]
    pub fn with_yards(mut self, yards: Self) -> Self {
        let back = self.names().not_known_to(&yards);
        let mut visits = std::mem::take(&mut self.visits);
        for visit in &mut visits {
            back.bring_up(visit);
        }
        Self { visits, ..yards }.under_present_names()
    }

    /// The book with each hive and yard known by the names it has in another book too: that other one may have been logged
    /// under, as when a renaming is undone after a visit: `logged` are the names of today that stand in a visit since. A name
    /// that is somebody else's here is left alone.
    #[must_use]
    pub fn knowing_names_of(mut self, other: &Self, logged: &LoggedNames) -> Self {
        let taken: BTreeSet<HiveId> = self
            .yards
            .iter()
            .flat_map(|y| &y.hives)
            .flat_map(|h| h.formerly.iter().chain([&h.id]))
            .cloned()
            .collect();
        let others: Vec<&Hive> = other.yards.iter().flat_map(|y| &y.hives).collect();
        for hive in self.yards.iter_mut().flat_map(|y| &mut y.hives) {
            let is_it = |there: &&&Hive| {
                there.id == hive.id || there.formerly.contains(&hive.id) || hive.formerly.contains(&there.id)
            };
            if let Some(there) = others.iter().find(is_it) {
                let names = there
                    .formerly
                    .iter()
                    .chain([&there.id])
                    .filter(|name| logged.hives.contains(*name) && !taken.contains(*name));
                hive.formerly.extend(names.cloned());
            }
        }
        let taken: BTreeSet<YardId> =
            self.yards.iter().flat_map(|y| y.formerly.iter().chain([&y.name])).cloned().collect();
        for yard in &mut self.yards {
            let is_it = |there: &&Yard| {
                there.name == yard.name
                    || there.formerly.contains(&yard.name)
                    || yard.formerly.contains(&there.name)
            };
            if let Some(there) = other.yards.iter().find(is_it) {
                let names = there
                    .formerly
                    .iter()
                    .chain([&there.name])
                    .filter(|name| logged.yards.contains(*name) && !taken.contains(*name));
                yard.formerly.extend(names.cloned());
            }
        }
        self
    }

    /// Whether two books hold the same but for the former names in them.
    pub fn is_same_but_for_former_names(&self, other: &Self) -> bool {
        let plain = |book: &Self| {
            let mut book = book.clone();
            for yard in &mut book.yards {
                yard.formerly.clear();
                yard.hives.iter_mut().for_each(|hive| hive.formerly.clear());
            }
            book
        };
        plain(self) == plain(other)
    }

    /// The former names of its hives and yards, with those of today.
    pub fn names(&self) -> PresentNames {
        let hives = self.yards.iter().flat_map(|y| &y.hives);
        PresentNames {
            hives: hives.flat_map(|h| h.formerly.iter().map(|old| (old.clone(), h.id.clone()))).collect(),
            yards: self
                .yards
                .iter()
                .flat_map(|y| y.formerly.iter().map(|old| (old.clone(), y.name.clone())))
                .collect(),
        }
    }

    /// Former names that are names of today too, or of two: what was logged under them would be of both.
    pub(super) fn name_clashes(&self) -> Vec<String> {
        let mut clashes = Vec::new();
        let hives: Vec<_> = self.yards.iter().flat_map(|y| &y.hives).collect();
        for hive in &hives {
            for old in &hive.formerly {
                let claims = hives.iter().filter(|h| h.id == *old || h.formerly.contains(old)).count();
                if claims > 1 {
                    clashes
                        .push(format!("the name `{old}`, formerly of hive `{}`, is of another too", hive.id));
                }
            }
        }
        for yard in &self.yards {
            for old in &yard.formerly {
                let claims = self.yards.iter().filter(|y| y.name == *old || y.formerly.contains(old)).count();
                if claims > 1 {
                    clashes.push(format!(
                        "the name `{old}`, formerly of yard `{}`, is of another too",
                        yard.name
                    ));
                }
            }
        }
        clashes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Action;
    use crate::model::{
        Depth, Entry, Hive, HiveBox, Origin, Queen, QueenStatus, Role, Units, Visit, VisitId, Yard,
    };

    fn book() -> Book {
        let hive = |name: &str| {
            Hive::new(
                HiveId::new(name),
                Origin::Nuc,
                "2026-01-01".parse().unwrap(),
                vec![HiveBox::new(Depth::Deep, 10, Role::Nest)],
                Queen::of_status(QueenStatus::Laying, None),
            )
        };
        let mut book = Book::empty("T", Units::Us);
        let mut yard = Yard::named(YardId::new("Hill"));
        yard.formerly = vec![YardId::new("Creek")];
        yard.hives = vec![hive("B1"), hive("B2")];
        yard.hives[0].formerly = vec![HiveId::new("A1")];
        book.yards = vec![yard];
        let on = "2026-05-01".parse().unwrap();
        let mut visit = Visit::begun(VisitId::new("v"), YardId::new("Creek"), on);
        let mut entry = Entry::blank(HiveId::new("B2"));
        entry.actions = vec![Action::Joined { hive: HiveId::new("A1") }];
        visit.entries = vec![Entry::blank(HiveId::new("A1")), entry];
        book.visits = vec![visit];
        book
    }

    #[test]
    fn what_was_logged_under_a_former_name_is_read_under_the_present_one() {
        let book = book().under_present_names();
        assert!(book.faults("2026-12-01".parse().unwrap()).is_empty());
        let visit = &book.visits[0];
        assert_eq!((visit.yard.as_str(), visit.entries[0].hive.as_str()), ("Hill", "B1"));
        assert_eq!(visit.entries[1].actions, [Action::Joined { hive: HiveId::new("B1") }]);
    }

    #[test]
    fn a_renaming_that_is_undone_gives_the_visits_their_old_names() {
        let renamed = book().under_present_names();
        let mut before = Book { visits: Vec::new(), ..renamed.clone() };
        before.yards[0].name = YardId::new("Creek");
        before.yards[0].formerly.clear();
        before.yards[0].hives[0].id = HiveId::new("A1");
        before.yards[0].hives[0].formerly.clear();
        let undone = renamed.clone().with_yards(before);
        assert!(undone.faults("2026-12-01".parse().unwrap()).is_empty());
        assert_eq!(undone.visits[0].entries[0].hive.as_str(), "A1");
        let again = undone.with_yards(Book { visits: Vec::new(), ..renamed.clone() });
        assert_eq!(again, renamed);
    }

    #[test]
    fn a_former_name_given_to_another_is_a_fault() {
        let mut book = book();
        book.yards[0].hives[1].id = HiveId::new("A1");
        let faults = book.faults("2026-12-01".parse().unwrap());
        assert!(faults.iter().any(|f| f.what.contains("formerly of hive `B1`")), "{faults:?}");
    }
}
