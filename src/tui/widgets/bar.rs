//! Bars: how much of a whole, to an eighth of a cell, and a whole by its parts.

use ratatui::style::Style;
use ratatui::text::Span;

use crate::tui::theme::Theme;

/// The eighths of a cell, none to seven.
const EIGHTHS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];

/// A bar of `width` cells, filled to a share of 0 to 1; the rest is a thin line, so that the whole is seen too.
pub(crate) fn bar(share: f64, width: usize, style: Style, theme: &Theme) -> Vec<Span<'static>> {
    let eighths = eighths(share, width);
    let (full, part) = (eighths / 8, eighths % 8);
    let part = EIGHTHS.get(part).copied().unwrap_or("");
    let rest = width - full - usize::from(!part.is_empty());
    vec![
        Span::styled(format!("{}{part}", "█".repeat(full)), style),
        Span::styled("─".repeat(rest), theme.rule),
    ]
}

/// How many eighths of a cell are filled; something is never nothing, and not all is never all.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the width")]
fn eighths(share: f64, width: usize) -> usize {
    let all = width * 8;
    let share = share.clamp(0.0, 1.0);
    let filled = (share * all as f64).round() as usize;
    if share <= 0.0 || width == 0 {
        0
    } else if share >= 1.0 {
        all
    } else {
        filled.clamp(1, all - 1)
    }
}

/// A whole of `width` cells by its parts, each with its sign and style; what is left is drawn with the last one's.
pub(crate) fn parts(shares: &[(f64, char, Style)], rest: (char, Style), width: usize) -> Vec<Span<'static>> {
    let mut spans = Vec::new();
    let (mut sum, mut used) = (0.0, 0);
    for (share, sign, style) in shares {
        sum += share.max(0.0);
        let to = cells(sum, width).max(used);
        spans.push(Span::styled(sign.to_string().repeat(to - used), *style));
        used = to;
    }
    spans.push(Span::styled(rest.0.to_string().repeat(width - used), rest.1));
    spans
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the width")]
fn cells(share: f64, width: usize) -> usize {
    (share.clamp(0.0, 1.0) * width as f64).round() as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(spans: &[Span<'_>]) -> String {
        spans.iter().map(|s| s.content.as_ref()).collect()
    }

    #[test]
    fn a_bar_is_as_long_as_its_share_and_shows_a_little_and_what_is_missing() {
        let of = |share: f64| text(&bar(share, 8, Style::new(), &Theme::none()));
        assert_eq!(of(0.0), "────────");
        assert_eq!(of(0.5), "████────");
        assert_eq!(of(1.0), "████████");
        assert_eq!(of(7.0), "████████");
        assert_eq!(of(0.001), "▏───────");
        assert_eq!(of(0.999), "███████▉");
        assert_eq!(of(f64::NAN).chars().count(), 8);
    }

    #[test]
    fn parts_make_up_the_whole_and_never_more() {
        let style = Style::new();
        let of = |shares: &[(f64, char, Style)]| text(&parts(shares, ('.', style), 10));
        assert_eq!(of(&[(0.3, 'b', style), (0.2, 'h', style)]), "bbbhh.....");
        assert_eq!(of(&[(0.8, 'b', style), (0.9, 'h', style)]), "bbbbbbbbhh");
        assert_eq!(of(&[(-1.0, 'b', style)]), "..........");
    }
}
