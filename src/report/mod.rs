//! Reports: the plan and the check as text and JSON. Everything is returned as text; nothing is printed here.

mod check;
mod plan;

pub use check::check_text;
pub use plan::{plan_json, plan_text};
