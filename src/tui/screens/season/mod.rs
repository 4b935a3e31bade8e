//! The season: a yard's year as a strip with today on it, its dates, and the deadlines counted down.

pub(crate) mod draw;
mod strip;

use crate::plan::DEADLINES;
use crate::season::{REFERENCE, SeasonDate};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::screens::{Screen, Turn, practice};

/// The season screen.
#[derive(Debug)]
pub(crate) struct SeasonScreen {
    /// Which yard of the book.
    pub(crate) yard: usize,
    /// Which date.
    pub(crate) row: usize,
}

impl SeasonScreen {
    /// Of a yard, on the deadline that is next.
    pub(crate) fn of(app: &App, yard: usize) -> Self {
        let row = app.book.yards.get(yard).map_or(0, |y| {
            let calendar = app.calendar(y);
            let is_deadline = |id| DEADLINES.iter().any(|(deadline, _)| *deadline == id);
            let next = |d: &SeasonDate| d.window.closes >= app.today && is_deadline(d.id);
            calendar.dates.iter().position(next).unwrap_or(0)
        });
        Self { yard, row }
    }

    pub(super) fn update(&mut self, app: &App, command: Command) -> Turn {
        let yards = app.book.yards.len();
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(REFERENCE.len() - 1),
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                self.yard = (self.yard + step) % yards;
            }
            Command::Practice => {
                let date = REFERENCE.get(self.row).map(|r| r.id);
                return Turn::Open(Screen::Practice(practice::PracticeScreen::at(date)));
            }
            Command::Back => return Turn::Close,
            _ => {}
        }
        Turn::Stay
    }
}
