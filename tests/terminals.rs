//! A start in terminals of several kinds, by the bytes that reach them: no color they do not know, no sign they do not have.

#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop where it likes"
)]

mod support;

use std::fs;

use support::Terminal;

/// What a program that opens on the sample yard in May writes, walks through three screens and leaves.
fn written(variables: &[(&str, &str)], more: &[&str]) -> String {
    let home = tempfile::tempdir().unwrap();
    let mut arguments = vec!["demo", "--on", "2026-05-03"];
    arguments.extend(more);
    let mut t = Terminal::start_under(home.path(), variables, &arguments);
    t.wait_for("Today, Sunday");
    t.press("c", "Card of");
    t.press("\t\t", "BOXES");
    t.press("\x1b", "Today, Sunday");
    t.keys("q");
    assert_eq!(t.end(), 0);
    t.raw()
}

/// The parameters of every sequence that sets colors or weight.
fn set(raw: &str) -> Vec<String> {
    raw.split("\x1b[")
        .skip(1)
        .filter_map(|rest| {
            let end = rest.find(|c: char| !(c.is_ascii_digit() || c == ';'))?;
            rest[end..].starts_with('m').then(|| rest[..end].to_owned())
        })
        .collect()
}

fn has(raw: &str, parameter: &str) -> bool {
    set(raw).iter().any(|p| p.contains(parameter))
}

#[test]
fn a_terminal_gets_the_colors_it_says_it_has() {
    let raw = written(&[("TERM", "xterm-256color"), ("COLORTERM", "truecolor")], &[]);
    assert!(has(&raw, "38;2;") && !has(&raw, "38;5;"));
    let raw = written(&[("TERM", "xterm-256color")], &[]);
    assert!(has(&raw, "38;5;") && !has(&raw, "38;2;"));
    let raw = written(&[("TERM", "screen")], &[]);
    assert!(!has(&raw, "38;") && !has(&raw, "48;"), "{:?}", set(&raw));
    assert!(raw.contains('─'), "lines are drawn");
    for term in ["vt100", "dumb"] {
        let raw = written(&[("TERM", term)], &[]);
        let colored =
            |p: &String| p.split(';').any(|n| matches!(n.parse(), Ok(30..=38 | 40..=48 | 90..=107)));
        assert!(!set(&raw).iter().any(colored), "{term}: {:?}", set(&raw));
        assert!(has(&raw, "1") && has(&raw, "7"), "bold and reversed tell apart what color would");
    }
}

#[test]
fn a_terminal_with_letters_only_gets_no_other_sign() {
    for variables in
        [vec![("TERM", "linux"), ("LANG", "en_US.UTF-8")], vec![("TERM", "xterm-256color"), ("LC_ALL", "C")]]
    {
        let raw = written(&variables, &[]);
        assert!(raw.is_ascii(), "{variables:?}: {:?}", raw.chars().find(|c| !c.is_ascii()));
        assert!(raw.contains("+--------------------+"), "boxes are drawn all the same");
    }
    let raw = written(&[("TERM", "linux")], &[]);
    assert!(
        !has(&raw, "38;5;")
            && set(&raw).iter().any(|p| p.split(';').any(|n| n.starts_with('3') || n.starts_with('9')))
    );
}

#[test]
fn what_is_asked_for_goes_before_what_the_terminal_says() {
    let raw = written(&[("TERM", "dumb")], &["--color", "256", "--theme", "clear"]);
    assert!(has(&raw, "48;5;233"), "the ground of `clear`");
    let raw = written(&[("TERM", "xterm-256color"), ("COLORTERM", "truecolor")], &["--color", "16"]);
    assert!(!has(&raw, "38;") && !has(&raw, "48;"));
    let raw = written(&[("TERM", "xterm-256color"), ("NO_COLOR", "1")], &[]);
    assert!(!has(&raw, "38;"));
    let home = tempfile::tempdir().unwrap();
    let (code, _, said) = support::run(home.path(), &["plan", "--theme", "pink"]);
    assert_eq!(code, 1);
    assert!(said.contains("no theme `pink`") && said.contains("sun, dark"), "{said}");
}

/// In doubt the colors are those for the sun; a terminal that says that its ground is dark keeps it.
#[test]
fn the_first_start_is_readable_and_light_or_dark_as_the_terminal_is() {
    let light = written(&[("TERM", "xterm-256color")], &[]);
    assert!(has(&light, "48;5;231"), "a white ground");
    let dark = written(&[("TERM", "xterm-256color"), ("COLORFGBG", "15;0")], &[]);
    assert!(has(&dark, "48;5;234"), "a dark one");
}

/// Colors changed at the very first question hold from then on.
#[test]
fn colors_changed_in_the_first_steps_are_kept() {
    let home = tempfile::tempdir().unwrap();
    let mut t = Terminal::start(home.path(), &[], 24, 80);
    t.wait_for("Hard to read? F3");
    t.keys("\x1bOR");
    t.press("\x1b[B", "> 2");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    let settings = fs::read_to_string(home.path().join(".config/yardwalk/settings.ron")).unwrap();
    assert!(settings.contains("is_night: true"), "{settings}");
}

/// A settings file with a slip in it: the rest holds, the slip is told, and the file stays as it was written.
#[test]
fn a_settings_file_with_a_slip_is_used_as_far_as_it_is_sound_and_never_written_over() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join(".config/yardwalk");
    fs::create_dir_all(&folder).unwrap();
    let text = "(\n  // mine\n  day_theme: \"clear\",\n  colour: 3,\n)\n";
    fs::write(folder.join("settings.ron"), text).unwrap();
    let mut t =
        Terminal::start_under(home.path(), &[("TERM", "xterm-256color")], &["demo", "--on", "2026-05-03"]);
    t.wait_for("settings.ron:4:");
    assert!(t.raw().contains("48;5;233"), "the sound row holds");
    t.press("\x1bOR", "It holds until the program is left");
    t.keys("q");
    t.keys("\x03");
    assert_eq!(t.end(), 0);
    assert_eq!(fs::read_to_string(folder.join("settings.ron")).unwrap(), text);
}
