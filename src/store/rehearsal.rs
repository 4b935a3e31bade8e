//! A rehearsal beside its book, in `rehearsal.ron`, and the scenarios of a folder.

use std::path::Path;

use super::book_folder::BookFolder;
use super::error::StoreError;
use super::files::Files;
use super::parse;
use crate::model::{Rehearsal, Scenario};

/// Its file in the book's folder.
const FILE: &str = "rehearsal.ron";

impl BookFolder {
    /// The rehearsal this book is of; none where it is a book of real hives.
    ///
    /// # Errors
    /// Where its file cannot be read.
    pub fn rehearsal(&self) -> Result<Option<Rehearsal>, StoreError> {
        rehearsal_in(self.folder())
    }

    /// Writes how far the rehearsal has come.
    ///
    /// # Errors
    /// Where the disk refuses; the former file stands.
    pub fn save_rehearsal(&self, rehearsal: &Rehearsal) -> Result<(), StoreError> {
        let path = self.folder().join(FILE);
        self.files().replace(&path, &parse::to_text(rehearsal, &path)?)
    }
}

/// The rehearsal of a book's folder; none where there is none.
///
/// # Errors
/// Where its file cannot be read.
pub fn rehearsal_in(folder: &Path) -> Result<Option<Rehearsal>, StoreError> {
    let path = folder.join(FILE);
    let files = Files::default();
    if !files.is_there(&path)? {
        return Ok(None);
    }
    parse::from_ron(&files.read_small(&path)?, &path).map(Some)
}

/// A scenario from its text; `path` is where it is from.
///
/// # Errors
/// Where it cannot be read, or cannot be played.
pub fn scenario_from_text(text: &str, path: &Path) -> Result<Scenario, StoreError> {
    let scenario: Scenario = parse::from_ron(text, path)?;
    match scenario.fault() {
        Some(fault) => Err(StoreError::Scenario { path: path.to_owned(), fault }),
        None => Ok(scenario),
    }
}

/// A scenario from a file.
///
/// # Errors
/// Where it cannot be read, or cannot be played.
pub fn read_scenario(path: &Path) -> Result<Scenario, StoreError> {
    scenario_from_text(&Files::default().read_small(path)?, path)
}
