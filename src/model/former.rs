//! What former formats meant, said in the words of today. Each step is done in memory; a visit's file is never rewritten.

use super::draft::DraftStep;
use super::visit::{Entry, Reply, Visit};

/// The format before answers said themselves that they keep promises.
const NAMED_BY_RULE: u32 = 2;
/// The one rule whose answer kept promises in those formats.
const KEPT_PROMISES: &str = "followup";

impl Entry {
    fn bring_up_from(&mut self, format: u32) {
        if format > NAMED_BY_RULE {
            return;
        }
        for answer in &mut self.answers {
            let is_kept = matches!(answer.reply, Reply::Done | Reply::NotNeeded);
            answer.keeps_promises |= is_kept && answer.rule.as_str() == KEPT_PROMISES;
        }
    }
}

impl Visit {
    /// Gives a visit of a former format the meaning it had then.
    #[must_use]
    pub fn brought_up_from(mut self, format: u32) -> Self {
        self.entries.iter_mut().for_each(|entry| entry.bring_up_from(format));
        self
    }
}

impl DraftStep {
    /// Gives a step of a draft of a former format the meaning it had then.
    #[must_use]
    pub fn brought_up_from(self, format: u32) -> Self {
        let entry = |mut entry: Entry| {
            entry.bring_up_from(format);
            entry
        };
        match self {
            Self::Head(visit) => Self::Head(visit.brought_up_from(format)),
            Self::Entry(found) => Self::Entry(entry(found)),
            Self::Changed(found) => Self::Changed(entry(found)),
            other @ (Self::Format(_)
            | Self::Of(_)
            | Self::Queue { .. }
            | Self::Weather { .. }
            | Self::Undone
            | Self::Redone
            | Self::At { .. }
            | Self::Finished(_)) => other,
        }
    }
}
