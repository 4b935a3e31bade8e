//! Names that were changed: what was logged under a former name is read under the one of today.

use std::collections::BTreeMap;

use super::book::Book;
use super::names::{HiveId, YardId};
use super::visit::Visit;

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
