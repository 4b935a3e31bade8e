//! Writing files so that they are whole or not there: to a temporary file, synced, then put in place.

use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::time::Duration;

use chrono::NaiveDate;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::disk::{Disk, OpenFile, SystemDisk, TEMPORARY};
use super::error::StoreError;
use super::snapshot::{Kept, SETTLED, Snapshots, Stamp};

/// The largest whole book that is read, in bytes: 100,000 entries are half of it.
const LARGEST_BOOK: u64 = 64 * 1024 * 1024;
/// The largest draft, pad, visit or settings that is read or written, in bytes: a day at 300 hives is a third of it.
pub(super) const LARGEST_DRAFT: u64 = 16 * 1024 * 1024;

/// Files of one name that are kept in a folder at most.
const MOST_OF_A_NAME: u32 = 1_000;

/// Files on a disk, with errors that say which file and what was tried.
#[derive(Debug, Clone)]
pub struct Files {
    disk: Rc<dyn Disk>,
    /// Where what was read is kept from one start to the next, if it is.
    snapshots: Option<Rc<Snapshots>>,
}

impl Default for Files {
    fn default() -> Self {
        Self::on(Rc::new(SystemDisk::PRIVATE))
    }
}

fn io_error(path: &Path, doing: &'static str) -> impl FnOnce(io::Error) -> StoreError {
    move |source| StoreError::Io { path: path.to_owned(), doing, source }
}

/// Reads a text file.
///
/// # Errors
/// Where it cannot be read, is too large or is no text.
pub fn read_text(path: &Path) -> Result<String, StoreError> {
    Files::default().read_text(path)
}

/// Reads a table that another program wrote: UTF-8 or UTF-16, with or without its mark, else Windows-1252, which every
/// sequence of bytes is.
///
/// # Errors
/// Where it cannot be read or is too large.
pub fn read_table(path: &Path) -> Result<String, StoreError> {
    let bytes = SystemDisk::PRIVATE.read(path, LARGEST_BOOK).map_err(io_error(path, "read it"))?;
    Ok(decoded(&bytes))
}

/// A text of which only its bytes are known.
fn decoded(bytes: &[u8]) -> String {
    let by_mark = encoding_rs::Encoding::for_bom(bytes).map(|(encoding, _)| encoding);
    let every_other = |from: usize| bytes.iter().skip(from).step_by(2).filter(|b| **b == 0).count() * 2;
    // Without its mark, UTF-16 of Latin letters has a zero in every other byte.
    let is_wide = |zeros: usize| bytes.len() > 3 && zeros * 10 > bytes.len() * 7;
    let encoding = by_mark.unwrap_or_else(|| {
        if is_wide(every_other(1)) {
            encoding_rs::UTF_16LE
        } else if is_wide(every_other(0)) {
            encoding_rs::UTF_16BE
        } else if std::str::from_utf8(bytes).is_ok() {
            encoding_rs::UTF_8
        } else {
            encoding_rs::WINDOWS_1252
        }
    });
    encoding.decode(bytes).0.into_owned()
}

/// Writes an export: over an older one, whole or not at all.
///
/// # Errors
/// Where the disk refuses, or a folder is in the way.
pub fn write_export(path: &Path, text: &str) -> Result<(), StoreError> {
    let path = may_be_exported_to(path)?;
    Files::on(Rc::new(SystemDisk::SHARED)).replace(&path, text)
}

/// The whole path of a file an export may be written to.
///
/// # Errors
/// Where a folder, a link, a pipe, a device or a file of a book is in the way.
pub fn may_be_exported_to(path: &Path) -> Result<PathBuf, StoreError> {
    // A bare name stands in the folder one is in.
    let path = std::path::absolute(path).map_err(io_error(path, "find where it is"))?;
    let refused = |why: &str| {
        Err(StoreError::Io {
            path: path.clone(),
            doing: "write it",
            source: io::Error::other(why.to_owned()),
        })
    };
    match std::fs::symlink_metadata(&path) {
        Ok(what) if what.is_dir() => return refused("a folder of that name is there"),
        Ok(what) if !what.is_file() => return refused("it is a link, a pipe or a device: name a plain file"),
        _ => {}
    }
    if is_of_a_book(&path) {
        return refused("it is a file of a book, which an export never writes over: name another");
    }
    Ok(path)
}

/// Whether a path is that of a file a book keeps for itself, whichever way it is written.
fn is_of_a_book(path: &Path) -> bool {
    const OWN: [&str; 6] = ["yard.ron", "visits", "drafts", "former", "aside", ".gitignore"];
    let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else { return false };
    let Ok(folder) = folder.canonicalize() else { return false };
    let path = folder.join(name);
    path.ancestors().skip(1).filter(|book| book.join("yard.ron").is_file()).any(|book| {
        let first = path.strip_prefix(book).ok().and_then(|rest| rest.iter().next());
        first.is_some_and(|first| OWN.iter().any(|own| first.eq_ignore_ascii_case(own)))
    })
}

/// Opens a file to which a log is written, at its end.
///
/// # Errors
/// Where it cannot be opened.
pub fn log_file(path: &Path) -> Result<std::fs::File, StoreError> {
    std::fs::OpenOptions::new()
        .create(true)
        .append(true)
        .open(path)
        .map_err(io_error(path, "open it to append"))
}

impl Files {
    /// Files on a disk of one's own.
    pub fn on(disk: Rc<dyn Disk>) -> Self {
        Self { disk, snapshots: None }
    }

    /// Files that keep what they read of a book in a cache folder, so that the next start need not parse it again.
    pub fn keeping(cache: &Path) -> Self {
        Self::keeping_settled(cache, SETTLED)
    }

    /// The same, with files trusted that had not changed for `settled` when they were looked at: no less than a tick of the
    /// disk's clock, which may be seconds.
    pub fn keeping_settled(cache: &Path, settled: Duration) -> Self {
        Self { snapshots: Some(Snapshots::in_folder(cache, settled)), ..Self::default() }
    }

    /// Visit files that were known at the last reading, and those that were parsed.
    pub fn known_and_parsed(&self) -> (usize, usize) {
        self.snapshots.as_ref().map_or((0, 0), |snapshots| snapshots.counts())
    }

    /// What is kept of a book's folder.
    pub(super) fn kept(&self, folder: &Path) -> Option<Kept> {
        self.snapshots.as_ref().map(|snapshots| Kept::of(snapshots, folder))
    }

    /// Writes what was read into the cache, where anything of it is new.
    pub fn write_snapshot(&self) {
        if let Some(snapshots) = &self.snapshots {
            snapshots.write();
        }
    }

    /// Something learned of a book's folder, by its name, on the same day from files as they were at the last reading; `T` is
    /// what was kept.
    pub fn learned<T: DeserializeOwned>(&self, folder: &Path, name: &str, on: NaiveDate) -> Option<T> {
        self.snapshots.as_ref()?.learned(folder, name, on)
    }

    /// Keeps in the cache something learned of a book's folder on a day from files as they were at the last reading.
    pub fn keep_learned<T: Serialize>(&self, folder: &Path, name: &str, on: NaiveDate, what: &T) {
        if let Some(snapshots) = &self.snapshots {
            snapshots.keep_learned(folder, name, on, what);
        }
    }

    /// The files of a book's folder were looked at one by one.
    pub(super) fn looked_over<'a>(
        &self,
        visits: impl Iterator<Item = (&'a Path, Option<Stamp>)>,
        others: &[Option<Stamp>],
        looked_at: i128,
    ) {
        if let Some(snapshots) = &self.snapshots {
            snapshots.looked_over(visits, others, looked_at);
        }
    }

    /// What was just read is read for a day.
    pub(super) fn read_for(&self, today: NaiveDate) {
        if let Some(snapshots) = &self.snapshots {
            snapshots.read_for(today);
        }
    }

    /// Something of the book is about to be written.
    pub(super) fn forget_state(&self) {
        if let Some(snapshots) = &self.snapshots {
            snapshots.forget_state();
        }
    }

    /// What tells the state of a file from another.
    pub(super) fn stamp(&self, path: &Path) -> Option<Stamp> {
        self.disk.stamp(path)
    }

    /// Writes octets over a file of the cache: the old or the new one whole. Not synced: a torn one is passed over.
    pub(super) fn replace_octets(&self, path: &Path, octets: &[u8]) -> Result<(), StoreError> {
        let folder = path.parent().unwrap_or_else(|| Path::new("."));
        self.disk.make_folder(folder).map_err(io_error(path, "make this folder"))?;
        let (temporary, mut file) = self.disk.create_in(folder).map_err(io_error(path, "write beside it"))?;
        let written = file.write_all(octets).and_then(|()| self.disk.put_over(&temporary, path));
        if written.is_err() {
            let _ = self.disk.remove(&temporary);
        }
        written.map_err(io_error(path, "write it"))
    }

    /// Reads a text file as large as a whole book may be.
    pub(super) fn read_text(&self, path: &Path) -> Result<String, StoreError> {
        self.read_up_to(path, LARGEST_BOOK)
    }

    /// Reads a text file that is one of many: of one visit, or of the settings.
    pub(super) fn read_small(&self, path: &Path) -> Result<String, StoreError> {
        self.read_up_to(path, LARGEST_DRAFT)
    }

    fn read_up_to(&self, path: &Path, most: u64) -> Result<String, StoreError> {
        let bytes = self.disk.read(path, most).map_err(io_error(path, "read it"))?;
        String::from_utf8(bytes).map_err(|err| {
            let at = err.utf8_error().valid_up_to();
            let before = err.as_bytes().get(..at).unwrap_or_default();
            StoreError::Syntax {
                path: path.to_owned(),
                line: before.split(|b| *b == b'\n').count(),
                column: before.iter().rev().take_while(|b| **b != b'\n').count() + 1,
                what: "this byte is not UTF-8 text".to_owned(),
                mend: "save the file as UTF-8".to_owned(),
            }
        })
    }

    /// Reads a file of lines that may be torn anywhere: a line that is no text costs itself alone.
    pub(super) fn read_torn(&self, path: &Path) -> Result<String, StoreError> {
        let bytes = self.disk.read(path, LARGEST_DRAFT).map_err(io_error(path, "read it"))?;
        let mut text = String::new();
        for line in bytes.split_inclusive(|byte| *byte == b'\n') {
            match std::str::from_utf8(line) {
                Ok(whole) => text.push_str(whole),
                // In its place stands what is no line of any file.
                Err(_) if line.ends_with(b"\n") => text.push_str("\u{fffd}\n"),
                Err(_) => text.push('\u{fffd}'),
            }
        }
        Ok(text)
    }

    /// Makes a folder and those above it.
    pub(super) fn make_folder(&self, path: &Path) -> Result<(), StoreError> {
        let mut made = Vec::new();
        for folder in path.ancestors().take_while(|folder| !folder.as_os_str().is_empty()) {
            if self.is_there(folder)? {
                break;
            }
            made.push(folder);
        }
        if made.is_empty() {
            return Ok(());
        }
        self.disk.make_folder(path).map_err(io_error(path, "make this folder"))?;
        // The name of a new folder is on the disk only when the one it stands in is.
        for folder in made {
            match self.sync_folder_of(folder) {
                // One that may be entered and not read cannot be opened to be synced.
                Err(StoreError::Io { source, .. }) if source.kind() == io::ErrorKind::PermissionDenied => {}
                other => other?,
            }
        }
        Ok(())
    }

    /// Writes a file that must not be there yet: whole and on the disk, or not at all.
    pub(super) fn write_new(&self, path: &Path, text: &str) -> Result<(), StoreError> {
        self.put_new(path, text.as_bytes())
    }

    fn put_new(&self, path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
        let temporary = self.write_beside(path, bytes)?;
        if let Err(source) = self.disk.put_new(&temporary, path) {
            let _ = self.disk.remove(&temporary);
            return Err(if source.kind() == io::ErrorKind::AlreadyExists {
                StoreError::Taken { path: path.to_owned() }
            } else {
                StoreError::Io { path: path.to_owned(), doing: "put it in place", source }
            });
        }
        self.sync_folder_of(path)
    }

    /// Writes a file over the one that may be there: the old or the new one whole, never a mixture.
    pub(super) fn replace(&self, path: &Path, text: &str) -> Result<(), StoreError> {
        let temporary = self.write_beside(path, text.as_bytes())?;
        if let Err(source) = self.disk.put_over(&temporary, path) {
            let _ = self.disk.remove(&temporary);
            return Err(StoreError::Io { path: path.to_owned(), doing: "put it in place", source });
        }
        self.sync_folder_of(path)
    }

    fn write_beside(&self, path: &Path, bytes: &[u8]) -> Result<PathBuf, StoreError> {
        let folder = path.parent().unwrap_or_else(|| Path::new("."));
        self.make_folder(folder)?;
        let (temporary, mut file) = self.disk.create_in(folder).map_err(io_error(path, "write beside it"))?;
        let written = file
            .write_all(bytes)
            .map_err(io_error(path, "write it"))
            .and_then(|()| file.sync_all().map_err(io_error(path, "sync it to the disk")));
        if let Err(err) = written {
            let _ = self.disk.remove(&temporary);
            return Err(err);
        }
        Ok(temporary)
    }

    /// A name is on the disk only when its folder is.
    pub(super) fn sync_folder_of(&self, path: &Path) -> Result<(), StoreError> {
        let folder = path.parent().unwrap_or_else(|| Path::new("."));
        self.disk.sync_folder(folder).map_err(io_error(folder, "sync this folder"))
    }

    /// Opens a file to append lines to.
    pub(super) fn open_append(&self, path: &Path) -> Result<Box<dyn OpenFile>, StoreError> {
        self.disk.open_append(path).map_err(io_error(path, "open it to append"))
    }

    /// Renames, for what must be kept but out of the way.
    pub(super) fn rename(&self, from: &Path, to: &Path) -> Result<(), StoreError> {
        self.disk.put_over(from, to).map_err(io_error(from, "rename it"))?;
        self.sync_folder_of(to)
    }

    /// A name of which there is no file in a folder yet: the one given, or that with a number before it.
    pub(super) fn free_name(&self, folder: &Path, name: &str) -> Result<String, StoreError> {
        for number in 1..=MOST_OF_A_NAME {
            let free = if number == 1 { name.to_owned() } else { format!("{number}-{name}") };
            if !self.is_there(&folder.join(&free))? {
                return Ok(free);
            }
        }
        Err(StoreError::Taken { path: folder.join(name) })
    }

    /// Writes what stands in a file, octet for octet, into a new one.
    pub(super) fn copy(&self, from: &Path, to: &Path) -> Result<(), StoreError> {
        let bytes = self.disk.read(from, LARGEST_BOOK).map_err(io_error(from, "read it"))?;
        self.put_new(to, &bytes)
    }

    /// Removes a folder of ours with all that is in it.
    pub(super) fn remove_folder(&self, path: &Path) -> Result<(), StoreError> {
        self.disk.remove_folder(path).map_err(io_error(path, "remove it"))
    }

    /// Removes what writing left half done in a folder, when a kill came between. What cannot be removed is let be.
    pub(super) fn sweep(&self, folder: &Path) {
        let is_ours = |path: &PathBuf| {
            path.file_name().is_some_and(|name| name.to_string_lossy().starts_with(TEMPORARY))
                && path.is_file()
        };
        for path in self.list(folder).unwrap_or_default().into_iter().filter(is_ours) {
            let _ = self.remove(&path);
        }
    }

    /// Removes a file that has done its work.
    pub(super) fn remove(&self, path: &Path) -> Result<(), StoreError> {
        self.disk.remove(path).map_err(io_error(path, "remove it"))
    }

    /// Whether a file of that name is there; an error where the disk does not say.
    pub(super) fn is_there(&self, path: &Path) -> Result<bool, StoreError> {
        self.disk.is_there(path).map_err(io_error(path, "find it"))
    }

    /// Refuses a symbolic link: what a book holds is in its own folder.
    pub(super) fn refuse_link(&self, path: &Path) -> Result<(), StoreError> {
        if self.disk.is_link(path).map_err(io_error(path, "find it"))? {
            return Err(StoreError::Link { path: path.to_owned() });
        }
        Ok(())
    }

    /// The entries of a folder, sorted by name; none where it is not there.
    pub(super) fn list(&self, path: &Path) -> Result<Vec<PathBuf>, StoreError> {
        self.disk.list(path).map_err(io_error(path, "list this folder"))
    }
}

/// How long to wait for what is appended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Wait {
    /// Not at all: it is handed to the system.
    No,
    /// Until it is on the disk.
    Data,
    /// Until it and all the system knows of the file is on the disk.
    All,
}

/// Appends text to an open file.
pub(super) fn append(file: &mut dyn OpenFile, path: &Path, text: &str, wait: Wait) -> Result<(), StoreError> {
    file.write_all(text.as_bytes()).map_err(io_error(path, "append to it"))?;
    match wait {
        Wait::No => Ok(()),
        Wait::Data => file.sync(),
        Wait::All => file.sync_all(),
    }
    .map_err(io_error(path, "sync it to the disk"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_file_never_writes_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("visits/2026/a.ron");
        let files = Files::default();
        files.write_new(&path, "one").unwrap();
        assert!(matches!(files.write_new(&path, "two"), Err(StoreError::Taken { .. })));
        assert_eq!(read_text(&path).unwrap(), "one");
        files.replace(&path, "three").unwrap();
        assert_eq!(read_text(&path).unwrap(), "three");
        assert_eq!(files.list(path.parent().unwrap()).unwrap(), [path], "no temporary file is left");
    }

    #[test]
    fn a_byte_that_is_no_text_is_named_by_line_and_column() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bad.ron");
        Files::default().open_append(&path).unwrap().write_all(b"ok\nab\xff").unwrap();
        match read_text(&path) {
            Err(StoreError::Syntax { line, column, .. }) => assert_eq!((line, column), (2, 3)),
            other => panic!("{other:?}"),
        }
    }
}
