//! The load list of a yard: what the truck must carry today, ticked as it is loaded.

mod draw;

use std::collections::BTreeSet;

use crate::plan::{LoadList, Unused, unused};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::row_after;

/// The load list's screen.
#[derive(Debug, Default)]
pub(crate) struct LoadScreen {
    /// Which yard of the day.
    yard: usize,
    /// Which line, the likely ones first.
    row: usize,
    list: LoadList,
    /// What is ticked, in the list's words.
    ticked: BTreeSet<String>,
    /// What came home unused last time.
    home: Vec<Unused>,
}

impl LoadScreen {
    /// Of a yard of the day.
    pub(crate) fn of(yard: usize) -> Self {
        Self { yard, ..Self::default() }
    }
}

impl View for LoadScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Load
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let last = self.list.lines().count().saturating_sub(1);
        let yards = session.yards_of_day().len();
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Step::stay();
        }
        match command {
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                *self = Self::of((self.yard + step) % yards);
                self.refresh(session);
            }
            Command::Take => {
                let item = self.list.lines().nth(self.row).map(|line| line.item.clone());
                let yard = session.yards_of_day().nth(self.yard).cloned();
                if let (Some(item), Some(yard)) = (item, yard) {
                    self.row = (self.row + 1).min(last);
                    return Step::want(Intent::Tick { yard, item });
                }
            }
            Command::Back => return Step::close(),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        if let Some(yard) = session.yards_of_day().nth(self.yard) {
            self.list = session.load_list(yard);
            self.ticked = session.ticked(yard);
            self.home = unused(session.book(), yard, session.today());
        }
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
