//! Drawing the load list.

use ratatui::layout::{Constraint, Layout};
use ratatui::text::Span;

use super::LoadScreen;
use crate::model::{Units, visible};
use crate::plan::load::LoadLine;
use crate::session::Session;
use crate::tui::keys::ScreenId;
use crate::tui::text::{fit, pad};
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, bar, page};
use crate::wording;

pub(super) fn draw(screen: &LoadScreen, session: &Session, canvas: &mut Canvas<'_, '_>) {
    let theme = canvas.theme;
    let yard = session.yards_of_day().nth(screen.yard);
    let name = yard.map_or_else(|| "no yard".to_owned(), |y| visible(y.as_str()));
    let body = page(
        canvas,
        &Page {
            title: format!("Load list for {name}"),
            hint: "Enter checks off what is on the truck; the visit remembers it.".to_owned(),
            ..Page::at(session, ScreenId::Load)
        },
    );
    if yard.is_none() {
        return;
    }
    let (ticked, units) = (&screen.ticked, session.book().units);
    let width = usize::from(body.width);
    let [list, foot] = Layout::vertical([Constraint::Min(1), Constraint::Length(4)]).areas(body);
    let mut rows = Rows::new();
    if screen.list.lines().next().is_none() {
        rows.line(" Nothing is due in this yard, so there is nothing to load.", theme.text);
    }
    let mut at = 0;
    for (heading, lines) in [
        (" LIKELY: what the day's prompts need, with a spare", &screen.list.likely),
        (" POSSIBLE: what a look may turn up, and what you may do", &screen.list.possible),
    ] {
        if lines.is_empty() {
            continue;
        }
        rows.group(heading, width.saturating_sub(2), theme);
        for line in lines {
            let chosen = at == screen.row;
            let from = rows.len();
            let text = row(line, ticked.contains(&line.item), chosen, units, width);
            rows.line(pad(&fit(&text, width), width), if chosen { theme.focus } else { theme.text });
            rows.target(from, at);
            if chosen {
                rows.focus_from(from);
            }
            at += 1;
        }
    }
    rows.draw_tapped(canvas, list);
    let mut about = Rows::new();
    let on_truck: f64 =
        screen.list.lines().filter(|l| ticked.contains(&l.item)).map(|l| l.weight.pounds()).sum();
    about.line(
        format!(
            " likely {}, all {}, ticked {} · over 51 lb (23 kg) lift with two",
            units.mass(screen.list.weight(false)),
            units.mass(screen.list.weight(true)),
            units.mass(crate::model::Mass::from_pounds(on_truck))
        ),
        theme.text,
    );
    let likely = screen.list.weight(false).pounds();
    if likely > 0.0 {
        let mut spans = vec![Span::styled(" on the truck ", theme.muted)];
        spans.extend(bar(on_truck / likely, (width / 3).clamp(12, 40), theme.done, theme));
        about.spans(spans);
    }
    if let Some(first) = screen.home.first() {
        let words: Vec<String> = screen.home.iter().map(crate::plan::Unused::words).collect();
        about.text(
            &format!("on the truck on {} and not used: {}", wording::day(units, first.on), words.join(", ")),
            width.saturating_sub(2),
            1,
            theme.muted,
        );
    }
    about.draw(canvas, foot);
}

fn row(line: &LoadLine, ticked: bool, chosen: bool, units: Units, width: usize) -> String {
    let hives: Vec<&str> = line.hives.iter().map(crate::model::HiveId::as_str).collect();
    let spare = line.spare_words(units).map_or_else(String::new, |s| format!(" (spare {s})"));
    format!(
        "{}{} {} {:>7}  {}",
        if chosen { ">" } else { " " },
        if ticked { "[x]" } else { "[ ]" },
        pad(&format!("{}{spare}", line.words(units)), 46.min(width / 2 + 6)),
        units.mass(line.weight),
        hives.join(" ")
    )
}
