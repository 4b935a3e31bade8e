//! The pad's file: what was typed and not logged, line by line, beside the drafts.
//!
//! A line is handed to the system and not waited for: it survives a program that is killed at any key. A power loss may
//! cost the last of what was typed; what was logged is in the draft, which waits for the disk.

use std::path::{Path, PathBuf};

use super::book_folder::BookFolder;
use super::disk::OpenFile;
use super::error::StoreError;
use super::files::{self, Files, Wait};
use super::parse;
use crate::model::PadLine;

/// The file that is being written.
#[derive(Debug)]
pub struct Pad {
    files: Files,
    /// The book's folder; none for the first steps, which make one.
    book: Option<PathBuf>,
    path: PathBuf,
    file: Option<Box<dyn OpenFile>>,
    /// Octets appended since it was last written anew.
    appended: usize,
}

/// Its file's name.
pub(super) const PAD: &str = "pad.lines";
/// The most that is appended before the lines that no longer stand are left out.
const BOUND: usize = 256 * 1024;

impl BookFolder {
    /// The book's pad, and the lines in it; lines that cannot be read are left out.
    ///
    /// # Errors
    /// Where it cannot be read, or is a link.
    pub fn pad(&self) -> Result<(Pad, Vec<PadLine>), StoreError> {
        let path = self.folder().join("drafts").join(PAD);
        Pad::read(self.files().clone(), Some(self.folder().to_owned()), path)
    }
}

impl Pad {
    /// The pad of the first steps, where there is no book yet, and the lines in it.
    ///
    /// # Errors
    /// Where it cannot be read, or is a link.
    pub fn of_first_steps(data: &Path) -> Result<(Self, Vec<PadLine>), StoreError> {
        Self::read(Files::default(), None, data.join("first-steps.lines"))
    }

    fn read(files: Files, book: Option<PathBuf>, path: PathBuf) -> Result<(Self, Vec<PadLine>), StoreError> {
        let pad = Self { files, book, path, file: None, appended: 0 };
        pad.files.refuse_link(&pad.path)?;
        if !pad.files.is_there(&pad.path)? {
            return Ok((pad, Vec::new()));
        }
        let text = pad.files.read_torn(&pad.path)?;
        let lines = text.lines().filter_map(parse::from_line).collect();
        Ok((pad, lines))
    }

    /// Whether so much was appended that the file should be written anew.
    pub fn is_full(&self) -> bool {
        self.appended > BOUND
    }

    /// Appends a line.
    ///
    /// # Errors
    /// Where the disk refuses, or the book's folder is gone.
    pub fn append(&mut self, line: &PadLine) -> Result<(), StoreError> {
        let text = format!("{}\n", parse::to_line(line, &self.path)?);
        let done = self.try_append(&text, wait_for(line));
        if done.is_err() {
            self.file = None;
        }
        done
    }

    fn try_append(&mut self, text: &str, wait: Wait) -> Result<(), StoreError> {
        if self.file.is_some() && !self.files.is_there(&self.path)? {
            self.file = None;
        }
        if self.file.is_none() {
            if let Some(book) = &self.book
                && !self.files.is_there(&book.join("yard.ron"))?
            {
                return Err(StoreError::Gone { path: book.clone() });
            }
            if let Some(folder) = self.path.parent() {
                self.files.make_folder(folder)?;
            }
            let mut file = self.files.open_append(&self.path)?;
            // What was cut short before must not run into this line.
            files::append(file.as_mut(), &self.path, "\n", Wait::No)?;
            self.file = Some(file);
        }
        if let Some(file) = &mut self.file {
            files::append(file.as_mut(), &self.path, text, wait)?;
            self.appended += text.len();
        }
        Ok(())
    }

    /// Writes it anew with these lines alone.
    ///
    /// # Errors
    /// Where the disk refuses; then the former file holds.
    pub fn write_anew(&mut self, lines: &[PadLine]) -> Result<(), StoreError> {
        self.file = None;
        self.appended = 0;
        if lines.is_empty() {
            return if self.files.is_there(&self.path)? { self.files.remove(&self.path) } else { Ok(()) };
        }
        let mut text = String::new();
        for line in lines {
            text.push_str(&parse::to_line(line, &self.path)?);
            text.push('\n');
        }
        self.files.replace(&self.path, &text)
    }
}

/// What is typed costs no wait at each key; what was done on purpose, a tick or a pin, waits for its data.
fn wait_for(line: &PadLine) -> Wait {
    match line {
        PadLine::Typed(_) | PadLine::Done(_) => Wait::No,
        PadLine::Day { .. } => Wait::Data,
    }
}
