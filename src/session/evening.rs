//! The hives as they will stand once the visit in hand is saved. What is said of the next days goes by that, so that the
//! wrap-up, the card and the plan of the next morning agree.

use std::borrow::Cow;

use super::{HiveView, OpenVisit, Session};
use crate::advice::Advice;
use crate::model::{Entry, Folded};
use crate::plan::{self, NextDue, Outlook};

/// The book with the visit in hand taken in.
#[derive(Debug)]
pub struct Evening<'a> {
    session: &'a Session,
    folded: Cow<'a, Folded>,
}

impl Session {
    /// The hives as they will stand once the visit in hand is saved.
    pub fn evening(&self) -> Evening<'_> {
        let folded = match &self.visit {
            Some(open) => Cow::Owned(self.folded.with(&open.finished_visit())),
            None => Cow::Borrowed(&self.folded),
        };
        Evening { session: self, folded }
    }

    /// What is written of each hive in the visit in hand, and the hives made today of which nothing is written yet.
    fn written(&self) -> Vec<Entry> {
        let Some(visit) = self.visit.as_ref().map(OpenVisit::finished_visit) else { return Vec::new() };
        let made = self.made_today(&visit.yard).into_iter().filter(|hive| visit.entry(hive).is_none());
        let made: Vec<Entry> = made.map(Entry::blank).collect();
        visit.entries.into_iter().chain(made).collect()
    }
}

/// A hive of the visit in hand, as the wrap-up speaks of it.
#[derive(Debug)]
pub struct Written {
    /// What is written of it.
    pub entry: Entry,
    /// What is advised now; none where the hive is not in the yard any more.
    pub advice: Option<Advice>,
    /// What it needs next.
    pub next: Option<NextDue>,
}

impl Evening<'_> {
    /// The hives something is written of, and those made today.
    pub fn hives(&self) -> impl Iterator<Item = Written> {
        self.session.written().into_iter().map(|entry| {
            let view = self.session.view(&entry.hive);
            let next = view.as_ref().and_then(|view| self.next_due(view));
            Written { entry, advice: view.map(|view| view.advice), next }
        })
    }

    /// What a hive needs next, where it is not due today.
    pub fn next_due(&self, view: &HiveView) -> Option<NextDue> {
        if view.advice.makes_a_trip() {
            return None;
        }
        let yard = self.session.yard(&view.state.yard)?;
        let state = self.folded.hive(&view.state.id)?;
        let mut outlook = Outlook::of(&self.session.book, &self.folded, yard);
        plan::next_due(&mut outlook, state, self.session.today)
    }
}
