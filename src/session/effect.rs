//! What the session asks of the disk, and what came of it.

use std::path::PathBuf;

use chrono::NaiveDate;

use super::intent::Trouble;
use crate::model::{
    Book, Difference, DraftStep, LeftDraft, LeftOut, PadLine, Rehearsal, Settings, Side, Visit, VisitId,
};

/// Something to do on the disk.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "a handful at a time")]
pub enum Effect {
    /// Begin a draft.
    BeginDraft(VisitId),
    /// Put a step of the visit on the disk.
    Draft(DraftStep),
    /// Put a line on the pad.
    Pad(PadLine),
    /// Try once more to put on the disk what it refused.
    CatchUp,
    /// Write the visit, and then remove its draft.
    SaveVisit(Box<Visit>),
    /// Write the yards, hives and practice of this book.
    SaveYards {
        /// The book, without its visits.
        yards: Box<Book>,
        /// Whether comments written by hand into `yard.ron` may go.
        drop_comments: bool,
        /// Whether what was changed meanwhile may be joined with it.
        may_join: bool,
    },
    /// Settle what was set up in two ways, each as chosen.
    Settle(Vec<Side>),
    /// Write how far the rehearsal has come.
    SaveRehearsal(Box<Rehearsal>),
    /// Write the settings of this laptop.
    SaveSettings(Box<Settings>),
    /// Open the draft of a visit that was left.
    TakeUp {
        /// Its file.
        path: PathBuf,
        /// The visit.
        visit: VisitId,
    },
    /// Put the open draft aside and keep it.
    PutAside {
        /// Whether that is because it cannot be taken up.
        is_unusable: bool,
    },
    /// List the drafts that were left.
    ListLeft,
    /// Read the whole book again.
    ReadAgain {
        /// The last day a visit may be dated.
        until: NaiveDate,
    },
    /// Put a file of the book aside, and read the book again.
    PutFileAside {
        /// The file, from the book's folder on.
        file: PathBuf,
        /// The last day a visit may be dated.
        until: NaiveDate,
    },
    /// Remove a draft whose visit is saved: a kill came between the two.
    Forget {
        /// Its file.
        path: PathBuf,
        /// The visit.
        visit: VisitId,
    },
}

/// What came of an effect.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "one at a time")]
pub enum Outcome {
    /// There is nothing to tell.
    Nothing,
    /// All that was entered is on the disk.
    Written,
    /// The visit is in a file of its own.
    VisitSaved(Box<Visit>),
    /// The yards, hives and practice are on the disk.
    YardsSaved {
        /// As they stand there.
        yards: Box<Book>,
        /// What was set up in two ways.
        differences: Vec<Difference>,
        /// Whether something was taken in that was changed meanwhile.
        was_joined: bool,
    },
    /// They are not, and why.
    YardsRefused(String),
    /// They were not written: comments written by hand would go, so many.
    CommentsAtStake(usize),
    /// The book was read again.
    BookRead {
        /// The book.
        book: Box<Book>,
        /// The files that were not taken in.
        left_out: Vec<LeftOut>,
        /// What was set up in two ways.
        differences: Vec<Difference>,
        /// Where a file was put aside.
        aside: Option<PathBuf>,
    },
    /// It could not be, or the file could not be put aside, and why.
    NotRead(String),
    /// The rehearsal has come to its day.
    RehearsalSaved(Box<Rehearsal>),
    /// It has not, and why.
    RehearsalRefused(String),
    /// The settings hold until the program is left, and why.
    SettingsRefused(String),
    /// What is typed is not kept until it is logged, and why.
    PadRefused(String),
    /// A draft is open, with these steps.
    TakenUp {
        /// Its file until now.
        path: PathBuf,
        /// Its steps.
        steps: Vec<DraftStep>,
    },
    /// It cannot be opened, and why.
    NotTakenUp(String),
    /// The open draft was put aside.
    PutAside {
        /// Whether that is because it cannot be taken up.
        is_unusable: bool,
    },
    /// It was not, and why.
    NotPutAside(String),
    /// The drafts that were left.
    Left(Vec<LeftDraft>),
    /// The disk refused a step or a visit.
    Refused {
        /// What happened.
        trouble: Trouble,
        /// The visit that could not be written, where it was one.
        visit: Option<Box<Visit>>,
        /// Whether a draft is open, so that something was entered that could be lost.
        has_draft: bool,
        /// Whether the keeper asked for it.
        asked_for: bool,
    },
}
