//! A stack of boxes drawn in lines, with what is known of each in it: a frame is two columns wide.

use ratatui::text::Span;

use super::parts;
use crate::model::{Depth, HiveBox, Role, trimmed};
use crate::tui::theme::Theme;

/// Frames of the widest box that is drawn.
const FRAMES: usize = 10;
/// Columns of a frame.
const FRAME: usize = 2;

/// A line of a stack: what is drawn, what is written beside it, and the number of its box from the bottom.
#[derive(Debug)]
pub(crate) struct StackLine {
    pub(crate) drawn: Vec<Span<'static>>,
    pub(crate) words: String,
    pub(crate) of: Option<usize>,
}

/// The lines of a stack, top to bottom; a deep box is two lines high.
pub(crate) fn stack_lines(boxes: &[HiveBox], theme: &Theme) -> Vec<StackLine> {
    let inside = FRAMES * FRAME;
    let edge = |left: char, right: char| StackLine {
        drawn: vec![Span::styled(format!("{left}{}{right}", "─".repeat(inside)), theme.muted)],
        words: String::new(),
        of: None,
    };
    let mut lines = Vec::new();
    for (at, each) in boxes.iter().enumerate().rev() {
        let is_top = at + 1 == boxes.len();
        lines.push(if is_top { edge('┌', '┐') } else { edge('├', '┤') });
        let high = if each.depth == Depth::Deep { 2 } else { 1 };
        for line in 0..high {
            let mut drawn = vec![Span::styled("│", theme.muted)];
            drawn.extend(contents(each, theme));
            drawn.push(Span::styled("│", theme.muted));
            let words = if line == 0 { named(each) } else { holds(each) };
            let words = if high == 1 { format!("{words}: {}", holds(each)) } else { words };
            lines.push(StackLine { drawn, words, of: Some(at) });
        }
    }
    if !boxes.is_empty() {
        lines.push(edge('└', '┘'));
    }
    lines
}

/// What the signs in a box mean.
pub(crate) fn stack_legend(theme: &Theme, is_narrow: bool) -> Vec<Span<'static>> {
    let comb = if is_narrow { " comb  " } else { " other comb  " };
    [
        ("▓▓", theme.brood, " brood  "),
        ("██", theme.honey, " honey  "),
        ("░░", theme.muted, comb),
        ("··", theme.rule, if is_narrow { " bare" } else { " not drawn" }),
    ]
    .into_iter()
    .flat_map(|(sign, style, words)| [Span::styled(sign, style), Span::styled(words, theme.muted)])
    .collect()
}

/// What is known to be in a box, by frames from the left: brood, honey, other drawn comb, frames not drawn.
fn contents(each: &HiveBox, theme: &Theme) -> Vec<Span<'static>> {
    let all = FRAMES as f64;
    let wide = FRAMES * FRAME;
    let brood = each.holds.brood.map_or(0.0, |f| f.0);
    let honey = each.holds.honey.map_or(0.0, |f| f.0);
    let frames = f64::from(each.frames);
    let drawn = each.holds.drawn.map_or(0.0, f64::from);
    let comb = (drawn - brood - honey).max(0.0);
    let bare = (frames - drawn.max(brood + honey)).max(0.0);
    let bare_sign = if each.holds.drawn.is_some() { '·' } else { ' ' };
    parts(
        &[
            (brood / all, '▓', theme.brood),
            (honey / all, '█', theme.honey),
            (comb / all, '░', theme.muted),
            (bare / all, bare_sign, theme.rule),
        ],
        (' ', theme.text),
        wide,
    )
}

fn named(each: &HiveBox) -> String {
    match each.role {
        Role::Nest => format!("nest, {}", each.depth.word()),
        Role::Super => format!("super, {}", each.depth.word()),
    }
}

/// What is known of what a box holds.
fn holds(each: &HiveBox) -> String {
    let mut words = Vec::new();
    match each.holds.drawn {
        Some(drawn) => words.push(format!("{drawn} of {} drawn", each.frames)),
        None => words.push(format!("{} frames", each.frames)),
    }
    if let Some(brood) = each.holds.brood {
        words.push(format!("brood {}", trimmed(brood.0, 2)));
    }
    if let Some(honey) = each.holds.honey {
        words.push(format!("honey {}", trimmed(honey.0, 2)));
    }
    if let Some(capped) = each.holds.capped {
        words.push(format!("{} % capped", trimmed(capped.0, 0)));
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_top_to_bottom_with_what_is_in_them_and_a_deep_one_is_higher() {
        let mut nest = HiveBox::new(Depth::Deep, 10, Role::Nest);
        nest.holds.drawn = Some(8);
        nest.holds.brood = Some(crate::model::Frames(4.0));
        nest.holds.honey = Some(crate::model::Frames(2.0));
        let boxes = [nest, HiveBox::new(Depth::Medium, 8, Role::Super)];
        let lines = stack_lines(&boxes, &Theme::none());
        let text: Vec<String> = lines
            .iter()
            .map(|line| {
                let drawn: String = line.drawn.iter().map(|s| s.content.as_ref()).collect();
                format!("{drawn} {}", line.words).trim_end().to_owned()
            })
            .collect();
        assert_eq!(
            text,
            [
                "┌────────────────────┐",
                "│                    │ super, medium: 8 frames",
                "├────────────────────┤",
                "│▓▓▓▓▓▓▓▓████░░░░····│ nest, deep",
                "│▓▓▓▓▓▓▓▓████░░░░····│ 8 of 10 drawn, brood 4, honey 2",
                "└────────────────────┘",
            ]
        );
        assert_eq!(lines[1].of, Some(1));
        assert!(stack_lines(&[], &Theme::none()).is_empty());
    }
}
