//! Comments written by hand into `yard.ron` would go: the keeper decides. The file as it was is kept in any case.

mod draw;

use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};

/// The question about comments.
#[derive(Debug)]
pub(crate) struct CommentsScreen {
    /// How many would go.
    count: usize,
}

impl CommentsScreen {
    /// About so many comments.
    pub(crate) fn of(count: usize) -> Self {
        Self { count }
    }
}

impl View for CommentsScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Comments
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        match command {
            Command::Yes => Step::want(Intent::DropComments).and_close(),
            Command::Back => Step::want(Intent::KeepComments).and_close(),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
