//! The files that were left out of the book, each with what is wrong and what can be done about it here; and what was set up in
//! two ways, to choose from.

mod draw;

use std::path::PathBuf;

use crate::model::Side;
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::row_after;

/// A row that can be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Row {
    /// A file, by its place among those left out.
    File(usize),
    /// One of the two ways of a difference, by its place among them.
    Way(usize, Side),
}

fn rows(session: &Session) -> Vec<Row> {
    let files = (0..session.left_out().len()).map(Row::File);
    let ways =
        (0..session.differences().len()).flat_map(|at| [Row::Way(at, Side::One), Row::Way(at, Side::Other)]);
    files.chain(ways).collect()
}

/// What was asked of the chosen file, to be confirmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    /// Whether it is put aside.
    Aside,
    /// Whether it is taken in instead of the other one.
    Keep,
    /// Whether what was chosen of the two ways is written.
    Settle,
}

#[derive(Debug, Default)]
pub(crate) struct LeftOutScreen {
    row: usize,
    asked: Option<(Asked, PathBuf)>,
    /// What was chosen of each difference.
    chosen: Vec<Option<Side>>,
}

impl LeftOutScreen {
    fn ask(&mut self, session: &Session, asked: Asked) -> Step {
        let left_out = match rows(session).get(self.row) {
            Some(Row::File(at)) => session.left_out().get(*at),
            Some(Row::Way(at, side)) if asked == Asked::Keep => return self.choose(session, *at, *side),
            Some(Row::Way(..)) => {
                return Step::say("This is no file: z keeps the one of the two that is right.");
            }
            None => None,
        };
        let Some(left_out) = left_out else { return Step::stay() };
        let question = match (asked, &left_out.instead) {
            (Asked::Settle, _) => return Step::stay(),
            (Asked::Aside, _) => "Put this file aside? Enter does it, Esc leaves it; nothing is deleted.",
            (Asked::Keep, Some(_)) => {
                "Take this file in and put the other aside? Enter does it, Esc leaves both."
            }
            (Asked::Keep, None) => {
                return Step::say("There is no other file of this visit to choose from.");
            }
        };
        self.asked = Some((asked, left_out.file.clone()));
        Step::say(question)
    }

    /// Keeps one of two ways; with the last of them it is asked whether all are written.
    fn choose(&mut self, session: &Session, at: usize, side: Side) -> Step {
        if let Some(chosen) = self.chosen.get_mut(at) {
            *chosen = Some(side);
        }
        let open = self.chosen.iter().filter(|chosen| chosen.is_none()).count();
        if open > 0 {
            return Step::say(format!("Chosen; {open} still to choose."));
        }
        self.asked = Some((Asked::Settle, PathBuf::new()));
        let several = session.differences().len() > 1;
        let what = if several { "All are chosen: write them" } else { "Keep this one" };
        Step::say(format!("{what}? Enter does it, Esc leaves it; both stay in former/."))
    }
}

impl View for LeftOutScreen {
    fn id(&self) -> ScreenId {
        ScreenId::LeftOut
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let asked = self.asked.take();
        let last = rows(session).len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Step::stay();
        }
        match (command, asked) {
            (Command::Back, Some(_)) => {
                self.chosen.fill(None);
                Step::say("Nothing was changed.")
            }
            (Command::Back, None) => Step::close(),
            // The key that asks is not the key that confirms.
            (Command::Take, Some((Asked::Aside, file))) => Step::want(Intent::PutFileAside(file)),
            (Command::Take, Some((Asked::Keep, file))) => Step::want(Intent::KeepFile(file)),
            (Command::Take, Some((Asked::Settle, _))) => {
                Step::want(Intent::Settle(self.chosen.iter().copied().flatten().collect()))
            }
            (Command::Take, None) => Step::want(Intent::ReadAgain),
            (Command::Withdraw, _) => self.ask(session, Asked::Aside),
            (Command::Keep, _) => self.ask(session, Asked::Keep),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        self.row = self.row.min(rows(session).len().saturating_sub(1));
        if self.chosen.len() != session.differences().len() {
            self.chosen = vec![None; session.differences().len()];
        }
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
