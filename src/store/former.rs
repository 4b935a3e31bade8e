//! Former versions of `yard.ron`, and the last good one brought back where the present one cannot be read.

use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::files::Files;
use super::parse;
use crate::model::{Book, FaultAt};

/// A former `yard.ron` that can be read and holds together.
#[derive(Debug)]
pub struct Former {
    /// The file, from the book's folder on.
    pub file: PathBuf,
    /// What it holds.
    pub book: Book,
    text: String,
}

/// Where a version stands among the others: those of former formats come first, and have a number alone.
fn place(path: &Path) -> Option<(bool, u32)> {
    let rest = path.file_stem()?.to_str()?.strip_prefix("yard-")?;
    let number = rest.split('-').next()?.parse().ok()?;
    Some((rest.contains('-'), number))
}

/// The last former `yard.ron` of a book's folder that can be read and holds together.
///
/// # Errors
/// Where `former/` is a link or cannot be listed.
pub fn last_good(book: &Path) -> Result<Option<Former>, StoreError> {
    let files = Files::default();
    let folder = book.join("former");
    files.refuse_link(&folder)?;
    let mut kept = files.list(&folder)?;
    kept.retain(|path| place(path).is_some());
    kept.sort_by_key(|path| place(path));
    for path in kept.into_iter().rev() {
        let Ok(text) = files.refuse_link(&path).and_then(|()| files.read_text(&path)) else { continue };
        let Ok(read) = parse::book_from_text(&text, &path) else { continue };
        let yards = Book { visits: Vec::new(), version: None, ..read };
        let is_sound = yards.faults(chrono::NaiveDate::MAX).iter().all(|fault| fault.at != FaultAt::Yards);
        if is_sound {
            let file = path.strip_prefix(book).unwrap_or(&path).to_owned();
            return Ok(Some(Former { file, book: yards, text }));
        }
    }
    Ok(None)
}

/// Puts a former version in the place of `yard.ron`, octet for octet; the one that is there is kept in `aside/` first.
///
/// # Errors
/// Where the disk refuses; then the present one stands.
pub fn bring_back(book: &Path, former: &Former) -> Result<PathBuf, StoreError> {
    let files = Files::default();
    let yards = book.join("yard.ron");
    let aside = book.join("aside");
    files.refuse_link(&yards)?;
    files.refuse_link(&aside)?;
    let free = files.free_name(&aside, "yard.ron")?;
    files.copy(&yards, &aside.join(&free))?;
    files.replace(&yards, &former.text)?;
    Ok(Path::new("aside").join(free))
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::model::Units;
    use crate::store::BookFolder;

    #[test]
    #[allow(clippy::disallowed_methods, reason = "octets that are no text are written by no other")]
    fn a_yard_file_that_is_torn_gives_way_to_the_last_good_one_and_is_kept() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("book");
        let today = "2026-05-03".parse().unwrap();
        let made = BookFolder::create(&folder, &Book::empty("Ann", Units::Us)).unwrap();
        assert_eq!(last_good(&folder).unwrap().unwrap().book.keeper, "Ann", "the first is kept too");
        for keeper in ["Bea", "Cal", "Dot"] {
            made.save_yards(&Book::empty(keeper, Units::Us), true).unwrap();
        }
        // The newest that was kept is torn too, in the middle of a letter; beside it lies one of a former format.
        let mut kept: Vec<_> =
            fs::read_dir(folder.join("former")).unwrap().map(|e| e.unwrap().path()).collect();
        kept.sort();
        fs::write(&kept[3], b"(format: 5, keeper: \"C\xc3").unwrap();
        let older = "(format: 3, keeper: \"Old\", yards: [])";
        fs::write(folder.join("former/yard-000009.ron"), older).unwrap();
        let torn = b"(format: 4,\n<<<<<<< ours\n keeper: \"\xff".to_vec();
        fs::write(folder.join("yard.ron"), &torn).unwrap();
        assert!(BookFolder::open(&folder, today).is_err());
        let former = last_good(&folder).unwrap().unwrap();
        assert_eq!((folder.join(&former.file), former.book.keeper.as_str()), (kept[2].clone(), "Cal"));
        for name in ["aside/yard.ron", "aside/2-yard.ron"] {
            fs::write(folder.join("yard.ron"), &torn).unwrap();
            assert_eq!(bring_back(&folder, &former).unwrap(), Path::new(name));
            assert_eq!(fs::read(folder.join(name)).unwrap(), torn);
        }
        assert_eq!(BookFolder::open(&folder, today).unwrap().1.keeper, "Cal");
    }
}
