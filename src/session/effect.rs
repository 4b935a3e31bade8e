//! What the program asks of the world; `run` carries it out.

use std::path::PathBuf;

use crate::model::{Book, Settings, Visit, VisitId};
use crate::store::DraftStep;

/// Something to do outside the state.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "a handful at a time")]
pub(crate) enum Effect {
    /// Begin a draft.
    BeginDraft(VisitId),
    /// Put a step of the visit on the disk.
    Draft(DraftStep),
    /// Try once more to put on the disk what it refused.
    CatchUp,
    /// Write the yards, hives and practice of this book, which then hold.
    SaveYards(Box<Book>),
    /// Write the settings of this laptop.
    SaveSettings(Box<Settings>),
    /// Take up a visit that was left.
    TakeUp(PathBuf, VisitId),
    /// Put the visit in progress aside, its draft kept.
    PutAside,
    /// Write the visit, and then remove its draft.
    SaveVisit(Visit),
}
