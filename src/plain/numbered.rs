//! Choosing one of several by its number, the way the screen chooses by a figure.

use std::io::{self, BufRead, Write};

use super::{Plain, Reply};

/// The place of a number in a list, counted from 0; none where it is no number.
pub(super) fn place(text: &str) -> Option<usize> {
    text.trim().parse::<usize>().ok()?.checked_sub(1)
}

/// The place of a number in a list of so many.
///
/// # Errors
/// Says which numbers there are.
pub(super) fn place_among(text: &str, count: usize) -> Result<usize, String> {
    place(text).filter(|at| *at < count).ok_or_else(|| format!("Write a number, 1 to {count}."))
}

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    /// Says the words in a list, each with its number.
    pub(super) fn list<S: AsRef<str>>(&mut self, words: impl IntoIterator<Item = S>) -> io::Result<()> {
        for (word, number) in words.into_iter().zip(1..) {
            self.say(&format!("  {number} {}", word.as_ref()))?;
        }
        Ok(())
    }

    /// One of some words by its number, asked until it is given; `None` at the end of the input.
    pub(super) fn one_of(&mut self, label: &str, words: &[&str]) -> io::Result<Option<usize>> {
        self.list(words)?;
        loop {
            match self.ask_until(label, |text| place_among(text, words.len()))? {
                Reply::Given(at) => return Ok(Some(at)),
                Reply::PassedOver => self.say("Only you know that: write its number.")?,
                Reply::End => return Ok(None),
            }
        }
    }
}
