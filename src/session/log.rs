//! What has been logged and what was left: visits taken up again, corrected, withdrawn, kept of two, and saved.

use chrono::NaiveDate;

use super::app::App;
use super::effect::Effect;
use super::screens::Screen;
use super::walk::Walk;
use crate::model::{Book, Corrections, Folded, HiveId, Visit, VisitId};
use crate::store::{DraftStep, visit_id};

impl App {
    /// Takes up a visit that was left.
    pub(crate) fn resume(&mut self, walk: Walk, field: usize) {
        let day = walk.visit.on;
        self.turn_to(day, walk.visit.replaces.as_ref());
        let (hive, yard) = (walk.hive().cloned(), walk.visit.yard.clone());
        let ticked = walk.visit.truck.iter().map(|l| l.item.clone()).collect();
        self.wishes.entry(yard.clone()).or_default().ticked = ticked;
        self.walk = Some(walk);
        if let Some(Screen::Today(today)) = self.screens.first_mut() {
            today.show_yard(&self.plan, &yard);
        }
        if let Some(hive) = hive {
            self.say(format!("Taken up where it was left: the visit of {}, at {hive}", day.format("%-d %b")));
            let message = self.message.take();
            let screen = super::screens::hive::HiveScreen::at(self, hive, Some(field));
            self.screens.push(Screen::Hive(screen));
            self.message = message;
        }
    }

    /// The yards, hives and practice are safe on the disk: they hold from now on, and the day is planned anew.
    pub(crate) fn yards_saved(&mut self, yards: Book) {
        let before = Book { visits: Vec::new(), ..self.book.clone() };
        let (done, undone) = &mut self.yards_before;
        if undone.last() == Some(&yards) {
            undone.pop();
            done.push(before);
        } else if done.last() == Some(&yards) {
            done.pop();
            undone.push(before);
        } else {
            undone.clear();
            done.push(before);
        }
        self.book = std::mem::replace(&mut self.book, Book::empty("", yards.units)).with_yards(yards);
        self.folded = Folded::of(&self.book, self.today);
        self.replan();
        self.say("Saved in yard.ron; the former one is kept beside it.");
    }

    /// Turns to a day, as it looked but for a visit that is being corrected.
    fn turn_to(&mut self, day: NaiveDate, corrected: Option<&VisitId>) {
        if day == self.today && corrected.is_none() {
            return;
        }
        self.today = day;
        self.is_pretended = day != self.now.date();
        self.folded = match corrected {
            Some(old) => {
                // Emptied and not taken out: what it had itself corrected must not stand again.
                let mut without = self.book.clone();
                without.visits.iter_mut().filter(|v| v.id == *old).for_each(|v| v.entries.clear());
                Folded::of(&without, day)
            }
            None => Folded::of(&self.book, day),
        };
        self.replan();
    }

    /// Opens a past visit to be corrected: a visit of its own that will replace it, on its day.
    pub(crate) fn amend(&mut self, old: &Visit) -> Vec<Effect> {
        let at = old.on.and_time(old.began.unwrap_or_default());
        let mut visit = Visit { replaces: Some(old.id.clone()), logged: None, ..old.clone() };
        visit.id = visit_id(&old.yard, at, self.seed);
        self.seed = self.seed.wrapping_add(1);
        self.turn_to(old.on, Some(&old.id));
        let mut queue: Vec<HiveId> = old.entries.iter().map(|e| e.hive.clone()).collect();
        let due = queue.len();
        let others = self.yard(&old.yard).into_iter().flat_map(|y| &y.hives).map(|h| h.id.clone());
        let others: Vec<HiveId> = others.filter(|id| self.folded.hive(id).is_some()).collect();
        queue.extend(others.into_iter().filter(|id| !old.entries.iter().any(|e| e.hive == *id)));
        let head = Visit { entries: Vec::new(), ..visit.clone() };
        let mut effects = vec![
            Effect::BeginDraft(visit.id.clone()),
            Effect::Draft(DraftStep::Head(head)),
            Effect::Draft(DraftStep::Queue { hives: queue.clone(), due }),
        ];
        effects.extend(visit.entries.iter().map(|e| Effect::Draft(DraftStep::Entry(e.clone()))));
        self.walk = Some(Walk::begin(visit, queue, due));
        if let Some(Screen::Today(today)) = self.screens.first_mut() {
            today.show_yard(&self.plan, &old.yard);
        }
        self.say(format!("Correcting the visit of {}: s wraps up and saves.", old.on.format("%-d %b %Y")));
        effects
    }

    /// A visit that withdraws another: it names it and holds nothing.
    pub(crate) fn withdrawal(&mut self, old: &Visit) -> Visit {
        let at = old.on.and_time(old.began.unwrap_or_default());
        let id = visit_id(&old.yard, at, self.seed);
        self.seed = self.seed.wrapping_add(1);
        Visit {
            began: old.began,
            withdraws: Some(old.id.clone()),
            logged: Some(self.now),
            ..Visit::begun(id, old.yard.clone(), old.on)
        }
    }

    /// The visit is safe on the disk: it joins the book, and the day is planned anew.
    pub(crate) fn visit_saved(&mut self, visit: &Visit) {
        let hives = visit.entries.len();
        self.book.visits.push(visit.clone());
        if self.today == self.opened_on && visit.replaces.is_none() && visit.withdraws.is_none() {
            self.folded.add(&self.book, visit);
        } else {
            // Back from the day of a correction or of a draft that was left.
            self.turn_back();
        }
        self.wishes.remove(&visit.yard);
        self.replan();
        self.walk = None;
        self.screens.truncate(1);
        self.left.retain(|left| left.is_aside || !left.visit.as_ref().is_ok_and(|v| v.id == visit.id));
        let yard = crate::model::visible(visit.yard.as_str());
        let on = visit.on.format("%-d %b");
        self.say(match (&visit.replaces, &visit.withdraws) {
            (_, Some(_)) => format!("Withdrawn: the visit of {on} at {yard}"),
            (Some(_), None) => format!("Corrected: the visit of {on} at {yard}"),
            (None, None) => format!("Saved: {} at {yard}", super::text::many(hives, "hive")),
        });
    }

    /// The yards as they were before the last change of this start, or after the last that was undone; to be saved.
    pub(crate) fn other_yards(&self, back: bool) -> Option<Book> {
        let (done, undone) = &self.yards_before;
        if back { done.last() } else { undone.last() }.cloned()
    }

    /// Back to the day the program was opened on.
    fn turn_back(&mut self) {
        self.today = self.opened_on;
        self.is_pretended = self.today != self.now.date();
        self.folded = Folded::of(&self.book, self.today);
    }

    /// Withdrawals of what stands beside one of several corrections, so that it holds alone.
    pub(crate) fn keep_alone(&mut self, kept: &Visit) -> Vec<Effect> {
        let rivals: Vec<Visit> =
            Corrections::of(&self.book, self.today).rivals_of(kept).into_iter().cloned().collect();
        rivals.iter().map(|rival| Effect::SaveVisit(self.withdrawal(rival))).collect()
    }

    /// Says that of some visit there are two corrections, where nothing else is to be said.
    pub(crate) fn tell_of_conflicts(&mut self) {
        let corrections = Corrections::of(&self.book, self.today);
        if let (None, [first, ..]) = (&self.message, corrections.conflicts()) {
            let on =
                first.versions.first().map(|v| v.on.format(" of %-d %b").to_string()).unwrap_or_default();
            self.say(format!("A visit{on} was corrected twice, on two laptops: settle it in the log (o)."));
        }
    }

    /// The visit in progress was put aside: it is no longer open, and its draft is kept.
    pub(crate) fn put_aside(&mut self) {
        self.walk = None;
        self.turn_back();
        self.replan();
        self.screens.truncate(1);
        self.say("Left unsaved and kept: the log (o) offers it again.");
    }
}
