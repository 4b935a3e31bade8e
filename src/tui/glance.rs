//! The first screen as it was last drawn, shown while the book is still being read; the screen drawn after it is the same.

use std::io;

use crossterm::terminal;
use ratatui::buffer::Buffer;
use ratatui::style::Style;
use serde::{Deserialize, Serialize};

use super::guard::Guard;
use super::look::{Wear, mark_of};
use crate::session::Config;

/// A screen as it was drawn, in one look and size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Glance {
    /// The look in a number.
    look: u64,
    /// Columns and rows.
    size: (u16, u16),
    rows: Vec<Vec<Run>>,
}

/// Cells side by side of one style.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Run {
    /// What stands in each, parted by line feeds, for a cell may hold several characters or none.
    cells: String,
    style: Style,
}

/// Between two cells of a run; no cell holds one.
const PARTED: char = '\n';

impl Glance {
    /// Of a screen that was drawn.
    pub(super) fn of(screen: &Buffer, look: u64) -> Self {
        let mut rows: Vec<Vec<Run>> = Vec::new();
        for row in screen.content.chunks(usize::from(screen.area.width).max(1)) {
            let mut runs: Vec<Run> = Vec::new();
            for cell in row {
                match runs.last_mut().filter(|run| run.style == cell.style()) {
                    Some(run) => {
                        run.cells.push(PARTED);
                        run.cells.push_str(cell.symbol());
                    }
                    None => runs.push(Run { cells: cell.symbol().to_owned(), style: cell.style() }),
                }
            }
            rows.push(runs);
        }
        Self { look, size: (screen.area.width, screen.area.height), rows }
    }

    /// Draws it as it was.
    pub(super) fn draw(&self, screen: &mut Buffer) {
        for (y, row) in (screen.area.y..).zip(&self.rows) {
            let cells = row.iter().flat_map(|run| run.cells.split(PARTED).map(|symbol| (symbol, run.style)));
            for (x, (symbol, style)) in (screen.area.x..).zip(cells) {
                if let Some(cell) = screen.cell_mut((x, y)) {
                    cell.set_symbol(symbol).set_style(style);
                }
            }
        }
    }
}

/// A screen that is shown while the book is being read. Dropped, it gives the terminal back.
pub struct Glanced {
    pub(super) guard: Guard,
    pub(super) shown: Glance,
}

/// Shows a screen as it was kept, where the look and the size are those it was drawn in.
///
/// # Errors
/// Where the terminal fails.
pub fn glance(kept: Glance, config: &Config, wear: &Wear) -> io::Result<Option<Glanced>> {
    if kept.look != mark_of(config, wear) || terminal::size()? != kept.size {
        return Ok(None);
    }
    let mut guard = Guard::enter(wear.depth)?;
    guard.terminal.draw(|frame| kept.draw(frame.buffer_mut()))?;
    Ok(Some(Glanced { guard, shown: kept }))
}
