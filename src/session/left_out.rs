//! Files that were left out of the book: one is put aside, or kept in place of another, and the book is read again. And what
//! was set up in two ways: the keeper chooses.

use std::path::{Path, PathBuf};

use super::{Done, Effect, Refusal, Session};
use crate::model::{Book, Difference, LeftOut, Side, file_words, visible};
use crate::wording;

impl Session {
    /// The files that are not taken in; what is advised is without them.
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// What was set up in two ways, on two laptops or by hand; until it is settled, one of the two holds.
    pub fn differences(&self) -> &[Difference] {
        &self.differences
    }

    /// What the advice is not sure of: files that were left out, and what was set up in two ways. None where all is well.
    pub fn without(&self) -> Option<String> {
        let in_two_ways = match self.differences.as_slice() {
            [] => None,
            [only] => Some(format!("Set up differently in two places: {}.", visible(&only.at))),
            several => Some(format!("Set up differently in two places: {} things.", several.len())),
        };
        match (self.files_missing(), in_two_ways) {
            (Some(files), Some(ways)) => Some(format!("{files} {ways}")),
            (files, ways) => files.or(ways),
        }
    }

    fn files_missing(&self) -> Option<String> {
        let missing: Vec<&LeftOut> = self.left_out.iter().filter(|left_out| !left_out.is_copy).collect();
        match (missing.as_slice(), self.left_out.as_slice()) {
            (_, []) => None,
            ([], [only]) if only.file == Path::new("yard.ron") => {
                Some("yard.ron is older than what the book goes by.".to_owned())
            }
            ([], [only]) => {
                Some(format!("The book holds a copy it has no use for: {}.", file_words(&only.file)))
            }
            ([], several) => Some(format!("The book holds {} copies it has no use for.", several.len())),
            ([only], _) => Some(format!("The advice is without {}.", file_words(&only.file))),
            (several, _) => Some(format!("The advice is without {} files.", several.len())),
        }
    }

    pub(super) fn read_again(&self) -> Result<Done, Refusal> {
        self.no_visit_open()?;
        Ok(Done::default().with([Effect::ReadAgain { until: self.last_day() }]))
    }

    /// Puts a file that was left out aside.
    pub(super) fn put_file_aside(&self, file: &Path) -> Result<Done, Refusal> {
        self.left_out_as(file)?;
        self.have_put_aside(file)
    }

    /// Takes a file in instead of the other one of the same visit.
    pub(super) fn keep_file(&self, file: &Path) -> Result<Done, Refusal> {
        match &self.left_out_as(file)?.instead {
            Some(other) => self.have_put_aside(other),
            None => Err(Refusal::NotHere("There is no other file of this visit to choose from.".to_owned())),
        }
    }

    /// Settles what was set up in two ways, each as chosen.
    pub(super) fn settle_set_up(&self, chosen: Vec<Side>) -> Result<Done, Refusal> {
        self.may_write()?;
        self.no_visit_open()?;
        if chosen.len() != self.differences.len() || chosen.is_empty() {
            return Err(Refusal::NotHere("There is nothing to choose any more.".to_owned()));
        }
        Ok(Done::default().with([Effect::Settle(chosen)]))
    }

    fn left_out_as(&self, file: &Path) -> Result<&LeftOut, Refusal> {
        let found = self.left_out.iter().find(|left_out| left_out.file == file);
        found.ok_or_else(|| Refusal::NotHere("That file is not left out any more.".to_owned()))
    }

    fn have_put_aside(&self, file: &Path) -> Result<Done, Refusal> {
        self.may_write()?;
        self.no_visit_open()?;
        if file == Path::new("yard.ron") {
            return Err(Refusal::Cannot(
                "It stands in yard.ron itself: take it out there by hand, then read again.".to_owned(),
            ));
        }
        Ok(Done::default().with([Effect::PutFileAside { file: file.to_owned(), until: self.last_day() }]))
    }

    /// The book was read again.
    pub(super) fn book_read(&mut self, book: Book, left_out: Vec<LeftOut>, aside: Option<PathBuf>) -> Done {
        if self.yards() != (Book { visits: Vec::new(), ..book.clone() }) {
            // They were changed by hand: what there was to undo was a change to something else.
            self.set_ups = (Vec::new(), Vec::new());
        }
        self.book = book;
        self.left_out = left_out;
        self.fold_anew();
        let stands = aside.map(|file| format!("It is kept as {}. ", file_words(&file))).unwrap_or_default();
        Done::saying(match self.left_out.len() {
            0 if !self.differences.is_empty() => {
                format!("{stands}Every file is taken in; there is still something to choose.")
            }
            0 => format!("{stands}Every file is taken in."),
            count => format!("{stands}Read again: {} left out.", wording::count(count, "file")),
        })
    }
}
