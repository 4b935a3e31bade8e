//! What the stories do again and again: keys, and going about the screen.

#![allow(dead_code, reason = "each story uses its part")]

use super::Terminal;

pub(crate) const DOWN: &str = "\x1b[B";
pub(crate) const ENTER: &str = "\r";
pub(crate) const RIGHT: &str = "\x1b[C";
pub(crate) const TAB: &str = "\t";
pub(crate) const ESC: &str = "\x1b";

pub(crate) fn demo(home: &std::path::Path) -> Terminal {
    let mut terminal = Terminal::start(home, &["demo", "--on", "2026-05-03"], 24, 80);
    terminal.wait_for("Today, Sunday, May 3, 2026");
    terminal
}

/// From the day to the second hive of the queue, A1, in good weather.
pub(crate) fn walk_to_a1(terminal: &mut Terminal) {
    terminal.wait_for("A1 ");
    terminal.press(DOWN, ">[ ] A1");
    terminal.press(ENTER, "Weather at Alder Bottom");
    terminal.keys("68");
    terminal.press(DOWN, "> Wind");
    terminal.keys("4");
    terminal.press(DOWN, "> Rain");
    terminal.press("n", "[no");
    terminal.press(DOWN, "> In bloom");
    terminal.press(ENTER, "A1 · Alder Bottom");
}

/// Goes down to the line of a label, a key at a time, each waited for; then types.
pub(crate) fn field(t: &mut Terminal, label: &str, keys: &str) {
    go_down_to(t, label);
    t.keys(keys);
}

/// Goes down from the line that has the focus to the one that holds a text.
pub(crate) fn go_down_to(t: &mut Terminal, label: &str) {
    for _ in 0..30 {
        let focused = focused_line(t);
        if focused.contains(label) {
            return;
        }
        t.keys(DOWN);
        t.wait_until("the focus to move", |screen| marks(screen).len() == 1 && marks(screen)[0] != focused);
    }
    panic!("no line {label:?} to go to:\n{}", t.text());
}

/// Crosses from the fields to what the hive needs, and goes down to the line that holds a text.
pub(crate) fn prompt(t: &mut Terminal, label: &str) {
    t.keys(TAB);
    t.wait_until("the focus to cross", |screen| screen.lines().any(|l| l.chars().nth(38) == Some('>')));
    go_down_to(t, label);
}

/// Goes down a list of rows to the one that holds a text.
pub(crate) fn go_to_row(t: &mut Terminal, label: &str) {
    let chosen = |screen: &str| screen.lines().find(|l| l.starts_with(">[")).unwrap_or_default().to_owned();
    for _ in 0..30 {
        // A screen may come in parts.
        t.wait_until("a chosen row", |screen| !chosen(screen).is_empty());
        let before = chosen(&t.text());
        if before.contains(label) {
            return;
        }
        t.keys(DOWN);
        t.wait_until("the next row", |screen| !chosen(screen).is_empty() && chosen(screen) != before);
    }
    panic!("no row {label:?} to go to:\n{}", t.text());
}

/// The halves of lines that carry the mark of the focus.
pub(crate) fn marks(screen: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in screen.lines() {
        let chars: Vec<char> = line.chars().collect();
        let (left, right) = chars.split_at(chars.len().min(38));
        for half in [left, right] {
            let half: String = half.iter().collect();
            // The label only: a value may be drawn a moment later.
            if half.starts_with(" > ") || half.starts_with("> ") {
                found.push(half.chars().take(21).collect());
            }
        }
    }
    found
}

pub(crate) fn focused_line(t: &mut Terminal) -> String {
    t.wait_until("one focus", |screen| marks(screen).len() == 1);
    marks(&t.text()).remove(0)
}

/// Goes up to a field.
pub(crate) fn go_up_to_field(t: &mut Terminal, label: &str) {
    for _ in 0..20 {
        let focused = focused_line(t);
        if focused.contains(label) {
            return;
        }
        t.keys("\x1b[A");
        t.wait_until("the focus to move", |screen| marks(screen).len() == 1 && marks(screen)[0] != focused);
    }
    panic!("no field {label:?} above:\n{}", t.text());
}

/// From the day to the first hive of the yard, with the temperature alone known.
pub(crate) fn walk_the_yard(t: &mut Terminal) {
    t.press(ENTER, "Weather at");
    t.keys("70");
    t.keys(&ENTER.repeat(4));
    t.wait_for("NEEDS NOW");
}

/// Logs one hive as fine, and saves the visit.
pub(crate) fn log_a_fine_hive(t: &mut Terminal) {
    walk_the_yard(t);
    t.press("i", "Fine, not opened");
    t.press("s", "Wrap-up of");
    t.press(ENTER, "Saved: 1 hive");
}
