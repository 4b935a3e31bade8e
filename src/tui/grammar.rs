//! The grammar of the keys: a letter has one meaning on every screen, or none there. Held over the key table by a test.

use std::fmt::Write as _;

use super::command::Command;

/// What a key does to the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Effect {
    /// Shows something.
    Looks,
    /// Asks before it writes.
    Asks,
    /// Writes a finding or a change of the set-up that one key takes back.
    Writes,
    /// Goes elsewhere; nothing is lost.
    Leaves,
    /// Takes something off a list, or asks to.
    Strikes,
}

impl Effect {
    fn word(self) -> &'static str {
        match self {
            Self::Looks => "looks",
            Self::Asks => "asks first",
            Self::Writes => "writes",
            Self::Leaves => "leaves",
            Self::Strikes => "strikes",
        }
    }
}

/// One letter: its meaning, what it does to the record, and the commands that carry that meaning.
struct Letter {
    key: char,
    means: &'static str,
    effect: Effect,
    #[cfg_attr(not(test), expect(dead_code, reason = "a test holds the key table to it"))]
    commands: &'static [Command],
}

const fn letter(key: char, means: &'static str, effect: Effect, commands: &'static [Command]) -> Letter {
    Letter { key, means, effect, commands }
}

/// Every letter that is bound anywhere.
const LETTERS: &[Letter] = &[
    letter(
        'a',
        "add: a deed, a box, hives",
        Effect::Asks,
        &[Command::Act, Command::AddBox, Command::NewHives],
    ),
    letter('A', "add a yard", Effect::Asks, &[Command::NewYard]),
    letter('b', "back to the hive before", Effect::Leaves, &[Command::GoBack]),
    letter('c', "card of the hive", Effect::Looks, &[Command::Card]),
    letter('d', "ditto: as at the last hive", Effect::Asks, &[Command::LikeLast]),
    letter('D', "day to come back, in a rehearsal", Effect::Asks, &[Command::Rehearsal]),
    letter('e', "edit: amounts, yard, hive", Effect::Asks, &[Command::Amounts, Command::Edit]),
    letter('f', "files to mend", Effect::Looks, &[Command::LeftOut]),
    letter('g', "go on to the next hive", Effect::Leaves, &[Command::GoOn]),
    letter('h', "hives: the roster", Effect::Looks, &[Command::Roster]),
    letter('i', "it is fine", Effect::Writes, &[Command::Fine]),
    letter('j', "join the next hives to this deed", Effect::Asks, &[Command::CopyOn]),
    letter('k', "boxes, as a stack", Effect::Asks, &[Command::Boxes]),
    letter('l', "load list", Effect::Looks, &[Command::Load]),
    letter('m', "more fields, or fewer", Effect::Looks, &[Command::More]),
    letter('n', "next weeks", Effect::Looks, &[Command::Weeks]),
    letter('o', "note in your own words", Effect::Asks, &[Command::Note]),
    letter('p', "put off", Effect::Asks, &[Command::PutOff]),
    letter('q', "leave; what is open stays open", Effect::Leaves, &[Command::Quit, Command::PutAside]),
    letter('r', "redo", Effect::Writes, &[Command::Redo]),
    letter('s', "save, after the wrap-up", Effect::Asks, &[Command::WrapUp, Command::Yes]),
    letter('t', "thresholds and dates", Effect::Looks, &[Command::Practice]),
    letter('u', "undo", Effect::Writes, &[Command::Undo]),
    letter('v', "visits: the log", Effect::Looks, &[Command::Log]),
    letter('w', "why", Effect::Looks, &[Command::Why]),
    letter('W', "weather and bloom", Effect::Asks, &[Command::Weather]),
    letter(
        'x',
        "strike: a prompt, a visit, a box, a file",
        Effect::Strikes,
        &[Command::NotNeeded, Command::Withdraw, Command::RemoveBox],
    ),
    letter('y', "year of the yard", Effect::Looks, &[Command::Season]),
    letter('z', "settle: keep one of two", Effect::Strikes, &[Command::Keep]),
];

/// The letters as text, to read or print.
pub(crate) fn letter_text() -> String {
    LETTERS.iter().fold("A letter means the same wherever it works\n".to_owned(), |mut out, letter| {
        let _ = writeln!(out, "  {:<6} {} ({})", letter.key, letter.means, letter.effect.word());
        out
    })
}

/// The letters as a Markdown table: DEVELOPERS.md holds it.
#[cfg(test)]
fn letter_table() -> String {
    let mut out = String::from("| Letter | Means | Effect |\n|---|---|---|\n");
    for letter in LETTERS {
        let _ = writeln!(out, "| `{}` | {} | {} |", letter.key, letter.means, letter.effect.word());
    }
    out
}

#[cfg(test)]
mod tests {
    use crossterm::event::KeyCode;

    use super::*;
    use crate::tui::keys::{KEYS, ScreenId};

    #[test]
    fn a_letter_has_one_meaning_wherever_it_is_bound() {
        let mut bound = Vec::new();
        for binding in KEYS {
            let KeyCode::Char(c) = binding.key else { continue };
            if !c.is_alphabetic() {
                continue;
            }
            let letter = LETTERS.iter().find(|l| l.key == c);
            let letter = letter.unwrap_or_else(|| panic!("{c} at {:?} is in no row", binding.place));
            assert!(letter.commands.contains(&binding.command), "{c} at {:?}", binding.place);
            bound.push((c, binding.command));
        }
        for letter in LETTERS {
            for command in letter.commands {
                assert!(
                    bound.contains(&(letter.key, *command)),
                    "{} is not bound to {command:?}",
                    letter.key
                );
            }
        }
    }

    /// The keys without letters mean the same everywhere too.
    #[test]
    fn a_named_key_has_one_meaning_wherever_it_is_bound() {
        for binding in KEYS {
            let expected: &[Command] = match binding.key {
                KeyCode::Esc => &[Command::Back],
                KeyCode::Tab => &[Command::Switch],
                KeyCode::Backspace => &[Command::Erase],
                KeyCode::Left => &[Command::Left],
                KeyCode::Right => &[Command::Right],
                KeyCode::Up => &[Command::Up],
                KeyCode::Down => &[Command::Down],
                KeyCode::PageUp => &[Command::PageUp],
                KeyCode::PageDown => &[Command::PageDown],
                // Enter does what the line in hand says.
                KeyCode::Enter => {
                    &[Command::Take, Command::Walk, Command::Card, Command::Right, Command::Back]
                }
                _ => continue,
            };
            assert!(expected.contains(&binding.command), "{:?} at {:?}", binding.key, binding.place);
        }
    }

    /// Esc closes every screen that can be closed, and no key that opens one closes it.
    #[test]
    fn esc_closes_and_nothing_else_that_is_no_enter() {
        for place in ScreenId::ALL.iter().filter(|p| **p != ScreenId::Today) {
            let backs: Vec<_> = KEYS
                .iter()
                .filter(|b| b.place == *place && b.command == Command::Back)
                .map(|b| b.key)
                .collect();
            assert!(backs.contains(&KeyCode::Esc), "{place:?}");
            assert!(backs.iter().all(|k| matches!(k, KeyCode::Esc | KeyCode::Enter)), "{place:?}: {backs:?}");
        }
    }

    /// No word of a choice begins with a letter that leaves, strikes, writes or undoes.
    #[test]
    fn no_choice_takes_a_letter_that_does_something_else() {
        for finding in crate::model::Finding::ALL {
            let crate::model::Kind::Choice(words) = finding.kind() else { continue };
            for word in words {
                let first = word.chars().next().unwrap();
                assert!(!"giuxz".contains(first), "{word}");
            }
        }
    }

    #[test]
    fn the_letters_are_written_down() {
        let developers = include_str!("../../DEVELOPERS.md");
        assert!(developers.contains(&letter_table()), "put this into DEVELOPERS.md:\n{}", letter_table());
    }
}
