//! A stack of boxes drawn in lines.

use crate::model::{Depth, HiveBox, Role, trimmed};

/// Columns of a box between its walls.
const WIDE: usize = 15;

/// The lines of a stack, top to bottom, each with the number of its box from the bottom; a deep box is two lines high.
pub(crate) fn stack_lines(boxes: &[HiveBox]) -> Vec<(String, Option<usize>)> {
    let edge = |left: char, right: char| format!("{left}{}{right}", "\u{2500}".repeat(WIDE));
    let mut lines = Vec::new();
    for (at, each) in boxes.iter().enumerate().rev() {
        let is_top = at + 1 == boxes.len();
        let (left, right) = if is_top { ('\u{250c}', '\u{2510}') } else { ('\u{251c}', '\u{2524}') };
        lines.push((edge(left, right), None));
        let name = match each.role {
            Role::Nest => format!("NEST  {}", each.depth.word()),
            Role::Super => format!("super {}", each.depth.word()),
        };
        lines.push((format!("\u{2502} {name:<width$}\u{2502} {}", holds(each), width = WIDE - 1), Some(at)));
        if each.depth == Depth::Deep {
            lines.push((format!("\u{2502}{}\u{2502}", " ".repeat(WIDE)), Some(at)));
        }
    }
    if !boxes.is_empty() {
        lines.push((edge('\u{2514}', '\u{2518}'), None));
    }
    lines
}

/// What is known of what a box holds.
fn holds(each: &HiveBox) -> String {
    let mut parts = Vec::new();
    match each.holds.drawn {
        Some(drawn) => parts.push(format!("{drawn} of {} drawn", each.frames)),
        None => parts.push(format!("{} frames", each.frames)),
    }
    if let Some(brood) = each.holds.brood {
        parts.push(format!("brood {}", trimmed(brood.0, 2)));
    }
    if let Some(honey) = each.holds.honey {
        parts.push(format!("honey {}", trimmed(honey.0, 2)));
    }
    if let Some(capped) = each.holds.capped {
        parts.push(format!("{} % capped", trimmed(capped.0, 0)));
    }
    parts.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_top_to_bottom_and_a_deep_one_is_higher() {
        let mut nest = HiveBox::new(Depth::Deep, 10, Role::Nest);
        nest.holds.drawn = Some(8);
        let boxes = [nest, HiveBox::new(Depth::Medium, 8, Role::Super)];
        let lines = stack_lines(&boxes);
        let text: Vec<&str> = lines.iter().map(|(line, _)| line.as_str()).collect();
        assert_eq!(
            text,
            [
                "┌───────────────┐",
                "│ super medium  │ 8 frames",
                "├───────────────┤",
                "│ NEST  deep    │ 8 of 10 drawn",
                "│               │",
                "└───────────────┘",
            ]
        );
        assert_eq!(lines[1].1, Some(1));
        assert!(stack_lines(&[]).is_empty());
    }
}
