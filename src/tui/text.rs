//! Text for a width: cut, wrapped and counted in terminal cells, with nothing in it that could move the cursor.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::model::visible;

/// The text cut to so many cells, with `~` where something was cut off.
pub(crate) fn fit(text: &str, width: usize) -> String {
    let text = visible(text);
    if text.width() <= width {
        return text;
    }
    let mut out = String::new();
    let mut used = 0;
    for c in text.chars() {
        let cells = c.width().unwrap_or(0);
        if used + cells + 1 > width {
            break;
        }
        used += cells;
        out.push(c);
    }
    if width > 0 {
        out.push('~');
    }
    out
}

/// As many of some texts as fit whole, and how many are left; the first is cut where not even that fits.
pub(crate) fn fit_whole(texts: &[&str], width: usize) -> String {
    let mut out = String::new();
    for (at, text) in texts.iter().enumerate() {
        let longer = if at == 0 { visible(text) } else { format!("{out}; {}", visible(text)) };
        let left = texts.len() - at - 1;
        let more = if left == 0 { String::new() } else { format!(" +{left}") };
        if longer.width() + more.width() > width {
            return match at {
                0 => format!("{}{more}", fit(text, width.saturating_sub(more.width()))),
                _ => format!("{out} +{}", texts.len() - at),
            };
        }
        out = longer;
    }
    out
}

/// The text cut and filled to exactly so many cells.
pub(crate) fn pad(text: &str, width: usize) -> String {
    let mut out = fit(text, width);
    let used = out.width();
    out.extend(std::iter::repeat_n(' ', width.saturating_sub(used)));
    out
}

/// The text in lines of at most so many cells, broken at spaces where it can be.
pub(crate) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(4);
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in visible(paragraph).split_whitespace() {
            let mut word = word.to_owned();
            if !line.is_empty() && line.width() + 1 + word.width() > width {
                lines.push(std::mem::take(&mut line));
            }
            while word.width() > width {
                let (head, tail) = split_at_width(&word, width);
                lines.push(head);
                word = tail;
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&word);
        }
        if !line.is_empty() {
            lines.push(line);
        }
    }
    lines
}

/// Whether every word of a search stands somewhere in some words, whatever the case.
pub(crate) fn fits_search(words: &str, search: &str) -> bool {
    let words = words.to_lowercase();
    search.to_lowercase().split_whitespace().all(|part| words.contains(part))
}

fn split_at_width(word: &str, width: usize) -> (String, String) {
    let mut used = 0;
    let mut head = String::new();
    let mut chars = word.chars();
    for c in chars.by_ref() {
        let cells = c.width().unwrap_or(0);
        if used + cells > width && !head.is_empty() {
            return (head, std::iter::once(c).chain(chars).collect());
        }
        used += cells;
        head.push(c);
    }
    (head, String::new())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_cut_by_cells_not_by_letters() {
        assert_eq!(fit("Alder Bottom", 12), "Alder Bottom");
        assert_eq!(fit("Alder Bottom", 6), "Alder~");
        assert_eq!(fit("養蜂場", 5), "養蜂~");
        assert_eq!(fit("養蜂場", 4), "養~");
        assert_eq!(pad("a", 3), "a  ");
        assert_eq!(fit("a\x1b[31mb", 10), "a[31mb");
        assert_eq!(fit("abc", 0), "");
        let titles = ["Wash", "Add a box", "Feed"];
        assert_eq!(fit_whole(&titles, 30), "Wash; Add a box; Feed");
        assert_eq!(fit_whole(&titles, 20), "Wash; Add a box +1");
        assert_eq!(fit_whole(&titles, 17), "Wash +2");
        assert_eq!(fit_whole(&titles, 6), "Wa~ +2");
        assert_eq!(fit_whole(&[], 6), "");
    }

    #[test]
    fn lines_break_at_spaces_and_long_words_anywhere() {
        assert_eq!(wrap("two deep boxes", 8), ["two deep", "boxes"]);
        assert_eq!(wrap("abcdefghij", 4), ["abcd", "efgh", "ij"]);
        assert_eq!(wrap("", 10), Vec::<String>::new());
        assert!(wrap("養蜂場の巣箱", 5).iter().all(|l| l.width() <= 5));
    }
}
