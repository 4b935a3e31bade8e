//! A search typed over a list.

use super::command::Command;
use super::text::fits_search;

const LONGEST: usize = 24;

/// What is searched, and whether it is being typed.
#[derive(Debug, Default)]
pub(crate) struct Search {
    pub(crate) text: String,
    /// Whether keys go into it.
    pub(crate) is_typed: bool,
}

impl Search {
    /// A list that is searched from the first key on.
    pub(crate) fn typed() -> Self {
        Self { text: String::new(), is_typed: true }
    }

    /// Takes a character or takes one back; whether the command was one of these.
    pub(crate) fn write(&mut self, command: Command) -> bool {
        match command {
            Command::Type(c) if !c.is_control() && self.text.chars().count() < LONGEST => self.text.push(c),
            Command::Type(_) => {}
            Command::Erase => {
                self.text.pop();
            }
            _ => return false,
        }
        true
    }

    /// The same for a list in which `/` begins the search, Enter keeps it and Esc ends it; whether the command was for it.
    pub(crate) fn update(&mut self, command: Command) -> bool {
        match command {
            Command::Filter => self.is_typed = true,
            Command::Take if self.is_typed => self.is_typed = false,
            Command::Back if self.is_typed || !self.text.is_empty() => *self = Self::default(),
            Command::Type(_) | Command::Erase if self.is_typed => return self.write(command),
            _ => return false,
        }
        true
    }

    /// Whether some words fit it.
    pub(crate) fn fits(&self, words: &str) -> bool {
        fits_search(words, &self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_is_begun_typed_kept_and_ended() {
        let mut search = Search::default();
        assert!(!search.update(Command::Type('a')), "before / a letter is none of its");
        assert!(search.update(Command::Filter) && search.update(Command::Type('T')));
        assert!(search.fits("hive t1") && !search.fits("A1"));
        assert!(search.update(Command::Take) && !search.is_typed);
        assert!(!search.update(Command::Take), "kept, Enter is the list's again");
        assert!(search.update(Command::Back) && search.text.is_empty());
        assert!(!search.update(Command::Back), "with nothing searched Esc is the list's");
    }
}
