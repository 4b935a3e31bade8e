//! Yards and hives as they are set up, the keeper's practice and the book's units: changed as a whole, checked as a whole.

use std::path::Path;

use super::split::Then;
use super::{Done, Effect, News, Refusal, Session};
use crate::model::{Book, Hive, HiveId, Practice, Units, Yard, YardId, visible};

/// So many names from the first on: `A9` is followed by `A10`, `Hill` by `Hill 2`.
pub fn names_from(first: &str, count: usize) -> Vec<String> {
    let (stem, number) = stem_and_number(first);
    (0..count)
        .map(|step| match number {
            Some(number) => format!("{stem}{}", number + step),
            None if step == 0 => first.to_owned(),
            None => format!("{first} {}", step + 1),
        })
        .collect()
}

/// A name's letters and the number at its end, where there is one.
fn stem_and_number(name: &str) -> (&str, Option<usize>) {
    let stem = name.trim_end_matches(|c: char| c.is_ascii_digit());
    (stem, name.strip_prefix(stem).and_then(|n| n.parse().ok()))
}

impl Session {
    /// A free name for a new hive of a yard, after those that are there: `A1` and `A2` are followed by `A3`.
    pub fn next_name(&self, yard: &YardId) -> String {
        let last = self.yard(yard).and_then(|y| y.hives.last()).map_or("0", |h| h.id.as_str());
        let (stem, number) = stem_and_number(last);
        let first = number.unwrap_or(0) + 1;
        let is_free = |n: &usize| self.book.hive_named(&format!("{stem}{n}")).is_none();
        // Among one more names than there are hives one is free.
        let hives = self.book.yards.iter().map(|y| y.hives.len()).sum::<usize>();
        let number = (first..=first + hives).find(is_free).unwrap_or(first);
        format!("{stem}{number}")
    }

    /// The yards without their visits, to be changed.
    pub(super) fn yards(&self) -> Book {
        Book { visits: Vec::new(), ..self.book.clone() }
    }

    /// Has the yards written, if the whole book holds together with them.
    pub(super) fn save_yards(&mut self, yards: Book) -> Result<Done, Refusal> {
        self.may_write()?;
        let whole = self.book.clone().with_yards(yards.clone());
        if let Some(fault) = whole.faults(self.last_day()).into_iter().next() {
            return Err(Refusal::Cannot(format!("{}: {}.", fault.what, fault.mend)));
        }
        Ok(self.have_written(Box::new(yards), false))
    }

    /// Asks for the yards to be written; until they are, the keeper may still have to answer for them.
    fn have_written(&mut self, yards: Box<Book>, drop_comments: bool) -> Done {
        self.undecided = Some(yards.clone());
        let may_join = self.visit.is_none();
        Done::default().with([Effect::SaveYards { yards, drop_comments, may_join }])
    }

    pub(super) fn set_up_yard(&mut self, old: Option<&YardId>, new: Yard) -> Result<Done, Refusal> {
        self.may_write()?;
        if let Some(fault) = new.name.fault() {
            return Err(Refusal::Cannot(format!("The name {fault}.")));
        }
        let mut book = self.yards();
        match old {
            Some(old) => {
                self.no_visit_open()?;
                let yard = book.yards.iter_mut().find(|y| y.name == *old);
                let yard = yard.ok_or_else(|| Refusal::Cannot("This yard is gone.".to_owned()))?;
                if yard.name != new.name {
                    yard.formerly.retain(|former| *former != new.name);
                    yard.formerly.push(old.clone());
                }
                (yard.name, yard.place, yard.freezes, yard.flows, yard.note) =
                    (new.name, new.place, new.freezes, new.flows, new.note);
            }
            None => book.yards.push(new),
        }
        self.save_yards(book)
    }

    pub(super) fn add_hives(&mut self, yard: &YardId, hives: Vec<Hive>) -> Result<Done, Refusal> {
        let mut book = self.yards();
        let there = book.yards.iter_mut().find(|y| y.name == *yard);
        let there = there.ok_or_else(|| Refusal::Cannot("This yard is gone.".to_owned()))?;
        there.hives.extend(hives);
        self.save_yards(book)
    }

    pub(super) fn change_hive(&mut self, old: &HiveId, to: &YardId, mut hive: Hive) -> Result<Done, Refusal> {
        self.no_visit_open()?;
        if let Some(fault) = hive.id.fault() {
            return Err(Refusal::Cannot(format!("The name {fault}.")));
        }
        if hive.id != *old {
            hive.formerly.retain(|former| *former != hive.id);
            hive.formerly.push(old.clone());
        }
        let (from, _) =
            self.book.hive(old).ok_or_else(|| Refusal::Cannot("This hive is gone.".to_owned()))?;
        let is_moved = from.name != *to;
        let mut book = self.yards();
        for yard in &mut book.yards {
            if is_moved {
                yard.hives.retain(|h| h.id != *old);
            } else if let Some(there) = yard.hives.iter_mut().find(|h| h.id == *old) {
                *there = hive.clone();
            }
        }
        if is_moved {
            let yard = book.yards.iter_mut().find(|y| y.name == *to);
            yard.ok_or_else(|| Refusal::Cannot("There is no such yard.".to_owned()))?.hives.push(hive);
        }
        self.save_yards(book)
    }

    pub(super) fn move_stand(&mut self, hive: &HiveId, later: bool) -> Result<Done, Refusal> {
        let mut book = self.yards();
        let mut all = book.yards.iter_mut().map(|y| &mut y.hives);
        let Some((stands, at)) = all.find_map(|s| s.iter().position(|h| h.id == *hive).map(|at| (s, at)))
        else {
            return Err(Refusal::NotHere(format!("There is no hive {hive}.")));
        };
        // Past the next that stands today: one that has left, or is yet to come, has no place to be seen at.
        let is_shown = |to: &usize| stands.get(*to).is_some_and(|h| self.folded.hive(&h.id).is_some());
        let to = if later { (at + 1..stands.len()).find(is_shown) } else { (0..at).rev().find(is_shown) };
        let Some(to) = to else {
            return Err(Refusal::NotHere("It is already at the end of its yard's stands.".to_owned()));
        };
        let moved = stands.remove(at);
        stands.insert(to, moved);
        self.save_yards(book)
    }

    pub(super) fn set_practice(&mut self, practice: Practice) -> Result<Done, Refusal> {
        self.may_write()?;
        if practice == self.book.practice {
            return Err(Refusal::NotHere("It is as it was.".to_owned()));
        }
        self.save_yards(Book { practice, ..self.yards() })
    }

    pub(super) fn set_units(&mut self, units: Units) -> Result<Done, Refusal> {
        self.save_yards(Book { units, ..self.yards() })
    }

    pub(super) fn undo_set_up(&mut self, back: bool) -> Result<Done, Refusal> {
        self.no_visit_open()?;
        let (done, undone) = &self.set_ups;
        match if back { done.last() } else { undone.last() }.cloned() {
            Some(yards) => {
                let asked = self.save_yards(yards.knowing_names_of(&self.book, &self.logged_names));
                asked.map_err(|refusal| {
                    Refusal::Cannot(format!("That is not undone, since something was logged by it: {}", refusal.words()))
                })
            }
            None if back => Err(Refusal::NotHere(
                "Nothing left to undo since the program started; the folder `former` keeps what yard.ron was before."
                    .to_owned(),
            )),
            None => Err(Refusal::NotHere("Nothing to do again.".to_owned())),
        }
    }

    /// The yards, hives and practice are on the disk: they hold from now on, and the day is planned anew.
    pub(super) fn yards_saved(&mut self, yards: Book, was_joined: bool) -> Done {
        self.undecided = None;
        // Whatever version it held, it holds this one now.
        self.left_out.retain(|left_out| !(left_out.is_copy && left_out.file == Path::new("yard.ron")));
        let before = self.yards();
        let (done, undone) = &mut self.set_ups;
        let is_back_at =
            |there: &[Book]| there.last().is_some_and(|there| there.is_same_but_for_former_names(&yards));
        if was_joined {
            // What there was to undo was a change to something else.
            (*done, *undone) = (Vec::new(), Vec::new());
        } else if is_back_at(undone) {
            undone.pop();
            done.push(before);
        } else if is_back_at(done) {
            done.pop();
            undone.push(before);
        } else {
            undone.clear();
            done.push(before);
        }
        self.book = std::mem::replace(&mut self.book, Book::empty("", yards.units)).with_yards(yards);
        self.fold_anew();
        let saved = Done::saying(match (was_joined, self.differences.as_slice()) {
            (false, _) => "Saved in yard.ron; the former one is kept beside it.".to_owned(),
            (true, []) => {
                "Saved, and what was changed meanwhile by hand or elsewhere is taken in.".to_owned()
            }
            (true, [first, ..]) => format!(
                "Saved, but meanwhile {} was set up differently elsewhere: choose under Files to mend.",
                visible(&first.at)
            ),
        });
        match self.after_yards.take() {
            Some(Then::CarryOut(intent)) => match self.carry_out(*intent) {
                Ok(done) => saved.and_then(done),
                Err(refusal) => saved.and_then(Done::failing(refusal.words())),
            },
            Some(Then::Say(words)) => Done::saying(words),
            None => saved,
        }
    }

    /// The yards were not written, since comments written by hand would go: the keeper decides.
    pub(super) fn comments_at_stake(count: usize) -> Done {
        Done::default().news(News::CommentsAtStake(count))
    }

    pub(super) fn drop_comments(&mut self) -> Result<Done, Refusal> {
        match self.undecided.take() {
            Some(yards) => Ok(self.have_written(yards, true)),
            None => Err(Refusal::NotHere("Nothing waits to be written.".to_owned())),
        }
    }

    pub(super) fn keep_comments(&mut self) -> Done {
        self.undecided = None;
        self.after_yards = None;
        Done::saying("yard.ron is as it was; nothing was changed.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_count_on_from_the_first() {
        assert_eq!(names_from("A9", 3), ["A9", "A10", "A11"]);
        assert_eq!(names_from("Hill", 2), ["Hill", "Hill 2"]);
        assert_eq!(names_from("7", 2), ["7", "8"]);
    }
}
