//! The terminal program: it walks the yard.
//!
//! In: a book and what is typed. Out: steps of a draft and, at the end, a visit, handed to the store by
//! `run`. One `App` holds the state; `update` turns a key into a change and effects; `draw` changes nothing.

mod amend;
mod app;
mod command;
mod desk;
mod effect;
mod field;
mod guard;
mod input;
mod keymap;
mod keys;
mod look;
mod plain;
mod run;
mod screens;
mod search;
mod text;
mod theme;
mod walk;
mod widgets;

pub use keymap::readme_table;
pub use plain::walk_plain;
pub use run::{Opening, WalkError, Welcomed, walk, welcome};
