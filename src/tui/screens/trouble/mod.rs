//! The disk refused: what, why, where what was entered is kept meanwhile, and one key to try again.

mod draw;

use crate::session::{Intent, Session, Trouble};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};

/// The screen of a disk that refuses.
#[derive(Debug, Default)]
pub(crate) struct TroubleScreen {
    /// What went wrong.
    what: String,
    /// How to mend it.
    mend: String,
    /// The file that keeps what was entered beside the program's memory.
    kept_in: Option<String>,
    /// Whether the keeper wants to leave the program.
    is_leaving: bool,
}

impl TroubleScreen {
    /// What the disk refused.
    pub(crate) fn of(trouble: Trouble) -> Self {
        let Trouble { what, mend, kept_in, .. } = trouble;
        Self { what, mend, kept_in, is_leaving: false }
    }

    /// Before the program is left with something that is in memory only.
    pub(crate) fn leaving(what: String) -> Self {
        Self { what, is_leaving: true, ..Self::default() }
    }
}

impl View for TroubleScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Trouble
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        match command {
            // Whatever comes of it is shown anew; once the disk has taken it this screen goes.
            Command::Take => Step::want(Intent::TryAgain),
            Command::Back => {
                Step::say("Kept in memory; each field you leave tries the disk again.").and_close()
            }
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        if let Some(trouble) = session.trouble() {
            self.what.clone_from(&trouble.what);
            self.mend.clone_from(&trouble.mend);
            self.kept_in.clone_from(&trouble.kept_in);
        }
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }

    fn warns_of_leaving(&self) -> bool {
        self.is_leaving
    }
}
