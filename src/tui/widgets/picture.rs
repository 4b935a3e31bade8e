//! A hive as a picture: its stack of boxes, and a chart of each thing that was counted.

use chrono::NaiveDate;
use ratatui::layout::{Constraint, Layout, Rect};

use super::{Rows, draw_trend, stack_lines};
use crate::report::trends;
use crate::report::trends::Trend;
use crate::session::{HiveView, Session};
use crate::tui::view::Canvas;

/// Lines of a chart with its words.
const CHART: u16 = 8;

/// What the picture shows.
#[derive(Debug)]
pub(crate) struct Picture {
    stack: Vec<String>,
    trends: Vec<Trend>,
    today: NaiveDate,
}

impl Picture {
    /// Of a hive as it is seen now.
    pub(crate) fn of(view: &HiveView, session: &Session) -> Self {
        let (book, today) = (session.book(), session.today());
        Self {
            stack: stack_lines(&view.state.boxes).into_iter().map(|(line, _)| line).collect(),
            trends: session
                .yard(&view.state.yard)
                .map(|yard| session.calendar(yard))
                .map(|calendar| trends(&view.state, &calendar, &book.practice, book.units, today))
                .unwrap_or_default(),
            today,
        }
    }

    /// Draws it: under one another where it is high enough, else beside one another.
    pub(crate) fn draw(&self, canvas: &mut Canvas<'_, '_>, area: Rect) {
        let theme = canvas.theme;
        let mut rows = Rows::new();
        rows.line(" BOXES", theme.key);
        for line in &self.stack {
            rows.line(format!(" {line}"), theme.text);
        }
        let high = u16::try_from(rows.len()).unwrap_or(u16::MAX);
        let charts_wanted = u16::try_from(self.trends.len().max(1)).unwrap_or(1);
        let [left, right] = if area.height >= high + CHART * charts_wanted {
            Layout::vertical([Constraint::Length(high), Constraint::Min(0)]).areas(area)
        } else {
            Layout::horizontal([Constraint::Length(36), Constraint::Min(0)]).areas(area)
        };
        rows.draw(canvas, left);
        if self.trends.is_empty() {
            let mut none = Rows::new();
            let words = "Nothing was counted in the last year, so there is no line to draw.";
            none.text(words, usize::from(right.width), 0, theme.muted);
            none.draw(canvas, right);
            return;
        }
        // Where not all have the lines for a chart, the last have their words.
        let charts = usize::from(right.height / CHART);
        let each = |at: usize| if at < charts.max(1) { Constraint::Fill(1) } else { Constraint::Length(4) };
        let parts = Layout::vertical((0..self.trends.len()).map(each)).split(right);
        for (trend, part) in self.trends.iter().zip(parts.iter()) {
            draw_trend(trend, theme, self.today, canvas.frame, *part);
        }
    }
}
