//! The keys of a place, as they really are.

pub(crate) mod draw;

use crate::tui::command::Command;
use crate::tui::keys::Place;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// The help screen.
#[derive(Debug)]
pub(crate) struct HelpScreen {
    /// Whose keys.
    pub(crate) place: Place,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl HelpScreen {
    /// The keys of a place.
    pub(crate) fn of(place: Place) -> Self {
        Self { place, scroll: Scroll::default() }
    }

    pub(super) fn update(&mut self, command: Command) -> Turn {
        if command == Command::Back {
            return Turn::Close;
        }
        self.scroll.update(command);
        Turn::Stay
    }
}
