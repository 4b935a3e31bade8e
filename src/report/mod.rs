//! Reports: the plan and the check as text and JSON. Everything is returned as text; nothing is printed here.

mod check;
mod plan;
mod practice;
mod season;
mod worked;

pub use check::check_text;
pub use plan::{plan_json, plan_text};
pub use practice::{DATES_SOURCE, end_of, from_word, practice_json, practice_text, threshold_words};
pub use season::{countdown, place_words, season_json, season_text, sun_words};
pub use worked::worked_out;
