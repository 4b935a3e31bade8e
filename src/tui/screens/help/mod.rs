//! The keys of a place, as they really are, and the finder: typed words search keys, screens and hives, Enter runs what is
//! found.

mod draw;
mod lines;

use std::rc::Rc;

use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::look::Appearance;
use crate::tui::search::Search;
use crate::tui::to::{Found, To};
use crate::tui::view::{Canvas, Step, Turn, View};
use crate::tui::widgets::row_after;

/// A line of the finder.
#[derive(Debug, Clone)]
pub(crate) struct FinderLine {
    /// The key, where it has one here.
    pub(crate) key: String,
    pub(crate) words: String,
    /// What it is found by besides, not shown.
    also: String,
    pub(crate) found: Found,
}

#[derive(Debug)]
pub(crate) struct HelpScreen {
    pub(crate) screen: ScreenId,
    pub(crate) search: Search,
    /// Which line of those that fit.
    pub(crate) row: usize,
    look: Rc<Appearance>,
    /// The lines that fit.
    items: Vec<FinderLine>,
}

impl HelpScreen {
    /// The keys of a screen.
    pub(crate) fn of(screen: ScreenId, look: Rc<Appearance>) -> Self {
        Self { screen, search: Search::typed(), row: 0, look, items: Vec::new() }
    }
}

impl View for HelpScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Help
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.search.write(command) {
            self.row = 0;
            self.refresh(session);
            return Step::stay();
        }
        if let Some(row) = row_after(command, self.row, self.items.len().saturating_sub(1)) {
            self.row = row;
            return Step::stay();
        }
        match (command, self.items.get(self.row).map(|i| i.found.clone())) {
            (Command::Back, _) => Step::close(),
            (Command::Take, Some(Found::Hive(hive))) => Step::replace(To::Card(hive)),
            (Command::Take, Some(Found::Setting(row))) => Step::replace(To::Settings(row)),
            (Command::Take, Some(found)) => Step { turn: Turn::Run(found), ..Step::stay() },
            (Command::Take, None) => Step::fail("Nothing is called that: erase some of it."),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        self.items = lines::find(self, session);
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
