//! Drawing the load list.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout};

use super::LoadScreen;
use crate::model::visible;
use crate::plan::load::Line;
use crate::plan::unused;
use crate::tui::app::App;
use crate::tui::keys::Place;
use crate::tui::text::{fit, pad};
use crate::tui::widgets::{Page, Rows, page};

pub(crate) fn draw(screen: &LoadScreen, app: &App, frame: &mut Frame<'_>) {
    let theme = &app.theme;
    let yard = app.plan.yards.get(screen.yard);
    let name = yard.map_or_else(|| "no yard".to_owned(), |y| visible(y.yard.as_str()));
    let body = page(
        frame,
        theme,
        &Page {
            title: format!("Load list for {name}"),
            hint: "Enter ticks what is on the truck; the visit remembers it.".to_owned(),
            ..Page::at(app, Place::Load)
        },
    );
    let Some(plan) = yard else { return };
    let ticked = app.ticked(screen.yard);
    let width = usize::from(body.width);
    let [list, foot] = Layout::vertical([Constraint::Min(1), Constraint::Length(3)]).areas(body);
    let mut rows = Rows::new();
    if screen.list.lines().next().is_none() {
        rows.line(" Nothing is due in this yard, so nothing need be loaded.", theme.text);
    }
    let mut at = 0;
    for (heading, lines) in [
        (" LIKELY: what the day's prompts need, spare and all", &screen.list.likely),
        (" POSSIBLE: what a look may turn up, and what may be done", &screen.list.possible),
    ] {
        if lines.is_empty() {
            continue;
        }
        rows.line(heading, theme.key);
        for line in lines {
            let chosen = at == screen.row;
            let from = rows.len();
            let text = row(line, ticked.contains(&line.item), chosen, app, width);
            rows.line(pad(&fit(&text, width), width), if chosen { theme.focus } else { theme.text });
            rows.target(from, at);
            if chosen {
                rows.focus_from(from);
            }
            at += 1;
        }
    }
    rows.draw_tapped(app, frame, list);
    let mut about = Rows::new();
    let units = app.book.units;
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
    let home = unused(&app.book, &plan.yard, app.today);
    if let Some(first) = home.first() {
        let words: Vec<String> = home.iter().map(crate::plan::Unused::words).collect();
        about.text(
            &format!("on the truck on {} and not used: {}", first.on.format("%-d %b"), words.join(", ")),
            width.saturating_sub(2),
            1,
            theme.muted,
        );
    }
    about.draw(frame, foot, theme.text);
}

fn row(line: &Line, ticked: bool, chosen: bool, app: &App, width: usize) -> String {
    let units = app.book.units;
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
