//! A scratch book: a whole-book file unpacked into a folder, so that it can be walked without touching the file.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::book_folder::{BookFolder, Source, refuse_faults};
use super::error::StoreError;
use super::files::Files;
use crate::model::Book;

/// Unpacks a book into `<data>/scratch/<name>`, or opens the scratch book that is there already.
///
/// With `fresh` the one that is there is moved aside to a free name, never removed.
///
/// # Errors
/// Where the book does not hold together or the disk refuses.
pub fn unpack(
    book: &Book,
    from: &Path,
    data: &Path,
    today: NaiveDate,
    fresh: bool,
) -> Result<(BookFolder, Book), StoreError> {
    refuse_faults(book, &Source::File(from.to_owned()), today)?;
    let stem = from.file_stem().map_or_else(|| "book".to_owned(), |s| s.to_string_lossy().into_owned());
    let folder = data.join("scratch").join(stem);
    if folder.join("yard.ron").is_file() {
        if !fresh {
            return BookFolder::open(&folder, today);
        }
        Files::default().rename(&folder, &free_name(&folder))?;
    }
    match BookFolder::create(&folder, book) {
        // Another start made it in the meantime.
        Ok(_) | Err(StoreError::Taken { .. }) => BookFolder::open(&folder, today),
        Err(err) => Err(err),
    }
}

fn free_name(folder: &Path) -> PathBuf {
    (1..10_000u32)
        .map(|n| folder.with_extension(format!("old{n}")))
        .find(|path| !path.exists())
        .unwrap_or_else(|| folder.with_extension("old"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Units;

    #[test]
    fn a_scratch_book_is_kept_between_starts_and_moved_aside_for_a_fresh_one() {
        let root = tempfile::tempdir().unwrap();
        let today = "2026-05-03".parse().unwrap();
        let book = Book::empty("A", Units::Us);
        let open = |fresh| unpack(&book, Path::new("x/sample.ron"), root.path(), today, fresh).unwrap();
        let (folder, _) = open(false);
        assert_eq!(folder.folder(), root.path().join("scratch/sample"));
        open(false);
        open(true);
        open(true);
        assert!(root.path().join("scratch/sample.old1/yard.ron").is_file());
        assert!(root.path().join("scratch/sample.old2/yard.ron").is_file());
    }

    #[test]
    fn several_first_starts_at_once_make_one_book() {
        let today = "2026-05-03".parse().unwrap();
        for _ in 0..8 {
            let root = tempfile::tempdir().unwrap();
            std::thread::scope(|scope| {
                let start = || {
                    let book = Book::empty("A", Units::Us);
                    let opened = unpack(&book, Path::new("x/sample.ron"), root.path(), today, false);
                    opened.map(|(_, read)| read == book).map_err(|err| err.to_string())
                };
                let starts: Vec<_> = (0..4).map(|_| scope.spawn(start)).collect();
                for start in starts {
                    assert_eq!(start.join().unwrap(), Ok(true));
                }
            });
        }
    }
}
