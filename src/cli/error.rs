//! What can go wrong with a command, and how to mend it.

use std::io;
use std::path::PathBuf;

use crate::report;
use crate::store::StoreError;

/// What can go wrong with a command.
#[derive(Debug, thiserror::Error)]
pub enum CliError {
    /// With files.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// With the terminal or a pipe.
    #[error(transparent)]
    Io(#[from] io::Error),
    /// With JSON.
    #[error(transparent)]
    Json(#[from] serde_json::Error),
    /// With a table.
    #[error(transparent)]
    Csv(#[from] csv::Error),
    /// With words that could not be written.
    #[error(transparent)]
    Words(#[from] std::fmt::Error),
    /// With an export that is to be read.
    #[error(transparent)]
    Export(#[from] report::ExportError),
    /// A hive that is not there.
    #[error("there is no hive `{asked}` in this book{when}", when = if *.is_later { " on that day yet" } else { "" })]
    NoHive {
        /// What was asked for.
        asked: String,
        /// What it may have been meant for.
        near: Option<String>,
        /// Whether it comes later.
        is_later: bool,
    },
    /// A visit that is not there.
    #[error("there is no such visit in this book")]
    NoVisit {
        /// What was asked for.
        asked: Option<String>,
        /// The last there is.
        last: Option<String>,
    },
    /// A file that is not there.
    #[error("there is no file {path}")]
    NoFile {
        /// What was asked for.
        path: String,
        /// The file of that folder it may have been meant for.
        near: Option<String>,
    },
    /// A file is there that was not to be written over.
    #[error("{0} is there already")]
    FileIsThere(String),
    /// A table of visits that cannot be read.
    #[error("{0}")]
    Notebook(crate::session::notebook::NotebookFault),
    /// A rehearsal is there already, and another was asked for.
    #[error("a rehearsal is under way: it has come to {day}")]
    RehearsalUnderWay {
        /// The day it has come to.
        day: String,
    },
    /// No rehearsal has begun.
    #[error("no rehearsal has begun")]
    NoRehearsal,
    /// What really was is not told before the end.
    #[error("the rehearsal runs until {until}; what really was is told from then on")]
    NotOver {
        /// Its last day.
        until: String,
    },
    /// A scenario that is not there.
    #[error("there is no scenario `{asked}`")]
    NoScenario {
        /// What was asked for.
        asked: String,
        /// Those that are there.
        known: String,
    },
    /// A command that is not there.
    #[error("there is no command `{0}`")]
    NoCommand(String),
    /// Comments written by hand would go.
    #[error("{} written by hand in yard.ron would go", crate::wording::count(*.0, "comment"))]
    Comments(usize),
    /// A file that cannot be imported.
    #[error("{0} is neither a table of hives nor a book")]
    NoImport(String),
    /// Hives are to be added to a file.
    #[error("{0} is a whole-book file, and hives are added to a book folder")]
    NotAFolder(String),
    /// Another program writes the book.
    #[error("the book cannot be written now: {0}")]
    Held(String),
    /// What was written does not read back as it was.
    #[error("{0} does not read back as what was written")]
    NotWhole(String),
    /// A name no book can have.
    #[error("`{0}` cannot be the name of a book")]
    BookName(String),
    /// A sum that cannot be worked out.
    #[error("{0}")]
    NoSum(String),
    /// Something that was answered is not on the disk.
    #[error("not all that was answered is on the disk")]
    NotOnDisk,
    /// A yard that is not there.
    #[error("there is no yard `{asked}` in this book")]
    NoYard {
        /// What was asked for.
        asked: String,
        /// What there is.
        known: String,
    },
    /// A theme that is not there.
    #[error("there is no theme `{asked}`")]
    NoTheme {
        /// What was asked for.
        asked: String,
        /// What there is.
        known: String,
    },
    /// A place that is none.
    #[error("that is no place: {0}")]
    NoPlace(String),
    /// One yard is wanted, and there are several or none.
    #[error("JSON is of one yard, and this book has others or none")]
    OneYard {
        /// What there is.
        known: String,
    },
    /// Several books and none named.
    #[error("there are several books in {folder}: {names}", folder = .folder.display())]
    ManyBooks {
        /// Where.
        folder: PathBuf,
        /// Which.
        names: String,
    },
    /// No book yet.
    #[error("there is no book yet")]
    NoBookYet,
    /// No terminal.
    #[error("this is not a terminal, so there is nothing to draw on")]
    NoTerminal,
}

impl CliError {
    /// Whether the reader of our output has gone away.
    pub fn is_broken_pipe(&self) -> bool {
        matches!(self, Self::Io(err) if err.kind() == io::ErrorKind::BrokenPipe)
    }

    /// How to mend it.
    pub fn hint(&self) -> String {
        match self {
            Self::Store(err @ (StoreError::Syntax { path, .. } | StoreError::Faulty { path, .. }))
                if path.ends_with("yard.ron") =>
            {
                let hint = err.hint();
                format!("{hint}; or run `yardwalk` in a terminal, which offers the last good one of former/")
            }
            Self::Store(err) => err.hint(),
            Self::Io(_) | Self::Json(_) | Self::Csv(_) | Self::Words(_) => {
                String::new()
            }
            Self::NoSum(_) => "`yardwalk calc --help` lists the sums and how they are written".to_owned(),
            Self::NoYard { known, .. } => format!("yards here are {known}"),
            Self::Export(_) => "give a file written by `yardwalk export json`".to_owned(),
            Self::FileIsThere(_) => "name another file, or write over it with --replace".to_owned(),
            Self::Notebook(crate::session::notebook::NotebookFault::TwoDays(_)) => {
                "say which: --days day-first or --days month-first".to_owned()
            }
            Self::Notebook(crate::session::notebook::NotebookFault::NoTable(_)) => {
                "name its columns date, hive, and what was found: bees, brood, mites, weight_lb, note".to_owned()
            }
            Self::RehearsalUnderWay { .. } => {
                "go on with it by `yardwalk rehearse`, or begin another with --fresh".to_owned()
            }
            Self::NoRehearsal => "`yardwalk rehearse` begins one".to_owned(),
            Self::NotOver { .. } => "go on with it: D on Today chooses when to come back".to_owned(),
            Self::NoScenario { known, .. } => format!("scenarios are {known}; or name a file"),
            Self::NoCommand(_) => "`yardwalk help` lists them".to_owned(),
            Self::NoTheme { known, .. } => format!("themes are {known}"),
            Self::NoHive { near: Some(near), .. } => format!("did you mean {near}? `yardwalk export csv --table hives` lists them"),
            Self::NoHive { near: None, .. } => "`yardwalk export csv --table hives` lists them".to_owned(),
            Self::NoVisit { asked, last } => match (asked, last) {
                (Some(asked), Some(last)) => format!("`{asked}` is not among them; the last is `{last}`"),
                _ => "the book has no visit up to that day".to_owned(),
            },
            Self::NoFile { near: Some(near), .. } => format!("check the path; did you mean {near}?"),
            Self::NoFile { near: None, .. } => "check the path: a relative one begins at the folder you are in".to_owned(),
            Self::Comments(_) => {
                "give --drop-comments to write the file anew; the one with the comments is kept in former/".to_owned()
            }
            Self::NoImport(_) => "give a .csv table of hives, or a .ron or .json of a whole book".to_owned(),
            Self::NotAFolder(_) => "import the book first (`yardwalk import FILE.ron`), then name it with --book".to_owned(),
            Self::NotOnDisk => "free the disk or put it back, then walk again: what was kept is offered".to_owned(),
            Self::Held(_) => "close the other window, or mend the folder's permission".to_owned(),
            Self::NotWhole(_) => "do not rely on it; write it again, on another disk".to_owned(),
            Self::BookName(_) => "give letters, figures, spaces and hyphens with --name".to_owned(),
            Self::OneYard { known } => format!("name one with --yard: {known}"),
            Self::NoPlace(_) => {
                "give --lat -90 to 90, --lon -180 to 180, and freeze dates of the same side of the equator".to_owned()
            }
            Self::ManyBooks { .. } => "name one with --book NAME".to_owned(),
            Self::NoBookYet => {
                "run `yardwalk` in a terminal to begin one, `yardwalk demo` for the sample, or name one with --book PATH"
                    .to_owned()
            }
            Self::NoTerminal => "run it in a terminal, or print the day with `yardwalk plan`".to_owned(),
        }
    }
}
