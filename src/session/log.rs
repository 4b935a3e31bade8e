//! What has been logged, and what was left: visits saved, put aside, taken up again, corrected, withdrawn, kept of two.

use std::path::PathBuf;

use super::{Done, Effect, News, OpenVisit, Refusal, Session};
use crate::model::{Corrections, DraftStep, HiveId, Visit, VisitId, VisitStatus, visit_id};
use crate::wording;

impl Session {
    pub(super) fn save(&mut self) -> Result<Done, Refusal> {
        let now = self.now;
        let visit = self.open_visit()?.visit_to_save(now);
        if visit.entries.is_empty() {
            let why = "Nothing was written at any hive, so there is nothing to save yet.";
            return Err(Refusal::Cannot(why.to_owned()));
        }
        Ok(Done::default().with([Effect::SaveVisit(Box::new(visit))]))
    }

    pub(super) fn put_aside(&mut self) -> Result<Done, Refusal> {
        self.open_visit()?;
        Ok(Done::default().with([Effect::PutAside { is_unusable: false }]))
    }

    pub(super) fn take_up(&mut self, path: PathBuf, visit: VisitId) -> Result<Done, Refusal> {
        self.may_write()?;
        self.no_visit_open()?;
        Ok(Done::default().with([Effect::TakeUp { path, visit }]))
    }

    /// A draft was opened: the visit goes on where it was left.
    pub(super) fn resume(&mut self, path: &PathBuf, steps: Vec<DraftStep>) -> Done {
        let names = self.book.names();
        let resumed = OpenVisit::resume(steps).map(|(mut open, field)| {
            open.bring_up(&names);
            (open, field)
        });
        let known = resumed.filter(|(open, _)| self.yard(&open.visit.yard).is_some());
        let Some((open, field)) = known else {
            // Too little in it to take up, or a yard that is gone: kept, out of the way.
            return Done::default().with([Effect::PutAside { is_unusable: true }]);
        };
        self.left.retain(|left| left.path != *path);
        let (day, yard, hive) = (open.visit.on, open.visit.yard.clone(), open.hive().cloned());
        let ticked = open.visit.truck.iter().map(|l| l.item.clone()).collect();
        self.wishes.entry(yard).or_default().ticked = ticked;
        let is_plain = open.visit.replaces.is_none();
        self.visit = Some(open);
        if day != self.today || !is_plain {
            self.turn_to(Some(day));
        }
        let Some(hive) = hive else { return Done::default() };
        let on = wording::day(self.book.units, day);
        let done = Done::saying(format!("Taken up where it was left: the visit of {on}, at {hive}."));
        let arrived = self.arrive_at(&hive, Some(field));
        done.and_then(arrived)
    }

    /// Whether a past visit can be withdrawn now.
    ///
    /// # Errors
    /// Why it cannot.
    pub fn may_withdraw(&self, visit: &Visit) -> Result<(), Refusal> {
        self.may_write()?;
        self.no_visit_open()?;
        match self.stand_of(visit) {
            VisitStatus::Corrected => Err(Refusal::Cannot(
                "This visit has been corrected already: change the newer one.".to_owned(),
            )),
            VisitStatus::Withdrawn => Err(Refusal::Cannot(
                "This visit is withdrawn already; withdraw its withdrawal to have it back.".to_owned(),
            )),
            VisitStatus::Holds
            | VisitStatus::Correction
            | VisitStatus::Withdrawal
            | VisitStatus::RivalThatHolds
            | VisitStatus::RivalThatWaits => Ok(()),
        }
    }

    /// Whether a past visit can be corrected now.
    ///
    /// # Errors
    /// Why it cannot.
    pub fn may_correct(&self, visit: &Visit) -> Result<(), Refusal> {
        self.may_withdraw(visit)?;
        if self.stand_of(visit) == VisitStatus::Withdrawal || self.yard(&visit.yard).is_none() {
            return Err(Refusal::Cannot("There is nothing in it to correct.".to_owned()));
        }
        if visit.entries.is_empty() {
            return Err(Refusal::NotHere("There is no hive in this visit: withdraw it instead.".to_owned()));
        }
        Ok(())
    }

    /// Whether there are two corrections of one visit, of which this is one.
    ///
    /// # Errors
    /// Why none needs to be kept.
    pub fn may_keep_one(&self, visit: &Visit) -> Result<(), Refusal> {
        self.may_write()?;
        if matches!(self.stand_of(visit), VisitStatus::RivalThatHolds | VisitStatus::RivalThatWaits) {
            Ok(())
        } else {
            Err(Refusal::NotHere(
                "There is only one of it: this is for two corrections of one visit.".to_owned(),
            ))
        }
    }

    fn stand_of(&self, visit: &Visit) -> VisitStatus {
        Corrections::of(&self.book, self.today).stand(visit)
    }

    fn logged(&self, id: &VisitId) -> Result<Visit, Refusal> {
        let found = self.book.visits.iter().find(|v| v.id == *id).cloned();
        found.ok_or_else(|| Refusal::NotHere("That visit is not in the log.".to_owned()))
    }

    /// Opens a past visit to be corrected: a visit of its own that will replace it, on its day.
    pub(super) fn correct(&mut self, id: &VisitId) -> Result<Done, Refusal> {
        let old = self.logged(id)?;
        self.may_correct(&old)?;
        let at = old.on.and_time(old.began.unwrap_or_default());
        let mut visit = Visit { replaces: Some(old.id.clone()), logged: None, ..old.clone() };
        visit.id = visit_id(&old.yard, at, self.next_seed());
        let mut queue: Vec<HiveId> = old.entries.iter().map(|e| e.hive.clone()).collect();
        let due = queue.len();
        let head = Visit { entries: Vec::new(), ..visit.clone() };
        let steps: Vec<DraftStep> = visit.entries.iter().map(|e| DraftStep::Entry(e.clone())).collect();
        self.visit = Some(OpenVisit::begin(visit.clone(), queue.clone(), due));
        self.turn_to(Some(old.on));
        let others = self.yard(&old.yard).into_iter().flat_map(|y| &y.hives).map(|h| h.id.clone());
        let others: Vec<HiveId> = others.filter(|id| self.folded.hive(id).is_some()).collect();
        queue.extend(others.into_iter().filter(|id| !old.entries.iter().any(|e| e.hive == *id)));
        let first = queue.first().cloned();
        self.visit = Some(OpenVisit::begin(visit.clone(), queue.clone(), due));
        let effects = [
            Effect::BeginDraft(visit.id),
            Effect::Draft(DraftStep::Head(head)),
            Effect::Draft(DraftStep::Queue { hives: queue, due }),
        ];
        let on = wording::day_and_year(self.book.units, old.on);
        let done = Done::saying(format!("Correcting the visit of {on}: wrap up and save when it is right."))
            .with(effects)
            .with(steps.into_iter().map(Effect::Draft));
        Ok(match first {
            Some(hive) => done.and_then(self.arrive_at(&hive, None)),
            None => done,
        })
    }

    pub(super) fn withdraw(&mut self, id: &VisitId) -> Result<Done, Refusal> {
        let old = self.logged(id)?;
        self.may_withdraw(&old)?;
        let withdrawal = self.withdrawal(&old);
        Ok(Done::default().with([Effect::SaveVisit(Box::new(withdrawal))]))
    }

    /// A visit that withdraws another: it names it and holds nothing.
    fn withdrawal(&mut self, old: &Visit) -> Visit {
        let at = old.on.and_time(old.began.unwrap_or_default());
        let id = visit_id(&old.yard, at, self.next_seed());
        Visit {
            began: old.began,
            withdraws: Some(old.id.clone()),
            logged: Some(self.now),
            ..Visit::begun(id, old.yard.clone(), old.on)
        }
    }

    /// Withdraws what stands beside one of several corrections, so that it holds alone.
    pub(super) fn keep_one(&mut self, id: &VisitId) -> Result<Done, Refusal> {
        let kept = self.logged(id)?;
        self.may_keep_one(&kept)?;
        let corrections = Corrections::of(&self.book, self.today);
        let rivals: Vec<Visit> = corrections.rivals_of(&kept).into_iter().cloned().collect();
        let withdrawals = rivals.iter().map(|rival| Effect::SaveVisit(Box::new(self.withdrawal(rival))));
        Ok(Done::default().with(withdrawals.collect::<Vec<_>>()))
    }

    /// The visit is safe on the disk: it joins the book, and the day is planned anew.
    pub(super) fn visit_saved(&mut self, visit: &Visit) -> Done {
        let hives = visit.entries.len();
        self.logged_names.take_in(visit);
        // One that was refused may have been in its place, and have been read from there since.
        let there = self.book.visits.iter_mut().find(|there| there.id == visit.id);
        let is_new = there.is_none();
        match there {
            Some(there) => there.clone_from(visit),
            None => self.book.visits.push(visit.clone()),
        }
        let was_open = self.visit.take();
        let is_plain = is_new && visit.replaces.is_none() && visit.withdraws.is_none();
        if self.today == self.opened_on && is_plain && was_open.is_some() {
            self.folded.add(&self.book, visit);
            self.wishes.remove(&visit.yard);
            self.replan();
        } else {
            // Back from the day of a correction or of a draft that was left.
            self.wishes.remove(&visit.yard);
            self.turn_to(None);
        }
        self.left.retain(|left| left.is_aside || !left.visit.as_ref().is_ok_and(|v| v.id == visit.id));
        let (yard, on) = (&visit.yard, wording::day(self.book.units, visit.on));
        let words = match (&visit.replaces, &visit.withdraws) {
            (_, Some(_)) => format!("Withdrawn: the visit of {on} at {yard}."),
            (Some(_), None) => format!("Corrected: the visit of {on} at {yard}."),
            (None, None) => format!("Saved: {} at {yard}.", wording::count(hives, "hive")),
        };
        self.wished(yard).and_then(Done::saying(words).news(News::VisitClosed))
    }

    /// The open visit was put aside: its draft is kept, and the day is the one the book was opened on.
    pub(super) fn visit_put_aside(&mut self) -> Done {
        if let Some(open) = self.visit.take() {
            self.logged_names.take_in(&open.finished_visit());
        }
        self.turn_to(None);
        Done::saying("Left unsaved and kept: the log offers it again.").news(News::VisitClosed)
    }
}
