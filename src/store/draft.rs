//! The visit in progress: an append-only file, on the disk at every step.
//!
//! Each line is one step; the last word on each hive stands. A line cut short by a power loss is left out, the
//! lines before it hold. Every step is kept in memory too, so that a draft the disk refused can be written anew.

use std::path::{Path, PathBuf};

use super::disk::OpenFile;
use super::error::StoreError;
use super::files::{self, Files, LARGEST_DRAFT, Wait};
use super::parse;
use crate::model::{DraftStep, FORMAT};

/// How long a step waits for the disk: a field for its data, a hive for all of it. Where the keeper stands is handed to the
/// system and not waited for: it survives a killed program, and a power loss costs the place of the cursor only.
fn wait_for(step: &DraftStep) -> Wait {
    match step {
        DraftStep::At { .. } => Wait::No,
        DraftStep::Finished(_) => Wait::All,
        DraftStep::Format(_)
        | DraftStep::Of(_)
        | DraftStep::Head(_)
        | DraftStep::Queue { .. }
        | DraftStep::Entry(_)
        | DraftStep::Changed(_)
        | DraftStep::Weather { .. }
        | DraftStep::Undone
        | DraftStep::Redone => Wait::Data,
    }
}

/// An open draft.
#[derive(Debug)]
pub struct Draft {
    files: Files,
    /// The book's folder.
    book: PathBuf,
    path: PathBuf,
    /// The file, while the disk takes what is written.
    file: Option<Box<dyn OpenFile>>,
    /// Every step of the visit.
    steps: Vec<DraftStep>,
    /// How many of them the disk has.
    written: usize,
    /// The file beside the book that keeps it while the book's disk refuses.
    emergency: Option<PathBuf>,
}

/// A draft as it was read.
#[derive(Debug)]
pub(super) struct ReadDraft {
    pub(super) steps: Vec<DraftStep>,
    /// Whether it holds lines that could not be read.
    pub(super) has_unread: bool,
}

/// Reads a draft and touches nothing.
///
/// # Errors
/// Where it cannot be read, or is of a newer format.
pub(super) fn read(files: &Files, path: &Path) -> Result<ReadDraft, StoreError> {
    files.refuse_link(path)?;
    from_text(&files.read_torn(path)?, path)
}

/// The steps of a draft's text; lines that are none are left out. `path` is for errors.
///
/// # Errors
/// Where it is of a newer format.
pub fn steps_from_text(text: &str, path: &Path) -> Result<Vec<DraftStep>, StoreError> {
    from_text(text, path).map(|read| read.steps)
}

fn from_text(text: &str, path: &Path) -> Result<ReadDraft, StoreError> {
    let mut steps = Vec::new();
    let mut has_unread = false;
    // A draft without a format is of the first.
    let mut format = 1;
    for line in text.split_inclusive('\n').filter(|line| *line != "\n") {
        match parse::from_line(line) {
            Some(DraftStep::Format(found)) if found > FORMAT => {
                return Err(StoreError::Newer { path: path.to_owned(), found, known: FORMAT });
            }
            Some(step) => {
                if let DraftStep::Format(found) = step {
                    format = found;
                }
                steps.push(step.brought_up_from(format));
            }
            // A last line without its end was never whole: nothing is lost with it.
            None => has_unread |= line.ends_with('\n'),
        }
    }
    Ok(ReadDraft { steps, has_unread })
}

impl Draft {
    /// A draft that is yet to be written.
    pub(super) fn new(files: &Files, book: &Path, path: PathBuf) -> Self {
        Self {
            files: files.clone(),
            book: book.to_owned(),
            path,
            file: None,
            steps: vec![DraftStep::Format(FORMAT)],
            written: 0,
            emergency: None,
        }
    }

    /// Takes up a draft that was left. What was in it is written anew, so that a line cut short is gone; where lines could
    /// not be read the file is first kept under another name.
    pub(super) fn take_up(&mut self, read: ReadDraft, from: &Path) -> Result<(), StoreError> {
        let kept = |step: &DraftStep| !matches!(step, DraftStep::Format(_) | DraftStep::Of(_));
        self.steps.extend(read.steps.into_iter().filter(kept));
        if from != self.path {
            self.emergency = Some(from.to_owned());
        } else if read.has_unread {
            self.files.rename(from, &left_name(&self.files, from)?)?;
        }
        self.catch_up()
    }

    /// The steps so far.
    pub fn steps(&self) -> &[DraftStep] {
        &self.steps
    }

    /// Puts a step on the disk, and those before it that the disk did not take.
    ///
    /// # Errors
    /// Where the disk refuses: the step is kept in memory, and the next call tries again.
    pub fn append(&mut self, step: DraftStep) -> Result<(), StoreError> {
        self.steps.push(step);
        self.catch_up()
    }

    /// Puts on the disk what is not there yet.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn catch_up(&mut self) -> Result<(), StoreError> {
        let done = self.try_catch_up();
        if done.is_err() {
            // Half a line may stand in it: the next try writes it anew.
            self.file = None;
        }
        done
    }

    fn try_catch_up(&mut self) -> Result<(), StoreError> {
        if self.file.is_some() && !self.files.is_there(&self.path)? {
            // What is appended to a removed file goes nowhere.
            self.file = None;
        }
        let Some(file) = &mut self.file else { return self.write_anew() };
        let (mut text, mut wait) = (String::new(), Wait::No);
        for step in self.steps.iter().skip(self.written) {
            text.push_str(&parse::to_line(step, &self.path)?);
            text.push('\n');
            wait = wait.max(wait_for(step));
        }
        files::append(file.as_mut(), &self.path, &text, wait)?;
        self.written = self.steps.len();
        Ok(())
    }

    fn write_anew(&mut self) -> Result<(), StoreError> {
        if !self.files.is_there(&self.book.join("yard.ron"))? {
            // An empty place where a stick was: nothing is to be written there.
            return Err(StoreError::Gone { path: self.book.clone() });
        }
        self.files.replace(&self.path, &self.text(None)?)?;
        self.file = Some(self.files.open_append(&self.path)?);
        self.written = self.steps.len();
        if let Some(emergency) = self.emergency.take() {
            let _ = self.files.remove(&emergency);
        }
        Ok(())
    }

    fn text(&self, of: Option<&Path>) -> Result<String, StoreError> {
        let of = of.map(|book| DraftStep::Of(book.display().to_string()));
        let (first, rest) = self.steps.split_at(self.steps.len().min(1));
        let mut text = String::new();
        for step in first.iter().chain(&of).chain(rest) {
            text.push_str(&parse::to_line(step, &self.path)?);
            text.push('\n');
        }
        Ok(text)
    }

    /// Keeps the visit in a file elsewhere while the book's disk refuses: in the first folder that takes it.
    pub fn rescue(&mut self, folders: &[PathBuf]) -> Option<&Path> {
        let name = self.path.file_name()?.to_owned();
        let text = self.text(Some(&self.book)).ok().filter(|text| text.len() as u64 <= LARGEST_DRAFT)?;
        self.emergency =
            folders.iter().map(|f| f.join(&name)).find(|path| self.files.replace(path, &text).is_ok());
        self.emergency.as_deref()
    }

    /// Removes the draft, its visit being safe in a file of its own.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn finish(self) -> Result<(), StoreError> {
        if let Some(emergency) = &self.emergency {
            self.files.remove(emergency)?;
        }
        if self.files.is_there(&self.path)? { self.files.remove(&self.path) } else { Ok(()) }
    }

    /// Puts the draft out of the way without losing it: its name gets the ending `.left`.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn set_aside(&mut self) -> Result<(), StoreError> {
        self.catch_up()?;
        self.files.rename(&self.path, &left_name(&self.files, &self.path)?)
    }
}

/// A free name for a draft that is put out of the way: `NAME.ron.left`, `NAME.ron.left2` and so on.
fn left_name(files: &Files, path: &Path) -> Result<PathBuf, StoreError> {
    let first = path.with_extension("ron.left");
    let mut name = first.clone();
    let mut number = 2;
    while files.is_there(&name)? {
        name = first.with_extension(format!("left{number}"));
        number += 1;
    }
    Ok(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Entry, HiveId};

    #[test]
    fn steps_come_back_and_a_torn_line_costs_only_itself() {
        let root = tempfile::tempdir().unwrap();
        let files = Files::default();
        files.write_new(&root.path().join("yard.ron"), "here").unwrap();
        let path = root.path().join("drafts/a.ron");
        let mut draft = Draft::new(&files, root.path(), path.clone());
        let steps = [
            DraftStep::Queue { hives: vec![HiveId::new("C1")], due: 1 },
            DraftStep::Changed(Entry { note: "two\nlines".to_owned(), ..Entry::blank(HiveId::new("C1")) }),
            DraftStep::At { hive: HiveId::new("C1"), field: 3 },
        ];
        for step in &steps {
            draft.append(step.clone()).unwrap();
        }
        drop(draft);
        files.open_append(&path).unwrap().write_all(b"Entry((hive:\"C").unwrap();
        let again = read(&files, &path).unwrap();
        assert!(!again.has_unread, "a torn line was never whole");
        assert_eq!(again.steps[1..], steps);
        let mut draft = Draft::new(&files, root.path(), path.clone());
        draft.take_up(again, &path).unwrap();
        draft.append(DraftStep::Finished(HiveId::new("C1"))).unwrap();
        drop(draft);
        let again = read(&files, &path).unwrap();
        assert_eq!((again.steps.len(), again.has_unread), (5, false));
    }

    #[test]
    fn lines_nobody_can_read_are_kept_under_another_name() {
        let root = tempfile::tempdir().unwrap();
        let files = Files::default();
        files.write_new(&root.path().join("yard.ron"), "here").unwrap();
        let path = root.path().join("drafts/a.ron");
        files.write_new(&path, "Format(1)\nWeighed(3)\nFinished(\"C1\")\n").unwrap();
        files.write_new(&root.path().join("drafts/a.ron.left"), "an older one").unwrap();
        let again = read(&files, &path).unwrap();
        assert!(again.has_unread);
        let mut draft = Draft::new(&files, root.path(), path.clone());
        draft.take_up(again, &path).unwrap();
        draft.finish().unwrap();
        let kept = files.read_text(&root.path().join("drafts/a.ron.left2")).unwrap();
        assert!(kept.contains("Weighed(3)"), "{kept}");
        assert_eq!(files.read_text(&root.path().join("drafts/a.ron.left")).unwrap(), "an older one");
        // A torn last line does not hide one in the midst.
        let torn = from_text("Weighed(3)\nUndone\nFinished(\"C", &path).unwrap();
        assert!(torn.has_unread && torn.steps == [DraftStep::Undone]);
        let whole = from_text("Weighed(3)\nUndone", &path).unwrap();
        assert!(whole.has_unread && whole.steps == [DraftStep::Undone]);
        files.write_new(&path, "Format(99)\n").unwrap();
        assert!(matches!(read(&files, &path), Err(StoreError::Newer { found: 99, .. })));
    }
}
