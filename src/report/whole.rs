//! The whole book as JSON, for programs.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::json;
use crate::model::Book;

/// The version of this export; it changes when a reader would have to.
pub const EXPORT_VERSION: u32 = 1;

#[derive(Serialize)]
struct Out<'a> {
    yardwalk_export: u32,
    exported_on: NaiveDate,
    book: &'a Book,
}

#[derive(Deserialize)]
struct In {
    yardwalk_export: u32,
    book: Book,
}

/// Why an export could not be read.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// Not such JSON.
    #[error("this is not an export of a book")]
    Json(#[from] serde_json::Error),
    /// From a newer program.
    #[error("this export is of version {0}; this program reads version {EXPORT_VERSION}")]
    Newer(u32),
}

/// The book as JSON: `{"yardwalk_export": 1, "exported_on", "book": {..}}`, the book with the same fields and words as its
/// RON files; a quantity is text with its unit, what is not known is left out.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn book_json(book: &Book, on: NaiveDate) -> Result<String, serde_json::Error> {
    let out = Out { yardwalk_export: EXPORT_VERSION, exported_on: on, book };
    json::text(&out)
}

/// Reads what [`book_json`] wrote.
///
/// # Errors
/// Where it is no export, or a newer one.
pub fn book_from_json(text: &str) -> Result<Book, ExportError> {
    let read: In = serde_json::from_str(text)?;
    if read.yardwalk_export > EXPORT_VERSION {
        return Err(ExportError::Newer(read.yardwalk_export));
    }
    Ok(read.book)
}
