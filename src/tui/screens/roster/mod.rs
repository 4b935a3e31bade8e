//! The roster: every yard and hive in a row, to be searched, set up and changed.

mod draw;

use crate::model::{HiveId, HiveState, Yard, YardId, trimmed, visible};
use crate::report::place_words;
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::search::Search;
use crate::tui::to::{Purpose, To};
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::{Picture, row_after};
use crate::wording;

/// A row of the roster: what it is of, and its columns.
#[derive(Debug)]
enum Row {
    /// A yard, with its place in words.
    Yard(YardId, String),
    Hive(HiveId, Columns),
}

/// What stands in the columns of a hive.
#[derive(Debug)]
struct Columns {
    boxes: String,
    bees: String,
    brood: String,
    mites: String,
    queen: &'static str,
    seen: String,
}

#[derive(Debug, Default)]
pub(crate) struct RosterScreen {
    row: usize,
    /// What is searched.
    search: Search,
    /// The rows that fit the search.
    rows: Vec<Row>,
    /// The hive in hand, as a picture.
    picture: Option<Picture>,
}

impl RosterScreen {
    /// On the first hive: under the first yard's line.
    pub(crate) fn open() -> Self {
        Self { row: 1, ..Self::default() }
    }

    /// The row in hand, or the last where it stood past it.
    fn at(&self) -> usize {
        self.row.min(self.rows.len().saturating_sub(1))
    }

    /// The yard of the row in hand.
    fn yard(&self, session: &Session) -> Option<YardId> {
        match self.rows.get(self.at())? {
            Row::Yard(yard, _) => Some(yard.clone()),
            Row::Hive(hive, _) => Some(session.book().hive(hive)?.0.name.clone()),
        }
    }

    fn show_picture(&mut self, session: &Session) {
        self.picture = match self.rows.get(self.at()) {
            Some(Row::Hive(hive, _)) => session.view(hive).map(|view| Picture::of(&view.state, session)),
            Some(Row::Yard(..)) | None => None,
        };
    }

    fn at_row(&mut self, session: &Session, command: Command) -> Step {
        let Some(yard) = self.yard(session) else { return Step::say("There is no yard yet: A sets one up.") };
        let hive = match self.rows.get(self.at()) {
            Some(Row::Hive(hive, _)) => Some(hive.clone()),
            Some(Row::Yard(..)) | None => None,
        };
        match (command, hive) {
            (Command::NewHives, _) => form(session, Purpose::NewHives(yard)),
            (Command::Card, Some(hive)) => Step::open(To::Card(hive)),
            (Command::Card | Command::Edit, None) => unless_visited(session, Purpose::Yard(Some(yard))),
            (Command::Edit, Some(hive)) => unless_visited(session, Purpose::Hive(hive)),
            (Command::Earlier | Command::Later, Some(hive)) => {
                if !self.search.text.is_empty() {
                    return Step::say("Show all stands first (Esc): you cannot see its place among a few.");
                }
                // The row goes with it, once it has moved.
                Step::want(Intent::MoveStand { hive, later: command == Command::Later })
            }
            _ => Step::say("Go to a hive to move its stand."),
        }
    }
}

/// A form that changes what a visit knows by name: not while one is open.
fn unless_visited(session: &Session, purpose: Purpose) -> Step {
    if session.visit().is_some() {
        return Step::fail("A visit is open: save it first, or leave it unsaved.");
    }
    form(session, purpose)
}

fn form(session: &Session, purpose: Purpose) -> Step {
    match session.read_only() {
        Some(why) => Step::fail(format!("Nothing is written: {why}. Close it first.")),
        None => Step::open(To::Form(purpose)),
    }
}

impl View for RosterScreen {
    fn id(&self) -> ScreenId {
        if self.search.is_typed { ScreenId::Search } else { ScreenId::Roster }
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.search.update(command) {
            self.row = 0;
            self.refresh(session);
            return Step::stay();
        }
        self.row = self.at();
        if let Some(row) = row_after(command, self.row, self.rows.len().saturating_sub(1)) {
            self.row = row;
            self.show_picture(session);
            return Step::stay();
        }
        match command {
            Command::Back => Step::close(),
            Command::Undo => Step::want(Intent::UndoSetUp),
            Command::Redo => Step::want(Intent::RedoSetUp),
            Command::NewYard => form(session, Purpose::Yard(None)),
            Command::Card | Command::Edit | Command::NewHives | Command::Earlier | Command::Later => {
                self.at_row(session, command)
            }
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        let in_hand = match self.rows.get(self.row) {
            Some(Row::Hive(hive, _)) => Some(hive.clone()),
            Some(Row::Yard(..)) | None => None,
        };
        self.rows = rows(session, &self.search);
        // A hive that was moved takes the row along.
        let is_in_hand = |row: &Row| matches!(row, Row::Hive(hive, _) if Some(hive) == in_hand.as_ref());
        if let Some(at) = self.rows.iter().position(is_in_hand) {
            self.row = at;
        }
        self.show_picture(session);
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

/// The rows that fit a search: a yard with its hives, and every yard that fits by its name.
fn rows(session: &Session, search: &Search) -> Vec<Row> {
    let mut rows = Vec::new();
    for yard in &session.book().yards {
        let fits = |state: &&HiveState| {
            let queen = state.queen.status.word();
            search.fits(&format!("{} {} {queen} {}", state.id, yard.name, state.stack_words()))
        };
        let states = yard.hives.iter().filter_map(|h| session.folded().hive(&h.id)).filter(fits);
        let fitting: Vec<Row> =
            states.map(|state| Row::Hive(state.id.clone(), columns(state, session))).collect();
        if !fitting.is_empty() || search.fits(yard.name.as_str()) {
            rows.push(Row::Yard(yard.name.clone(), yard_words(session, yard)));
            rows.extend(fitting);
        }
    }
    rows
}

fn columns(state: &HiveState, session: &Session) -> Columns {
    let number = |seen: Option<f64>| seen.map_or_else(|| "-".to_owned(), |n| trimmed(n, 2));
    let units = session.book().units;
    Columns {
        boxes: state.stack_words(),
        bees: number(state.seen.bees.map(|b| b.value.0)),
        brood: number(state.seen.brood.map(|b| b.value.0)),
        mites: state.last_wash().map_or_else(|| "-".to_owned(), |w| format!("{:.1} %", w.percent())),
        queen: if state.is_alive() { state.queen.status.word() } else { "DEAD" },
        seen: state.last_visit.map_or_else(|| "never".to_owned(), |on| wording::day(units, on)),
    }
}

fn yard_words(session: &Session, yard: &Yard) -> String {
    let place = match (yard.place, yard.freezes) {
        (None, None) => "no place given: the dates are those of 43 N, 86 W".to_owned(),
        _ => place_words(yard, session.book().units),
    };
    format!("{}: {place}", visible(yard.name.as_str()))
}
