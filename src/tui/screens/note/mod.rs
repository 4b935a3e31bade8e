//! A note on a hive: typed text belongs to the visit, and leaving never throws it away.

mod draw;

use tui_input::{Input, InputRequest};

use crate::model::{HiveId, Jotting};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};

/// The name of its one field.
const TEXT: &str = "text";
/// Longest note, in characters.
const LONGEST: usize = 2_000;

#[derive(Debug)]
pub(crate) struct NoteScreen {
    hive: HiveId,
    /// What is typed.
    input: Input,
    /// What is kept with the visit.
    kept: String,
}

impl NoteScreen {
    /// On a hive of the visit in hand.
    pub(crate) fn of(hive: HiveId, session: &Session) -> Self {
        let note = session.visit().map(|v| v.entry(&hive).note).unwrap_or_default();
        Self { input: Input::new(note.clone()), kept: note, hive }
    }

    fn keep(&self) -> Step {
        let text = self.input.value().trim().to_owned();
        Step::want(Intent::Note { hive: self.hive.clone(), text })
    }
}

impl View for NoteScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Note
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn takes_lines(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let text = self.input.value();
        let is_other = text.trim() != self.kept.trim();
        let cells = is_other.then(|| (TEXT.to_owned(), text.to_owned())).into_iter().collect();
        let (place, what) = (format!("note {}", self.hive), format!("the note on {}", self.hive));
        Some(Unlogged { place, what, cells, ..Unlogged::default() })
    }

    fn put_back(&mut self, _: &Session, typed: &Jotting) -> bool {
        if let Some(text) = typed.cell(TEXT) {
            self.input = Input::new(text.to_owned());
        }
        true
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        let request = match command {
            Command::Type(c) if self.input.value().chars().count() < LONGEST => InputRequest::InsertChar(c),
            Command::Type(_) => {
                return Step::say(format!(
                    "The note is full at {LONGEST} characters: the rest was not taken."
                ));
            }
            Command::Erase => InputRequest::DeletePrevChar,
            Command::Left => InputRequest::GoToPrevChar,
            Command::Right => InputRequest::GoToNextChar,
            Command::Up => InputRequest::GoToPrevWord,
            Command::Down => InputRequest::GoToNextWord,
            Command::ToStart => InputRequest::GoToStart,
            Command::ToEnd => InputRequest::GoToEnd,
            Command::EraseNext => InputRequest::DeleteNextChar,
            Command::Settle => return self.keep(),
            Command::Take | Command::Back => return self.keep().and_close(),
            _ => return Step::stay(),
        };
        let _ = self.input.handle(request);
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
