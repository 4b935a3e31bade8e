//! Visits that were left unfinished: drafts in the book, those put aside, and those kept elsewhere while the book's disk
//! refused. None is ever dropped: each can be taken up, or says why it cannot.

use std::path::{Path, PathBuf};

use super::book_folder::{BookFolder, safe_stem};
use super::draft::{self, Draft};
use super::error::StoreError;
use crate::model::{DraftStep, LeftDraft, LeftVisit, VisitId};

/// The folders in which a visit is kept while the book's disk refuses, all of them the user's own: where programs keep their
/// state, then beside the books.
pub fn emergency_folders(data: Option<&Path>) -> Vec<PathBuf> {
    let state = directories::ProjectDirs::from("", "", "yardwalk")
        .map(|dirs| dirs.state_dir().unwrap_or_else(|| dirs.data_local_dir()).to_owned());
    state.iter().map(PathBuf::as_path).chain(data).map(|folder| folder.join("emergency")).collect()
}

impl BookFolder {
    /// A draft of a visit, not written yet.
    pub fn draft_of(&self, visit: &VisitId) -> Draft {
        let path = self.folder().join("drafts").join(format!("{}.ron", safe_stem(visit)));
        Draft::new(self.files(), self.folder(), path)
    }

    /// The drafts that were left, the newest first: those of the book, and those of it in the emergency folders.
    ///
    /// # Errors
    /// Where the book's own folder of drafts cannot be listed.
    pub fn left_drafts(&self, emergency: &[PathBuf]) -> Result<Vec<LeftDraft>, StoreError> {
        let drafts = self.folder().join("drafts");
        self.files().refuse_link(&drafts)?;
        let mut found: Vec<LeftDraft> =
            self.files().list(&drafts)?.into_iter().filter_map(|path| self.look_into(path)).collect();
        for folder in emergency {
            for path in self.files().list(folder).unwrap_or_default() {
                if self.is_of_this_book(&path) {
                    found.extend(self.look_into(path));
                }
            }
        }
        // Of two of the same visit the one with more in it.
        found
            .sort_by_key(|left| std::cmp::Reverse(left.visit.as_ref().ok().map(|v| (v.id.clone(), v.steps))));
        found.dedup_by(|later, first| match (&later.visit, &first.visit) {
            (Ok(later_visit), Ok(visit)) => later_visit.id == visit.id && !later.is_aside && !first.is_aside,
            _ => false,
        });
        Ok(found)
    }

    fn look_into(&self, path: PathBuf) -> Option<LeftDraft> {
        let name = path.file_name()?.to_string_lossy().into_owned();
        let is_aside = name.contains(".ron.left");
        let is_draft = is_aside || path.extension().is_some_and(|e| e == "ron");
        if name.starts_with('.') || !is_draft {
            return None;
        }
        let visit = match draft::read(self.files(), &path) {
            Ok(read) => {
                let steps = read.steps.len();
                let head = read.steps.into_iter().find_map(|step| match step {
                    DraftStep::Head(head) => Some(head),
                    _ => None,
                });
                head.map(|head| LeftVisit { id: head.id, yard: head.yard, on: head.on, steps })
                    .ok_or_else(|| "nothing was written in it yet".to_owned())
            }
            Err(err) => Err(err.with_cause()),
        };
        Some(LeftDraft { path, is_aside, visit })
    }

    fn is_of_this_book(&self, path: &Path) -> bool {
        let own = self.folder().display().to_string();
        draft::read(self.files(), path)
            .is_ok_and(|read| read.steps.iter().any(|s| matches!(s, DraftStep::Of(book) if *book == own)))
    }

    /// Takes up a draft that was left, of a visit of that name.
    ///
    /// # Errors
    /// Where it cannot be read or written anew; then it stays where it is.
    pub fn take_up(&self, path: &Path, visit: &VisitId) -> Result<Draft, StoreError> {
        let read = draft::read(self.files(), path)?;
        let mut draft = self.draft_of(visit);
        draft.take_up(read, path)?;
        Ok(draft)
    }
}
