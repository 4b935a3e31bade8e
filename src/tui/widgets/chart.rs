//! A trend drawn: counts strongest, each with its figure; their doubt thin; what was done on the axis; what is expected as
//! a fan. All charts of a hive share one axis of time, so that they can be read one under another.

use chrono::{Datelike, Months, NaiveDate};
use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::symbols::Marker;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};
use unicode_width::UnicodeWidthStr;

use crate::model::{days_after, trimmed};
use crate::report::trends::{DAYS, DAYS_AHEAD, Done, GAP, Trend};
use crate::tui::text::{fit, wrap};
use crate::tui::theme::Theme;

/// Columns of the figures beside the axis.
const GUTTER: u16 = 6;
/// Columns a line of words beside what a chart shows has at least.
const READABLE: usize = 34;
/// Least lines and columns of a plot.
const LEAST: (u16, u16) = (3, 24);

/// The days that are marked in every chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Marks {
    pub(crate) today: NaiveDate,
    /// The day by which mites are to be in check, where it is in sight: winter bees are raised from then on.
    pub(crate) winter_bees: Option<NaiveDate>,
}

/// Where days and figures lie in an area.
#[derive(Debug, Clone, Copy)]
struct Scale {
    area: Rect,
    from: NaiveDate,
    days: f64,
    low: f64,
    high: f64,
}

impl Scale {
    fn of(trend: &Trend, today: NaiveDate, area: Rect) -> Self {
        let from = days_after(today, -DAYS);
        let figures: Vec<f64> = trend
            .counted
            .iter()
            .chain(&trend.second)
            .map(|(_, v)| *v)
            .chain(trend.doubt.iter().flat_map(|(_, low, high)| [*low, *high]))
            .chain(trend.limit)
            .collect();
        let most = figures.iter().copied().fold(f64::MIN, f64::max);
        let least = figures.iter().copied().fold(f64::MAX, f64::min);
        // What was counted decides the axis; what is expected may raise it by half, and runs out of it above that.
        let ahead = trend.ahead.iter().map(|a| a.spread.high).fold(most, f64::max);
        let most = ahead.min(most * 1.5);
        let low = if trend.is_from_nothing { 0.0 } else { least - (most - least).max(1.0) * 0.15 };
        let step = nice((most - low).max(0.1) / 4.0);
        Self {
            area,
            from,
            days: (DAYS + DAYS_AHEAD) as f64,
            low: (low / step).floor() * step,
            high: (most / step).ceil() * step,
        }
    }

    /// The column of a day, where it is in the chart.
    fn column(&self, on: NaiveDate) -> Option<u16> {
        let share = (on - self.from).num_days() as f64 / self.days;
        let at = (share * f64::from(self.area.width - 1)).round();
        (0.0..=f64::from(self.area.width - 1)).contains(&at).then(|| self.area.x + whole(at))
    }

    /// The day of a column.
    fn day(&self, column: u16) -> f64 {
        f64::from(column - self.area.x) / f64::from(self.area.width - 1) * self.days
    }

    /// The line of a figure; of one beyond the axis the line at its end.
    fn line(&self, value: f64) -> u16 {
        let share = ((value - self.low) / (self.high - self.low).max(1e-9)).clamp(0.0, 1.0);
        self.area.y + self.area.height - 1 - whole((share * f64::from(self.area.height - 1)).round())
    }
}

/// A whole number of cells.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "held within an area by its callers"
)]
fn whole(cells: f64) -> u16 {
    cells.clamp(0.0, f64::from(u16::MAX)) as u16
}

/// The step of an axis: 1, 2 or 5 times a power of ten, no less than `least`.
fn nice(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|each| each * power).find(|step| *step >= least).unwrap_or(least)
}

/// Draws a trend: what it is, its words, and the chart in what room is left; the last of several names the months.
pub(crate) fn draw_trend(
    trend: &Trend,
    theme: &Theme,
    span: Marks,
    frame: &mut Frame<'_>,
    (area, is_last): (Rect, bool),
) {
    let lines = head_lines(trend, theme, area);
    let high = u16::try_from(lines.len()).unwrap_or(2).min(area.height);
    let months = u16::from(is_last);
    let [head, plot, axis, names] = Layout::vertical([
        Constraint::Length(high),
        Constraint::Min(0),
        Constraint::Length(1),
        Constraint::Length(months),
    ])
    .areas(area);
    frame.render_widget(Paragraph::new(lines).style(theme.text), head);
    if plot.height < LEAST.0 || plot.width < GUTTER + LEAST.1 {
        return;
    }
    let inner = Rect { x: plot.x + GUTTER, width: plot.width - GUTTER - 1, ..plot };
    let scale = Scale::of(trend, span.today, inner);
    draw_fan(trend, theme, &scale, frame.buffer_mut());
    draw_joins(trend, theme, &scale, frame);
    let buffer = frame.buffer_mut();
    draw_limit(trend, theme, &scale, buffer);
    draw_upright(buffer, &scale, span.today, ('│', theme.rule));
    if let Some(on) = span.winter_bees {
        draw_upright(buffer, &scale, on, ('┊', theme.caution));
    }
    draw_gutter(theme, &scale, plot.x, buffer);
    draw_counts(trend, theme, &scale, buffer);
    draw_axis(trend, theme, &scale, (axis.y, span), buffer);
    if is_last {
        draw_months(theme, &scale, names.y, buffer);
    }
}

/// What a chart shows and what it says, in as many lines as leave room for the chart: beside one another where it is wide
/// enough, else what it shows alone with as much as is said in a line.
fn head_lines(trend: &Trend, theme: &Theme, area: Rect) -> Vec<Line<'static>> {
    let width = usize::from(area.width).saturating_sub(1);
    let room = usize::from(area.height).saturating_sub(usize::from(LEAST.0) + 2).max(1);
    let beside = width.saturating_sub(trend.what.width() + 2);
    let is_beside = beside >= READABLE;
    let mut words = wrap(&trend.words, if is_beside { beside } else { width });
    let most = if is_beside { room } else { room.saturating_sub(1) };
    if words.len() > most {
        let rest = words.split_off(most.saturating_sub(1)).join(" ");
        words.push(fit(&rest, if is_beside { beside } else { width }));
        words.truncate(most);
    }
    let what = Span::styled(trend.what.to_owned(), theme.heading);
    if !is_beside {
        let words = words.into_iter().map(|line| Line::from(Span::styled(line, theme.text)));
        return std::iter::once(Line::from(what)).chain(words).collect();
    }
    let indent = " ".repeat(trend.what.width());
    words
        .into_iter()
        .enumerate()
        .map(|(at, line)| {
            let what = if at == 0 { what.clone() } else { Span::styled(indent.clone(), theme.text) };
            Line::from(vec![what, Span::styled(format!("  {line}"), theme.text)])
        })
        .collect()
}

/// What is expected: for each column ahead the range of nine in ten light, that of half of the hives dense.
fn draw_fan(trend: &Trend, theme: &Theme, scale: &Scale, buffer: &mut Buffer) {
    let day = |on: NaiveDate| (on - scale.from).num_days() as f64;
    for column in scale.area.x..scale.area.right() {
        let at = scale.day(column);
        let Some((before, after)) = trend.ahead.windows(2).find_map(|pair| match pair {
            [a, b] => (day(a.on)..=day(b.on)).contains(&at).then_some((a, b)),
            _ => None,
        }) else {
            continue;
        };
        let share = (at - day(before.on)) / (day(after.on) - day(before.on)).max(1.0);
        let between = |a: f64, b: f64| a + (b - a) * share;
        let (a, b) = (&before.spread, &after.spread);
        for (low, high, sign) in [
            (between(a.lowest, b.lowest), between(a.highest, b.highest), "░"),
            (between(a.low, b.low), between(a.high, b.high), "▒"),
        ] {
            if low > scale.high || high < scale.low {
                continue;
            }
            for line in scale.line(high)..=scale.line(low) {
                buffer[(column, line)].set_symbol(sign).set_style(theme.muted);
            }
        }
    }
}

/// Thin lines from count to count, where no more than [`GAP`] days lie between, and the doubt of each.
fn draw_joins(trend: &Trend, theme: &Theme, scale: &Scale, frame: &mut Frame<'_>) {
    let day = |on: NaiveDate| (on - scale.from).num_days() as f64;
    let strokes = |points: &[(NaiveDate, f64)]| -> Vec<(f64, f64, f64, f64)> {
        points
            .windows(2)
            .filter_map(|pair| match pair {
                [(a, x), (b, y)] if (*b - *a).num_days() <= GAP => Some((day(*a), *x, day(*b), *y)),
                _ => None,
            })
            .collect()
    };
    let (counted, second) = (strokes(&trend.counted), strokes(&trend.second));
    let color = |style: Style| style.fg.unwrap_or_default();
    let lines = Canvas::default()
        .marker(Marker::Braille)
        .x_bounds([0.0, scale.days])
        .y_bounds([scale.low, scale.high])
        .paint(|context| {
            for (x1, y1, x2, y2) in &second {
                context.draw(&Stroke { x1: *x1, y1: *y1, x2: *x2, y2: *y2, color: color(theme.brood) });
            }
            for (x1, y1, x2, y2) in &counted {
                context.draw(&Stroke { x1: *x1, y1: *y1, x2: *x2, y2: *y2, color: color(theme.muted) });
            }
        });
    // The canvas paints every cell of its area: what it leaves empty is to keep what is there.
    let mut own = Buffer::empty(scale.area);
    ratatui::widgets::Widget::render(lines, scale.area, &mut own);
    let buffer = frame.buffer_mut();
    for position in scale.area.positions() {
        let sign = own[position].symbol().to_owned();
        if sign != " " && sign != "\u{2800}" {
            let style = Style { bg: theme.text.bg, ..own[position].style() };
            buffer[position].set_symbol(&sign).set_style(style);
        }
    }
    for (on, low, high) in &trend.doubt {
        let Some(column) = scale.column(*on) else { continue };
        for line in scale.line(*high)..=scale.line(*low) {
            buffer[(column, line)].set_symbol("│").set_style(theme.muted);
        }
    }
}

fn draw_limit(trend: &Trend, theme: &Theme, scale: &Scale, buffer: &mut Buffer) {
    let Some(limit) = trend.limit else { return };
    let line = scale.line(limit);
    for column in (scale.area.x..scale.area.right()).step_by(2) {
        let cell = &mut buffer[(column, line)];
        if cell.symbol() == " " {
            cell.set_symbol("╌").set_style(theme.caution);
        }
    }
}

/// A line from top to bottom at a day, behind what is drawn already.
fn draw_upright(buffer: &mut Buffer, scale: &Scale, on: NaiveDate, (sign, style): (char, Style)) {
    let Some(column) = scale.column(on) else { return };
    for line in scale.area.y..scale.area.bottom() {
        let cell = &mut buffer[(column, line)];
        if matches!(cell.symbol(), " " | "░" | "╌") {
            cell.set_char(sign).set_style(style);
        }
    }
}

fn draw_gutter(theme: &Theme, scale: &Scale, x: u16, buffer: &mut Buffer) {
    let wide = usize::from(GUTTER) - 1;
    for (value, line) in [(scale.high, scale.area.y), (scale.low, scale.area.bottom() - 1)] {
        buffer.set_string(x, line, format!("{:>wide$}", trimmed(value, 1)), theme.muted);
    }
}

/// The counts over all else, each with its figure where there is room for one.
fn draw_counts(trend: &Trend, theme: &Theme, scale: &Scale, buffer: &mut Buffer) {
    for (on, value) in &trend.second {
        if let Some(column) = scale.column(*on) {
            buffer[(column, scale.line(*value))].set_symbol("○").set_style(theme.brood);
        }
    }
    for (on, value) in &trend.counted {
        if let Some(column) = scale.column(*on) {
            buffer[(column, scale.line(*value))].set_symbol("●").set_style(theme.heading);
        }
    }
    // The newest first: where not all figures have room it keeps its own.
    for (on, value) in trend.counted.iter().rev() {
        let Some(column) = scale.column(*on) else { continue };
        let line = scale.line(*value);
        let figure = trimmed(*value, 1);
        let wide = u16::try_from(figure.width()).unwrap_or(0);
        let right = (column + 1, line);
        let left = (column.saturating_sub(wide), line);
        let above = (column.saturating_sub(wide / 2), line.saturating_sub(1));
        let below = (column.saturating_sub(wide / 2), line + 1);
        let place = [right, above, left, below].into_iter().find(|(x, y)| {
            let inside = *x >= scale.area.x && x + wide <= scale.area.right();
            let high = (scale.area.y..scale.area.bottom()).contains(y);
            let free = |x: u16| {
                let sign = buffer[(x, *y)].symbol();
                sign == " " || sign == "╌" || sign.chars().all(|c| ('\u{2800}'..='\u{28ff}').contains(&c))
            };
            inside && high && (*x..x + wide).all(free) && free((x + wide).min(scale.area.right() - 1))
        });
        if let Some((x, y)) = place {
            buffer.set_string(x, y, &figure, theme.heading);
        }
    }
}

/// The axis with what was done on it, today, and the day from which winter bees are raised.
fn draw_axis(trend: &Trend, theme: &Theme, scale: &Scale, (line, span): (u16, Marks), buffer: &mut Buffer) {
    for column in scale.area.x..scale.area.right() {
        buffer[(column, line)].set_symbol("─").set_style(theme.rule);
    }
    if let Some(column) = scale.column(span.today) {
        buffer[(column, line)].set_symbol("┴").set_style(theme.text);
    }
    for (on, done) in &trend.done {
        if let Some(column) = scale.column(*on) {
            let letter = match done {
                Done::Treated => "T",
                Done::Fed => "F",
            };
            buffer[(column, line)].set_symbol(letter).set_style(theme.heading);
        }
    }
}

/// The months where they begin, as many as have room.
fn draw_months(theme: &Theme, scale: &Scale, line: u16, buffer: &mut Buffer) {
    let mut free = scale.area.x;
    let mut month = scale.from.with_day(1);
    while let Some(first) = month {
        let next = first.checked_add_months(Months::new(1));
        if let Some(column) = scale.column(first)
            && column >= free
            && column + 3 <= scale.area.right()
        {
            buffer.set_string(column, line, crate::wording::month(first), theme.muted);
            free = column + 4;
        }
        month = next.filter(|on| (*on - scale.from).num_days() as f64 <= scale.days);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trend(counted: &[(&str, f64)]) -> Trend {
        let on = |d: &str| d.parse::<NaiveDate>().unwrap();
        Trend {
            what: "Mites, % of bees",
            words: "1.3 %".to_owned(),
            counted: counted.iter().map(|(d, v)| (on(d), *v)).collect(),
            doubt: Vec::new(),
            second: Vec::new(),
            limit: Some(2.0),
            is_from_nothing: true,
            done: vec![(on("2026-04-02"), Done::Treated)],
            ahead: Vec::new(),
        }
    }

    fn drawn(trend: &Trend) -> Vec<String> {
        let span = Marks { today: "2026-08-08".parse().unwrap(), winter_bees: None };
        let backend = ratatui::backend::TestBackend::new(90, 10);
        let mut terminal = ratatui::Terminal::new(backend).unwrap();
        terminal.draw(|frame| draw_trend(trend, &Theme::none(), span, frame, (frame.area(), true))).unwrap();
        let text = terminal.backend().to_string();
        text.lines().map(str::to_owned).collect()
    }

    #[test]
    fn a_count_is_marked_with_its_figure_and_what_was_done_is_on_the_axis() {
        let lines = drawn(&trend(&[("2026-03-01", 0.7), ("2026-07-06", 1.3)]));
        let all = lines.concat();
        assert_eq!(all.matches('●').count(), 2);
        assert!(all.contains("●0.7") && all.contains("●1.3"), "{lines:#?}");
        assert!(lines[8].contains('T') && lines[8].contains('┴'), "{lines:#?}");
        assert!(lines[9].contains("Sep") && lines[9].contains("Aug"), "{lines:#?}");
    }

    #[test]
    fn counts_too_far_apart_are_not_joined() {
        let is_braille = |c: char| ('\u{2801}'..='\u{28ff}').contains(&c);
        let joined = |counted: &[(&str, f64)]| drawn(&trend(counted)).concat().chars().any(is_braille);
        assert!(joined(&[("2026-05-08", 0.4), ("2026-07-06", 1.3)]), "59 days");
        assert!(!joined(&[("2026-05-05", 0.4), ("2026-07-06", 1.3)]), "62 days");
    }

    #[test]
    fn the_axis_fits_what_is_drawn() {
        let area = Rect::new(0, 0, 60, 6);
        let today = "2026-08-08".parse().unwrap();
        let mut heavy = trend(&[("2026-07-06", 115.0), ("2026-08-01", 120.0)]);
        (heavy.limit, heavy.is_from_nothing) = (Some(170.0), false);
        let scale = Scale::of(&heavy, today, area);
        assert!(scale.low > 90.0 && scale.high >= 170.0 && scale.high <= 180.0, "{scale:?}");
        let scale = Scale::of(&trend(&[("2026-07-06", 1.3)]), today, area);
        assert!(scale.low.abs() < 1e-9 && (scale.high - 2.0).abs() < 1e-9, "{scale:?}");
    }
}
