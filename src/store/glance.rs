//! The first screen of a book as it was last drawn, kept in the cache: it can be shown before the book is read.
//!
//! It holds for its day, for the book's files and its pad as they were, and where nothing else is told at a start: no visit was
//! left unfinished, and no other window has the book. That is found out by looking at files, not by reading them.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::book_folder::BookFolder;
use super::files::Files;
use super::pad::PAD;
use super::snapshot::Stamp;
use super::{lock, reading};

/// Its name in the cache.
const GLANCE: &str = "glance";

impl Files {
    /// The first screen of a book on a day, as it was kept; none where something it was drawn from has changed since. `today`
    /// is the clock's day, which bounds the log; `T` is what was kept.
    pub fn glance<T: DeserializeOwned>(
        &self,
        folder: &Path,
        on: NaiveDate,
        today: NaiveDate,
        emergency: &[PathBuf],
    ) -> Option<T> {
        if !lies_still(self, folder, emergency) || !lock::is_free(folder) {
            return None;
        }
        reading::look_over(self, folder, today);
        let (pad, kept): (Option<Stamp>, T) = self.learned(folder, GLANCE, on)?;
        (pad == self.stamp(&pad_in(folder))).then_some(kept)
    }
}

impl BookFolder {
    /// Keeps the first screen of a day for the next start.
    pub fn keep_glance<T: Serialize>(&self, on: NaiveDate, emergency: &[PathBuf], what: &T) {
        if lies_still(self.files(), self.folder(), emergency) {
            self.keep_learned(GLANCE, on, &(self.files().stamp(&pad_in(self.folder())), what));
        }
    }
}

fn pad_in(folder: &Path) -> PathBuf {
    folder.join("drafts").join(PAD)
}

/// Whether nothing was left of a visit, in the book or beside it.
fn lies_still(files: &Files, folder: &Path, emergency: &[PathBuf]) -> bool {
    let is_of_no_account = |path: &PathBuf| {
        path.file_name().is_some_and(|name| name == PAD || name.as_encoded_bytes().starts_with(b"."))
    };
    let is_still = |folder: &Path| files.list(folder).is_ok_and(|all| all.iter().all(is_of_no_account));
    is_still(&folder.join("drafts")) && emergency.iter().all(|folder| is_still(folder))
}
