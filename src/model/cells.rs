//! Words as cells of a table, so that no spreadsheet runs them.

/// What a spreadsheet takes for the start of a formula, and the apostrophe that guards against it.
const STARTS: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\''];

/// Words as a cell: what would start a formula gets an apostrophe in front.
pub fn cell(text: &str) -> String {
    if text.starts_with(STARTS) { format!("'{text}") } else { text.to_owned() }
}

/// A cell read back as the words it was made from.
pub fn uncell(text: &str) -> &str {
    text.strip_prefix('\'').filter(|rest| rest.starts_with(STARTS)).unwrap_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_would_run_are_made_harmless_and_come_back() {
        for (words, made) in
            [("=1+1", "'=1+1"), ("@sum", "'@sum"), ("-3 C", "'-3 C"), ("'tis", "''tis"), ("plain", "plain")]
        {
            assert_eq!(cell(words), made);
            assert_eq!(uncell(made), words);
        }
        // What spreadsheets take for a formula: = + - @, and a tab or a line end before one.
        for start in ["=", "+", "-", "@", "\t", "\r"] {
            assert!(cell(&format!("{start}1")).starts_with('\''), "{start:?}");
        }
    }
}
