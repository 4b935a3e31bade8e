//! Choices side by side, with what would come of each.

use ratatui::text::Span;

use super::Rows;
use crate::report::what_if::WhatIf;
use crate::tui::text::{pad, wrap};
use crate::tui::theme::Theme;

/// Least columns for a choice's words.
const WORDS: usize = 16;

/// Its rows, a heading first and how often such ranges held last; the choice's words take more lines on a narrow screen.
pub(crate) fn what_if_rows(rows: &mut Rows, what_if: &WhatIf, width: usize, theme: &Theme) {
    let (words, widths) = what_if.widths();
    let rest: usize = widths.iter().map(|width| width + 2).sum();
    let words = words.min(width.saturating_sub(rest + 2)).max(WORDS);
    let cells = |cells: &[String]| -> String {
        let padded = cells.iter().zip(&widths).map(|(cell, width)| format!("  {}", pad(cell, *width)));
        padded.collect()
    };
    rows.line(format!("  {}{}", " ".repeat(words), cells(&what_if.columns)), theme.muted);
    for row in &what_if.rows {
        let mut lines = wrap(&row.choice, words).into_iter();
        rows.spans(vec![
            Span::styled(format!("  {}", pad(&lines.next().unwrap_or_default(), words)), theme.text),
            Span::styled(cells(&row.comes_to), theme.heading),
        ]);
        for line in lines {
            rows.line(format!("    {line}"), theme.text);
        }
    }
    rows.text(&format!("In brackets: the range for 9 in 10; {}.", what_if.held), width, 2, theme.muted);
}
