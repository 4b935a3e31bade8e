//! The load list of a yard: what the truck must carry today, ticked as it is loaded.

pub(crate) mod draw;

use crate::plan::LoadList;
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;
use crate::tui::widgets::row_after;

/// The load list's screen.
#[derive(Debug)]
pub(crate) struct LoadScreen {
    /// Which yard of the day.
    pub(crate) yard: usize,
    /// Which line, the likely ones first.
    pub(crate) row: usize,
    /// The list.
    pub(crate) list: LoadList,
}

impl LoadScreen {
    /// Of a yard.
    pub(crate) fn of(app: &App, yard: usize) -> Self {
        Self { yard, row: 0, list: app.load_list(yard) }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let last = self.list.lines().count().saturating_sub(1);
        let yards = app.plan.yards.len();
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Turn::Stay;
        }
        match command {
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                *self = Self::of(app, (self.yard + step) % yards);
            }
            Command::Take => {
                if let Some(line) = self.list.lines().nth(self.row) {
                    effects.extend(app.tick(self.yard, &line.item.clone()));
                    self.row = (self.row + 1).min(last);
                }
            }
            Command::Back => return Turn::Close,
            _ => {}
        }
        Turn::Stay
    }
}
