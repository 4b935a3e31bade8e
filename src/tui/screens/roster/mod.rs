//! The roster: every hive of every yard in a row.

pub(crate) mod draw;

use crate::model::HiveId;
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::screens::{Screen, Turn, card};

/// The roster screen.
#[derive(Debug, Default)]
pub(crate) struct RosterScreen {
    /// Which row.
    pub(crate) row: usize,
}

/// Every hive that stands on the day, in the order of the yards and stands.
pub(crate) fn hives(app: &App) -> Vec<HiveId> {
    app.book
        .yards
        .iter()
        .flat_map(|y| &y.hives)
        .filter(|h| app.folded.hive(&h.id).is_some())
        .map(|h| h.id.clone())
        .collect()
}

impl RosterScreen {
    pub(super) fn update(&mut self, app: &App, command: Command) -> Turn {
        let last = hives(app).len().saturating_sub(1);
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(last),
            Command::PageUp => self.row = self.row.saturating_sub(10),
            Command::PageDown => self.row = (self.row + 10).min(last),
            Command::Card => {
                if let Some(hive) = hives(app).into_iter().nth(self.row) {
                    return Turn::Open(Screen::Card(card::CardScreen::of(app, hive)));
                }
            }
            Command::Back => return Turn::Close,
            _ => {}
        }
        Turn::Stay
    }
}
