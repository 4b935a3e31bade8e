//! Where a tap lands: areas noted while a screen is drawn.

use std::cell::RefCell;

use crossterm::event::KeyCode;
use ratatui::layout::{Position, Rect};

/// What is at a place of the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tap {
    /// A key of the footer.
    Key(KeyCode),
    /// A row, by its number.
    Row(usize),
}

/// The areas of the screen as it was last drawn. Noted behind a shared reference, for drawing changes nothing else.
#[derive(Debug, Default)]
pub(crate) struct Taps(RefCell<Vec<(Rect, Tap)>>);

impl Taps {
    /// Forgets them: the screen is drawn anew.
    pub(crate) fn clear(&self) {
        self.0.borrow_mut().clear();
    }

    pub(crate) fn note(&self, area: Rect, tap: Tap) {
        self.0.borrow_mut().push((area, tap));
    }

    /// What is at a column and line.
    pub(crate) fn at(&self, column: u16, line: u16) -> Option<Tap> {
        let place = Position::new(column, line);
        self.0.borrow().iter().rev().find(|(area, _)| area.contains(place)).map(|(_, tap)| *tap)
    }
}
