//! The disk refused: what, why, where what was entered is kept meanwhile, and one key to try again.

pub(crate) mod draw;

use crate::model::Visit;
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;

/// The screen of a disk that refuses.
#[derive(Debug)]
pub(crate) struct TroubleScreen {
    /// What went wrong.
    pub(crate) what: String,
    /// How to mend it.
    pub(crate) mend: String,
    /// Where what was entered is kept meanwhile, beside the program's memory.
    pub(crate) kept_in: Option<String>,
    /// The visit that could not be written, where it was one that is wrapped up.
    pub(crate) visit: Option<Box<Visit>>,
    /// Whether the keeper wants to leave the program.
    pub(crate) is_leaving: bool,
}

impl TroubleScreen {
    /// Before the program is left with something that is in memory only.
    pub(crate) fn leaving(what: String) -> Self {
        Self { what, mend: String::new(), kept_in: None, visit: None, is_leaving: true }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        match command {
            Command::Take => {
                effects.push(match &self.visit {
                    Some(visit) => Effect::SaveVisit((**visit).clone()),
                    None => Effect::CatchUp,
                });
                // Whatever comes of it is shown anew.
                Turn::Close
            }
            Command::Back => {
                app.say("Kept in memory; each field that is left tries the disk again.");
                Turn::Close
            }
            _ => Turn::Stay,
        }
    }
}
