//! One writer at a time: a lock on the book's folder, held while the program runs.
//!
//! The system gives the lock back when the program ends in any way, so a stale one never blocks. Who holds it stands in
//! a file beside it, for the second start to say.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::files::Files;

/// A lock that is held; given back when dropped.
#[derive(Debug)]
pub struct Lock {
    _file: File,
}

/// What came of asking for the lock.
#[derive(Debug)]
pub enum Locked {
    /// It is ours.
    Ours(Lock),
    /// Another program holds it: who, in its own words.
    Theirs(String),
    /// The folder cannot be written, or its file system keeps no locks: why.
    None(String),
}

/// Asks for the lock of a book's folder. `who` is what a second start is told.
///
/// # Errors
/// Where the folder of drafts cannot be made for another reason than that it may not be written.
pub fn lock(folder: &Path, who: &str) -> Result<Locked, StoreError> {
    let drafts = folder.join("drafts");
    let files = Files::default();
    files.refuse_link(&drafts)?;
    if let Err(err) = files.make_folder(&drafts) {
        return Ok(Locked::None(reason(&err)));
    }
    let path = drafts.join(".lock");
    // Opening a pipe would wait for ever, and through a link it would be another's file.
    if std::fs::symlink_metadata(&path).is_ok_and(|what| !what.is_file()) {
        return Ok(Locked::None(format!("{} is no plain file", path.display())));
    }
    let file = match OpenOptions::new().create(true).truncate(false).write(true).open(&path) {
        Ok(file) => file,
        Err(err) => return Ok(Locked::None(err.to_string())),
    };
    let holder = drafts.join(".holder");
    match file.try_lock() {
        Ok(()) => {
            // Only for the words: that it cannot be written is no reason to stop.
            let _ = files.replace(&holder, who);
            Ok(Locked::Ours(Lock { _file: file }))
        }
        Err(TryLockError::WouldBlock) => {
            let who = files.read_text(&holder).unwrap_or_else(|_| "another program".to_owned());
            Ok(Locked::Theirs(crate::model::visible(who.trim())))
        }
        Err(TryLockError::Error(err)) => Ok(Locked::None(err.to_string())),
    }
}

/// Whether a book's lock can be had: nobody has it, and the folder can be written. It is not taken.
pub(super) fn is_free(folder: &Path) -> bool {
    let path = folder.join("drafts").join(".lock");
    let is_plain = std::fs::symlink_metadata(&path).is_ok_and(|what| what.is_file());
    is_plain && OpenOptions::new().write(true).open(&path).is_ok_and(|file| file.try_lock().is_ok())
}

/// Held while a book is made, and gone with its file when it is dropped.
#[derive(Debug)]
pub(super) struct Making {
    path: PathBuf,
    _file: File,
}

impl Drop for Making {
    fn drop(&mut self) {
        // One that stays is in nobody's way.
        let _ = Files::default().remove(&self.path);
    }
}

/// Waits until nobody else makes a book in a folder, and has the others wait in turn.
///
/// Where the file system keeps no locks there is none: two first starts in one second are rarer than such a disk.
pub(super) fn to_make_a_book_in(folder: &Path) -> Option<Making> {
    let path = folder.join(".lock");
    if std::fs::symlink_metadata(&path).is_ok_and(|what| !what.is_file()) {
        return None;
    }
    let file = OpenOptions::new().create(true).truncate(false).write(true).open(&path).ok()?;
    file.lock().ok().map(|()| Making { path, _file: file })
}

fn reason(err: &StoreError) -> String {
    std::error::Error::source(err).map_or_else(|| err.to_string(), ToString::to_string)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_is_told_who_holds_it_and_a_stale_lock_never_blocks() {
        let root = tempfile::tempdir().unwrap();
        let Locked::Ours(first) = lock(root.path(), "process 1, since 9:15").unwrap() else {
            panic!("the first gets it")
        };
        let Locked::Theirs(who) = lock(root.path(), "process 2").unwrap() else {
            panic!("the second does not")
        };
        assert_eq!(who, "process 1, since 9:15");
        drop(first);
        assert!(root.path().join("drafts/.lock").exists(), "the file stays, the lock does not");
        assert!(matches!(lock(root.path(), "process 3").unwrap(), Locked::Ours(_)));
    }
}
