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
    let (head, rest) = README.split_once("a test compares -->\n").unwrap();
    let (table, tail) = rest.split_once("<!-- /keys -->").unwrap();
    let made = yardwalk::tui::readme_table();
    if std::env::var_os("README_KEYS").is_some() {
        let text = format!("{head}a test compares -->\n{made}<!-- /keys -->{tail}");
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"), text).unwrap();
        return;
    }
    assert_eq!(table, made, "README_KEYS=write cargo test --test readme puts it into README.md");
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

/// What it is, what it looks like, how to run, install and test it: on the first screen.
#[test]
fn the_first_thirty_lines_show_run_and_install_it() {
    let first: Vec<&str> = README.lines().take(30).collect();
    let first = first.join("\n");
    for part in [
        "walks you through a visit",
        "](tests/pictures/",
        "cargo run",
        "cargo install --path .",
        "cargo test",
    ] {
        assert!(first.contains(part), "{part} is not in the first thirty lines");
    }
    let keys = README.find("<details>").unwrap();
    assert!(README[keys..].contains("<!-- keys:"), "the key table folds away");
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
        "keys",
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
