//! What the disk made of an effect, taken into the session.

use super::{Done, Effect, News, Outcome, Session, Trouble};
use crate::model::{LeftDraft, VisitId};

impl Session {
    /// Takes in what came of an effect; there may be more to carry to the disk.
    pub fn take_in(&mut self, outcome: Outcome) -> Done {
        self.revision += 1;
        match outcome {
            Outcome::Nothing => Done::default(),
            Outcome::Written => self.on_the_disk(),
            Outcome::VisitSaved(visit) => {
                let again = self.on_the_disk();
                again.and_then(self.visit_saved(&visit))
            }
            Outcome::YardsSaved { yards, differences, was_joined } => {
                self.differences = differences;
                self.yards_saved(*yards, was_joined)
            }
            Outcome::YardsRefused(why) => {
                self.undecided = None;
                self.after_yards = None;
                // What could not be written does not hold either.
                Done::failing(format!(
                    "NOT ON THE DISK, nothing changed. {why}. Try again when that is mended."
                ))
            }
            Outcome::BookRead { book, left_out, differences, aside } => {
                self.differences = differences;
                self.book_read(*book, left_out, aside)
            }
            Outcome::NotRead(why) => Done::failing(format!("Nothing was changed: {why}.")),
            Outcome::CommentsAtStake(count) => Self::comments_at_stake(count),
            Outcome::RehearsalSaved(rehearsal) => self.came_back(*rehearsal),
            Outcome::RehearsalRefused(why) => Done::failing(format!("The day stays as it is: {why}.")),
            Outcome::SettingsRefused(why) => {
                Done::failing(format!("It holds until the program is left: {why}."))
            }
            Outcome::PadRefused(why) => self.pad_refused(&why),
            Outcome::TakenUp { path, steps } => self.resume(&path, steps),
            Outcome::NotTakenUp(why) => Done::failing(format!("{why}. It stays where it is.")),
            Outcome::PutAside { is_unusable: false } => self.visit_put_aside().with([Effect::ListLeft]),
            Outcome::PutAside { is_unusable: true } => {
                Done::failing("There is too little in it to take up, or its yard is gone; it is kept.")
                    .with([Effect::ListLeft])
            }
            Outcome::NotPutAside(why) => {
                Done::failing(format!("{why}. The visit stays open.")).with([Effect::ListLeft])
            }
            Outcome::Left(left) => self.take_in_left(left),
            Outcome::Refused { trouble, visit, has_draft, asked_for } => {
                self.refused_visit = visit;
                self.trouble = Some(trouble.clone());
                let is_known = self.unwritten.replace(trouble.what.clone()).is_some();
                if !has_draft {
                    // A withdrawal: nothing was typed that could be lost.
                    self.unwritten = None;
                }
                let is_new = !is_known || asked_for;
                Done::failing(trouble.what.clone()).news(News::NotOnDisk(Trouble { is_new, ..trouble }))
            }
        }
    }

    /// All that was entered is on the disk; said where that was in doubt.
    fn on_the_disk(&mut self) -> Done {
        self.refused_visit = None;
        self.trouble = None;
        match self.unwritten.take() {
            Some(_) => Done::saying("On the disk again: nothing was lost."),
            None => Done::default(),
        }
    }

    pub(super) fn try_again(&mut self) -> Done {
        let effect = self.refused_visit.take().map_or(Effect::CatchUp, Effect::SaveVisit);
        Done::default().with([effect])
    }

    /// Drafts that were left. One whose visit the book holds was left by a kill between saving and removing.
    fn take_in_left(&mut self, found: Vec<LeftDraft>) -> Done {
        let is_saved = |id: &VisitId| self.book.visits.iter().any(|v| v.id == *id);
        let (saved, left): (Vec<LeftDraft>, Vec<LeftDraft>) =
            found.into_iter().partition(|l| !l.is_aside && l.visit.as_ref().is_ok_and(|v| is_saved(&v.id)));
        self.left = left;
        let forget = saved.into_iter().filter_map(|draft| {
            let visit = draft.visit.ok()?.id;
            Some(Effect::Forget { path: draft.path, visit })
        });
        Done::default().with(forget.collect::<Vec<_>>())
    }
}
