//! What no question asks for, logged line by line: chosen by part of its words, then its amounts.

use std::io::{self, BufRead, Write};

use super::numbered::place_among;
use super::{Go, Plain, Reply};
use crate::model::{Action, Asking, HiveId, Offered};
use crate::session::{Answers, Intent, OLD_QUEEN, OTHER_HALF, is_seen};

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    /// Logs what no question asked for: part of its words, which of those that fit, its amounts.
    pub(super) fn add_deed(&mut self) -> io::Result<Go> {
        let Some(hive) = self.session().visit().and_then(|v| v.hive()).cloned() else { return Ok(Go::Same) };
        let offered = self.session().offered(&hive);
        let Some(words) = self.ask("What was done: part of its words, or Enter for none")? else {
            return Ok(Go::Leave);
        };
        let fitting: Vec<&Offered> =
            offered.iter().filter(|o| !words.is_empty() && o.words.contains(&words.to_lowercase())).collect();
        let chosen = match fitting.as_slice() {
            [] if words.is_empty() => return Ok(Go::Same),
            [] => {
                self.say("Nothing is called that: a, then part of its words, such as fed or queen.")?;
                return Ok(Go::Same);
            }
            [only] => Some((*only).clone()),
            several => {
                self.list(several.iter().map(|offered| offered.words))?;
                let read = |text: &str| place_among(text, several.len());
                match self.ask_until("Which, by its number; Enter for none", read)? {
                    Reply::Given(at) => several.get(at).map(|offered| (*offered).clone()),
                    Reply::PassedOver => return Ok(Go::Same),
                    Reply::End => None,
                }
            }
        };
        let Some(chosen) = chosen else { return Ok(Go::Leave) };
        self.say(chosen.words)?;
        let Some(actions) = self.fill(&hive, &[chosen.action], Asking::Listed)? else { return Ok(Go::Leave) };
        let intent = match actions.as_slice() {
            [Action::SplitInto { hive: new }] => match self.split(&hive, new, None)? {
                Some(intent) => intent,
                None => return Ok(Go::Leave),
            },
            _ => Intent::Log { hive, actions, answers: None, instead: false },
        };
        self.want(intent)?;
        Ok(Go::Same)
    }

    /// What a split asks besides: the boxes, and what became of the queen.
    pub(super) fn split(
        &mut self,
        from: &HiveId,
        new: &HiveId,
        answers: Option<&Answers>,
    ) -> io::Result<Option<Intent>> {
        loop {
            let Some(boxes) = self.ask("Its boxes, such as 1 deep, or 1 5-frame deep")? else {
                return Ok(None);
            };
            let Some(old) = self.one_of("The old queen", OLD_QUEEN)? else { return Ok(None) };
            let other: Vec<&str> = OTHER_HALF.iter().map(|(words, _)| *words).collect();
            let other = if is_seen(old) {
                let Some(other) = self.one_of("The half without her", &other)? else { return Ok(None) };
                Some(other)
            } else {
                None
            };
            match self.session().split_of(from, new, &boxes, (old, other), answers.cloned()) {
                Ok(intent) => return Ok(Some(intent)),
                Err(why) => self.say(&why)?,
            }
        }
    }
}
