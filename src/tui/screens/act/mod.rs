//! Something was done that no prompt asks for: a list of all that can be logged, searched by typing.

mod draw;

use crate::model::{Action, Asking, HiveId, Offered};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::search::Search;
use crate::tui::to::{Purpose, To};
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::row_after;

/// The list of what can be logged.
#[derive(Debug)]
pub(crate) struct ActScreen {
    hive: HiveId,
    search: Search,
    /// Which row of those that fit the search; none until something is typed or moved to.
    row: Option<usize>,
    all: Vec<Offered>,
}

impl ActScreen {
    /// For a hive of the visit in hand.
    pub(crate) fn of(hive: HiveId, session: &Session) -> Self {
        Self { all: session.offered(&hive), hive, search: Search::typed(), row: None }
    }

    fn fitting(&self) -> Vec<&Offered> {
        self.all.iter().filter(|offered| self.search.fits(offered.words)).collect()
    }

    fn choose(&self, session: &Session, action: Action) -> Step {
        let hive = self.hive.clone();
        let cautions = Step::want(Intent::MindCautions(vec![action.clone()]));
        if let Action::SetBoxes { boxes } = action {
            return Step::replace(To::Stack(hive, boxes));
        }
        let neighbours = session.neighbours(&hive);
        if action.asks(&session.about(&neighbours, Asking::Listed)).is_empty() {
            return Step::want(Intent::Log { hive, actions: vec![action], answers: None, instead: false })
                .and_close();
        }
        let purpose = Purpose::Log { hive, actions: vec![action], answers: None, instead: false };
        cautions.and_replace(To::Form(purpose))
    }
}

impl View for ActScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Act
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.search.write(command) {
            self.row = (!self.search.text.is_empty()).then_some(0);
            return Step::stay();
        }
        let fitting = self.fitting();
        let last = fitting.len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row.unwrap_or(0), last) {
            self.row = Some(if self.row.is_none() && command == Command::Down { 0 } else { row });
            return Step::stay();
        }
        let chosen = self.row.and_then(|row| fitting.get(row)).map(|offered| offered.action.clone());
        match (command, chosen) {
            (Command::Back, _) => Step::close(),
            (Command::Take, Some(action)) => self.choose(session, action),
            (Command::Take, None) if self.row.is_none() => {
                Step::say("Type part of what was done, or move to it with the arrows; then Enter.")
            }
            (Command::Take, None) => Step::fail("Nothing is called that: erase some of it."),
            _ => Step::stay(),
        }
    }

    fn take_found(&mut self, session: &Session, action: Action) -> Step {
        self.choose(session, action)
    }

    fn refresh(&mut self, session: &Session) {
        self.all = session.offered(&self.hive);
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
