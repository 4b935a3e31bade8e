//! How a walk ends: left open, or wrapped up and saved; and whether the disk has all of it.

use std::io::{self, BufRead, Write};

use super::Plain;
use crate::report::{Wrapped, wrapped};
use crate::session::{Intent, OpenVisit, Trouble, Written};

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    /// Says how the visit is left, whether or not the disk has it; and whether it has.
    pub(super) fn leave(&mut self) -> io::Result<bool> {
        if self.session().unwritten().is_some() {
            // Once more: it may have been mended since the last answer.
            self.want(Intent::TryAgain)?;
        }
        let Some(trouble) = self.session().trouble().cloned() else {
            self.say("The visit is open and safe on the disk; walk again to go on.")?;
            return Ok(true);
        };
        self.say(&format!("NOT ALL OF IT IS ON THE DISK: {}. {}", trouble.what, trouble.mend))?;
        self.say(&match &trouble.kept_in {
            Some(kept) => format!("All of it is kept in {kept}; the program offers it at the next start."),
            None => "What is not on the disk is gone when this ends: write it down.".to_owned(),
        })?;
        Ok(false)
    }

    pub(super) fn wrap_up(&mut self) -> io::Result<bool> {
        let Some(visit) = self.session().visit().map(OpenVisit::finished_visit) else { return Ok(true) };
        self.say("")?;
        if visit.entries.is_empty() {
            return self.say("Nothing was written at any hive; the visit stays open.").map(|()| true);
        }
        let when = (self.session().today(), self.units());
        let line = |hive: Written| wrapped(&hive.entry, hive.advice.as_ref(), hive.next.as_ref(), when);
        let lines: Vec<Wrapped> = self.session().evening().hives().map(line).collect();
        for line in lines {
            self.say(&format!("{}: {}", line.hive, line.done))?;
            if !line.found.is_empty() {
                self.say(&format!("  found: {}", line.found))?;
            }
            for words in line.open.iter().map(|(_, words)| words).chain(&line.next) {
                self.say(&format!("  {words}"))?;
            }
        }
        let mut question = "Save the visit, y or n";
        loop {
            match self.ask_until(question, yes_or_no)?.or_else(|| None) {
                Some(true) => {
                    self.want(Intent::Save)?;
                }
                Some(false) | None if self.session().trouble().is_some() => return self.leave(),
                Some(false) | None => {
                    let words = "Not saved yet: it is kept, and walk goes on with it.";
                    return self.say(words).map(|()| true);
                }
            }
            let Some(Trouble { what, mend, .. }) = self.session().trouble().cloned() else { return Ok(true) };
            self.say(&format!("NOT SAVED: {what}. {mend}"))?;
            question = "Try once more, y or n";
        }
    }
}

pub(super) fn yes_or_no(text: &str) -> Result<bool, String> {
    match text.to_lowercase().as_str() {
        "y" | "yes" => Ok(true),
        "n" | "no" => Ok(false),
        _ => Err("Write y or n.".to_owned()),
    }
}
