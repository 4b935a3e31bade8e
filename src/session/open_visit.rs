//! A visit in progress: the queue, the entries, what was undone, and where the keeper stands.

use std::collections::BTreeSet;

use chrono::{NaiveDateTime, NaiveTime, Timelike};

use crate::model::{DraftStep, Entry, HiveId, InBloom, PresentNames, Visit, Weather, in_bloom};

/// A change that can be undone.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "nearly all are of entries")]
pub(super) enum Change {
    /// What is written of a hive.
    Entry { before: Entry, after: Entry },
    /// The weather and what is in bloom.
    Weather { before: (Weather, Vec<InBloom>), after: (Weather, Vec<InBloom>) },
}

/// A visit in progress.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenVisit {
    /// The visit as it stands.
    pub visit: Visit,
    /// The hives in the order to see them: those that need something, then the others.
    pub queue: Vec<HiveId>,
    /// How many of the queue need something.
    pub due: usize,
    /// Hives done with.
    pub finished: BTreeSet<HiveId>,
    /// Where the keeper stands in the queue.
    pub at: usize,
    /// When the hive in hand was come to.
    arrived: Option<NaiveTime>,
    done: Vec<Change>,
    undone: Vec<Change>,
}

impl OpenVisit {
    /// A visit that begins.
    pub fn begin(visit: Visit, queue: Vec<HiveId>, due: usize) -> Self {
        Self {
            visit,
            queue,
            due,
            finished: BTreeSet::new(),
            at: 0,
            arrived: None,
            done: Vec::new(),
            undone: Vec::new(),
        }
    }

    /// A visit as its draft left it; `None` where the draft says too little.
    pub fn resume(steps: Vec<DraftStep>) -> Option<(Self, usize)> {
        let mut visit = None;
        let mut queue = Vec::new();
        let mut due = 0;
        let mut walk: Option<Self> = None;
        let mut field = 0;
        for step in steps {
            match step {
                DraftStep::Head(head) => match &mut walk {
                    Some(walk) => {
                        let entries = std::mem::take(&mut walk.visit.entries);
                        walk.visit = Visit { entries, ..head };
                    }
                    None => visit = Some(head),
                },
                DraftStep::Queue { hives, due: count } => {
                    queue = hives;
                    due = count;
                }
                DraftStep::Format(_) | DraftStep::Of(_) => {}
                DraftStep::Entry(entry) => {
                    if let Some(walk) = walk_of(&mut walk, visit.as_ref(), &queue, due) {
                        walk.put(entry);
                    }
                }
                DraftStep::Changed(entry) => {
                    if let Some(walk) = walk_of(&mut walk, visit.as_ref(), &queue, due) {
                        walk.change(entry);
                    }
                }
                DraftStep::Weather { weather, blooms, since } => {
                    if let Some(walk) = walk_of(&mut walk, visit.as_ref(), &queue, due) {
                        walk.change_weather(weather, in_bloom(&blooms, &since));
                    }
                }
                DraftStep::Undone => {
                    if let Some(walk) = &mut walk {
                        walk.undo();
                    }
                }
                DraftStep::Redone => {
                    if let Some(walk) = &mut walk {
                        walk.redo();
                    }
                }
                DraftStep::At { hive, field: at } => {
                    if let Some(walk) = walk_of(&mut walk, visit.as_ref(), &queue, due) {
                        walk.stand_at(&hive);
                        field = at;
                    }
                }
                DraftStep::Finished(hive) => {
                    if let Some(walk) = walk_of(&mut walk, visit.as_ref(), &queue, due) {
                        walk.finished.insert(hive);
                    }
                }
            }
        }
        walk_of(&mut walk, visit.as_ref(), &queue, due)?;
        walk.filter(|w| !w.queue.is_empty()).map(|w| (w, field))
    }

    /// Gives hives and yard the names they have today.
    pub fn bring_up(&mut self, names: &PresentNames) {
        names.bring_up(&mut self.visit);
        self.queue.iter_mut().for_each(|hive| names.hive(hive));
        let finished = std::mem::take(&mut self.finished);
        self.finished = finished
            .into_iter()
            .map(|mut hive| {
                names.hive(&mut hive);
                hive
            })
            .collect();
        for change in self.done.iter_mut().chain(&mut self.undone) {
            if let Change::Entry { before, after } = change {
                names.hive(&mut before.hive);
                names.hive(&mut after.hive);
            }
        }
    }

    /// The hive in hand.
    pub fn hive(&self) -> Option<&HiveId> {
        self.queue.get(self.at)
    }

    /// What is written of a hive.
    pub fn entry(&self, hive: &HiveId) -> Entry {
        self.visit.entry(hive).cloned().unwrap_or_else(|| Entry::blank(hive.clone()))
    }

    /// Changes an entry, so that it can be undone; what there is to put on the disk.
    pub fn change(&mut self, after: Entry) -> Option<DraftStep> {
        let before = self.entry(&after.hive);
        if before == after {
            return None;
        }
        self.put(after.clone());
        self.done.push(Change::Entry { before, after: after.clone() });
        self.undone.clear();
        Some(DraftStep::Changed(after))
    }

    /// Changes the weather and what is in bloom, so that it can be undone; what there is to put on the disk.
    pub fn change_weather(&mut self, weather: Weather, blooms: Vec<InBloom>) -> Option<DraftStep> {
        let before = (self.visit.weather, self.visit.in_bloom());
        let after = (weather, blooms);
        if before == after {
            return None;
        }
        self.put_weather(after.clone());
        self.done.push(Change::Weather { before, after: after.clone() });
        self.undone.clear();
        let (weather, blooms) = (self.visit.weather, self.visit.blooms.clone());
        Some(DraftStep::Weather { weather, blooms, since: self.visit.bloom_since.clone() })
    }

    /// Undoes the last change, and goes to the hive it was at.
    pub fn undo(&mut self) -> Option<DraftStep> {
        let change = self.done.pop()?;
        self.put_change(change.clone(), false);
        self.undone.push(change);
        Some(DraftStep::Undone)
    }

    /// Does again what was undone.
    pub fn redo(&mut self) -> Option<DraftStep> {
        let change = self.undone.pop()?;
        self.put_change(change.clone(), true);
        self.done.push(change);
        Some(DraftStep::Redone)
    }

    /// What was changed last, and not undone since.
    pub(super) fn last_change(&self) -> Option<&Change> {
        self.done.last()
    }

    /// What was undone last, and not done again since.
    pub(super) fn last_undone(&self) -> Option<&Change> {
        self.undone.last()
    }

    fn put_change(&mut self, change: Change, again: bool) {
        match change {
            Change::Entry { before, after } => {
                let entry = if again { after } else { before };
                self.stand_at(&entry.hive);
                self.put(entry);
            }
            Change::Weather { before, after } => self.put_weather(if again { after } else { before }),
        }
    }

    /// Goes to a hive of the queue.
    pub fn stand_at(&mut self, hive: &HiveId) {
        if let Some(at) = self.queue.iter().position(|h| h == hive)
            && at != self.at
        {
            self.at = at;
            self.arrived = None;
        }
    }

    /// Notes when the hive in hand was come to, if that is not known.
    pub fn arrive(&mut self, now: NaiveDateTime) {
        self.arrived.get_or_insert(now.time());
    }

    /// Finishes the hive in hand, with the minutes it took, and goes to the next that is due and not done.
    ///
    /// Returns what to put on the disk, and whether there is a next.
    pub fn finish_hive(&mut self, now: NaiveDateTime) -> (Vec<DraftStep>, bool) {
        let mut steps = Vec::new();
        if let Some(hive) = self.hive().cloned() {
            let mut entry = self.entry(&hive);
            if let Some(arrived) = self.arrived
                && !entry.is_blank()
                && entry.minutes.is_none()
            {
                entry.minutes = minutes_between(arrived, now.time());
                self.put(entry.clone());
                steps.push(DraftStep::Entry(entry));
            }
            self.finished.insert(hive.clone());
            steps.push(DraftStep::Finished(hive));
        }
        let len = self.queue.len();
        let next = (1..len)
            .map(|step| (self.at + step) % len)
            .filter(|at| *at < self.due)
            .find(|at| self.queue.get(*at).is_some_and(|h| !self.finished.contains(h)));
        if let Some(at) = next {
            self.at = at;
            self.arrived = None;
        }
        (steps, next.is_some())
    }

    /// Goes back to the hive before in the queue.
    pub fn step_back(&mut self) {
        if self.at > 0 {
            self.at -= 1;
            self.arrived = None;
        }
    }

    /// The visit to save: only hives of which something is written.
    pub fn finished_visit(&self) -> Visit {
        let mut visit = self.visit.clone();
        visit.entries.retain(|e| !e.is_blank());
        visit
    }

    /// The visit as it goes into the log: a correction says when it was made.
    pub fn visit_to_save(&self, now: NaiveDateTime) -> Visit {
        let mut visit = self.finished_visit();
        visit.logged = visit.replaces.as_ref().map(|_| now);
        visit
    }

    fn put_weather(&mut self, (weather, blooms): (Weather, Vec<InBloom>)) {
        self.visit.weather = weather;
        self.visit.set_in_bloom(&blooms);
    }

    fn put(&mut self, entry: Entry) {
        match self.visit.entries.iter_mut().find(|e| e.hive == entry.hive) {
            Some(there) => *there = entry,
            None => self.visit.entries.push(entry),
        }
    }
}

fn walk_of<'a>(
    walk: &'a mut Option<OpenVisit>,
    visit: Option<&Visit>,
    queue: &[HiveId],
    due: usize,
) -> Option<&'a mut OpenVisit> {
    if walk.is_none() {
        *walk = Some(OpenVisit::begin(visit?.clone(), queue.to_vec(), due));
    }
    walk.as_mut()
}

/// Whole minutes from one time of day to another, over midnight too; at least one, and none above four hours.
fn minutes_between(from: NaiveTime, to: NaiveTime) -> Option<u16> {
    let seconds = (i64::from(to.num_seconds_from_midnight()) - i64::from(from.num_seconds_from_midnight()))
        .rem_euclid(24 * 3600);
    let minutes = (seconds + 30) / 60;
    u16::try_from(minutes.max(1)).ok().filter(|m| *m <= 240)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Frames, VisitId, YardId};

    fn walk() -> OpenVisit {
        let visit = Visit::begun(VisitId::new("v"), YardId::new("Y"), "2026-05-03".parse().unwrap());
        OpenVisit::begin(visit, ["A", "B", "C", "D"].map(HiveId::new).to_vec(), 3)
    }

    fn bees(hive: &str, count: f64) -> Entry {
        let mut entry = Entry::blank(HiveId::new(hive));
        entry.findings.bees = Some(Frames(count));
        entry
    }

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap()
    }

    #[test]
    fn undo_and_redo_go_many_levels_and_to_the_hive_they_happened_at() {
        let mut walk = walk();
        walk.change(bees("A", 5.0));
        walk.change(bees("A", 6.0));
        walk.stand_at(&HiveId::new("B"));
        walk.change(bees("B", 7.0));
        walk.undo();
        assert!(walk.entry(&HiveId::new("B")).is_blank());
        walk.undo();
        assert_eq!(walk.hive(), Some(&HiveId::new("A")));
        assert_eq!(walk.entry(&HiveId::new("A")), bees("A", 5.0));
        walk.undo();
        assert_eq!(walk.undo(), None);
        walk.redo();
        walk.redo();
        assert_eq!(walk.entry(&HiveId::new("A")), bees("A", 6.0));
        walk.change(bees("A", 9.0));
        assert_eq!(walk.redo(), None, "a new change ends what could be done again");
        assert_eq!(walk.change(bees("A", 9.0)), None, "no change is no step");
    }

    #[test]
    fn going_on_takes_the_next_due_hive_that_is_not_done_and_notes_the_minutes() {
        let mut walk = walk();
        walk.arrive(at("2026-05-03T09:00:00"));
        walk.change(bees("A", 5.0));
        let (steps, more) = walk.finish_hive(at("2026-05-03T09:11:20"));
        assert!(more);
        assert_eq!(walk.hive(), Some(&HiveId::new("B")));
        assert_eq!(walk.entry(&HiveId::new("A")).minutes, Some(11));
        assert_eq!(steps.len(), 2);
        walk.stand_at(&HiveId::new("C"));
        assert!(walk.finish_hive(at("2026-05-03T09:20:00")).1, "B is still to do");
        assert_eq!(walk.hive(), Some(&HiveId::new("B")));
        assert!(!walk.finish_hive(at("2026-05-03T09:30:00")).1, "D needs nothing");
    }

    #[test]
    fn a_draft_brings_back_the_visit_the_place_and_the_field() {
        let mut walk = walk();
        let mut steps =
            vec![DraftStep::Head(walk.visit.clone()), DraftStep::Queue { hives: walk.queue.clone(), due: 3 }];
        steps.extend(walk.change(bees("A", 5.0)));
        steps.push(DraftStep::Finished(HiveId::new("A")));
        steps.push(DraftStep::At { hive: HiveId::new("B"), field: 2 });
        let (again, field) = OpenVisit::resume(steps).unwrap();
        assert_eq!(again.hive(), Some(&HiveId::new("B")));
        assert_eq!(field, 2);
        assert_eq!(again.visit, walk.visit);
        assert!(again.finished.contains(&HiveId::new("A")));
        assert_eq!(OpenVisit::resume(Vec::new()), None);
    }

    #[test]
    fn undo_and_redo_are_kept_over_a_restart() {
        let mut walk = walk();
        let mut steps =
            vec![DraftStep::Head(walk.visit.clone()), DraftStep::Queue { hives: walk.queue.clone(), due: 3 }];
        steps.extend(walk.change(bees("A", 5.0)));
        steps.extend(walk.change(bees("A", 6.0)));
        steps.extend(walk.change(bees("B", 7.0)));
        steps.extend(walk.undo());
        steps.extend(walk.undo());
        steps.extend(walk.redo());
        let (mut again, _) = OpenVisit::resume(steps).unwrap();
        assert_eq!(again.entry(&HiveId::new("A")), bees("A", 6.0));
        assert!(again.entry(&HiveId::new("B")).is_blank(), "what was undone stays undone");
        again.redo();
        assert_eq!(again.entry(&HiveId::new("B")), bees("B", 7.0));
        assert_eq!(again.redo(), None);
        for _ in 0..3 {
            again.undo();
        }
        assert!(again.entry(&HiveId::new("A")).is_blank());
        assert_eq!(again.undo(), None);
    }

    proptest::proptest! {
        /// Whatever steps a file holds, in whatever order, a visit comes of them that holds together, or none.
        #[test]
        fn any_steps_are_taken_up_or_left(order in proptest::collection::vec(0usize..9, 0..24)) {
            let head = walk().visit;
            let steps: Vec<DraftStep> = order
                .iter()
                .map(|at| match at {
                    0 => DraftStep::Head(head.clone()),
                    1 => DraftStep::Queue { hives: walk().queue, due: 3 },
                    2 => DraftStep::Queue { hives: Vec::new(), due: 9 },
                    3 => DraftStep::Entry(bees("A", 5.0)),
                    4 => DraftStep::Changed(bees("nobody", 6.0)),
                    5 => DraftStep::Undone,
                    6 => DraftStep::Redone,
                    7 => DraftStep::At { hive: HiveId::new("C"), field: 700 },
                    _ => DraftStep::Finished(HiveId::new("B")),
                })
                .collect();
            if let Some((mut walk, _)) = OpenVisit::resume(steps) {
                proptest::prop_assert!(!walk.queue.is_empty() && walk.hive().is_some());
                while walk.undo().is_some() {}
                while walk.redo().is_some() {}
                walk.finish_hive(at("2026-05-03T09:11:20"));
                let mut hives: Vec<_> = walk.visit.entries.iter().map(|e| &e.hive).collect();
                hives.dedup();
                proptest::prop_assert_eq!(hives.len(), walk.visit.entries.len());
            }
        }
    }

    #[test]
    fn minutes_run_over_midnight_and_a_laptop_left_open_is_not_counted() {
        let time = |h, m| NaiveTime::from_hms_opt(h, m, 0).unwrap();
        assert_eq!(minutes_between(time(23, 55), time(0, 5)), Some(10));
        assert_eq!(minutes_between(time(9, 0), time(9, 0)), Some(1));
        assert_eq!(minutes_between(time(9, 0), time(13, 1)), None);
    }
}
