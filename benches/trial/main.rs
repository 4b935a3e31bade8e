//! A trial of keepers over simulated colonies: `cargo bench --bench trial`. Writes `benches/trial.md`.
//!
//! `TRIAL=96` keeps so many colonies in place of 1,000; `TRACE=12:3` prints what the hive 3 of the yard 12 was told.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a bench may stop where it likes"
)]

mod keepers;
mod table;

use keepers::{Keeper, keep};

fn main() {
    let colonies = std::env::var("TRIAL").ok().and_then(|n| n.parse().ok()).unwrap_or(1_000);
    let trace = std::env::var("TRACE").ok().and_then(|of| {
        let (yard, hive) = of.split_once(':')?;
        Some((yard.parse().ok()?, hive.parse().ok()?))
    });
    let keepers = [
        ("does nothing", Keeper::Nothing),
        ("calendar dates", Keeper::Dates),
        ("yardwalk, every two weeks", Keeper::Yardwalk(14)),
        ("yardwalk, every three weeks", Keeper::Yardwalk(21)),
        ("yardwalk, when it calls", Keeper::Called),
    ];
    // One after the other, and said so: it takes a minute. Stopped by Ctrl-C it has written nothing.
    let all: Vec<_> = keepers
        .into_iter()
        .map(|(name, keeper)| {
            let began = std::time::Instant::now();
            let kept = keep(keeper, colonies, trace);
            eprintln!("{name}: {} bee years in {:.0?}; Ctrl-C stops", kept.len(), began.elapsed());
            (name, kept)
        })
        .collect();
    let text = table::of(&all);
    println!("{text}");
    if std::env::var_os("TRIAL").is_none() {
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/benches/trial.md"), text).unwrap();
    }
}
