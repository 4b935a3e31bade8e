//! Sheets on a yard, to be read: the weeks ahead, readiness for winter, what each hive is worth.

pub(crate) mod draw;

use crate::plan::{self, Trip};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// Which sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sheet {
    /// Trips in the weeks ahead.
    Weeks,
    /// Readiness for winter.
    Readiness,
    /// What each hive is worth.
    Worth,
}

impl Sheet {
    /// The one after it.
    fn next(self) -> Self {
        match self {
            Self::Weeks => Self::Readiness,
            Self::Readiness => Self::Worth,
            Self::Worth => Self::Weeks,
        }
    }

    /// Its title.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Weeks => "Weeks ahead",
            Self::Readiness => "Ready for winter?",
            Self::Worth => "What each hive is worth",
        }
    }
}

/// A sheet's screen.
#[derive(Debug)]
pub(crate) struct SheetScreen {
    /// Which sheet.
    pub(crate) sheet: Sheet,
    /// Which yard of the book.
    pub(crate) yard: usize,
    /// The trips ahead, worked out when the sheet is opened.
    pub(crate) trips: Vec<Trip>,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl SheetScreen {
    /// A sheet on a yard.
    pub(crate) fn of(app: &App, sheet: Sheet, yard: usize) -> Self {
        let trips = match (sheet, app.book.yards.get(yard)) {
            (Sheet::Weeks, Some(y)) => plan::trips(&mut app.outlook(y), app.today, app.plan.pace),
            _ => Vec::new(),
        };
        Self { sheet, yard, trips, scroll: Scroll::default() }
    }

    pub(super) fn update(&mut self, app: &App, command: Command) -> Turn {
        let yards = app.book.yards.len();
        match command {
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                *self = Self::of(app, self.sheet, (self.yard + step) % yards);
            }
            Command::Switch => *self = Self::of(app, self.sheet.next(), self.yard),
            Command::Back => return Turn::Close,
            other => self.scroll.update(other),
        }
        Turn::Stay
    }
}
