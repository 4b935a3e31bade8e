//! The calculator: sums a keeper makes at the tailgate, the answer beside what is typed.

mod draw;

use crate::model::Jotting;
use crate::report::calc::Sum;
use crate::report::calc_ask::{Takes, Which};
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::field::{self, Field};
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};

#[derive(Debug)]
pub(crate) struct CalcScreen {
    which: Which,
    fields: Vec<Field>,
    row: usize,
    /// The answer, or why there is none.
    sum: Result<Sum, String>,
}

impl CalcScreen {
    pub(crate) fn of(which: Which, session: &Session) -> Self {
        let (units, today) = (session.book().units, session.today());
        let asks = which.asks(units, &session.book().practice, today);
        let fields = asks
            .into_iter()
            .map(|asks| match asks.takes {
                Takes::Text => Field::words(asks.label, asks.help, &asks.proposed, LONGEST),
                Takes::Choice(words) => Field::one_of(asks.label, asks.help, words, 0),
                Takes::Day => Field::day(asks.label, asks.help, today, (today, units)),
            })
            .collect();
        let mut screen = Self { which, fields, row: 0, sum: Err(String::new()) };
        screen.work_out(session);
        screen
    }

    fn work_out(&mut self, session: &Session) {
        let typed: Result<Vec<String>, String> = self
            .fields
            .iter()
            .map(|field| match &field.takes {
                field::Takes::Day(..) => field.the_day().map(|day| day.to_string()),
                field::Takes::Choice(_) => Ok(field.shown()),
                field::Takes::Words(_) | field::Takes::Figures => Ok(field.text.value().to_owned()),
            })
            .collect();
        let (book, today) = (session.book(), session.today());
        self.sum = typed.and_then(|typed| self.which.of(&typed, book.units, &book.practice, today));
    }

    /// The sum so many places on.
    fn turn(&mut self, session: &Session) {
        let at = Which::ALL.iter().position(|which| *which == self.which).unwrap_or(0);
        if let Some(next) = Which::ALL.get((at + 1) % Which::ALL.len()) {
            *self = Self::of(*next, session);
        }
    }
}

/// Longest text of a field.
const LONGEST: usize = 40;

impl View for CalcScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Calc
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let (place, cells) = (format!("sum {:?}", self.which), field::touched(&self.fields));
        Some(Unlogged { place, cells, ..Unlogged::default() })
    }

    fn put_back(&mut self, session: &Session, typed: &Jotting) -> bool {
        let Some(last) = field::put_back(&mut self.fields, typed) else { return false };
        self.row = last;
        self.work_out(session);
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if let Some(field) = self.fields.get_mut(self.row)
            && field.update(command)
        {
            self.work_out(session);
            return Step::stay();
        }
        let last = self.fields.len().saturating_sub(1);
        match command {
            Command::GoTo(row) => self.row = row.min(last),
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(last),
            Command::Take => self.row = if self.row < last { self.row + 1 } else { 0 },
            Command::Switch => self.turn(session),
            Command::Back => return Step::close(),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        self.work_out(session);
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
