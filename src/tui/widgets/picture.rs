//! A hive as a picture: its stack of boxes, how strong it is, and a chart of each thing that was counted.

use chrono::NaiveDate;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Span;

use super::{Marks, Rows, bar, draw_trend, stack_legend, stack_lines};
use crate::model::{HiveBox, HiveState, days_after, trimmed};
use crate::report::trends;
use crate::report::trends::{DAYS_AHEAD, Trend};
use crate::season::DateId;
use crate::session::Session;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;

/// Lines of a chart with its words.
const CHART: u16 = 7;
/// Columns of the boxes with all their words.
const BOXES: u16 = 54;
/// Columns the charts need at least.
const CHARTS: u16 = 40;
/// Columns from which charts have room beside the boxes, and from which there is room for both in full.
const LEAST_WIDE: u16 = 76;
const WIDE: u16 = 100;
/// Columns of a bar.
const BAR: usize = 20;

/// Frames of something, and the day they were counted.
type Counted = (f64, String);

/// What the picture shows.
#[derive(Debug)]
pub(crate) struct Picture {
    boxes: Vec<HiveBox>,
    /// Frames there are in the boxes.
    frames: f64,
    /// Frames of bees, brood and honey as they were last counted, each with its day.
    bees: Option<Counted>,
    brood: Option<Counted>,
    honey: Option<Counted>,
    trends: Vec<Trend>,
    marks: Marks,
}

impl Picture {
    /// Of a hive as it stands.
    pub(crate) fn of(state: &HiveState, session: &Session) -> Self {
        let (book, today) = (session.book(), session.today());
        let calendar = session.yard(&state.yard).map(|yard| session.calendar(yard));
        let on = |day: NaiveDate| crate::wording::day(book.units, day);
        let in_sight = |day: &NaiveDate| (today..=days_after(today, DAYS_AHEAD)).contains(day);
        Self {
            boxes: state.boxes.clone(),
            frames: frames(state),
            bees: state.seen.bees.map(|seen| (seen.value.0, on(seen.on))),
            brood: state.seen.brood.map(|seen| (seen.value.0, on(seen.on))),
            honey: state.seen.honey.map(|seen| (seen.value.0, on(seen.on))),
            marks: Marks {
                today,
                winter_bees: calendar.as_ref().map(|c| c.closes(DateId::MitesInCheck)).filter(in_sight),
            },
            trends: calendar
                .map(|calendar| trends(state, &calendar, &book.practice, book.units, today))
                .unwrap_or_default(),
        }
    }

    /// Draws it: the boxes, and under or beside them as many charts as have room, those that decide most first.
    pub(crate) fn draw(&self, canvas: &mut Canvas<'_, '_>, area: Rect) {
        let theme = canvas.theme;
        let area = Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area };
        let lines = self.boxes_rows(theme, area.width).len();
        let high = u16::try_from(lines + 1).unwrap_or(u16::MAX);
        let wanted = u16::try_from(self.trends.len().max(1)).unwrap_or(1);
        let fit_below = area.height.saturating_sub(high) / CHART;
        let is_beside = if area.width >= WIDE { fit_below < wanted } else { fit_below == 0 };
        let [left, right] = if is_beside && area.width >= LEAST_WIDE {
            let boxes = BOXES.min(area.width - CHARTS);
            Layout::horizontal([Constraint::Length(boxes), Constraint::Min(0)]).areas(area)
        } else {
            Layout::vertical([Constraint::Length(high), Constraint::Min(0)]).areas(area)
        };
        self.boxes_rows(theme, left.width).draw(canvas, left);
        if self.trends.is_empty() {
            let mut none = Rows::new();
            let words = "Nothing was counted in the last year, so there is no line to draw.";
            none.text(words, usize::from(right.width), 0, theme.muted);
            none.draw(canvas, right);
            return;
        }
        // Words alone take two lines: those of the first are said where there is no room for its chart.
        let charts =
            usize::from(right.height / CHART).clamp(usize::from(right.height >= 2), self.trends.len());
        let areas = Layout::vertical((0..charts).map(|_| Constraint::Fill(1))).split(right);
        for (at, (trend, part)) in self.trends.iter().zip(areas.iter()).enumerate() {
            draw_trend(trend, theme, self.marks, canvas.frame, (*part, at + 1 == charts));
        }
    }

    fn boxes_rows(&self, theme: &Theme, width: u16) -> Rows {
        let is_narrow = width < BOXES;
        let mut rows = Rows::new();
        rows.group("BOXES", usize::from(width.saturating_sub(2)), theme);
        for line in stack_lines(&self.boxes, theme) {
            let mut spans = line.drawn;
            // What has no room beside a narrow stack is in the charts and the words elsewhere.
            let words =
                if is_narrow { line.words.split(':').next().unwrap_or_default() } else { &line.words };
            spans.push(Span::styled(format!(" {words}"), theme.text));
            rows.spans(spans);
        }
        let has_contents = self
            .boxes
            .iter()
            .any(|b| b.holds.drawn.is_some() || b.holds.brood.is_some() || b.holds.honey.is_some());
        if has_contents {
            rows.spans(stack_legend(theme, is_narrow));
        }
        let kinds: [(&str, &Option<Counted>, Style); 3] = [
            ("bees", &self.bees, theme.bees),
            ("brood", &self.brood, theme.brood),
            ("honey", &self.honey, theme.honey),
        ];
        for (name, counted, style) in kinds {
            let Some((value, on)) = counted else { continue };
            let mut spans = vec![Span::styled(format!("{name:<6}"), theme.text)];
            let wide = if is_narrow { BAR / 2 } else { BAR };
            spans.extend(bar(value / self.frames.max(1.0), wide, style, theme));
            let (value, of) = (trimmed(*value, 1), trimmed(self.frames, 0));
            let frames = if is_narrow { "" } else { " frames" };
            spans.push(Span::styled(format!(" {value} of {of}{frames}, {on}"), theme.text));
            rows.spans(spans);
        }
        rows
    }
}

/// Frames in all boxes.
fn frames(state: &HiveState) -> f64 {
    state.boxes.iter().map(|b| f64::from(b.frames)).sum()
}
