//! Reports: the plan and the check as text and JSON. Everything is returned as text; nothing is printed here.

mod check;
mod plan;
mod worked;

pub use check::check_text;
pub use plan::{plan_json, plan_text};
pub use worked::worked_out;
