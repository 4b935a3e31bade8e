//! The keys of a place, as they really are.

pub(crate) mod draw;

use crate::tui::command::Command;
use crate::tui::keys::Place;
use crate::tui::screens::Turn;

/// The help screen.
#[derive(Debug)]
pub(crate) struct HelpScreen {
    /// Whose keys.
    pub(crate) place: Place,
    /// First line shown.
    pub(crate) top: usize,
}

impl HelpScreen {
    /// The keys of a place.
    pub(crate) fn of(place: Place) -> Self {
        Self { place, top: 0 }
    }

    pub(super) fn update(&mut self, command: Command) -> Turn {
        match command {
            Command::Up => self.top = self.top.saturating_sub(1),
            Command::Down => self.top += 1,
            Command::PageUp => self.top = self.top.saturating_sub(10),
            Command::PageDown => self.top += 10,
            Command::Back => return Turn::Close,
            _ => {}
        }
        Turn::Stay
    }
}
