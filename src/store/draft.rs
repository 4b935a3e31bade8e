//! The visit in progress: an append-only file, on the disk at every step.
//!
//! Each line is one step; the last word on each hive stands. A line cut short by a power loss is left out, the
//! lines before it hold.

use std::fs::File;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::{files, parse};
use crate::model::{Entry, HiveId, Visit};

/// One step of a visit in progress.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[allow(clippy::large_enum_variant, reason = "a step lives for one line of a file")]
pub enum DraftStep {
    /// The visit's head: yard, day, weather; its entries are empty.
    Head(Visit),
    /// The day's queue, as it stands.
    Queue {
        /// The hives, those that need something first.
        hives: Vec<HiveId>,
        /// How many of them need something.
        due: usize,
    },
    /// What is written of a hive now.
    Entry(Entry),
    /// The hive and the field the keeper is at.
    At {
        /// The hive.
        hive: HiveId,
        /// The field, by its place on the screen.
        field: usize,
    },
    /// A hive is done with.
    Finished(HiveId),
}

/// An open draft.
#[derive(Debug)]
pub struct Draft {
    path: PathBuf,
    file: File,
}

impl Draft {
    pub(super) fn begin(path: &Path) -> Result<Self, StoreError> {
        if let Some(folder) = path.parent() {
            files::make_folder(folder)?;
        }
        let file = files::open_append(path)?;
        files::sync_folder_of(path)?;
        Ok(Self { path: path.to_owned(), file })
    }

    /// Opens a draft that was left, with its steps.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn resume(path: &Path) -> Result<(Self, Vec<DraftStep>), StoreError> {
        let text = files::read_text(path)?;
        let steps = text.lines().filter_map(parse::from_line).collect();
        let mut file = files::open_append(path)?;
        if !text.is_empty() && !text.ends_with('\n') {
            // The last line was cut short: close it off, so that the next step is a line of its own.
            files::append_line(&mut file, path, "")?;
        }
        Ok((Self { path: path.to_owned(), file }, steps))
    }

    /// Puts a step on the disk. Where the keeper stands is handed to the system and not waited for: it survives a
    /// killed program, and a power loss costs the place of the cursor only.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn append(&mut self, step: &DraftStep) -> Result<(), StoreError> {
        let line = parse::to_line(step, &self.path)?;
        match step {
            DraftStep::At { .. } => files::append_unsynced(&mut self.file, &self.path, &line),
            DraftStep::Head(_) | DraftStep::Queue { .. } | DraftStep::Entry(_) | DraftStep::Finished(_) => {
                files::append_line(&mut self.file, &self.path, &line)
            }
        }
    }

    /// Removes the draft, its visit being safe in a file of its own.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn finish(self) -> Result<(), StoreError> {
        files::remove(&self.path)
    }

    /// Puts the draft out of the way without losing it: its name gets the ending `.left`.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn set_aside(self) -> Result<(), StoreError> {
        files::rename(&self.path, &self.path.with_extension("ron.left"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    #[test]
    fn steps_come_back_and_a_torn_line_costs_only_itself() {
        let root = tempfile::tempdir().unwrap();
        let path = root.path().join("drafts/a.ron");
        let mut draft = Draft::begin(&path).unwrap();
        let steps = [
            DraftStep::Queue { hives: vec![HiveId::new("C1")], due: 1 },
            DraftStep::Entry(Entry { note: "two\nlines".to_owned(), ..Entry::blank(HiveId::new("C1")) }),
            DraftStep::At { hive: HiveId::new("C1"), field: 3 },
        ];
        for step in &steps {
            draft.append(step).unwrap();
        }
        drop(draft);
        files::open_append(&path).unwrap().write_all(b"Entry((hive:\"C").unwrap();
        let (mut draft, read) = Draft::resume(&path).unwrap();
        assert_eq!(read, steps);
        draft.append(&DraftStep::Finished(HiveId::new("C1"))).unwrap();
        drop(draft);
        let (draft, read) = Draft::resume(&path).unwrap();
        assert_eq!(read.len(), 4);
        draft.finish().unwrap();
        assert!(!path.exists());
    }
}
