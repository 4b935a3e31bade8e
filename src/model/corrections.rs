//! Which visits hold. A correction is a visit that replaces another, a withdrawal one that takes another back; nothing is
//! ever rewritten, and the answer does not depend on the order in which files arrived.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::book::Book;
use super::names::VisitId;
use super::visit::Visit;

/// How a visit of the log stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VisitStatus {
    /// It holds as it was written.
    Holds,
    /// It holds, and is the correction of another.
    Correction,
    /// Another that corrects it holds in its place.
    Corrected,
    /// It was taken back.
    Withdrawn,
    /// It takes another back.
    Withdrawal,
    /// One of two corrections of the same visit: it holds until one is kept.
    RivalThatHolds,
    /// One of two corrections of the same visit: it does not hold until it is kept.
    RivalThatWaits,
}

impl VisitStatus {
    /// In a word or two; nothing where there is nothing to say.
    pub fn words(self) -> &'static str {
        match self {
            Self::Holds => "",
            Self::Correction => "a correction",
            Self::Corrected => "corrected",
            Self::Withdrawn => "withdrawn",
            Self::Withdrawal => "a withdrawal",
            Self::RivalThatHolds => "TWO CORRECTIONS, holds",
            Self::RivalThatWaits => "TWO CORRECTIONS, waits",
        }
    }

    /// Whether what the visit holds counts.
    pub fn holds(self) -> bool {
        matches!(self, Self::Holds | Self::Correction | Self::RivalThatHolds)
    }
}

/// Two or more corrections of one visit, made without knowing of each other: on two laptops.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict<'a> {
    /// The visit they correct; its file may be missing.
    pub of: &'a VisitId,
    /// The corrections, the one that holds meanwhile first.
    pub versions: Vec<&'a Visit>,
}

/// The log's corrections, worked out once.
#[derive(Debug)]
pub struct Corrections<'a> {
    visits: BTreeMap<&'a VisitId, &'a Visit>,
    void: BTreeSet<&'a VisitId>,
    replaced: BTreeSet<&'a VisitId>,
    conflicts: Vec<Conflict<'a>>,
}

impl<'a> Corrections<'a> {
    /// The corrections of a book, those of visits up to a day.
    pub fn of(book: &'a Book, as_of: NaiveDate) -> Self {
        let visits: BTreeMap<&VisitId, &Visit> =
            book.visits.iter().filter(|v| v.on <= as_of).map(|v| (&v.id, v)).collect();
        let void = void(&visits);
        let corrects = |v: &&&'a Visit| v.replaces.as_ref().is_some_and(|old| *old != v.id);
        let live: Vec<&Visit> =
            visits.values().filter(corrects).copied().filter(|v| !void.contains(&v.id)).collect();
        let replaced: BTreeSet<&VisitId> = live.iter().filter_map(|v| v.replaces.as_ref()).collect();
        let mut ends: BTreeMap<&VisitId, Vec<&Visit>> = BTreeMap::new();
        for visit in live.into_iter().filter(|v| !replaced.contains(&v.id)) {
            ends.entry(root(&visits, visit)).or_default().push(visit);
        }
        let conflicts = ends
            .into_iter()
            .filter(|(_, versions)| versions.len() > 1)
            .map(|(of, mut versions)| {
                versions.sort_by(|a, b| (b.logged, &b.id).cmp(&(a.logged, &a.id)));
                Conflict { of, versions }
            })
            .collect();
        Self { visits, void, replaced, conflicts }
    }

    /// The visits that hold, oldest first, by day, hour and name.
    pub fn standing(&self) -> Vec<&'a Visit> {
        let waits: BTreeSet<&VisitId> =
            self.conflicts.iter().flat_map(|c| c.versions.iter().skip(1)).map(|v| &v.id).collect();
        let holds = |v: &&'a Visit| {
            v.withdraws.is_none()
                && !self.void.contains(&v.id)
                && !self.replaced.contains(&v.id)
                && !waits.contains(&v.id)
        };
        let mut visits: Vec<&Visit> = self.visits.values().copied().filter(holds).collect();
        in_order(&mut visits);
        visits
    }

    /// Corrections that were made twice.
    pub fn conflicts(&self) -> &[Conflict<'a>] {
        &self.conflicts
    }

    /// How a visit stands.
    pub fn stand(&self, visit: &Visit) -> VisitStatus {
        let rival = self.conflicts.iter().find_map(|c| c.versions.iter().position(|v| v.id == visit.id));
        match rival {
            Some(0) => VisitStatus::RivalThatHolds,
            Some(_) => VisitStatus::RivalThatWaits,
            None if self.void.contains(&visit.id) => VisitStatus::Withdrawn,
            None if visit.withdraws.is_some() => VisitStatus::Withdrawal,
            None if self.replaced.contains(&visit.id) => VisitStatus::Corrected,
            None if visit.replaces.is_some() => VisitStatus::Correction,
            None => VisitStatus::Holds,
        }
    }

    /// What a visit was before it was corrected, the newest first.
    pub fn former(&self, visit: &Visit) -> Vec<&'a Visit> {
        let mut former: Vec<&Visit> = Vec::new();
        let mut at = visit.replaces.as_ref();
        while let Some(older) = at.and_then(|id| self.visits.get(id)) {
            if older.id == visit.id || former.iter().any(|v| v.id == older.id) {
                break;
            }
            former.push(older);
            at = older.replaces.as_ref();
        }
        former
    }

    /// What is to be withdrawn so that one of several corrections holds alone.
    pub fn rivals_of(&self, kept: &Visit) -> Vec<&'a Visit> {
        let mut kept_line: BTreeSet<&VisitId> = self.former(kept).into_iter().map(|v| &v.id).collect();
        kept_line.insert(&kept.id);
        let conflict = self.conflicts.iter().find(|c| c.versions.iter().any(|v| v.id == kept.id));
        let mut rivals: Vec<&Visit> = Vec::new();
        for version in conflict.into_iter().flat_map(|c| &c.versions) {
            for each in [*version].into_iter().chain(self.former(version)) {
                let is_line = kept_line.contains(&each.id) || each.replaces.is_none();
                if !is_line && !rivals.iter().any(|v| v.id == each.id) {
                    rivals.push(each);
                }
            }
        }
        rivals
    }
}

/// The visits that withdrawals take back; a withdrawal may itself be withdrawn.
fn void<'a>(visits: &BTreeMap<&'a VisitId, &'a Visit>) -> BTreeSet<&'a VisitId> {
    let mut by_target: BTreeMap<&VisitId, Vec<&VisitId>> = BTreeMap::new();
    for visit in visits.values() {
        if let Some(target) = visit.withdraws.as_ref().filter(|t| **t != visit.id) {
            by_target.entry(target).or_default().push(&visit.id);
        }
    }
    by_target.keys().copied().filter(|id| is_void(id, &by_target, &mut Vec::new())).collect()
}

fn is_void<'a>(
    id: &'a VisitId,
    by_target: &BTreeMap<&'a VisitId, Vec<&'a VisitId>>,
    asked: &mut Vec<&'a VisitId>,
) -> bool {
    if asked.contains(&id) || asked.len() > 64 {
        // A ring of withdrawals, which only a hand could write: none of it counts.
        return false;
    }
    asked.push(id);
    let void = by_target.get(id).is_some_and(|by| by.iter().any(|w| !is_void(w, by_target, asked)));
    asked.pop();
    void
}

/// The first visit of a chain of corrections.
fn root<'a>(visits: &BTreeMap<&'a VisitId, &'a Visit>, visit: &'a Visit) -> &'a VisitId {
    let mut seen: BTreeSet<&VisitId> = BTreeSet::new();
    let mut at = visit;
    while let Some(older) = at.replaces.as_ref().filter(|old| **old != at.id && seen.insert(old)) {
        match visits.get(older) {
            Some(next) => at = next,
            None => return older,
        }
    }
    &at.id
}

/// Oldest first, by day, hour and name.
fn in_order(visits: &mut [&Visit]) {
    visits.sort_by(|a, b| (a.on, a.began, &a.id).cmp(&(b.on, b.began, &b.id)));
}

impl Book {
    /// The visits that hold, up to and including a day, oldest first: corrected and withdrawn ones are left out.
    ///
    /// The order is by day, hour and name, so it does not depend on how the files arrived.
    pub fn standing_visits(&self, as_of: NaiveDate) -> Vec<&Visit> {
        let is_plain = |v: &Visit| v.replaces.is_none() && v.withdraws.is_none();
        if !self.visits.iter().all(is_plain) {
            return Corrections::of(self, as_of).standing();
        }
        // As good as always: nothing was corrected, and nothing need be worked out.
        let mut visits: Vec<&Visit> = self.visits.iter().filter(|v| v.on <= as_of).collect();
        in_order(&mut visits);
        visits
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Units, YardId};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn visit(id: &str, on: &str, replaces: Option<&str>) -> Visit {
        Visit {
            replaces: replaces.map(VisitId::new),
            ..Visit::begun(VisitId::new(id), YardId::new("Creek"), day(on))
        }
    }

    fn withdrawal(id: &str, of: &str) -> Visit {
        Visit { withdraws: Some(VisitId::new(of)), ..visit(id, "2026-05-01", None) }
    }

    fn book(visits: Vec<Visit>) -> Book {
        Book { visits, ..Book::empty("T", Units::Us) }
    }

    fn standing(book: &Book) -> Vec<&str> {
        book.standing_visits(day("2026-12-01")).iter().map(|v| v.id.as_str()).collect()
    }

    #[test]
    fn visits_stand_in_order_of_day_whatever_the_order_of_the_files() {
        let book = book(vec![
            visit("c", "2026-05-03", None),
            visit("a", "2026-05-01", None),
            visit("b", "2026-05-01", None),
        ]);
        let names: Vec<_> = book.standing_visits(day("2026-05-02")).iter().map(|v| v.id.as_str()).collect();
        assert_eq!(names, ["a", "b"]);
    }

    #[test]
    fn a_corrected_visit_gives_way_and_a_visit_cannot_correct_itself_away() {
        let book = book(vec![
            visit("a", "2026-05-01", None),
            visit("b", "2026-05-01", Some("a")),
            visit("c", "2026-05-02", Some("c")),
        ]);
        assert_eq!(standing(&book), ["b", "c"]);
        let corrections = Corrections::of(&book, day("2026-12-01"));
        let stands: Vec<_> = book.visits.iter().map(|v| corrections.stand(v)).collect();
        assert_eq!(stands[..2], [VisitStatus::Corrected, VisitStatus::Correction]);
        assert_eq!(corrections.former(&book.visits[1]), [&book.visits[0]]);
        assert!(corrections.former(&book.visits[2]).is_empty());
    }

    #[test]
    fn a_correction_taken_back_lets_the_original_stand_again() {
        let mut book = book(vec![
            visit("a", "2026-05-01", None),
            visit("b", "2026-05-01", Some("a")),
            withdrawal("w", "b"),
        ]);
        assert_eq!(standing(&book), ["a"]);
        book.visits.push(withdrawal("w2", "w"));
        assert_eq!(standing(&book), ["b"], "and a withdrawal taken back gives the correction again");
        book.visits.push(withdrawal("x", "y"));
        book.visits.push(withdrawal("y", "x"));
        assert_eq!(standing(&book), ["b"], "a ring of withdrawals does nothing");
    }

    #[test]
    fn of_two_corrections_the_later_one_holds_until_one_is_kept() {
        let at = |text: &str| Some(text.parse().unwrap());
        let mut book = book(vec![
            visit("a", "2026-05-01", None),
            Visit { logged: at("2026-05-04T09:00:00"), ..visit("b", "2026-05-01", Some("a")) },
            Visit { logged: at("2026-05-03T09:00:00"), ..visit("c", "2026-05-01", Some("a")) },
            Visit { logged: at("2026-05-03T10:00:00"), ..visit("d", "2026-05-01", Some("c")) },
        ]);
        assert_eq!(standing(&book), ["b"]);
        let corrections = Corrections::of(&book, day("2026-12-01"));
        assert_eq!(corrections.conflicts().len(), 1);
        assert_eq!(corrections.conflicts()[0].of.as_str(), "a");
        assert_eq!(corrections.stand(&book.visits[1]), VisitStatus::RivalThatHolds);
        assert_eq!(corrections.stand(&book.visits[2]), VisitStatus::Corrected);
        assert_eq!(corrections.stand(&book.visits[3]), VisitStatus::RivalThatWaits);
        let rivals = |of: usize| -> Vec<String> {
            Corrections::of(&book, day("2026-12-01"))
                .rivals_of(&book.visits[of])
                .iter()
                .map(|v| v.id.to_string())
                .collect()
        };
        assert_eq!(rivals(3), ["b"]);
        assert_eq!(rivals(1), ["d", "c"]);
        // Kept: the other line is withdrawn, from its end to its beginning.
        book.visits.extend([withdrawal("w1", "d"), withdrawal("w2", "c")]);
        assert_eq!(standing(&book), ["b"]);
        assert!(Corrections::of(&book, day("2026-12-01")).conflicts().is_empty());
    }
}
