//! The roster: every yard and hive in a row, to be searched, set up and changed.

pub(crate) mod draw;

use crate::model::{HiveId, YardId};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::keys::Place;
use crate::tui::screens::form::{FormScreen, Purpose, save, yards_of};
use crate::tui::screens::{Screen, Turn, card};
use crate::tui::search::Search;
use crate::tui::widgets::row_after;

/// A row of the roster.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Row {
    /// A yard.
    Yard(YardId),
    /// A hive.
    Hive(HiveId),
}

/// The roster screen.
#[derive(Debug, Default)]
pub(crate) struct RosterScreen {
    /// Which row.
    pub(crate) row: usize,
    /// What is searched.
    pub(crate) search: Search,
}

/// Every hive that stands on the day, in the order of the yards and stands.
pub(crate) fn hives(app: &App) -> Vec<HiveId> {
    app.book
        .yards
        .iter()
        .flat_map(|y| &y.hives)
        .filter(|h| app.folded.hive(&h.id).is_some())
        .map(|h| h.id.clone())
        .collect()
}

/// The rows that fit a search: a yard with its hives, and every yard that fits by its name.
pub(crate) fn rows(app: &App, search: &Search) -> Vec<Row> {
    let mut rows = Vec::new();
    for yard in &app.book.yards {
        let words = |id: &HiveId| {
            let state = app.folded.hive(id);
            let queen = state.map_or("", |s| s.queen.status.word());
            let boxes = state.map(crate::model::HiveState::stack_words).unwrap_or_default();
            format!("{id} {} {queen} {boxes}", yard.name)
        };
        let fitting: Vec<Row> = yard
            .hives
            .iter()
            .filter(|h| app.folded.hive(&h.id).is_some() && search.fits(&words(&h.id)))
            .map(|h| Row::Hive(h.id.clone()))
            .collect();
        if !fitting.is_empty() || search.fits(yard.name.as_str()) {
            rows.push(Row::Yard(yard.name.clone()));
            rows.extend(fitting);
        }
    }
    rows
}

impl RosterScreen {
    /// On the first hive: under the first yard's line.
    pub(crate) fn open() -> Self {
        Self { row: 1, ..Self::default() }
    }

    /// Where its keys are.
    pub(crate) fn place(&self) -> Place {
        if self.search.is_typed { Place::Search } else { Place::Roster }
    }

    /// The row in hand, and the yard it is of.
    fn chosen(&self, app: &App) -> Option<(Row, YardId)> {
        let row = rows(app, &self.search).into_iter().nth(self.row)?;
        let yard = match &row {
            Row::Yard(yard) => yard.clone(),
            Row::Hive(hive) => app.book.hive(hive)?.0.name.clone(),
        };
        Some((row, yard))
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        if self.search.update(command) {
            self.row = 0;
            return Turn::Stay;
        }
        let last = rows(app, &self.search).len().saturating_sub(1);
        self.row = self.row.min(last);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Turn::Stay;
        }
        match command {
            Command::Back => return Turn::Close,
            Command::Undo | Command::Redo => undo(app, command == Command::Undo, effects),
            Command::NewYard if app.refuses_to_write() => {}
            Command::NewYard => return form(app, Purpose::Yard { old: None }),
            Command::Card | Command::Edit | Command::NewHives | Command::Earlier | Command::Later => {
                match self.chosen(app) {
                    Some((row, yard)) => return self.at(app, command, row, yard, effects),
                    None => app.say("There is no yard yet: n sets one up."),
                }
            }
            _ => {}
        }
        Turn::Stay
    }

    fn at(
        &mut self,
        app: &mut App,
        command: Command,
        row: Row,
        yard: YardId,
        effects: &mut Vec<Effect>,
    ) -> Turn {
        if command != Command::Card && app.refuses_to_write() {
            return Turn::Stay;
        }
        // A visit under way knows its yard and hives by their names and stands.
        let changes = command == Command::Edit || matches!((command, &row), (Command::Card, Row::Yard(_)));
        if changes && app.walk.is_some() {
            app.fail("A visit is open: wrap it up first, or leave it unsaved there.");
            return Turn::Stay;
        }
        match (command, row) {
            (Command::NewHives, _) => form(app, Purpose::NewHives { yard }),
            (Command::Card, Row::Hive(hive)) => Turn::Open(Screen::Card(card::CardScreen::of(app, hive))),
            (Command::Card | Command::Edit, Row::Yard(yard)) => form(app, Purpose::Yard { old: Some(yard) }),
            (Command::Edit, Row::Hive(hive)) => form(app, Purpose::Hive { old: hive }),
            (Command::Earlier | Command::Later, Row::Hive(hive)) => {
                self.move_stand(app, &yard, &hive, command == Command::Later, effects);
                Turn::Stay
            }
            _ => {
                app.say("Go to a hive to move its stand.");
                Turn::Stay
            }
        }
    }

    /// Moves a hive among the stands of its yard, and goes with it.
    fn move_stand(
        &mut self,
        app: &mut App,
        yard: &YardId,
        hive: &HiveId,
        later: bool,
        effects: &mut Vec<Effect>,
    ) {
        if !self.search.text.is_empty() {
            return app.say("Show all stands first (Esc): among some its place is not seen.");
        }
        let mut book = yards_of(app);
        let Some(stands) = book.yards.iter_mut().find(|y| y.name == *yard).map(|y| &mut y.hives) else {
            return;
        };
        let Some(at) = stands.iter().position(|h| h.id == *hive) else { return };
        // Past the next that is shown: one that has left, or is yet to come, has no place on the screen.
        let is_shown = |to: &usize| stands.get(*to).is_some_and(|h| app.folded.hive(&h.id).is_some());
        let to = if later { (at + 1..stands.len()).find(is_shown) } else { (0..at).rev().find(is_shown) };
        let Some(to) = to else { return app.say("It is at the end of its yard's stands.") };
        let moved = stands.remove(at);
        stands.insert(to, moved);
        match save(app, book, effects) {
            Ok(()) => self.row = if later { self.row + 1 } else { self.row.saturating_sub(1) },
            Err(why) => app.fail(why),
        }
    }
}

/// Undoes the last change of the yards, or does it again; the visits stay as they are.
fn undo(app: &mut App, back: bool, effects: &mut Vec<Effect>) {
    if app.walk.is_some() {
        return app.fail("A visit is open: wrap it up first, or leave it unsaved there.");
    }
    match app.other_yards(back) {
        Some(yards) => {
            if let Err(why) = save(app, yards, effects) {
                app.fail(why);
            }
        }
        None if back => {
            app.say("No change of this start is left to undo; former/ keeps the last ten yard.ron.");
        }
        None => app.say("Nothing to do again."),
    }
}

fn form(app: &App, purpose: Purpose) -> Turn {
    Turn::Open(Screen::Form(FormScreen::of(purpose, app)))
}
