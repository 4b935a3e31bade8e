//! Sheets on a yard, to be read: the weeks ahead, readiness for winter, what each hive is worth.

pub(crate) mod draw;

use crate::model::Yard;
use crate::plan::readiness::{Row, Winter, last_winter, readiness};
use crate::plan::{self, Trip, Worth};
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

/// What stands on a sheet.
#[derive(Debug)]
pub(crate) enum SheetPage {
    /// The trips ahead.
    Weeks(Vec<Trip>),
    /// Each hive's row, and how the last winter ended.
    Readiness(Vec<Row>, Option<Winter>),
    /// Each hive's figures.
    Worth(Vec<Worth>),
}

impl SheetPage {
    fn of(app: &App, sheet: Sheet, yard: &Yard) -> Self {
        let mut outlook = app.outlook(yard);
        match sheet {
            Sheet::Weeks => Self::Weeks(plan::trips(&mut outlook, app.today, app.plan.pace)),
            Sheet::Readiness => {
                let calendar = app.calendar(yard);
                let grid = readiness(outlook.stands(), &calendar, &app.book.practice, app.today);
                Self::Readiness(grid, last_winter(&app.book, yard, &calendar, app.today))
            }
            Sheet::Worth => Self::Worth(plan::worth(&app.book, yard, &app.folded, app.today)),
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
    /// What stands on it, worked out when it is opened and not at each drawing.
    pub(crate) page: SheetPage,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl SheetScreen {
    /// A sheet on a yard.
    pub(crate) fn of(app: &App, sheet: Sheet, yard: usize) -> Self {
        let page =
            app.book.yards.get(yard).map_or(SheetPage::Weeks(Vec::new()), |y| SheetPage::of(app, sheet, y));
        Self { sheet, yard, page, scroll: Scroll::default() }
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
