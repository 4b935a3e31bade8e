//! Advice: what a hive needs now, and why. One engine for the plan and for the visit.
//!
//! In: a [`Situation`]. Out: [`Advice`], prompts in order and what cannot be done today. A rule is a pure
//! function; the engine settles what rules cannot know of each other.

#![warn(clippy::wildcard_enum_match_arm)]

mod conflicts;
mod engine;
mod gear;
mod in_force;
mod looks;
mod promise;
mod prompt;
pub mod rules;
mod situation;

pub use conflicts::{Conflict, PAIRS};
#[cfg(test)]
pub(crate) use engine::asked;
pub use engine::{Advice, Held, advise};
pub use gear::{Gear, Kept};
pub use in_force::{FoodGiven, InForce, Quiet, Unfit};
pub use looks::looks;
pub use promise::is_open;
pub use prompt::{Deed, Due, Need, Offer, Prompt, Urgency};
pub use rules::{ALL, Rule, rule, rule_name};
pub use situation::{Day, Situation};
