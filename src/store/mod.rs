//! The store: the only room that touches files.
//!
//! A book is a folder with `yard.ron`, one file a visit, and drafts; or one whole-book file. In: paths and values.
//! Out: a [`Book`](crate::model::Book), or an error that says what, where and how to mend it.

mod book_folder;
mod config;
mod disk;
mod draft;
mod error;
#[cfg(test)]
pub(crate) mod faulty;
mod files;
mod former;
mod glance;
pub mod import;
mod left;
mod lock;
mod pad;
mod parse;
mod reading;
mod rehearsal;
mod rows;
mod scratch;
mod snapshot;
mod versions;

pub use book_folder::{BookFolder, Source, books_in, data_folder, is_same, refuse_faults, write_backup};
pub use config::{Config, cache_folder, config_folder, read_config, write_settings};
pub use disk::{Disk, OpenFile, SystemDisk};
pub use draft::{Draft, steps_from_text};
pub use error::StoreError;
pub use files::{Files, log_file, may_be_exported_to, read_table, read_text, write_export};
pub use former::{Former, bring_back, last_good};
pub use left::emergency_folders;
pub use lock::{Lock, Locked, lock};
pub use pad::Pad;
pub use parse::{book_from_text, book_to_text, from_ron};
pub use reading::{Contents, read, read_all, read_usable, read_usable_on};
pub use rehearsal::{read_scenario, rehearsal_in, scenario_from_text};
pub use rows::sound_rows;
pub use scratch::unpack;
pub use snapshot::Stamp;
pub use versions::Saved;

/// The book of the demonstration.
#[cfg(test)]
pub(crate) fn sample() -> crate::model::Book {
    book_from_text(include_str!("../../sample-yard.ron"), std::path::Path::new("sample-yard.ron")).unwrap()
}
