//! What the program asks of the world; `run` carries it out.

use crate::model::{Practice, Visit, VisitId};
use crate::store::DraftStep;

/// Something to do outside the state.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "a handful at a time")]
pub(crate) enum Effect {
    /// Begin a draft.
    BeginDraft(VisitId),
    /// Put a step of the visit on the disk.
    Draft(DraftStep),
    /// Write the yards with another practice, which then holds.
    SavePractice(Box<Practice>),
    /// Write the visit, and then remove its draft.
    SaveVisit(Visit),
}
