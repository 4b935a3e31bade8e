//! The keys in force: the table of the program, changed by the keeper's own `keys.ron`.

use std::fmt::Write as _;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use serde::Deserialize;

use super::command::Command;
use super::keys::{Binding, EVERYWHERE, KEYS, ScreenId, UNTYPED};

/// The keys in force.
#[derive(Debug, Clone)]
pub(crate) struct Keymap {
    rows: Vec<Binding>,
    everywhere: Vec<Binding>,
    /// Where no text is typed.
    untyped: Vec<Binding>,
    /// Keys that still do what they did before one was added; not shown.
    former: Vec<Former>,
}

/// Where a key holds.
#[derive(Debug, Clone, Copy)]
enum Within {
    Place(ScreenId),
    /// Wherever no text is typed.
    Untyped,
    Everywhere,
}

impl Within {
    fn holds(self, place: ScreenId) -> bool {
        match self {
            Self::Place(only) => only == place,
            Self::Untyped => !place.is_typed_into(),
            Self::Everywhere => true,
        }
    }
}

/// A key a deed had before it was given one more.
#[derive(Debug, Clone)]
struct Former {
    within: Within,
    key: KeyCode,
    command: Command,
}

impl Default for Keymap {
    fn default() -> Self {
        Self {
            rows: KEYS.to_vec(),
            everywhere: EVERYWHERE.to_vec(),
            untyped: UNTYPED.to_vec(),
            former: Vec::new(),
        }
    }
}

/// A line of `keys.ron`: in a place, named as on the screen, what a key does, in the footer's words, and the key it is to
/// have.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct OwnKey {
    at: String,
    does: String,
    key: String,
}

/// The word for the keys that hold in every place.
const EVERY: &str = "Everywhere";
/// The word for the keys that hold wherever no text is typed.
const UNTYPED_WORDS: &str = "Where nothing is typed";

impl Keymap {
    /// Takes in the lines of a `keys.ron`, each a key more for a deed; gives what does not fit, in words. A line that does
    /// not fit changes nothing, and the others hold.
    pub(crate) fn take_all(&mut self, own: &[OwnKey]) -> Vec<String> {
        let mut faults = Vec::new();
        for line in own {
            let before = self.clone();
            if let Err(why) = self.take(line) {
                *self = before;
                faults.push(format!("{} at {}: {why}", line.does, line.at));
            }
        }
        // A key given to another deed is no longer what it was: two deeds may so change places.
        let mut former = std::mem::take(&mut self.former);
        former.retain(|old| {
            let mut places = ScreenId::ALL.iter().filter(|place| old.within.holds(**place));
            places.all(|place| self.of(*place).chain(self.beyond(*place)).all(|b| b.key != old.key))
        });
        self.former = former;
        if let Some(why) = self.conflict() {
            *self = Self::default();
            faults.push(format!("{why}; none of its keys is taken"));
        }
        faults
    }

    fn take(&mut self, own: &OwnKey) -> Result<(), String> {
        let key = key_of(&own.key).ok_or_else(|| {
            format!(
                "`{}` is no key: write one character, or Enter, Esc, Tab, Space, Bksp, Up, F5 and the like",
                own.key
            )
        })?;
        let place = ScreenId::ALL.iter().find(|p| p.words().eq_ignore_ascii_case(&own.at));
        let (within, rows) = if let Some(place) = place {
            (Within::Place(*place), &mut self.rows)
        } else if own.at.eq_ignore_ascii_case(EVERY) {
            (Within::Everywhere, &mut self.everywhere)
        } else if own.at.eq_ignore_ascii_case(UNTYPED_WORDS) {
            (Within::Untyped, &mut self.untyped)
        } else {
            let places: Vec<&str> = ScreenId::ALL.iter().map(|p| p.words()).collect();
            return Err(format!(
                "there is no place `{}`: {EVERY}, {UNTYPED_WORDS}, {}",
                own.at,
                places.join(", ")
            ));
        };
        let known = |b: &&mut Binding| place.is_none_or(|p| b.place == *p);
        let deeds: Vec<&str> =
            rows.iter().filter(|b| place.is_none_or(|p| b.place == *p)).map(|b| b.words).collect();
        match rows.iter_mut().filter(known).find(|b| b.words.eq_ignore_ascii_case(&own.does)) {
            Some(row) => {
                self.former.push(Former { within, key: row.key, command: row.command });
                row.key = key;
                Ok(())
            }
            None => Err(format!("nothing there is called `{}`: {}", own.does, deeds.join(", "))),
        }
    }

    /// Two deeds on one key in one place, in words.
    pub(crate) fn conflict(&self) -> Option<String> {
        for place in ScreenId::ALL {
            let mut seen: Vec<&Binding> = Vec::new();
            for binding in self.of(*place).chain(self.beyond(*place)) {
                if let Some(other) = seen.iter().find(|b| b.key == binding.key) {
                    return Some(format!(
                        "`{}` at {} would be both `{}` and `{}`: give one of them another key",
                        name(binding.key),
                        place.words(),
                        other.words,
                        binding.words
                    ));
                }
                seen.push(binding);
            }
        }
        None
    }

    /// The rows of a place, without those that hold everywhere.
    pub(crate) fn of(&self, place: ScreenId) -> impl Iterator<Item = &Binding> {
        self.rows.iter().filter(move |b| b.place == place)
    }

    /// The rows of no one place that hold in this one: first those that need no F key.
    pub(crate) fn beyond(&self, place: ScreenId) -> impl Iterator<Item = &Binding> {
        self.untyped.iter().filter(move |_| !place.is_typed_into()).chain(&self.everywhere)
    }

    /// What a key means in a place. A character that means nothing else is typed.
    pub(crate) fn command(&self, place: ScreenId, key: &KeyEvent) -> Option<Command> {
        if key.modifiers.intersects(KeyModifiers::CONTROL | KeyModifiers::ALT) {
            let is_ctrl = key.modifiers.contains(KeyModifiers::CONTROL);
            return match key.code {
                // Ctrl-C leaves from anywhere: the draft is on the disk.
                KeyCode::Char('c') if is_ctrl => Some(Command::Quit),
                // Enter keeps a note, so a new line in it takes Alt-Enter, or Ctrl-J where a terminal keeps that to itself.
                KeyCode::Char('j') if is_ctrl && place == ScreenId::Note => Some(Command::Type('\n')),
                KeyCode::Enter if place == ScreenId::Note => Some(Command::Type('\n')),
                _ => None,
            };
        }
        let code = match key.code {
            KeyCode::BackTab => KeyCode::Tab,
            other => other,
        };
        let bound = self.of(place).chain(self.beyond(place)).find(|b| b.key == code);
        let former = || self.former.iter().find(|f| f.within.holds(place) && f.key == code);
        bound.map(|b| b.command).or_else(|| former().map(|f| f.command)).or(match code {
            KeyCode::Char(c) => Some(Command::Type(c)),
            _ => None,
        })
    }

    /// What the key of a command is called in a place, for a sentence about it.
    pub(crate) fn name_of(&self, place: ScreenId, command: Command) -> String {
        self.of(place).find(|b| b.command == command).map_or_else(String::new, |b| name(b.key))
    }

    /// What the key of a command that holds everywhere is called.
    pub(crate) fn name_everywhere(&self, command: Command) -> String {
        self.everywhere.iter().find(|b| b.command == command).map_or_else(String::new, |b| name(b.key))
    }

    /// The letter a command is bound to in a place, where it is one.
    pub(crate) fn letter_of(&self, place: ScreenId, command: Command) -> Option<char> {
        self.of(place).find(|b| b.command == command).and_then(|b| match b.key {
            KeyCode::Char(c) => Some(c),
            _ => None,
        })
    }
}

const NAMED: &[(&str, KeyCode)] = &[
    ("Space", KeyCode::Char(' ')),
    ("Enter", KeyCode::Enter),
    ("Esc", KeyCode::Esc),
    ("Tab", KeyCode::Tab),
    ("Bksp", KeyCode::Backspace),
    ("Up", KeyCode::Up),
    ("Down", KeyCode::Down),
    ("Left", KeyCode::Left),
    ("Right", KeyCode::Right),
    ("PgUp", KeyCode::PageUp),
    ("PgDn", KeyCode::PageDown),
    ("Home", KeyCode::Home),
    ("End", KeyCode::End),
    ("Ins", KeyCode::Insert),
    ("Del", KeyCode::Delete),
];

pub(crate) fn name(key: KeyCode) -> String {
    if let Some((name, _)) = NAMED.iter().find(|(_, code)| *code == key) {
        return (*name).to_owned();
    }
    match key {
        KeyCode::Char(c) => c.to_string(),
        KeyCode::F(n) => format!("F{n}"),
        other => format!("{other:?}"),
    }
}

/// The key of a name.
fn key_of(text: &str) -> Option<KeyCode> {
    if let Some((_, code)) = NAMED.iter().find(|(name, _)| name.eq_ignore_ascii_case(text)) {
        return Some(*code);
    }
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(c), None) if !c.is_control() => Some(KeyCode::Char(c)),
        (Some('F' | 'f'), Some(_)) => {
            text.get(1..).and_then(|n| n.parse().ok()).filter(|n| (1..=12).contains(n)).map(KeyCode::F)
        }
        _ => None,
    }
}

/// The keys of every screen as text, to read or print.
pub fn key_text() -> String {
    let map = Keymap::default();
    let mut out = String::new();
    let mut section = |words: &str, rows: Vec<&Binding>| {
        let _ = writeln!(out, "{words}");
        for binding in rows {
            let _ = writeln!(out, "  {:<6} {}", name(binding.key), binding.words);
        }
        out.push('\n');
    };
    section(EVERY, map.everywhere.iter().collect());
    section(UNTYPED_WORDS, map.untyped.iter().collect());
    for screen in ScreenId::ALL {
        section(screen.words(), map.of(*screen).collect());
    }
    out.push_str(&super::grammar::letter_text());
    out.push('\n');
    out + "Ctrl-C leaves from anywhere and loses nothing.\n"
}

/// The keys of every screen as a Markdown table: the README holds it, and a test compares.
pub fn readme_table() -> String {
    let map = Keymap::default();
    let mut out = String::from("| Where | Keys |\n|---|---|\n");
    let line = |out: &mut String, words: &str, rows: Vec<&Binding>| {
        let keys: Vec<String> = rows.iter().map(|b| format!("`{}` {}", name(b.key), b.words)).collect();
        let _ = writeln!(out, "| {words} | {} |", keys.join(" · "));
    };
    line(&mut out, EVERY, map.everywhere.iter().collect());
    line(&mut out, UNTYPED_WORDS, map.untyped.iter().collect());
    for place in ScreenId::ALL {
        line(&mut out, place.words(), map.of(*place).collect());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(text: &str) -> (Keymap, Vec<String>) {
        let mut map = Keymap::default();
        let faults = map.take_all(&ron::from_str::<Vec<OwnKey>>(text).unwrap());
        (map, faults)
    }

    fn press(map: &Keymap, place: ScreenId, code: KeyCode) -> Option<Command> {
        map.command(place, &KeyEvent::new(code, KeyModifiers::NONE))
    }

    #[test]
    fn a_key_is_added_and_the_old_one_still_holds() {
        let (map, faults) = own(
            r#"[(at: "At the hive", does: "go on", key: "y"), (at: "Everywhere", does: "first aid", key: "F5"),
                (at: "Today", does: "hive before", key: "y")]"#,
        );
        assert_eq!(faults.len(), 1, "{faults:?}");
        assert!(faults[0].contains("nothing there is called `hive before`"), "{faults:?}");
        for key in ['y', 'g'] {
            assert_eq!(press(&map, ScreenId::Hive, KeyCode::Char(key)), Some(Command::GoOn));
        }
        assert_eq!(map.letter_of(ScreenId::Hive, Command::GoOn), Some('y'), "the new one is shown");
        for key in [2, 5] {
            assert_eq!(press(&map, ScreenId::Note, KeyCode::F(key)), Some(Command::Safety));
        }
        // The arrows stay arrows.
        let (map, faults) = own(r#"[(at: "Today", does: "next hive", key: "j")]"#);
        if faults.is_empty() {
            assert_eq!(
                press(&map, ScreenId::Today, KeyCode::Down),
                press(&map, ScreenId::Today, KeyCode::Char('j'))
            );
        }
    }

    #[test]
    fn a_conflict_or_a_slip_is_refused_with_what_to_write() {
        for (text, part) in [
            (r#"[(at: "At the hive", does: "go on", key: "u")]"#, "both `go on` and `undo`"),
            (r#"[(at: "At the hive", does: "go on", key: "F2")]"#, "`F2` at At the hive would be both"),
            (r#"[(at: "At the hove", does: "go on", key: "y")]"#, "no place `At the hove`"),
            (r#"[(at: "At the hive", does: "fly", key: "j")]"#, "nothing there is called `fly`"),
            (r#"[(at: "At the hive", does: "go on", key: "Hyper")]"#, "`Hyper` is no key"),
        ] {
            let (map, faults) = own(text);
            assert!(faults[0].contains(part), "{faults:?}");
            assert_eq!(press(&map, ScreenId::Hive, KeyCode::Char('g')), Some(Command::GoOn));
        }
        // Two that change places are no conflict, and each has its new key alone.
        let (map, faults) = own(
            r#"[(at: "At the hive", does: "undo", key: "r"), (at: "At the hive", does: "redo", key: "u")]"#,
        );
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(press(&map, ScreenId::Hive, KeyCode::Char('r')), Some(Command::Undo));
        assert_eq!(press(&map, ScreenId::Hive, KeyCode::Char('u')), Some(Command::Redo));
    }

    #[test]
    fn ctrl_c_leaves_from_anywhere_and_no_other_ctrl_letter_means_anything() {
        let map = Keymap::default();
        for place in ScreenId::ALL {
            let with = |c, modifiers| map.command(*place, &KeyEvent::new(KeyCode::Char(c), modifiers));
            assert_eq!(with('c', KeyModifiers::CONTROL), Some(Command::Quit));
            assert_eq!(with('g', KeyModifiers::CONTROL), None);
            assert_eq!(with('c', KeyModifiers::ALT), None);
        }
    }
}
