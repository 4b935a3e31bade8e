//! What to do when something goes wrong in the yard, one key from anywhere; and what to mind before a treatment.

mod draw;

use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Scroll;

#[derive(Debug, Default)]
pub(crate) struct SafetyScreen {
    /// Whether it is shown before the first treatment of a day.
    pub(crate) before_treatment: bool,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
}

impl SafetyScreen {
    /// First aid, and before it what to mind before a treatment where one is to begin.
    pub(crate) fn of(before_treatment: bool) -> Self {
        Self { before_treatment, scroll: Scroll::default() }
    }
}

impl View for SafetyScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Safety
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        if command == Command::Back {
            return Step::close();
        }
        self.scroll.update(command);
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
