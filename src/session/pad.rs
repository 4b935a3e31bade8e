//! What is typed and not logged, and how the keeper wants the day: kept beside the visit, so that no kill costs it.

use super::{Done, Effect, Session};
use crate::model::{Jotting, PadLine, YardId, days_after, pad_of};
use crate::wording;

impl Session {
    /// What is typed in a place and not logged.
    pub fn jotting(&self, place: &str) -> Option<&Jotting> {
        self.jottings.iter().find(|jotting| jotting.place == place)
    }

    /// Keeps what is typed in a place.
    pub(super) fn jot(&mut self, jotting: Jotting) -> Done {
        if self.jotting(&jotting.place) == Some(&jotting) {
            return Done::default();
        }
        self.jottings.retain(|there| there.place != jotting.place);
        self.jottings.push(jotting.clone());
        self.on_the_pad(PadLine::Typed(jotting))
    }

    /// What was typed in a place is logged, or emptied.
    pub(super) fn jotted(&mut self, place: &str) -> Done {
        if self.jotting(place).is_none() {
            return Done::default();
        }
        self.jottings.retain(|there| there.place != place);
        self.on_the_pad(PadLine::Done(place.to_owned()))
    }

    /// Keeps how the keeper wants a yard's day.
    pub(super) fn wished(&self, yard: &YardId) -> Done {
        self.on_the_pad(self.wish_line(yard))
    }

    fn wish_line(&self, yard: &YardId) -> PadLine {
        let wish = self.wishes.get(yard).cloned().unwrap_or_default();
        PadLine::Day { yard: yard.clone(), on: self.today, wish }
    }

    /// A book that may not be written keeps it in memory alone.
    fn on_the_pad(&self, line: PadLine) -> Done {
        let line = self.read_only.is_none().then_some(Effect::Pad(line));
        Done::default().with(line)
    }

    /// All that stands on the pad.
    pub(super) fn pad_lines(&self) -> Vec<PadLine> {
        let typed = self.jottings.iter().cloned().map(PadLine::Typed);
        typed.chain(self.wishes.keys().map(|yard| self.wish_line(yard))).collect()
    }

    /// Takes in the pad as it was left; what still stood open is told.
    pub(super) fn take_in_pad(&mut self, lines: Vec<PadLine>) -> Done {
        let (jottings, wishes) = pad_of(lines, self.today);
        self.jottings = jottings;
        self.wishes = wishes.into_iter().collect();
        self.reorder();
        // What is older is kept too, but the keeper knows of it or no longer cares.
        let since = days_after(self.today, -1);
        let is_news = |j: &&Jotting| j.is_open && j.on >= since && !j.what.is_empty();
        let open: Vec<&str> = self.jottings.iter().filter(is_news).map(|j| j.what.as_str()).collect();
        match open.as_slice() {
            [] => Done::default(),
            several => Done::saying(format!("Typed, kept and not logged: {}.", wording::list(several))),
        }
    }

    /// The disk does not keep the pad: said once.
    pub(super) fn pad_refused(&mut self, why: &str) -> Done {
        if std::mem::replace(&mut self.pad_is_refused, true) {
            return Done::default();
        }
        Done::failing(format!("What you type is not kept until it is logged: {why}."))
    }
}
