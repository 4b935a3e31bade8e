//! A note on a hive: typed text belongs to the visit, and leaving never throws it away.

pub(crate) mod draw;

use tui_input::{Input, InputRequest};

use crate::model::Entry;
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;

/// Longest note, in characters.
const LONGEST: usize = 2_000;

/// The note screen.
#[derive(Debug)]
pub(crate) struct NoteScreen {
    entry: Entry,
    /// What is typed.
    pub(crate) input: Input,
}

impl NoteScreen {
    /// For an entry.
    pub(crate) fn of(entry: Entry) -> Self {
        Self { input: Input::new(entry.note.clone()), entry }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let request = match command {
            Command::Type(c) if self.input.value().chars().count() < LONGEST => InputRequest::InsertChar(c),
            Command::Erase => InputRequest::DeletePrevChar,
            Command::Left => InputRequest::GoToPrevChar,
            Command::Right => InputRequest::GoToNextChar,
            Command::Up => InputRequest::GoToPrevWord,
            Command::Down => InputRequest::GoToNextWord,
            Command::ToStart => InputRequest::GoToStart,
            Command::ToEnd => InputRequest::GoToEnd,
            Command::EraseNext => InputRequest::DeleteNextChar,
            Command::Take | Command::Back | Command::Settle => {
                let note = self.input.value().trim().to_owned();
                app.change(&self.entry.hive, effects, |entry| entry.note = note);
                return if command == Command::Settle { Turn::Stay } else { Turn::Close };
            }
            _ => return Turn::Stay,
        };
        let _ = self.input.handle(request);
        Turn::Stay
    }
}
