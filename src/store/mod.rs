//! The store: the only room that touches files.
//!
//! A book is a folder with `yard.ron`, one file a visit, and drafts; or one whole-book file. In: paths and values.
//! Out: a [`Book`](crate::model::Book), or an error that says what, where and how to mend it.

mod book_folder;
mod draft;
mod error;
mod files;
pub mod import;
mod lock;
mod parse;
mod scratch;

pub use book_folder::{
    BookFolder, Source, books_in, data_folder, is_same, read, read_all, refuse_faults, visit_id, write_backup,
};
pub use draft::{Draft, DraftStep};
pub use error::StoreError;
pub use files::{read_text, write_export};
pub use lock::{Lock, Locked, lock};
pub use parse::{book_from_text, book_to_text};
pub use scratch::unpack;
