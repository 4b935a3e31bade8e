//! The few things the store asks of a file system, so that each of them can be made to fail in a test.

use std::fmt::Debug;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _, Write};
use std::path::{Path, PathBuf};

use tempfile::{NamedTempFile, TempPath};

use super::snapshot::{Stamp, nanoseconds};

/// What the names of files begin with that are not in their place yet.
pub(super) const TEMPORARY: &str = ".yardwalk-";

/// An open file.
pub trait OpenFile: Debug {
    /// Writes all of it at the end.
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Waits until what was written is on the disk.
    fn sync(&mut self) -> io::Result<()>;
    /// Waits until what was written and all the system knows of the file is on the disk.
    fn sync_all(&mut self) -> io::Result<()>;
}

/// A file system.
pub trait Disk: Debug {
    /// Reads a plain file of so many bytes at most.
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>>;
    /// Lists a folder, sorted by name; nothing where it is not there.
    fn list(&self, path: &Path) -> io::Result<Vec<PathBuf>>;
    /// Makes a folder and those above it.
    fn make_folder(&self, path: &Path) -> io::Result<()>;
    /// Makes a new file of a name of its own in a folder.
    fn create_in(&self, folder: &Path) -> io::Result<(PathBuf, Box<dyn OpenFile>)>;
    /// Opens a plain file to write at its end, and makes it where it is not there. A link, a pipe or a device is refused.
    fn open_append(&self, path: &Path) -> io::Result<Box<dyn OpenFile>>;
    /// Gives a file a name that must be free.
    fn put_new(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Gives a file a name, also of a file that is there.
    fn put_over(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Waits until the names of a folder are on the disk.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
    /// Removes a file; one that is not there is an error.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Removes a folder with all that is in it.
    fn remove_folder(&self, path: &Path) -> io::Result<()>;
    /// Whether a file or folder of that name is there.
    fn is_there(&self, path: &Path) -> io::Result<bool>;
    /// Whether what is there is a symbolic link.
    fn is_link(&self, path: &Path) -> io::Result<bool>;
    /// What tells the state a plain file is in from another; `None` of anything else, and where the disk cannot tell.
    fn stamp(&self, _path: &Path) -> Option<Stamp> {
        None
    }
}

/// The system's own.
#[derive(Debug, Clone, Copy)]
pub struct SystemDisk {
    /// Whether others of this computer may read what is written, as the umask says; else it is the user's alone.
    is_shared: bool,
}

impl SystemDisk {
    /// For books, drafts and settings: nobody else reads them.
    pub const PRIVATE: Self = Self { is_shared: false };
    /// For exports: as any file of the user's.
    pub const SHARED: Self = Self { is_shared: true };

    /// The permissions of a new file or folder, before the umask.
    fn mode(self, is_folder: bool) -> u32 {
        match (self.is_shared, is_folder) {
            (true, true) => 0o777,
            (true, false) => 0o666,
            (false, true) => 0o700,
            (false, false) => 0o600,
        }
    }
}

impl OpenFile for File {
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        Write::write_all(self, bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.sync_data()
    }

    fn sync_all(&mut self) -> io::Result<()> {
        File::sync_all(self)
    }
}

impl Disk for SystemDisk {
    fn stamp(&self, path: &Path) -> Option<Stamp> {
        let what = fs::symlink_metadata(path).ok().filter(fs::Metadata::is_file)?;
        let modified = nanoseconds(what.modified().ok()?);
        #[cfg(unix)]
        let (changed, place) = {
            use std::os::unix::fs::MetadataExt as _;
            (i128::from(what.ctime()) * 1_000_000_000 + i128::from(what.ctime_nsec()), what.ino())
        };
        #[cfg(not(unix))]
        let (changed, place) = (modified, 0);
        Some(Stamp { size: what.len(), modified, changed, place })
    }

    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let what = fs::metadata(path)?;
        if !what.is_file() {
            // A pipe would be waited on for ever.
            return Err(io::Error::other("it is no plain file"));
        }
        if what.len() > most {
            let words = format!("it is {}; {} is the most", megabytes(what.len()), megabytes(most));
            return Err(io::Error::other(words));
        }
        // What grows while it is read is not read on for ever.
        let mut bytes = Vec::new();
        File::open(path)?.take(most).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn list(&self, path: &Path) -> io::Result<Vec<PathBuf>> {
        let entries = match fs::read_dir(path) {
            Ok(entries) => entries,
            Err(err) if err.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(err) => return Err(err),
        };
        let mut paths = entries.map(|entry| entry.map(|e| e.path())).collect::<Result<Vec<_>, _>>()?;
        paths.sort();
        Ok(paths)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        let mut builder = fs::DirBuilder::new();
        builder.recursive(true);
        #[cfg(unix)]
        {
            use std::os::unix::fs::DirBuilderExt as _;
            builder.mode(self.mode(true));
        }
        builder.create(path)
    }

    fn create_in(&self, folder: &Path) -> io::Result<(PathBuf, Box<dyn OpenFile>)> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(TEMPORARY);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            builder.permissions(fs::Permissions::from_mode(self.mode(false)));
        }
        let made: NamedTempFile = builder.tempfile_in(folder)?;
        let (file, path) = made.keep().map_err(|err| err.error)?;
        Ok((path, Box::new(file)))
    }

    fn open_append(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        match fs::symlink_metadata(path) {
            Ok(what) if !what.is_file() => return Err(io::Error::other("it is no plain file")),
            Err(err) if err.kind() != io::ErrorKind::NotFound => return Err(err),
            Ok(_) | Err(_) => {}
        }
        let mut options = OpenOptions::new();
        options.create(true).append(true);
        #[cfg(unix)]
        {
            use std::os::unix::fs::OpenOptionsExt as _;
            options.mode(self.mode(false));
        }
        Ok(Box::new(options.open(path)?))
    }

    fn put_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        // The caller removes `from` where this fails, as it does where the disk has gone.
        TempPath::try_from_path(from)?.persist_noclobber(to).map_err(|err| err.error)
    }

    fn put_over(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        fs::remove_dir_all(path)
    }

    fn is_there(&self, path: &Path) -> io::Result<bool> {
        path.try_exists()
    }

    fn is_link(&self, path: &Path) -> io::Result<bool> {
        match fs::symlink_metadata(path) {
            Ok(what) => Ok(what.is_symlink()),
            Err(err) if err.kind() == io::ErrorKind::NotFound => Ok(false),
            Err(err) => Err(err),
        }
    }
}

/// A size in words, rounded up.
fn megabytes(bytes: u64) -> String {
    format!("{} MB", bytes.div_ceil(1024 * 1024))
}
