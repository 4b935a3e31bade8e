//! A book on the disk: `yard.ron`, and one file a visit, written once and never rewritten.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::error::StoreError;
use super::files::Files;
use super::parse;
use crate::model::{Book, Fault, FaultAt, Visit, VisitId};

/// Where a book was read from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A book folder.
    Folder(PathBuf),
    /// A whole-book file.
    File(PathBuf),
}

impl Source {
    /// The file a fault is in.
    pub fn file_of(&self, place: &FaultAt) -> PathBuf {
        match (self, place) {
            (Self::File(path), _) => path.clone(),
            (Self::Folder(path), FaultAt::Yards) => path.join("yard.ron"),
            (Self::Folder(path), FaultAt::Visit(id)) => path.join("visits").join(format!("{id}.ron")),
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

/// Reads a book folder or a whole-book file, without checking that it holds together.
///
/// # Errors
/// The first file that cannot be read or parsed.
pub fn read(path: &Path) -> Result<(Book, Source), StoreError> {
    let (book, source, mut unread) = read_all(path)?;
    if unread.is_empty() { Ok((book, source)) } else { Err(unread.swap_remove(0)) }
}

/// Reads as much of a book as can be read, with an error for each file that cannot: for a check.
///
/// # Errors
/// Where there is no book, or its yards cannot be read: without them no visit makes sense.
pub fn read_all(path: &Path) -> Result<(Book, Source, Vec<StoreError>), StoreError> {
    let files = Files::default();
    if path.is_file() {
        let book = parse::book_from_text(&files.read_text(path)?, path)?;
        return Ok((book, Source::File(path.to_owned()), Vec::new()));
    }
    let (book, unread) = read_folder(&files, path)?;
    Ok((book, Source::Folder(path.to_owned()), unread))
}

fn read_folder(files: &Files, path: &Path) -> Result<(Book, Vec<StoreError>), StoreError> {
    let yard_file = path.join("yard.ron");
    files.refuse_link(&yard_file)?;
    if !files.is_there(&yard_file)? {
        return Err(StoreError::NoBook { path: path.to_owned() });
    }
    let mut book = parse::book_from_text(&files.read_text(&yard_file)?, &yard_file)?;
    let mut unread = Vec::new();
    for file in visit_files(files, path)? {
        let text = files.refuse_link(&file).and_then(|()| files.read_text(&file));
        match text.and_then(|text| parse::visit_from_text(&text, &file)) {
            Ok(visit) => book.visits.push(visit),
            Err(err) => unread.push(err),
        }
    }
    Ok((book.under_present_names(), unread))
}

/// The book folders of a data folder; the scratch books are not among them.
///
/// # Errors
/// Where the folder cannot be listed.
pub fn books_in(data: &Path) -> Result<Vec<PathBuf>, StoreError> {
    Ok(Files::default().list(data)?.into_iter().filter(|p| p.join("yard.ron").is_file()).collect())
}

/// The visit files of a book folder: `visits/YEAR/*.ron`, whatever else lies about.
fn visit_files(files: &Files, folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let mut found = Vec::new();
    let visits = folder.join("visits");
    files.refuse_link(&visits)?;
    for year in files.list(&visits)?.into_iter().filter(|p| p.is_dir()) {
        files.refuse_link(&year)?;
        found.extend(files.list(&year)?.into_iter().filter(|p| {
            p.extension().is_some_and(|e| e == "ron")
                && !p.file_name().is_some_and(|n| n.to_string_lossy().starts_with('.'))
        }));
    }
    Ok(found)
}

/// Versions of `yard.ron` that are kept beside the one that holds.
const FORMER: usize = 10;

/// A book folder that is open for writing.
#[derive(Debug)]
pub struct BookFolder {
    folder: PathBuf,
    files: Files,
    /// Visits' files that were put in place though the disk then refused: a later try may write them anew.
    unsure: RefCell<BTreeSet<PathBuf>>,
}

impl BookFolder {
    /// Opens a book folder and reads it; refused where the book does not hold together.
    ///
    /// # Errors
    /// The first file that cannot be read, or the first fault.
    pub fn open(folder: &Path, today: NaiveDate) -> Result<(Self, Book), StoreError> {
        Self::open_on(Files::default(), folder, today)
    }

    /// The same on a disk of one's own.
    ///
    /// # Errors
    /// The first file that cannot be read, or the first fault.
    pub fn open_on(files: Files, folder: &Path, today: NaiveDate) -> Result<(Self, Book), StoreError> {
        let (book, mut unread) = read_folder(&files, folder)?;
        if !unread.is_empty() {
            return Err(unread.swap_remove(0));
        }
        refuse_faults(&book, &Source::Folder(folder.to_owned()), today)?;
        Ok((Self::at(folder, files), book))
    }

    /// Makes a new book folder. Nothing that is there is written over.
    ///
    /// # Errors
    /// Where there is a `yard.ron` already, or the disk refuses.
    pub fn create(folder: &Path, book: &Book) -> Result<Self, StoreError> {
        Self::create_on(Files::default(), folder, book)
    }

    /// The same on a disk of one's own.
    ///
    /// # Errors
    /// Where there is a `yard.ron` already, or the disk refuses.
    pub fn create_on(files: Files, folder: &Path, book: &Book) -> Result<Self, StoreError> {
        let this = Self::at(folder, files);
        for visit in &book.visits {
            this.write_visit(visit)?;
        }
        let yards = Book { visits: Vec::new(), ..book.clone() };
        let path = folder.join("yard.ron");
        this.files.write_new(&path, &parse::book_to_text(&yards, &path)?)?;
        Ok(this)
    }

    fn at(folder: &Path, files: Files) -> Self {
        Self { folder: folder.to_owned(), files, unsure: RefCell::default() }
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
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

    /// Writes the yards, hives and practice over the former ones. The last ten versions are kept in `former/`.
    ///
    /// Visits that a hand-written `yard.ron` holds become files of their own first.
    ///
    /// # Errors
    /// Where the disk refuses; then the former file stands.
    pub fn save_yards(&self, book: &Book) -> Result<(), StoreError> {
        let yards = Book { visits: Vec::new(), ..book.clone() };
        let path = self.folder.join("yard.ron");
        self.files.refuse_link(&path)?;
        let text = self.files.read_text(&path)?;
        for visit in parse::book_from_text(&text, &path)?.visits {
            match self.add_visit(&visit) {
                Ok(_) | Err(StoreError::Taken { .. }) => {}
                Err(err) => return Err(err),
            }
        }
        self.keep_former(&text)?;
        self.files.replace(&path, &parse::book_to_text(&yards, &path)?)
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

    fn keep_former(&self, text: &str) -> Result<(), StoreError> {
        let folder = self.folder.join("former");
        let mut kept = self.files.list(&folder)?;
        let number = |path: &PathBuf| -> Option<u32> {
            path.file_stem()?.to_str()?.strip_prefix("yard-")?.parse().ok()
        };
        let next = kept.iter().filter_map(number).max().unwrap_or(0) + 1;
        self.files.write_new(&folder.join(format!("yard-{next:06}.ron")), text)?;
        kept.retain(|path| number(path).is_some());
        let too_many = (kept.len() + 1).saturating_sub(FORMER);
        for old in kept.iter().take(too_many) {
            self.files.remove(old)?;
        }
        Ok(())
    }

    fn visit_path(&self, id: &VisitId, on: NaiveDate) -> PathBuf {
        self.folder.join("visits").join(on.format("%Y").to_string()).join(format!("{}.ron", safe_stem(id)))
    }
}

/// A visit's name as a file stem: whatever a hand-written name holds, it stays in its folder.
pub(super) fn safe_stem(id: &VisitId) -> String {
    let stem: String =
        id.as_str().chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { '-' }).take(80).collect();
    stem.trim_matches('-').to_owned()
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
    Err(StoreError::Faulty { path: source.file_of(&at), what, mend, more })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Units;
    use crate::model::YardId;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn book() -> Book {
        let mut book = Book::empty("A", Units::Us);
        book.yards = vec![crate::model::Yard {
            name: YardId::new("Creek"),
            place: None,
            formerly: Vec::new(),
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: Vec::new(),
        }];
        book
    }

    fn visit(id: &str) -> Visit {
        Visit::begun(VisitId::new(id), YardId::new("Creek"), day("2026-05-03"))
    }

    #[test]
    fn a_book_folder_comes_back_with_its_visits() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("mine");
        let made = BookFolder::create(&folder, &book()).unwrap();
        let path = made.add_visit(&visit("2026-05-03T0915-creek-3f9a")).unwrap();
        assert!(path.ends_with("visits/2026/2026-05-03T0915-creek-3f9a.ron"));
        let (_, read) = BookFolder::open(&folder, day("2026-05-04")).unwrap();
        assert_eq!(read.visits, [visit("2026-05-03T0915-creek-3f9a")]);
        assert!(matches!(BookFolder::create(&folder, &book()), Err(StoreError::Taken { .. })));
        made.add_visit(&visit("2026-05-03T0915-creek-3f9a")).unwrap();
        let mut other = visit("2026-05-03T0915-creek-3f9a");
        other.note = "another".to_owned();
        assert!(matches!(made.add_visit(&other), Err(StoreError::Taken { .. })), "never written over");
    }

    #[test]
    fn a_visit_in_the_future_or_an_empty_folder_is_refused_in_words() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("mine");
        BookFolder::create(&folder, &book()).unwrap().add_visit(&visit("a")).unwrap();
        let err = BookFolder::open(&folder, day("2026-05-02")).unwrap_err();
        assert!(err.to_string().contains("after today"), "{err}");
        assert!(matches!(BookFolder::open(root.path(), day("2026-05-02")), Err(StoreError::NoBook { .. })));
    }

    #[test]
    fn saved_yards_keep_their_last_ten_versions_and_every_visit() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("mine");
        let made = BookFolder::create(&folder, &book()).unwrap();
        // A whole book copied into the folder by hand, a visit in it.
        let whole = Book { visits: vec![visit("by-hand")], ..book() };
        Files::default()
            .replace(&folder.join("yard.ron"), &parse::book_to_text(&whole, &folder).unwrap())
            .unwrap();
        for limit in 1..=12 {
            let mut next = book();
            next.practice.set("winter_honey", Some(80.0 + f64::from(limit)));
            made.save_yards(&next).unwrap();
        }
        let former = Files::default().list(&folder.join("former")).unwrap();
        assert_eq!(former.len(), 10);
        assert!(former[9].ends_with("yard-000012.ron"));
        assert!(Files::default().read_text(&former[9]).unwrap().contains("winter_honey"));
        let (_, read) = BookFolder::open(&folder, day("2026-05-04")).unwrap();
        assert_eq!(read.visits, [visit("by-hand")]);
        assert_eq!(read.practice.own("winter_honey"), Some(92.0));
    }

    #[test]
    fn a_visits_name_never_leaves_its_folder() {
        let root = tempfile::tempdir().unwrap();
        let made = BookFolder::create(&root.path().join("mine"), &book()).unwrap();
        let path = made.add_visit(&visit("../../evil/x")).unwrap();
        assert!(path.starts_with(root.path().join("mine/visits/2026")), "{}", path.display());
    }
}
