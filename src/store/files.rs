//! Writing files so that they are whole or not there: to a temporary file, synced, then put in place.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use super::error::StoreError;

/// Largest file that is read: ten years of one keeper are a fiftieth of it.
const LARGEST: u64 = 64 * 1024 * 1024;

fn io_error(path: &Path, doing: &'static str) -> impl FnOnce(io::Error) -> StoreError {
    move |source| StoreError::Io { path: path.to_owned(), doing, source }
}

/// Reads a text file.
///
/// # Errors
/// Where it cannot be read, is too large or is no text.
pub fn read_text(path: &Path) -> Result<String, StoreError> {
    let size = fs::metadata(path).map_err(io_error(path, "read it"))?.len();
    if size > LARGEST {
        let source = io::Error::other(format!("it is {size} bytes; {LARGEST} is the most"));
        return Err(StoreError::Io { path: path.to_owned(), doing: "read it", source });
    }
    let bytes = fs::read(path).map_err(io_error(path, "read it"))?;
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

/// Writes an export: over an older one, whole or not at all.
///
/// # Errors
/// Where the disk refuses, or a folder is in the way.
pub fn write_export(path: &Path, text: &str) -> Result<(), StoreError> {
    if path.is_dir() {
        let source = io::Error::other("a folder of that name is there");
        return Err(StoreError::Io { path: path.to_owned(), doing: "write it", source });
    }
    // A bare name stands in the folder one is in.
    let path = std::path::absolute(path).map_err(io_error(path, "find where it is"))?;
    replace(&path, text)
}

/// Makes a folder and those above it.
pub(super) fn make_folder(path: &Path) -> Result<(), StoreError> {
    fs::create_dir_all(path).map_err(io_error(path, "make this folder"))
}

/// Writes a file that must not be there yet: whole and on the disk, or not at all.
pub(super) fn write_new(path: &Path, text: &str) -> Result<(), StoreError> {
    let temporary = write_beside(path, text)?;
    temporary.persist_noclobber(path).map_err(|err| {
        if err.error.kind() == io::ErrorKind::AlreadyExists {
            StoreError::Taken { path: path.to_owned() }
        } else {
            StoreError::Io { path: path.to_owned(), doing: "put it in place", source: err.error }
        }
    })?;
    sync_folder_of(path)
}

/// Writes a file over the one that may be there: the old or the new one whole, never a mixture.
pub(super) fn replace(path: &Path, text: &str) -> Result<(), StoreError> {
    let temporary = write_beside(path, text)?;
    temporary.persist(path).map_err(|err| StoreError::Io {
        path: path.to_owned(),
        doing: "put it in place",
        source: err.error,
    })?;
    sync_folder_of(path)
}

fn write_beside(path: &Path, text: &str) -> Result<tempfile::NamedTempFile, StoreError> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    make_folder(folder)?;
    let mut temporary = tempfile::Builder::new()
        .prefix(".yardwalk-")
        .tempfile_in(folder)
        .map_err(io_error(path, "write beside it"))?;
    temporary.write_all(text.as_bytes()).map_err(io_error(path, "write it"))?;
    temporary.as_file().sync_all().map_err(io_error(path, "sync it to the disk"))?;
    Ok(temporary)
}

/// A name is on the disk only when its folder is.
pub(super) fn sync_folder_of(path: &Path) -> Result<(), StoreError> {
    if cfg!(unix) {
        let folder = path.parent().unwrap_or_else(|| Path::new("."));
        File::open(folder).and_then(|f| f.sync_all()).map_err(io_error(folder, "sync this folder"))?;
    }
    Ok(())
}

/// Opens a file to append lines to.
pub(super) fn open_append(path: &Path) -> Result<File, StoreError> {
    OpenOptions::new().create(true).append(true).open(path).map_err(io_error(path, "open it to append"))
}

/// Appends a line and waits until it is on the disk.
pub(super) fn append_line(file: &mut File, path: &Path, line: &str) -> Result<(), StoreError> {
    append_unsynced(file, path, line)?;
    file.sync_data().map_err(io_error(path, "sync it to the disk"))
}

/// Appends a line and leaves it to the system when it reaches the disk.
pub(super) fn append_unsynced(file: &mut File, path: &Path, line: &str) -> Result<(), StoreError> {
    file.write_all(format!("{line}\n").as_bytes()).map_err(io_error(path, "append to it"))
}

/// Renames, for what must be kept but out of the way.
pub(super) fn rename(from: &Path, to: &Path) -> Result<(), StoreError> {
    fs::rename(from, to).map_err(io_error(from, "rename it"))?;
    sync_folder_of(to)
}

/// Removes a file that has done its work.
pub(super) fn remove(path: &Path) -> Result<(), StoreError> {
    fs::remove_file(path).map_err(io_error(path, "remove it"))
}

/// The entries of a folder, sorted by name; none where it is not there.
pub(super) fn list(path: &Path) -> Result<Vec<std::path::PathBuf>, StoreError> {
    let entries = match fs::read_dir(path) {
        Ok(entries) => entries,
        Err(err) if err.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(err) => return Err(io_error(path, "list this folder")(err)),
    };
    let mut paths = entries
        .map(|entry| entry.map(|e| e.path()))
        .collect::<Result<Vec<_>, _>>()
        .map_err(io_error(path, "list this folder"))?;
    paths.sort();
    Ok(paths)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_file_never_writes_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("visits/2026/a.ron");
        write_new(&path, "one").unwrap();
        assert!(matches!(write_new(&path, "two"), Err(StoreError::Taken { .. })));
        assert_eq!(read_text(&path).unwrap(), "one");
        replace(&path, "three").unwrap();
        assert_eq!(read_text(&path).unwrap(), "three");
        assert_eq!(list(path.parent().unwrap()).unwrap(), [path], "no temporary file is left");
    }

    #[test]
    fn a_byte_that_is_no_text_is_named_by_line_and_column() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bad.ron");
        File::create(&path).unwrap().write_all(b"ok\nab\xff").unwrap();
        match read_text(&path) {
            Err(StoreError::Syntax { line, column, .. }) => assert_eq!((line, column), (2, 3)),
            other => panic!("{other:?}"),
        }
    }
}
