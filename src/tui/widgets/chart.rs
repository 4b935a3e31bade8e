//! A trend drawn: ratatui's chart in braille, with the words over it.

use chrono::NaiveDate;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::symbols::Marker;
use ratatui::text::{Line as TextLine, Span};
use ratatui::widgets::{Axis, Chart, Dataset, GraphType, Paragraph};

use crate::model::{days_after, trimmed};
use crate::report::trends::{DAYS, Series, Trend};
use crate::tui::text::wrap;
use crate::tui::theme::Theme;

/// Draws a trend: what it is, its words, and the chart in what room is left.
pub(crate) fn draw_trend(trend: &Trend, theme: &Theme, today: NaiveDate, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width).saturating_sub(1);
    let words = wrap(&trend.words, width);
    let high = u16::try_from(words.len() + 1).unwrap_or(3).min(area.height);
    let [head, body] = Layout::vertical([Constraint::Length(high), Constraint::Min(0)]).areas(area);
    let mut lines = vec![TextLine::from(Span::styled(trend.what.to_owned(), theme.key))];
    lines.extend(words.into_iter().map(|w| TextLine::from(Span::styled(w, theme.text))));
    frame.render_widget(Paragraph::new(lines).style(theme.text), head);
    if body.height < 4 || body.width < 20 {
        return;
    }
    let from = days_after(today, -DAYS);
    let at = |day: NaiveDate| (day - from).num_days() as f64;
    let points: Vec<(Series, Vec<(f64, f64)>)> = trend
        .lines
        .iter()
        .map(|(line, points)| (*line, points.iter().map(|(on, v)| (at(*on), *v)).collect()))
        .collect();
    let top = points.iter().flat_map(|(_, p)| p).map(|(_, v)| *v).fold(1.0_f64, f64::max);
    let datasets = points
        .iter()
        .map(|(line, points)| {
            // A limit is dotted, a count is a line, its doubt an upright: told apart without color.
            let (marker, graph, style) = match line {
                Series::Counted => (Marker::Braille, GraphType::Line, theme.key),
                Series::Second => (Marker::Dot, GraphType::Scatter, theme.done),
                Series::Doubt => (Marker::Braille, GraphType::Line, theme.muted),
                Series::Limit => (Marker::Dot, GraphType::Line, theme.caution),
            };
            Dataset::default().marker(marker).graph_type(graph).style(style).data(points)
        })
        .collect();
    let middle = days_after(today, -DAYS / 2);
    let months = [from, middle, today].map(crate::wording::month);
    let scale =
        ["0".to_owned(), trimmed((top * 5.0).ceil() / 10.0, 1), trimmed((top * 10.0).ceil() / 10.0, 1)];
    let chart = Chart::new(datasets)
        .style(theme.text)
        .x_axis(Axis::default().style(theme.muted).bounds([0.0, at(today)]).labels(months))
        .y_axis(Axis::default().style(theme.muted).bounds([0.0, top]).labels(scale));
    frame.render_widget(chart, body);
}
