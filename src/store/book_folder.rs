//! A book on the disk: `yard.ron`, and one file a visit, written once and never rewritten.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::disk::TEMPORARY;
use super::error::StoreError;
use super::files::Files;
use super::versions::{self, Saved, SetUp};
use super::{lock, parse, reading};
use crate::model::{Book, Difference, Fault, FaultAt, LeftOut, Side, Visit, VisitId};

/// Where a book was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A book folder.
    Folder(PathBuf),
    /// A whole-book file.
    File(PathBuf),
}

impl Source {
    /// The file its yards are in.
    pub fn file(&self) -> PathBuf {
        match self {
            Self::File(path) => path.clone(),
            Self::Folder(path) => path.join("yard.ron"),
        }
    }

    /// The folder or file.
    pub fn path(&self) -> &Path {
        match self {
            Self::Folder(path) | Self::File(path) => path,
        }
    }
}

/// The folder that holds all books of this user: `yardwalk` in the platform's data folder.
///
/// # Errors
/// Where no home folder is known.
pub fn data_folder() -> Result<PathBuf, StoreError> {
    directories::ProjectDirs::from("", "", "yardwalk")
        .map(|dirs| dirs.data_dir().to_owned())
        .ok_or(StoreError::NoHome)
}

/// The book folders of a data folder; the scratch books are not among them.
///
/// # Errors
/// Where the folder cannot be listed.
pub fn books_in(data: &Path) -> Result<Vec<PathBuf>, StoreError> {
    Ok(Files::default().list(data)?.into_iter().filter(|p| p.join("yard.ron").is_file()).collect())
}

/// A book folder that is open for writing.
#[derive(Debug)]
pub struct BookFolder {
    folder: PathBuf,
    files: Files,
    /// Visits' files that were put in place though the disk then refused: a later try may write them anew.
    unsure: RefCell<BTreeSet<PathBuf>>,
    /// Files that were not taken in when it was read.
    left_out: Vec<LeftOut>,
    /// The yards as they were read or written last, on top of which the next change is made.
    set_up: RefCell<Option<SetUp>>,
}

impl BookFolder {
    /// Opens a book folder and reads it: all of it that holds together. What does not is left out, and told by
    /// [`Self::left_out`].
    ///
    /// # Errors
    /// Where `yard.ron` cannot be read or does not hold together.
    pub fn open(folder: &Path, today: NaiveDate) -> Result<(Self, Book), StoreError> {
        Self::open_on(Files::default(), folder, today)
    }

    /// The same on a disk of one's own.
    ///
    /// # Errors
    /// Where `yard.ron` cannot be read or does not hold together.
    pub fn open_on(files: Files, folder: &Path, today: NaiveDate) -> Result<(Self, Book), StoreError> {
        let (book, left_out, set_up) = reading::read_folder(&files, folder, today)?;
        let set_up = RefCell::new(Some(set_up));
        Ok((Self { left_out, set_up, ..Self::at(folder, files) }, book))
    }

    /// Makes a new book folder. Nothing that is there is written over.
    ///
    /// # Errors
    /// Where there is a `yard.ron` already, or the disk refuses.
    pub fn create(folder: &Path, book: &Book) -> Result<Self, StoreError> {
        Self::create_on(Files::default(), folder, book)
    }

    /// The same, and `step` hears of each visit that is written.
    ///
    /// # Errors
    /// Where there is a `yard.ron` already, or the disk refuses.
    pub fn create_watched(folder: &Path, book: &Book, step: &dyn Fn()) -> Result<Self, StoreError> {
        Self::created(Files::default(), folder, book, step)
    }

    /// The same on a disk of one's own.
    ///
    /// # Errors
    /// Where there is a `yard.ron` already, or the disk refuses.
    pub fn create_on(files: Files, folder: &Path, book: &Book) -> Result<Self, StoreError> {
        Self::created(files, folder, book, &|| ())
    }

    fn created(files: Files, folder: &Path, book: &Book, step: &dyn Fn()) -> Result<Self, StoreError> {
        if files.is_there(&folder.join("yard.ron"))? {
            return Err(StoreError::Taken { path: folder.join("yard.ron") });
        }
        let name = folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if name.is_empty() || !files.list(folder)?.is_empty() {
            // Among other things it is made where it is to be: its yards come last, and without them it is no book.
            let made = Self::at(folder, files);
            made.fill(book, step)?;
            return Ok(made);
        }
        let beside = folder.parent().unwrap_or(Path::new("."));
        files.make_folder(beside)?;
        let _one_at_a_time = lock::to_make_a_book_in(beside);
        if files.is_there(&folder.join("yard.ron"))? {
            return Err(StoreError::Taken { path: folder.join("yard.ron") });
        }
        // Beside its place, and put there whole: a kill leaves a folder of no consequence, and a second try begins anew.
        let making = folder.with_file_name(format!("{TEMPORARY}making-{name}"));
        files.refuse_link(&making)?;
        if files.is_there(&making)? {
            files.remove_folder(&making)?;
        }
        Self::at(&making, files.clone()).fill(book, step)?;
        files.rename(&making, folder)?;
        Ok(Self::at(folder, files))
    }

    /// Writes a whole book: its visits, and last the yards, without which there is none.
    fn fill(&self, book: &Book, step: &dyn Fn()) -> Result<(), StoreError> {
        for visit in &book.visits {
            self.write_visit(visit)?;
            step();
        }
        // What is of one laptop and of one day does not go into a history that is shared.
        match self.files.write_new(&self.folder.join(".gitignore"), &format!("/drafts/\n{TEMPORARY}*\n")) {
            Ok(()) | Err(StoreError::Taken { .. }) => {}
            Err(err) => return Err(err),
        }
        versions::begin(&self.files, &self.folder, book)
    }

    /// Removes what writing left half done, when a kill came between, and keeps the yards as they are now: what is changed in
    /// them by hand is told from that. For the one who holds the lock.
    pub fn sweep(&self) {
        if let Some(known) = self.set_up.borrow().as_ref() {
            // A disk that refuses it will say so where something is written that must be.
            let _ = versions::keep_heads(&self.files, &self.folder, known);
        }
        let visits = self.folder.join("visits");
        let years = self.files.list(&visits).unwrap_or_default();
        let own = ["drafts", "former", "aside"].map(|name| self.folder.join(name));
        for folder in [self.folder.clone(), visits].into_iter().chain(own).chain(years) {
            self.files.sweep(&folder);
        }
    }

    fn at(folder: &Path, files: Files) -> Self {
        Self {
            folder: folder.to_owned(),
            files,
            unsure: RefCell::default(),
            left_out: Vec::new(),
            set_up: RefCell::default(),
        }
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The files that were not taken in when it was read.
    pub fn left_out(&self) -> &[LeftOut] {
        &self.left_out
    }

    /// Reads the book again, as it lies on the disk now.
    ///
    /// # Errors
    /// Where `yard.ron` cannot be read or does not hold together, or the disk refuses a file; then what was read before holds.
    pub fn read_again(&mut self, today: NaiveDate) -> Result<Book, StoreError> {
        let (book, left_out, set_up) = reading::read_folder_whole(&self.files, &self.folder, today)?;
        self.left_out = left_out;
        self.set_up = RefCell::new(Some(set_up));
        Ok(book)
    }

    /// Puts a file of the book, named from its folder on, into the folder `aside`: nothing is deleted. Where it is now.
    ///
    /// # Errors
    /// Where the disk refuses, or `aside` is a link.
    pub fn put_aside(&self, file: &Path) -> Result<PathBuf, StoreError> {
        self.files.forget_state();
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if let Some(known) = self.set_up.borrow().as_ref() {
            // A copy of yard.ron may be the only place of what it holds.
            versions::keep_heads(&self.files, &self.folder, known)?;
        }
        let aside = self.folder.join("aside");
        self.files.refuse_link(&aside)?;
        self.files.make_folder(&aside)?;
        let free = self.files.free_name(&aside, &name)?;
        self.files.rename(&self.folder.join(file), &aside.join(&free))?;
        Ok(Path::new("aside").join(free))
    }

    /// Something learned of it, by its name, on the same day, where its files are as they were then; `T` is what was kept.
    pub fn learned<T: DeserializeOwned>(&self, name: &str, on: NaiveDate) -> Option<T> {
        self.files.learned(&self.folder, name, on)
    }

    /// Keeps in the cache something learned of it on a day, from its files as they were read.
    pub fn keep_learned<T: Serialize>(&self, name: &str, on: NaiveDate, what: &T) {
        self.files.keep_learned(&self.folder, name, on, what);
    }

    /// Keeps what was read of it in the cache, where it is on files that keep it: for a quiet moment.
    pub fn write_snapshot(&self) {
        self.files.write_snapshot();
    }

    /// The files it is on.
    pub(super) fn files(&self) -> &Files {
        &self.files
    }

    /// Writes a visit as a new file. One that is there already with the same words is as good: a former try may have been
    /// told of an error after the file was in its place.
    ///
    /// # Errors
    /// Where the book has gone or the disk refuses; then try again, and nothing stands twice.
    pub fn add_visit(&self, visit: &Visit) -> Result<PathBuf, StoreError> {
        if !self.files.is_there(&self.folder.join("yard.ron"))? {
            return Err(StoreError::Gone { path: self.folder.clone() });
        }
        self.write_visit(visit)
    }

    fn write_visit(&self, visit: &Visit) -> Result<PathBuf, StoreError> {
        self.files.forget_state();
        let path = self.visit_path(&visit.id, visit.on);
        for folder in path.ancestors().skip(1).take(2) {
            self.files.refuse_link(folder)?;
        }
        let text = parse::visit_to_text(visit, &path)?;
        let is_unsure = self.unsure.borrow().contains(&path);
        let written =
            if is_unsure { self.files.replace(&path, &text) } else { self.files.write_new(&path, &text) };
        match written {
            Err(StoreError::Taken { .. }) if self.files.read_text(&path)? == text => {
                self.files.sync_folder_of(&path)?;
            }
            Err(err @ StoreError::Taken { .. }) => return Err(err),
            Err(err) => {
                self.unsure.borrow_mut().insert(path);
                return Err(err);
            }
            Ok(()) => {}
        }
        self.unsure.borrow_mut().remove(&path);
        Ok(path)
    }

    /// Where two laptops, or a laptop and a hand, set up the same thing differently.
    pub fn differences(&self) -> Vec<Difference> {
        self.set_up.borrow().as_ref().map(|set_up| set_up.differences.clone()).unwrap_or_default()
    }

    /// Writes the yards, hives and practice. Every version is kept in `former/`; what was changed meanwhile, by hand or on
    /// another laptop, is joined with them.
    ///
    /// Visits that a hand-written `yard.ron` holds become files of their own first. Unless it `may_join` the joining waits for the
    /// next time: under a visit no yard may change its name.
    ///
    /// # Errors
    /// Where the disk refuses, or what stands in `yard.ron` meanwhile cannot be read; then it stands.
    pub fn save_yards(&self, book: &Book, may_join: bool) -> Result<Saved, StoreError> {
        self.files.forget_state();
        let path = self.folder.join("yard.ron");
        self.files.refuse_link(&path)?;
        let read = parse::book_from_text(&self.files.read_text(&path)?, &path)?;
        for visit in &read.visits {
            match self.add_visit(visit) {
                Ok(_) | Err(StoreError::Taken { .. }) => {}
                Err(err) => return Err(err),
            }
        }
        let known = self.set_up.borrow_mut().take();
        let known = match known {
            Some(known) => known,
            None => versions::read(&self.files, &self.folder, read)?,
        };
        match versions::save(&self.files, &self.folder, &known, book, may_join) {
            Ok((set_up, saved)) => {
                *self.set_up.borrow_mut() = Some(set_up);
                Ok(saved)
            }
            Err(err) => {
                *self.set_up.borrow_mut() = Some(known);
                Err(err)
            }
        }
    }

    /// Settles every difference as chosen, in their order; `None` where they are not the same any more.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn settle(&self, chosen: &[Side]) -> Result<Option<Saved>, StoreError> {
        self.files.forget_state();
        let Some(known) = self.set_up.borrow().clone() else { return Ok(None) };
        let settled = versions::settle(&self.files, &self.folder, &known, chosen)?;
        Ok(settled.map(|(set_up, saved)| {
            *self.set_up.borrow_mut() = Some(set_up);
            saved
        }))
    }

    /// How many comments written by hand stand in `yard.ron`: writing it anew takes them away.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn comments(&self) -> Result<usize, StoreError> {
        let path = self.folder.join("yard.ron");
        self.files.refuse_link(&path)?;
        Ok(parse::comments_in(&self.files.read_text(&path)?))
    }

    fn visit_path(&self, id: &VisitId, on: NaiveDate) -> PathBuf {
        self.folder.join("visits").join(on.format("%Y").to_string()).join(format!("{}.ron", safe_stem(id)))
    }
}

/// A visit's name as a file stem: whatever a hand-written name holds, it stays in its folder. Two names are never one stem.
pub(super) fn safe_stem(id: &VisitId) -> String {
    let stem: String =
        id.as_str().chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { '-' }).take(80).collect();
    let stem = stem.trim_matches('-');
    if stem == id.as_str() { stem.to_owned() } else { format!("{stem}-{:08x}", hash(id.as_str())) }
}

/// FNV-1a, 32 bits (Fowler, Noll and Vo): the same on every laptop and in every version.
pub(super) fn hash(text: &str) -> u32 {
    text.bytes().fold(0x811c_9dc5, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

/// Whether two books hold the same, whatever the order of their visits.
pub fn is_same(one: &Book, other: &Book) -> bool {
    let sorted = |book: &Book| {
        let mut book = book.clone();
        book.visits.sort_by(|a, b| a.id.cmp(&b.id));
        book
    };
    sorted(one) == sorted(other)
}

/// Writes a whole book to a file that must not be there yet, and reads it back.
///
/// # Errors
/// Where the file is there, the disk refuses, or what is read is not what was written.
pub fn write_backup(path: &Path, book: &Book) -> Result<(), StoreError> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let files = Files::default();
    files.write_new(&path, &parse::book_to_text(book, &path)?)?;
    let again = parse::book_from_text(&files.read_text(&path)?, &path)?;
    if is_same(&again, book) {
        Ok(())
    } else {
        let source = std::io::Error::other("what was read back is not what was written");
        Err(StoreError::Io { path, doing: "read it back", source })
    }
}

/// Refuses a book that does not hold together, with its first fault.
///
/// # Errors
/// The first fault, with the number of the others.
pub fn refuse_faults(book: &Book, source: &Source, today: NaiveDate) -> Result<(), StoreError> {
    let mut faults = book.faults(book.last_day(today));
    if faults.is_empty() {
        return Ok(());
    }
    let more = faults.len() - 1;
    let Fault { at, what, mend } = faults.swap_remove(0);
    let what = match &at {
        FaultAt::Visit(id) => format!("visit `{id}` {what}"),
        FaultAt::Yards => what,
    };
    Err(StoreError::Faulty { path: source.file(), what, mend, more })
}

#[cfg(test)]
mod tests;
