//! The files that were left out of the book, each with what is wrong and what can be done about it here.

mod draw;

use std::path::PathBuf;

use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::row_after;

/// What was asked of the chosen file, to be confirmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    /// Whether it is put aside.
    Aside,
    /// Whether it is taken in instead of the other one.
    Keep,
}

#[derive(Debug, Default)]
pub(crate) struct LeftOutScreen {
    row: usize,
    asked: Option<(Asked, PathBuf)>,
}

impl LeftOutScreen {
    fn ask(&mut self, session: &Session, asked: Asked) -> Step {
        let Some(left_out) = session.left_out().get(self.row) else { return Step::stay() };
        let question = match (asked, &left_out.instead) {
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
}

impl View for LeftOutScreen {
    fn id(&self) -> ScreenId {
        ScreenId::LeftOut
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let asked = self.asked.take();
        let last = session.left_out().len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Step::stay();
        }
        match (command, asked) {
            (Command::Back, Some(_)) => Step::say("Nothing was changed."),
            (Command::Back, None) => Step::close(),
            // The key that asks is not the key that confirms.
            (Command::Take, Some((Asked::Aside, file))) => Step::want(Intent::PutFileAside(file)),
            (Command::Take, Some((Asked::Keep, file))) => Step::want(Intent::KeepFile(file)),
            (Command::Take, None) => Step::want(Intent::ReadAgain),
            (Command::Withdraw, _) => self.ask(session, Asked::Aside),
            (Command::Keep, _) => self.ask(session, Asked::Keep),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        self.row = self.row.min(session.left_out().len().saturating_sub(1));
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
