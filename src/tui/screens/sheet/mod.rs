//! Sheets on a yard, to be read: the weeks ahead, readiness for winter, what each hive is worth.

mod draw;

use crate::model::Yard;
use crate::plan::readiness::{Row, Winter, last_winter, readiness};
use crate::plan::{self, Worth};
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::to::Sheet;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Scroll;

/// What stands on a sheet.
#[derive(Debug)]
enum SheetPage {
    /// The trips ahead, and what a visit today is worth most for: the session has them.
    Weeks,
    /// Each hive's row, and how the last winter ended.
    Readiness(Vec<Row>, Option<Winter>),
    /// Each hive's figures.
    Worth(Vec<Worth>),
}

impl SheetPage {
    fn of(session: &Session, sheet: Sheet, yard: &Yard) -> Self {
        match sheet {
            Sheet::Weeks => Self::Weeks,
            Sheet::Readiness => {
                let calendar = session.calendar(yard);
                let grid = readiness(
                    session.outlook(yard).stands(),
                    &calendar,
                    &session.book().practice,
                    session.today(),
                );
                Self::Readiness(grid, last_winter(session.book(), yard, &calendar, session.today()))
            }
            Sheet::Worth => Self::Worth(plan::worth(session.book(), yard, session.folded(), session.today())),
        }
    }
}

#[derive(Debug)]
pub(crate) struct SheetScreen {
    sheet: Sheet,
    /// Which yard of the book.
    yard: usize,
    page: SheetPage,
    scroll: Scroll,
}

impl SheetScreen {
    /// A sheet on a yard.
    pub(crate) fn of(sheet: Sheet, yard: usize) -> Self {
        Self { sheet, yard, page: SheetPage::Weeks, scroll: Scroll::default() }
    }
}

impl View for SheetScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Sheet
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let yards = session.book().yards.len();
        match command {
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                *self = Self::of(self.sheet, (self.yard + step) % yards);
                self.refresh(session);
            }
            Command::Switch => {
                *self = Self::of(self.sheet.next(), self.yard);
                self.refresh(session);
            }
            Command::Back => return Step::close(),
            other => self.scroll.update(other),
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        if let Some(yard) = session.book().yards.get(self.yard) {
            self.page = SheetPage::of(session, self.sheet, yard);
            if self.sheet == Sheet::Weeks {
                // Worked out here, so that drawing asks no rule.
                session.weeks_at(self.yard);
            }
        }
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
