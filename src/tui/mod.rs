//! The terminal program: it walks the yard.
//!
//! In: an open book and what is typed. Out: intents for the session. A key becomes a `Command`, the
//! uppermost screen turns that into a step (what is wanted, where to go, what to say), `app` carries the step out, and
//! the screen is drawn anew. A screen sees the session and changes nothing but itself.

mod app;
mod command;
mod contrast;
mod depth;
mod field;
mod glance;
mod glyphs;
mod grammar;
mod guard;
mod keymap;
mod keys;
mod look;
mod measure;
mod run;
mod screens;
mod search;
mod setting;
mod sgr;
mod synonyms;
mod text;
mod theme;
mod to;
mod view;
mod widgets;

pub use depth::{Depth, has_letters_only, is_dark};
pub use glance::{Glance, Glanced, glance};
pub use keymap::{key_text, readme_table};
pub use look::{Wear, theme_names};
pub use measure::key_times;
pub use run::{Welcomed, bring_back, walk, walk_from, welcome};
pub use screens::bring_back::Offered;
