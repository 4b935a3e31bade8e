//! Advice at a hive as a cautious keeper meets it: what must be said, what must not. Each case names its source, or
//! says that it is common practice.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod all;
mod case;
mod disease;
mod entrances;
mod food;
mod honey;
mod mites;
mod queens;
mod robbing;
mod season;
mod treatments;
mod winter_weight;
