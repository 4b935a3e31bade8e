//! Something was done that no prompt asks for: a list of all that can be logged, searched by typing.

pub(crate) mod draw;

use crate::model::{Action, HiveId};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::form::{self, FormScreen, Purpose};
use crate::tui::screens::safety::SafetyScreen;
use crate::tui::screens::stack::StackScreen;
use crate::tui::screens::{Screen, Turn};
use crate::tui::search::Search;
use crate::tui::widgets::row_after;

/// The list of what can be logged.
#[derive(Debug)]
pub(crate) struct ActScreen {
    /// The hive.
    pub(crate) hive: HiveId,
    /// What is searched.
    pub(crate) search: Search,
    /// Which row of those that fit the search.
    pub(crate) row: usize,
    all: Vec<(&'static str, Action)>,
}

impl ActScreen {
    /// For a hive of the visit in progress.
    pub(crate) fn of(hive: &HiveId, app: &App) -> Self {
        Self { hive: hive.clone(), search: Search::typed(), row: 0, all: form::can_be_done(hive, app) }
    }

    /// What fits the search.
    pub(crate) fn fitting(&self) -> Vec<&(&'static str, Action)> {
        self.all.iter().filter(|(words, _)| self.search.fits(words)).collect()
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        if self.search.write(command) {
            self.row = 0;
            return Turn::Stay;
        }
        let last = self.fitting().len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Turn::Stay;
        }
        match command {
            Command::Back => return Turn::Close,
            Command::Take => {
                let chosen = self.fitting().get(self.row).map(|(_, action)| action.clone());
                match chosen {
                    Some(action) => return self.choose(app, action, effects),
                    None => app.fail("Nothing is called so: erase some of it."),
                }
            }
            _ => {}
        }
        Turn::Stay
    }

    fn choose(&self, app: &mut App, action: Action, effects: &mut Vec<Effect>) -> Turn {
        if app.cautions_first(std::slice::from_ref(&action)) {
            return Turn::Open(Screen::Safety(SafetyScreen::before_treatment()));
        }
        if let Action::SetBoxes { boxes } = action {
            return Turn::Replace(Screen::Stack(StackScreen::of(self.hive.clone(), boxes)));
        }
        let has_fields = form::has_fields(&action, &self.hive, app);
        let purpose =
            Purpose::Log { hive: self.hive.clone(), actions: vec![action], prompt: None, instead: false };
        let mut form = FormScreen::of(purpose, app);
        if has_fields {
            return Turn::Replace(Screen::Form(form));
        }
        form.update(app, Command::Take, effects)
    }
}
