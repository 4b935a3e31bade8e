//! What the program is built on: licences it may be built on, and no crate twice. Read from the lock file's packages, offline.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Licenses (SPDX) under which a crate may be linked into an MIT program without conditions on the whole.
const ALLOWED: &[&str] = &[
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "ISC",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "Unlicense",
    "Zlib",
    // Binds the crate's own files only, which are used unchanged.
    "MPL-2.0",
];

/// Crates that are there twice, and why that is borne.
const TWICE: &[(&str, &str)] = &[
    (
        "syn",
        "of macros at build time: serde's on version 2, thiserror's on version 3; neither is in the program",
    ),
    (
        "thiserror",
        "version 1 of filedescriptor, by which keys and changes of size are polled for, version 2 of ours",
    ),
    ("thiserror-impl", "the macro of each, at build time"),
];

/// The crates the program is built from on this machine, without those of tests: name, version, licence.
fn built_from() -> BTreeSet<(String, String, String)> {
    let output = Command::new(env!("CARGO"))
        .args(["tree", "--locked", "--offline", "-e", "normal,build", "--prefix", "none", "-f", "{p}|{l}"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    let mut found = BTreeSet::new();
    for line in text.lines().filter(|l| !l.is_empty()) {
        let (package, licence) = line.split_once('|').unwrap();
        let mut words = package.split_whitespace();
        let (name, version) = (words.next().unwrap(), words.next().unwrap());
        let licence = licence.trim_end_matches("(*)").trim();
        found.insert((name.to_owned(), version.to_owned(), licence.to_owned()));
    }
    found
}

/// Whether an SPDX expression leaves a choice in which every part is allowed.
fn is_allowed(licence: &str) -> bool {
    let plain = licence.replace('/', " OR ").replace(['(', ')'], " ");
    // Parentheses stand in these expressions around an OR beside an AND: each part of the AND is asked for itself.
    plain.split(" AND ").all(|part| part.split(" OR ").any(|one| ALLOWED.contains(&one.trim())))
}

#[test]
fn the_rule_for_licences_refuses_what_it_should() {
    assert!(is_allowed("MIT OR Apache-2.0") && is_allowed("MIT/Apache-2.0"));
    assert!(is_allowed("(MIT OR Apache-2.0) AND Unicode-3.0"));
    assert!(!is_allowed("GPL-3.0-only") && !is_allowed("MIT AND GPL-3.0-only") && !is_allowed(""));
}

#[test]
fn every_crate_is_under_a_licence_we_may_build_on() {
    let crates = built_from();
    assert!(crates.len() > 60, "only {} crates were read", crates.len());
    for (name, _, licence) in &crates {
        assert!(is_allowed(licence), "{name} is under {licence:?}");
    }
}

#[test]
fn no_crate_is_built_in_two_versions() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (name, version, _) in built_from() {
        versions.entry(name).or_default().insert(version);
    }
    let twice: Vec<&str> =
        versions.iter().filter(|(_, versions)| versions.len() > 1).map(|(name, _)| name.as_str()).collect();
    let known: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    assert_eq!(twice, known);
}
