//! What can go wrong with files, each with where and how to mend it.

use std::io;
use std::path::{Path, PathBuf};

use crate::model::LeftOut;

/// An error of the store.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The system refused.
    #[error("{path}: cannot {doing}", path = .path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What was tried.
        doing: &'static str,
        /// The system's word.
        #[source]
        source: io::Error,
    },
    /// A file is not what it should be.
    #[error("{path}:{line}:{column}: {what}", path = .path.display())]
    Syntax {
        /// The file.
        path: PathBuf,
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What was found and what was expected.
        what: String,
        /// How to mend it.
        mend: String,
    },
    /// A file of a format this program does not know.
    #[error("{path}: format {found} is newer than this program reads ({known})", path = .path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: u32,
        /// The newest this program knows.
        known: u32,
    },
    /// The book does not hold together.
    #[error("{path}: {what}", path = .path.display())]
    Faulty {
        /// The file.
        path: PathBuf,
        /// The first fault.
        what: String,
        /// How to mend it.
        mend: String,
        /// How many more there are.
        more: usize,
    },
    /// No such book.
    #[error("{path}: no book here", path = .path.display())]
    NoBook {
        /// The path.
        path: PathBuf,
    },
    /// The book has gone while it was open.
    #[error("{path}: the book is no longer there", path = .path.display())]
    Gone {
        /// The book's folder.
        path: PathBuf,
    },
    /// A symbolic link in a book.
    #[error("{path}: is a symbolic link, which may lead out of the book", path = .path.display())]
    Link {
        /// The link.
        path: PathBuf,
    },
    /// A scenario that cannot be played.
    #[error("{path}: {fault}", path = .path.display())]
    Scenario {
        /// Its file.
        path: PathBuf,
        /// What is wrong, and what to write.
        fault: String,
    },
    /// Something is there already.
    #[error("{path}: there is a file of this name already", path = .path.display())]
    Taken {
        /// The path.
        path: PathBuf,
    },
    /// The home folder is not known.
    #[error("the data folder is not known: neither HOME nor XDG_DATA_HOME is set")]
    NoHome,
}

impl StoreError {
    /// What went wrong, and why the system says so.
    pub fn with_cause(&self) -> String {
        std::error::Error::source(self).map_or_else(|| self.to_string(), |cause| format!("{self}: {cause}"))
    }

    /// The file or folder it is about.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Io { path, .. }
            | Self::Syntax { path, .. }
            | Self::Newer { path, .. }
            | Self::Faulty { path, .. }
            | Self::NoBook { path }
            | Self::Gone { path }
            | Self::Link { path }
            | Self::Scenario { path, .. }
            | Self::Taken { path } => Some(path),
            Self::NoHome => None,
        }
    }

    /// What is wrong, for a line that names the file itself.
    pub fn what(&self) -> String {
        match self {
            Self::Syntax { line, column, what, .. } => format!("line {line}, column {column}: {what}"),
            Self::Faulty { what, .. } => what.clone(),
            other => {
                let words = other.with_cause();
                let named = other.path().map(|path| format!("{}: ", path.display())).unwrap_or_default();
                words.strip_prefix(named.as_str()).unwrap_or(&words).to_owned()
            }
        }
    }

    /// A file of a book's folder that is left out because of it.
    pub(super) fn left_out(&self, file: &Path, folder: &Path) -> LeftOut {
        LeftOut {
            file: file.strip_prefix(folder).unwrap_or(file).to_owned(),
            instead: None,
            is_copy: false,
            what: format!("cannot be read: {}", self.what()),
            mend: self.hint_alone(),
        }
    }

    /// How to mend it, for a list in which nothing was to be changed.
    pub fn hint_alone(&self) -> String {
        let hint = self.hint();
        hint.strip_suffix("; nothing was changed").unwrap_or(&hint).to_owned()
    }

    /// How to mend it.
    pub fn hint(&self) -> String {
        match self {
            Self::Io { .. } => {
                "check that the disk is there, has room, and may be written; nothing was changed".to_owned()
            }
            Self::Syntax { mend, .. } | Self::Faulty { mend, more: 0, .. } => {
                format!("{mend}; nothing was changed")
            }
            Self::Newer { .. } => "use a newer yardwalk for this book; nothing was changed".to_owned(),
            Self::Faulty { mend, more, .. } => {
                format!("{mend}; {more} more faults: `yardwalk check` lists them all; nothing was changed")
            }
            Self::NoBook { .. } => {
                "name a book folder (with a yard.ron in it) or a whole-book file such as sample-yard.ron"
                    .to_owned()
            }
            Self::Gone { .. } => "was the disk pulled out, or the folder moved? Put it back".to_owned(),
            Self::Link { .. } => "put the file itself in its place; nothing was changed".to_owned(),
            Self::Scenario { .. } => "mend the scenario; DEVELOPERS.md has its form".to_owned(),
            Self::Taken { .. } => "nothing was written; try again".to_owned(),
            Self::NoHome => "name a book with --book PATH".to_owned(),
        }
    }
}
