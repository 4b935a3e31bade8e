//! What the program is built on: licences it may be built on, and no crate twice. Read from the lock file's packages, offline.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
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

/// A crate of the program, with where it lies on this machine.
struct Crate {
    name: String,
    version: String,
    licence: String,
    folder: std::path::PathBuf,
}

/// The target this machine builds for.
fn host() -> String {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let output = Command::new(rustc).arg("-vV").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

/// The crates of [`built_from`] with their folders.
fn with_folders() -> Vec<Crate> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1"])
        .args(["--filter-platform", &host()])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let all: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let wanted = built_from();
    let mut found = Vec::new();
    for package in all["packages"].as_array().unwrap() {
        let text = |field: &str| package[field].as_str().unwrap_or_default().to_owned();
        let (name, version) = (text("name"), format!("v{}", text("version")));
        if let Some((_, _, licence)) = wanted.iter().find(|(n, v, _)| *n == name && *v == version) {
            let manifest = std::path::PathBuf::from(text("manifest_path"));
            let folder = manifest.parent().unwrap().to_owned();
            found.push(Crate { name, version: text("version"), licence: licence.clone(), folder });
        }
    }
    assert_eq!(found.len(), wanted.len());
    found
}

/// The words of a crate's license files.
fn licence_words(folder: &std::path::Path) -> Vec<String> {
    let mut files: Vec<std::path::PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            let name = path.file_name().unwrap().to_string_lossy().to_uppercase();
            path.is_file()
                && ["LICEN", "COPYING", "UNLICENSE", "NOTICE"].iter().any(|head| name.starts_with(head))
        })
        .collect();
    files.sort();
    files.iter().map(|path| String::from_utf8_lossy(&std::fs::read(path).unwrap()).into_owned()).collect()
}

/// The licenses of what the program is built from, and a bill of materials (`CycloneDX` 1.5). With `HANDED_ON`
/// set to a folder it writes them there.
#[test]
fn what_it_is_built_from_is_written_down() {
    let crates = with_folders();
    let mut texts = String::from("What yardwalk is built from, and under which licenses.\n");
    let mut parts = Vec::new();
    let mut without = Vec::new();
    for each in crates.iter().filter(|each| each.name != "yardwalk") {
        let words = licence_words(&each.folder);
        if words.is_empty() {
            without.push(each.name.as_str());
        }
        let (name, version, licence) = (&each.name, &each.version, &each.licence);
        let _ = write!(texts, "\n\n==== {name} {version} ({licence})\n\n{}", words.join("\n"));
        let purl = format!("pkg:cargo/{}@{}", each.name, each.version);
        parts.push(serde_json::json!({
            "type": "library", "bom-ref": purl, "name": each.name, "version": each.version, "purl": purl,
            "licenses": [{"expression": each.licence.replace('/', " OR ")}],
        }));
    }
    let bill = serde_json::json!({
        "bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
        "metadata": {"component": {
            "type": "application", "name": "yardwalk", "version": env!("CARGO_PKG_VERSION"),
            "licenses": [{"expression": "MIT"}],
        }},
        "components": parts,
    });
    let names: BTreeSet<&str> = parts.iter().map(|part| part["purl"].as_str().unwrap()).collect();
    assert_eq!(names.len(), crates.len() - 1, "each once");
    assert!(texts.contains("Permission is hereby granted"), "the words themselves are there");
    // Crates of a workspace may leave the words to the others of it; their expression stands above.
    assert!(without.len() * 5 < crates.len(), "no words of {without:?}");
    if let Some(folder) = std::env::var_os("HANDED_ON") {
        let folder = std::path::PathBuf::from(folder);
        std::fs::write(folder.join("THIRD-PARTY.txt"), texts).unwrap();
        std::fs::write(folder.join("sbom.cdx.json"), serde_json::to_string_pretty(&bill).unwrap()).unwrap();
    }
}
