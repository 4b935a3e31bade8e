//! JSON as text: the one way in which every report is written as it.

use std::fmt::Write as _;

use serde::Serialize;

use crate::model::is_unseen;

/// A value as JSON over several lines, with an end of line. Characters that would move a cursor or turn the line about are
/// escaped, so that it can be printed as it is and is read back the same.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub(super) fn text<T: Serialize>(value: &T) -> serde_json::Result<String> {
    let written = serde_json::to_string_pretty(value)?;
    let mut out = String::with_capacity(written.len() + 1);
    for c in written.chars() {
        if (c.is_control() && c != '\n') || is_unseen(c) {
            // Outside of strings there is none; all are of the first plane of characters.
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out.push('\n');
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_move_the_cursor_is_escaped_and_read_back_the_same() {
        let evil = "a\u{1b}[2J\u{9b}31m\u{202e}\u{7f}\nb\u{feff}";
        let written = text(&[evil]).unwrap();
        assert!(written.chars().all(|c| (c == '\n' || !c.is_control()) && !is_unseen(c)), "{written:?}");
        assert_eq!(serde_json::from_str::<Vec<String>>(&written).unwrap(), [evil]);
    }
}
