//! A rehearsal: when to come back, and once it is over what really was.

mod draw;

use chrono::NaiveDate;

use crate::report;
use crate::session::{Intent, Session, typing};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::{Scroll, row_after};
use crate::wording;

/// Longest text of a day.
const LONGEST: usize = 20;

#[derive(Debug, Default)]
pub(crate) struct RehearsalScreen {
    /// Days to come back on, in words; after them stands one to be typed.
    pub(crate) days: Vec<(String, NaiveDate)>,
    pub(crate) row: usize,
    /// The day that is typed.
    pub(crate) text: String,
    /// What really was, once it is told; whether each line is a heading.
    pub(crate) review: Option<Vec<(bool, String)>>,
    pub(crate) scroll: Scroll,
}

impl RehearsalScreen {
    fn on_typed(&self) -> bool {
        self.row == self.days.len()
    }

    fn come_back(&self, session: &Session) -> Step {
        let day = match self.days.get(self.row) {
            Some((_, day)) => Some(*day),
            None => self.typed_day(session),
        };
        day.map_or_else(
            || {
                let examples = wording::day_examples(session.book().units);
                Step::fail(format!("Type a day, such as {examples}."))
            },
            |day| Step::want(Intent::ComeBack(day)).and_close(),
        )
    }

    /// The day that is typed; the next of that name where it names no year.
    fn typed_day(&self, session: &Session) -> Option<NaiveDate> {
        let (today, units) = (session.today(), session.book().units);
        let day = wording::read_day(&self.text, today, units)?;
        if day < today { day.checked_add_months(chrono::Months::new(12)) } else { Some(day) }
    }
}

impl View for RehearsalScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Rehearsal
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.review.is_some() {
            return match command {
                Command::Back | Command::Take => Step::close(),
                other => {
                    self.scroll.update(other);
                    Step::stay()
                }
            };
        }
        if let Some(row) = row_after(command, self.row, self.days.len()) {
            self.row = row;
            return Step::stay();
        }
        match command {
            Command::Take => self.come_back(session),
            Command::Back => Step::close(),
            Command::Erase => {
                self.text.pop();
                Step::stay()
            }
            Command::Type(c) if self.on_typed() => {
                if self.text.chars().count() < LONGEST && !c.is_control() {
                    self.text.push(c);
                }
                Step::stay()
            }
            Command::Type(c) => {
                // A figure chooses; the next Enter goes there, for no time comes back.
                if let Some(row) = typing::place_of(c).filter(|row| *row <= self.days.len()) {
                    self.row = row;
                }
                Step::stay()
            }
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        let units = session.book().units;
        self.review = session.review().map(|review| report::review_lines(&review, units));
        if self.review.is_some() {
            // There is no day left to choose, and trips take long to plan.
            return;
        }
        let trip = session.next_trip();
        let mut days: Vec<(String, NaiveDate)> = Vec::new();
        if let Some((day, words)) = trip {
            days.push((format!("for the next trip: {words}"), day));
        }
        days.extend(session.days_to_come_back());
        self.days = days;
        self.row = self.row.min(self.days.len());
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }

    fn takes_text(&self) -> bool {
        self.review.is_none() && self.on_typed()
    }
}
