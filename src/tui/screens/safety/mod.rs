//! What to do when something goes wrong in the yard, one key from anywhere; and what to mind before a treatment.

pub(crate) mod cards;
pub(crate) mod draw;

use crate::tui::command::Command;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// The safety screen.
#[derive(Debug, Default)]
pub(crate) struct SafetyScreen {
    /// Whether it is shown before the first treatment of a day.
    pub(crate) before_treatment: bool,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl SafetyScreen {
    /// Before the first treatment of a day.
    pub(crate) fn before_treatment() -> Self {
        Self { before_treatment: true, scroll: Scroll::default() }
    }

    pub(super) fn update(&mut self, command: Command) -> Turn {
        if command == Command::Back {
            return Turn::Close;
        }
        self.scroll.update(command);
        Turn::Stay
    }
}
