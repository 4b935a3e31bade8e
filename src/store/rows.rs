//! Files that a keeper writes by hand, taken row by row: a sound row holds beside a bad one.

use std::path::Path;

use serde::de::DeserializeOwned;

use super::error::StoreError;
use super::parse;

/// Reads a text of rows in one pair of brackets, `(field: value, ...)` or `[value, ...]`, as far as they are sound; what is
/// wrong with the others is told with its place.
pub fn sound_rows<T: DeserializeOwned + Default>(text: &str, path: &Path) -> (T, Vec<StoreError>) {
    let whole = match parse::from_ron(text, path) {
        Ok(value) => return (value, Vec::new()),
        Err(err) => err,
    };
    let Some(rows) = rows(text) else { return (T::default(), vec![whole]) };
    let mut faults = Vec::new();
    let mut sound = Vec::new();
    for row in &rows.all {
        match parse::from_ron::<T>(&rows.alone(text, row), path) {
            Ok(_) => sound.push(row.text),
            Err(err) => faults.push(err),
        }
    }
    let joined = format!("{}{}{}", rows.open, sound.join(","), rows.close);
    match parse::from_ron(&joined, path) {
        Ok(value) if !faults.is_empty() => (value, faults),
        // Each is sound and all of them are not, or the fault is between them: one that stands twice, say.
        Ok(value) => (value, vec![whole]),
        Err(_) => (T::default(), vec![whole]),
    }
}

/// One row, and where in the text it begins.
struct Row<'a> {
    at: usize,
    text: &'a str,
}

struct Rows<'a> {
    open: char,
    close: char,
    all: Vec<Row<'a>>,
}

impl Rows<'_> {
    /// A row in brackets of its own, at its own line and column.
    fn alone(&self, text: &str, row: &Row<'_>) -> String {
        let before = text.get(..row.at).unwrap_or_default();
        let blanks: String = before.chars().skip(1).map(|c| if c == '\n' { '\n' } else { ' ' }).collect();
        format!("{}{blanks}{}{}", self.open, row.text, self.close)
    }
}

/// The rows between the outermost brackets; `None` where there are none.
fn rows(text: &str) -> Option<Rows<'_>> {
    let mut depth = 0_usize;
    let mut found = Rows { open: '(', close: ')', all: Vec::new() };
    let mut begun: Option<usize> = None;
    let mut rest = text.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let next = rest.peek().map(|(_, c)| *c);
        match c {
            '"' => {
                begun = begun.or((depth > 0).then_some(at));
                while let Some((_, c)) = rest.next() {
                    match c {
                        '\\' => drop(rest.next()),
                        '"' => break,
                        _ => {}
                    }
                }
            }
            '/' if next == Some('/') => drop(rest.find(|(_, c)| *c == '\n')),
            '/' if next == Some('*') => {
                let mut last = ' ';
                rest.next();
                rest.find(|(_, c)| std::mem::replace(&mut last, *c) == '*' && *c == '/');
            }
            '(' | '[' | '{' if depth == 0 => {
                (found.open, found.close) = (c, if c == '[' { ']' } else { ')' });
                depth = 1;
            }
            ',' if depth == 1 => found.all.extend(row(text, begun.take(), at)),
            ')' | ']' | '}' if depth == 1 => {
                found.all.extend(row(text, begun.take(), at));
                return Some(found);
            }
            _ if depth == 0 || c.is_whitespace() => {}
            _ => {
                begun = begun.or(Some(at));
                match c {
                    '(' | '[' | '{' => depth += 1,
                    ')' | ']' | '}' => depth -= 1,
                    _ => {}
                }
            }
        }
    }
    // Not closed: what stands there is taken all the same.
    found.all.extend(row(text, begun, text.len()));
    (depth > 0).then_some(found)
}

fn row(text: &str, from: Option<usize>, to: usize) -> Option<Row<'_>> {
    let at = from?;
    text.get(at..to).map(|text| Row { at, text })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Settings;

    fn read(text: &str) -> (Settings, Vec<String>) {
        let (settings, faults) = sound_rows(text, Path::new("settings.ron"));
        (settings, faults.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn a_sound_row_holds_beside_a_bad_one_on_one_line_or_many() {
        for text in [
            "(mouse: true, colour: 3, day_theme: \"clear\")",
            "(\n  mouse: true,\n  // by hand: a, b (c\n  colour: 3,\n  day_theme: \"clear\",\n)",
            "(mouse: true, is_night: \"(yes), or [no\", day_theme: \"clear\")",
            "(mouse: true, day_theme: \"clear\", is_night: maybe",
        ] {
            let (settings, faults) = read(text);
            assert_eq!((settings.mouse, settings.day_theme.as_str()), (true, "clear"), "{text}: {faults:?}");
            assert_eq!(faults.len(), 1, "{text}: {faults:?}");
            assert!(!settings.is_night);
        }
        let (_, faults) = read("(\n  mouse: true,\n\n    colour: 3,\n)");
        assert!(faults[0].contains("settings.ron:4:"), "{faults:?}");
    }

    #[test]
    fn what_is_no_list_of_rows_is_told_whole() {
        for text in ["", "mouse", "\u{feff}", "(mouse: true, mouse: false)"] {
            let (settings, faults) = read(text);
            assert_eq!((settings, faults.len()), (Settings::default(), 1), "{text:?}");
        }
    }
}
