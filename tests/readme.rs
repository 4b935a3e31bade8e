//! The README says what the program does: its keys and its commands are held to it. Its picture is held in `src/tui/run/tests.rs`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

const README: &str = include_str!("../README.md");

#[test]
fn the_keys_in_the_readme_are_the_keys_of_the_program() {
    let table = README
        .split_once("a test compares -->\n")
        .and_then(|(_, rest)| rest.split_once("<!-- /keys -->"))
        .map(|(table, _)| table)
        .unwrap();
    assert_eq!(table, yardwalk::tui::readme_table(), "put the table of the left of this into README.md");
}

#[test]
fn the_readme_gives_one_command_that_runs_and_one_that_tests() {
    let commands: Vec<&str> = README
        .split("```sh\n")
        .skip(1)
        .filter_map(|rest| rest.split_once("\n```").map(|(command, _)| command))
        .collect();
    assert_eq!(commands, ["cargo run --release -- --book sample-yard.ron", "cargo test --locked"]);
    let ci = include_str!("../.ci/run");
    assert!(ci.contains("\ncargo test --locked\n"), "the check runs what the README says");
}

#[test]
fn every_command_in_the_readme_is_known() {
    for command in [
        "plan",
        "load",
        "hive",
        "export",
        "import",
        "season",
        "practice",
        "backup",
        "restore",
        "check",
        "rules",
        "demo",
        "walk",
        "completions",
        "man",
    ] {
        assert!(README.contains(&format!("yardwalk {command}")));
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_yardwalk"))
            .args([command, "--help"])
            .output()
            .unwrap();
        assert!(output.status.success(), "{command}");
    }
}
