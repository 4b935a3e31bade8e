//! A split makes a hive, undoing it takes the hive away again, and doing it again brings it back.

use super::at_hive::no_hive;
use super::open_visit::Change;
use super::{Answers, Done, Intent, Refusal, Session, undone};
use crate::model::{Action, Hive, HiveId, Origin, Queen, QueenStatus, YardId, stack_from};

/// What follows once the yards are on the disk.
#[derive(Debug)]
pub(super) enum Then {
    /// Something is logged: a split, whose hive must stand in the book first.
    CarryOut(Box<Intent>),
    /// This is said.
    Say(String),
}

/// Where the old queen of a split may be now.
pub const OLD_QUEEN: &[&str] = &["stayed here", "went with it", "not seen"];
const STAYED: usize = 0;
const WENT: usize = 1;

/// What the half without her may have.
pub const OTHER_HALF: &[(&str, QueenStatus)] = &[
    ("raises its own", QueenStatus::Cell),
    ("a ripe cell", QueenStatus::RipeCell),
    ("a caged queen", QueenStatus::Caged),
    ("a laying queen", QueenStatus::Laying),
];

/// Whether it is known which half has her, by the place in [`OLD_QUEEN`].
pub fn is_seen(old: usize) -> bool {
    matches!(old, STAYED | WENT)
}

impl Session {
    /// The split that was made: the new hive's boxes in words, where the old queen is and what the other half has, by
    /// their places in [`OLD_QUEEN`] and [`OTHER_HALF`].
    ///
    /// # Errors
    /// Says what is missing or cannot be read.
    pub fn split_of(
        &self,
        from: &HiveId,
        new: &HiveId,
        boxes: &str,
        (old, other): (usize, Option<usize>),
        answers: Option<Answers>,
    ) -> Result<Intent, String> {
        if boxes.trim().is_empty() {
            return Err("Its boxes: write them, such as 1 deep or 1 5-frame deep".to_owned());
        }
        let boxes = stack_from(boxes)?;
        let begun = |status| Queen { since: Some(self.today), ..Queen::of_status(status, None) };
        let raised = || {
            let status = other.and_then(|at| OTHER_HALF.get(at)).map(|(_, status)| begun(*status));
            status.ok_or_else(|| "The half without her: say what it has for a queen".to_owned())
        };
        let (queen, left) = match old {
            STAYED => (raised()?, None),
            WENT => {
                let old = self.view(from).map(|view| view.state.queen);
                (old.unwrap_or_else(|| begun(QueenStatus::Laying)), Some(raised()?))
            }
            // Either half may have her: eggs in a few days tell.
            _ => (begun(QueenStatus::Unknown), Some(begun(QueenStatus::Unknown))),
        };
        let mut hive = Hive::new(new.clone(), Origin::Split, self.today, boxes, queen);
        hive.note = format!("split from {from}");
        Ok(Intent::Split { from: from.clone(), hive: Box::new(hive), left, answers })
    }

    /// The actions with a free name for the hive a split makes, where none is given yet.
    pub fn named(&self, from: &HiveId, actions: &[Action]) -> Vec<Action> {
        let yard = self.folded.hive(from).map(|state| &state.yard);
        let named = |action: &Action| match (action, yard) {
            (Action::SplitInto { hive }, Some(yard)) if hive.as_str().is_empty() => {
                Action::SplitInto { hive: HiveId::new(self.next_name(yard)) }
            }
            _ => action.clone(),
        };
        actions.iter().map(named).collect()
    }

    /// The new hive joins the stands first; the split is logged once it is on the disk.
    pub(super) fn split(
        &mut self,
        from: &HiveId,
        hive: Hive,
        left: Option<Queen>,
        answers: Option<Answers>,
    ) -> Result<Done, Refusal> {
        self.open_visit()?;
        if let Some(fault) = hive.id.fault() {
            return Err(Refusal::Cannot(format!("The new hive's name {fault}.")));
        }
        if self.book.hive_named(hive.id.as_str()).is_some() {
            return Err(Refusal::Cannot(format!("There is a hive {} already.", hive.id)));
        }
        let yard = self.folded.hive(from).map(|s| s.yard.clone()).ok_or_else(|| no_hive(from))?;
        let split = Action::SplitInto { hive: hive.id.clone() };
        let actions = [split].into_iter().chain(left.map(|queen| Action::SetQueen { queen })).collect();
        let asked = self.add_hives(&yard, vec![hive])?;
        let log = Intent::Log { hive: from.clone(), actions, answers, instead: false };
        self.after_yards = Some(Then::CarryOut(Box::new(log)));
        Ok(asked)
    }

    /// The hives of a yard that came by a split today.
    pub fn made_today(&self, yard: &YardId) -> Vec<HiveId> {
        let hives = self.yard(yard).map(|yard| yard.hives.as_slice()).unwrap_or_default();
        let is_new = |hive: &&Hive| hive.origin == Origin::Split && hive.since == self.today;
        hives.iter().filter(is_new).map(|hive| hive.id.clone()).collect()
    }

    pub(super) fn undo(&mut self) -> Result<Done, Refusal> {
        let units = self.book.units;
        let open = self.open_visit()?;
        let made = open.last_change().map(made_by).unwrap_or_default();
        if let Some(hive) = made.iter().find(|hive| !open.entry(hive).is_blank()) {
            return Err(Refusal::Cannot(format!(
                "Something is written at {hive}, which this split made: take that back first."
            )));
        }
        let step =
            open.undo().ok_or_else(|| Refusal::NotHere("Nothing to undo in this visit.".to_owned()))?;
        let words = open.last_undone().map(|change| undone::words(change, units)).unwrap_or_default();
        let done = self.stepped(step, &format!("Undone: {words}."));
        Ok(if made.is_empty() { done } else { self.take_away(&made, &words, done) })
    }

    pub(super) fn redo(&mut self) -> Result<Done, Refusal> {
        let units = self.book.units;
        let open = self.open_visit()?;
        let made = open.last_undone().map(made_by).unwrap_or_default();
        let again: Vec<_> =
            self.taken_away.iter().filter(|(_, hive)| made.contains(&hive.id)).cloned().collect();
        if again.len() < made.len() {
            // The program was left since: how the hive was set up is no longer known.
            return Err(Refusal::Cannot("Log the split anew: a, then split.".to_owned()));
        }
        let open = self.open_visit()?;
        let step =
            open.redo().ok_or_else(|| Refusal::NotHere("Nothing to redo in this visit.".to_owned()))?;
        let words = open.last_change().map(|change| undone::words(change, units)).unwrap_or_default();
        let mut done = self.stepped(step, &format!("Done again: {words}."));
        for (yard, hive) in again {
            let id = hive.id.clone();
            match self.add_hives(&yard, vec![hive]) {
                Ok(asked) => {
                    self.after_yards = Some(Then::Say(format!("Done again: {words}; {id} stands again.")));
                    done = done.and_then(asked);
                }
                Err(refusal) => done = done.and_then(Done::failing(refusal.words())),
            }
        }
        Ok(done)
    }

    /// Takes hives away whose split was undone.
    fn take_away(&mut self, hives: &[HiveId], words: &str, done: Done) -> Done {
        let mut yards = self.yards();
        self.taken_away.clear();
        for yard in &mut yards.yards {
            let (gone, stay) =
                std::mem::take(&mut yard.hives).into_iter().partition(|h| hives.contains(&h.id));
            yard.hives = stay;
            let gone: Vec<Hive> = gone;
            self.taken_away.extend(gone.into_iter().map(|hive| (yard.name.clone(), hive)));
        }
        if self.taken_away.is_empty() {
            return done;
        }
        match self.save_yards(yards) {
            Ok(asked) => {
                let names = crate::wording::list(hives);
                self.after_yards = Some(Then::Say(format!("Undone: {words}; {names} is taken away.")));
                done.and_then(asked)
            }
            Err(refusal) => {
                self.taken_away.clear();
                done.and_then(Done::failing(refusal.words()))
            }
        }
    }
}

/// The hives a change of an entry made by splitting.
fn made_by(change: &Change) -> Vec<HiveId> {
    let Change::Entry { before, after } = change else { return Vec::new() };
    let made = |action: &Action| match action {
        Action::SplitInto { hive } if !before.actions.contains(action) => Some(hive.clone()),
        _ => None,
    };
    after.actions.iter().filter_map(made).collect()
}
