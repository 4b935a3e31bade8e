//! Drawing when to come back, or what really was.

use super::RehearsalScreen;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, page};
use crate::wording;

pub(super) fn draw(screen: &RehearsalScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    match &screen.review {
        Some(lines) => draw_review(screen, lines, session, canvas),
        None => draw_days(screen, session, canvas),
    }
}

fn draw_days(screen: &RehearsalScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let units = session.book().units;
    let hint = if session.visit().is_some() {
        "A visit is open: wrap it up first (Esc, then s)."
    } else {
        "Choose by a figure or the arrows; Enter lets the season go on. No day comes back."
    };
    let body = page(
        canvas,
        &Page {
            title: "When do you come back?".to_owned(),
            hint: hint.to_owned(),
            ..Page::at(session, ScreenId::Rehearsal)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    if let Some(scenario) = session.rehearsal().and_then(|rehearsal| rehearsal.scenario.as_ref()) {
        rows.group(&format!(" {}", scenario.title), width, theme);
        rows.text(&scenario.story, width, 2, theme.text);
        rows.gap();
    }
    rows.group(" COME BACK", width, theme);
    for (at, (words, day)) in screen.days.iter().enumerate() {
        let day = wording::weekday_and_day(units, day);
        choice(&mut rows, screen, at, &format!("{day}  {words}"), theme);
    }
    let typed = if screen.on_typed() { format!("{}_", screen.text) } else { screen.text.clone() };
    let other = format!("another day, such as {}: {typed}", wording::day_examples(units));
    choice(&mut rows, screen, screen.days.len(), &other, theme);
    rows.draw_tapped(canvas, body);
}

fn choice(rows: &mut Rows, screen: &RehearsalScreen, at: usize, words: &str, theme: &Theme) {
    let has_focus = screen.row == at;
    let from = rows.len();
    let (mark, style) = if has_focus { (">", theme.focus) } else { (" ", theme.text) };
    rows.line(format!("{mark} {} {words}", at + 1), style);
    rows.target(from, at);
    if has_focus {
        rows.focus_from(from);
    }
}

fn draw_review(
    screen: &RehearsalScreen,
    lines: &[(bool, String)],
    session: &Session,
    canvas: &mut Canvas<'_, '_>,
) {
    let theme = canvas.theme;
    let body = page(
        canvas,
        &Page {
            title: "What really was".to_owned(),
            hint: "`yardwalk rehearse --report` prints this; --fresh begins another.".to_owned(),
            ..Page::at(session, ScreenId::Rehearsal)
        },
    );
    let width = usize::from(body.width).saturating_sub(2);
    let mut rows = Rows::new();
    for (is_head, line) in lines.iter().skip(1) {
        if *is_head {
            rows.gap();
            rows.group(&format!(" {line}"), width, theme);
        } else if line.starts_with("|---") || line.is_empty() {
            // The rule of a table is for its print.
        } else if let Some(cells) = line.strip_prefix("| ") {
            rows.line(format!("  {}", columns(cells, width)), theme.text);
        } else {
            let indent = if line.starts_with("- ") { 4 } else { 2 };
            rows.text(line.trim_start_matches("- "), width, indent, theme.text);
        }
    }
    rows.draw_scrolled(canvas, body, &screen.scroll);
}

/// Cells of a table's line, under one another.
fn columns(cells: &str, width: usize) -> String {
    let cells: Vec<&str> = cells.trim_end_matches(" |").split(" | ").collect();
    let wide = (width.saturating_sub(20) / cells.len().saturating_sub(1).max(1)).clamp(10, 30);
    cells
        .iter()
        .enumerate()
        .map(|(at, cell)| {
            crate::tui::text::pad(
                &crate::tui::text::fit(cell, wide.max(17 * usize::from(at == 0)) - 1),
                if at == 0 { 17 } else { wide },
            )
        })
        .collect()
}
