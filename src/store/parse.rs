//! RON in and out: strict, with the place and the nearest word where something does not fit.

use std::path::Path;

use ron::extensions::Extensions;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use crate::model::{Book, FORMAT, Visit};

/// What stands in a visit's file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct VisitFile {
    pub(super) format: u32,
    pub(super) visit: Visit,
}

/// The one field every file has, whatever its version. A number of any size is a format, if only a newer one.
#[derive(Deserialize)]
struct Versioned {
    format: u64,
}

fn options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).with_recursion_limit(64)
}

/// Reads a whole-book text. `path` is for errors.
///
/// # Errors
/// Says line, column, what was expected and how to mend it; a newer format is refused.
pub fn book_from_text(text: &str, path: &Path) -> Result<Book, StoreError> {
    check_format(text, path)?;
    let mut book: Book = parse(text, path)?;
    let format = book.format;
    book.visits = book.visits.into_iter().map(|visit| visit.brought_up_from(format)).collect();
    // Written again it is of this format.
    book.format = FORMAT;
    Ok(book.under_present_names())
}

pub(super) fn visit_from_text(text: &str, path: &Path) -> Result<Visit, StoreError> {
    check_format(text, path)?;
    parse::<VisitFile>(text, path).map(|file| file.visit.brought_up_from(file.format))
}

/// How many comments stand in a text of ours: lines and blocks, outside of what is quoted.
pub(super) fn comments_in(text: &str) -> usize {
    let mut count = 0;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match (c, rest.peek()) {
            ('"', _) => {
                // To the end of the quoted text; a backslash hides the next character.
                while let Some(c) = rest.next() {
                    match c {
                        '\\' => drop(rest.next()),
                        '"' => break,
                        _ => {}
                    }
                }
            }
            ('/', Some('/')) => {
                count += 1;
                rest.by_ref().find(|c| *c == '\n');
            }
            ('/', Some('*')) => {
                count += 1;
                let mut last = ' ';
                rest.next();
                rest.by_ref().find(|c| std::mem::replace(&mut last, *c) == '*' && *c == '/');
            }
            _ => {}
        }
    }
    count
}

/// Writes a whole book as one text, for export, backup and `yard.ron`.
///
/// # Errors
/// None in practice; the writer's own are passed on.
pub fn book_to_text(book: &Book, path: &Path) -> Result<String, StoreError> {
    to_text(book, path)
}

pub(super) fn visit_to_text(visit: &Visit, path: &Path) -> Result<String, StoreError> {
    to_text(&VisitFile { format: FORMAT, visit: visit.clone() }, path)
}

pub(super) fn to_text<T: Serialize>(value: &T, path: &Path) -> Result<String, StoreError> {
    let pretty = ron::ser::PrettyConfig::new().depth_limit(16).compact_arrays(false).indentor("  ");
    options().to_string_pretty(value, pretty).map(|text| text + "\n").map_err(|err| unwritable(path, &err))
}

pub(super) fn to_line<T: Serialize>(value: &T, path: &Path) -> Result<String, StoreError> {
    options().to_string(value).map_err(|err| unwritable(path, &err))
}

pub(super) fn from_line<T: DeserializeOwned>(line: &str) -> Option<T> {
    options().from_str(line).ok()
}

fn unwritable(path: &Path, err: &ron::Error) -> StoreError {
    StoreError::Io {
        path: path.to_owned(),
        doing: "write it as RON",
        source: std::io::Error::other(err.to_string()),
    }
}

fn check_format(text: &str, path: &Path) -> Result<(), StoreError> {
    // All that this program writes has it at the head; to find it elsewhere the whole text is gone through once more.
    let found =
        format_at_head(text).map_or_else(|| options().from_str(text), |format| Ok(Versioned { format }));
    match found {
        Ok(Versioned { format }) if format > u64::from(FORMAT) => {
            let found = u32::try_from(format).unwrap_or(u32::MAX);
            Err(StoreError::Newer { path: path.to_owned(), found, known: FORMAT })
        }
        Ok(Versioned { format: 0 }) => Err(StoreError::Syntax {
            path: path.to_owned(),
            line: 1,
            column: 1,
            what: "there is no format 0".to_owned(),
            mend: format!("write `format: {FORMAT}`, or get the file from where it came once more"),
        }),
        // A format that cannot be read is found again by the full parse, with its place.
        Ok(_) | Err(_) => Ok(()),
    }
}

/// The format that stands before everything else in a text: `(format: 5, ...`, blanks and comments left aside.
fn format_at_head(text: &str) -> Option<u64> {
    let rest = past_blanks(past_blanks(text)?.strip_prefix('(')?)?;
    let rest = past_blanks(past_blanks(rest.strip_prefix("format")?)?.strip_prefix(':')?)?;
    let end = rest.find(|c: char| !c.is_ascii_digit())?;
    let (number, rest) = rest.split_at_checked(end)?;
    // A number that goes on otherwise, as `5_0` or `0x5`, is left to the full parse.
    past_blanks(rest)?.starts_with([',', ')']).then(|| number.parse().ok())?
}

/// What follows blanks and comments; none where a comment does not end.
fn past_blanks(text: &str) -> Option<&str> {
    let mut rest = text.trim_start();
    loop {
        let comment = if rest.starts_with("//") {
            rest.split_once('\n')
        } else if rest.starts_with("/*") {
            // One within another is left to the full parse.
            rest.split_once("*/").filter(|(before, _)| !before.get(2..).unwrap_or_default().contains("/*"))
        } else {
            return Some(rest);
        };
        rest = comment?.1.trim_start();
    }
}

/// Reads any text of ours. `path` is for errors.
///
/// # Errors
/// Says line, column, what was expected and how to mend it.
pub fn from_ron<T: DeserializeOwned>(text: &str, path: &Path) -> Result<T, StoreError> {
    parse(text, path)
}

fn parse<T: DeserializeOwned>(text: &str, path: &Path) -> Result<T, StoreError> {
    options().from_str(text).map_err(|err| {
        let (what, mend) = explain(&err.code, is_at_end(text, &err.span.end));
        StoreError::Syntax {
            path: path.to_owned(),
            line: err.span.start.line,
            column: err.span.start.col,
            // What stands in the file may hold what would move the cursor, and no end to it.
            what: shown(&what),
            mend: shown(&mend),
        }
    })
}

/// Whether nothing but white space follows a place.
fn is_at_end(text: &str, at: &ron::error::Position) -> bool {
    let rest_of_line = |line: &str| line.chars().skip(at.col.saturating_sub(1)).all(char::is_whitespace);
    let mut lines = text.lines().skip(at.line.saturating_sub(1));
    lines.next().is_none_or(rest_of_line) && lines.all(|line| line.trim().is_empty())
}

fn explain(code: &ron::Error, at_end: bool) -> (String, String) {
    use ron::Error::{InvalidValueForType, MissingStructField, NoSuchEnumVariant, NoSuchStructField};
    match code {
        NoSuchStructField { expected, found, .. } => (
            format!("there is no field `{found}` here"),
            nearest(found, expected).map_or_else(
                || format!("fields here are {}", expected.join(", ")),
                |near| format!("did you mean `{near}`? Fields here are {}", expected.join(", ")),
            ),
        ),
        NoSuchEnumVariant { expected, found, .. } => (
            format!("`{found}` is not one of the words here"),
            nearest(found, expected).map_or_else(
                || format!("write one of {}", expected.join(", ")),
                |near| format!("did you mean `{near}`? Write one of {}", expected.join(", ")),
            ),
        ),
        MissingStructField { field, .. } => {
            (format!("the field `{field}` is missing"), format!("add `{field}: ...`"))
        }
        InvalidValueForType { expected, found } => {
            (format!("expected {expected}, found {found}"), format!("write {expected}"))
        }
        other => {
            let text = other.to_string();
            let text = text.trim_end_matches('.').to_owned();
            let mend = match other {
                ron::Error::Message(_) => "correct this place",
                _ if at_end => "the file ends here: it was cut short, or a bracket is not closed",
                ron::Error::ExpectedStructLikeEnd | ron::Error::ExpectedArrayEnd => {
                    "a bracket or parenthesis is not closed"
                }
                ron::Error::ExpectedComma => "put a comma between the two",
                ron::Error::TrailingCharacters => "remove what stands after the last parenthesis",
                _ => "correct this place",
            };
            (text, mend.to_owned())
        }
    }
}

/// The known word most like the one found, if it is much like it.
fn nearest(found: &str, known: &[&'static str]) -> Option<&'static str> {
    known
        .iter()
        .map(|word| (strsim::jaro_winkler(found, word), *word))
        .filter(|(like, _)| *like > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, word)| word)
}

/// Longest text of a fault that is shown.
const LONGEST: usize = 400;

/// Words from a file, fit to be shown: nothing unseen in them, and an end.
fn shown(text: &str) -> String {
    let plain = crate::model::visible(text);
    if plain.chars().count() <= LONGEST {
        return plain;
    }
    plain.chars().take(LONGEST).chain("...".chars()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn error(text: &str) -> (usize, usize, String) {
        let err = book_from_text(text, Path::new("yard.ron")).unwrap_err();
        match &err {
            StoreError::Syntax { line, column, what, .. } => {
                (*line, *column, format!("{what}; {}", err.hint()))
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn an_unknown_field_is_named_with_its_place_and_the_nearest_known_one() {
        let (line, column, words) = error("(\n  format: 1,\n  keper: \"A\",\n  yards: [],\n)");
        assert_eq!(line, 3);
        assert!((1..=8).contains(&column), "{column}");
        assert!(words.contains("no field `keper`") && words.contains("did you mean `keeper`"), "{words}");
        assert!(words.contains("nothing was changed"), "{words}");
    }

    #[test]
    fn the_format_at_the_head_is_that_of_the_whole_text() {
        let heads = [
            "(format: 5, visit: ())",
            " // by hand\n ( /* a */ format /* b */ : 12 // c\n, x: 1)",
            "(format: 99999999999, x: 1)",
            "(x: 1, format: 3)",
            "(format: 5_0)",
            "(format: 0x5)",
            "(formatted: 3, format: 4)",
            "#![enable(implicit_some)]\n(format: 2)",
            "Book(format: 7)",
            "(/* one /* within */ another */ format: 3)",
            "(format: 340282366920938463463374607431768211456)",
        ];
        let mut at_head = 0;
        for text in heads {
            let whole = options().from_str::<Versioned>(text).ok().map(|found| found.format);
            let head = format_at_head(text);
            assert!(head.is_none() || head == whole, "{text}: {head:?} and {whole:?}");
            at_head += usize::from(head.is_some());
        }
        assert_eq!(at_head, 3);
    }

    #[test]
    fn broken_files_say_where_and_what() {
        for (text, line, part) in [
            ("(format: 1, keeper: \"A\"", 1, "cut short"),
            ("(format: 1,\n keeper: 7, yards: [])", 2, "string"),
            ("(format: 1,\n yards: [])", 2, "`keeper` is missing"),
            ("(format: 1, keeper: \"A\", units: Imperial, yards: [])", 1, "Us"),
            ("(format: 1, keeper: \"A\", yards: []) x", 1, "after the last parenthesis"),
            (
                "(format: 1, keeper: \"A\",\n yards: [(name: \"Y\", hives: [],\n  freezes: (last_spring: \"13-40\", first_autumn: \"10-01\"))])",
                3,
                "month and day",
            ),
        ] {
            let (at, _, words) = error(text);
            assert_eq!(at, line, "{text}: {words}");
            assert!(words.contains(part), "{text}: {words}");
        }
    }

    #[test]
    fn comments_are_counted_outside_of_what_is_quoted() {
        assert_eq!(comments_in("(a: 1, // one\n b: \"// \\\" none\", /* two * / */ c: 2)// three"), 3);
        assert_eq!(comments_in("(a: \"http://x\")"), 0);
    }

    #[test]
    fn a_newer_format_is_refused_even_with_fields_nobody_knows() {
        let err = book_from_text("(format: 99, gates: 3)", Path::new("yard.ron")).unwrap_err();
        assert!(matches!(err, StoreError::Newer { found: 99, .. }));
        assert!(err.hint().contains("newer yardwalk"));
    }

    #[test]
    fn deep_nesting_is_refused_and_not_followed() {
        let text = format!("(format: 1, keeper: {}", "(".repeat(100_000));
        assert!(book_from_text(&text, Path::new("yard.ron")).is_err());
    }

    #[test]
    fn a_book_comes_back_as_it_was_written() {
        let book = Book::empty("A", crate::model::Units::Metric);
        let text = book_to_text(&book, Path::new("x")).unwrap();
        assert_eq!(book_from_text(&text, Path::new("x")).unwrap(), book);
    }
}
