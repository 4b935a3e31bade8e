//! Reports: plan, season, practice, load list, card and check as text and JSON; the book as iCalendar, CSV, Markdown and
//! JSON. Everything is returned as text; nothing is printed or written here.

#![warn(clippy::wildcard_enum_match_arm)]

pub mod calc;
pub mod calc_ask;
mod card;
mod check;
pub mod facts;
mod ics;
mod json;
mod load;
mod markdown;
mod plan;
mod practice;
mod read_back;
mod review;
mod schema;
mod season;
mod sheet;
mod tables;
pub mod trends;
pub mod what_if;
mod whole;
mod worked;
mod wrap_up;

pub use card::{Card, card_json, card_text};
pub use check::check_text;
pub use facts::findings_words;
pub use ics::{Again, ics, ics_again, is_our_ics};
pub use load::{YardLoad, load_json, load_text};
pub use markdown::{inspectors_list, visit_report};
pub use plan::{or_by, plan_json, plan_text};
pub use practice::{DATES_SOURCE, end_of, from_word, practice_json, practice_text, threshold_words};
pub use read_back::read_back;
pub use review::{review_lines, review_text};
pub use schema::{Reported, schema};
pub use season::{countdown, place_words, season_json, season_text, sun_words};
pub use sheet::{day_sheet, hive_sheet};
pub use tables::{ForSheet, HIVE_COLUMNS, Table, finding_column, table, table_for};
pub use trends::trends;
pub use whole::{EXPORT_VERSION, ExportError, book_from_json, book_json};
pub use worked::worked_out;
pub use wrap_up::{Wrapped, wrapped};
