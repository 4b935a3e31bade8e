//! Files of a book that are not taken in, and why. The book opens with all the rest: one odd file keeps nobody from the
//! yard.

use std::path::{Path, PathBuf};

use super::names::visible;

/// A file in a book's folder that is no part of the book as it was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The file, from the book's folder on: `visits/2026/2026-05-03T0915-creek-3f9a.ron`.
    pub file: PathBuf,
    /// The file that is taken in instead, where this one is of the same visit.
    pub instead: Option<PathBuf>,
    /// Whether it says the same as that one, so that nothing is missing without it.
    pub is_copy: bool,
    /// What is wrong with it, as the end of a sentence that begins with its name.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

impl LeftOut {
    /// The file and what is wrong with it, in a line.
    pub fn words(&self) -> String {
        format!("{} {}", file_words(&self.file), visible(&self.what))
    }
}

/// A path as it is shown: with slashes on every system, and nothing in it that would move the cursor.
pub fn file_words(path: &Path) -> String {
    let parts: Vec<String> = path.iter().map(|part| visible(&part.to_string_lossy())).collect();
    parts.join("/")
}
