//! The keeper's practice: every threshold and date, with its default, range and source, to be set or left.

mod draw;

use crate::model::{DateId, DayOfYear, Jotting, OwnDate, Practice, Threshold, Units};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};
use crate::wording;

/// Longest text of a value.
const LONGEST: usize = 12;

/// One line of the practice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum PracticeRow {
    Threshold(&'static Threshold),
    /// The day a date opens, or the one it closes.
    Date(DateId, bool),
}

/// Every line, in the order it is shown.
pub(crate) fn items() -> Vec<PracticeRow> {
    let dates =
        DateId::ALL.iter().flat_map(|id| [PracticeRow::Date(*id, true), PracticeRow::Date(*id, false)]);
    Practice::THRESHOLDS.iter().map(PracticeRow::Threshold).chain(dates).collect()
}

#[derive(Debug, Default)]
pub(crate) struct PracticeScreen {
    pub(crate) row: usize,
    /// What is typed in its place; none where nothing is.
    pub(crate) typed: Option<String>,
}

impl PracticeScreen {
    /// On the closing of a date, or at the top.
    pub(crate) fn at(date: Option<DateId>) -> Self {
        let row =
            date.and_then(|d| items().iter().position(|i| *i == PracticeRow::Date(d, false))).unwrap_or(0);
        Self { row, typed: None }
    }

    fn go(&mut self, row: usize) {
        self.row = row;
        self.typed = None;
    }

    /// The practice with what was typed; nothing typed is the default.
    fn changed(&self, typed: &str, session: &Session) -> Result<Practice, String> {
        let mut practice = session.book().practice.clone();
        let given = (!typed.trim().is_empty()).then(|| typed.trim());
        match items().get(self.row) {
            Some(PracticeRow::Threshold(threshold)) => {
                let value = given.map(|text| threshold.parse(text, session.book().units)).transpose()?;
                practice.set(threshold.field, value);
            }
            Some(PracticeRow::Date(date, is_opening)) => {
                let day = given.map(|text| day_of_year(text, session.book().units)).transpose()?;
                let now = practice.date(*date).copied();
                let now = now.unwrap_or(OwnDate { date: *date, opens: None, closes: None });
                practice.set_date(if *is_opening {
                    OwnDate { opens: day, ..now }
                } else {
                    OwnDate { closes: day, ..now }
                })?;
            }
            None => {}
        }
        Ok(practice)
    }
}

/// A date of the year as typed.
fn day_of_year(text: &str, units: Units) -> Result<DayOfYear, String> {
    wording::read_day_of_year(text, units).ok_or_else(|| {
        let example = DayOfYear::new(5, 9).map(|day| wording::day_of_year(day, units)).unwrap_or_default();
        format!("`{text}` is not a date of the year: write {example} or 05-09.")
    })
}

impl View for PracticeScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Practice
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        let typed = self.typed.clone().filter(|text| !text.is_empty());
        Some(Unlogged {
            place: "thresholds and dates".to_owned(),
            what: "a threshold or date".to_owned(),
            cells: typed.map(|text| (self.row.to_string(), text)).into_iter().collect(),
            ..Unlogged::default()
        })
    }

    fn put_back(&mut self, _: &Session, typed: &Jotting) -> bool {
        if let Some((row, text)) = typed.cells.first()
            && let Some(row) = row.parse().ok().filter(|row| *row < items().len())
        {
            self.row = row;
            self.typed = Some(text.clone());
            return true;
        }
        false
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let last = items().len() - 1;
        let moves = matches!(
            command,
            Command::GoTo(_) | Command::Up | Command::Down | Command::PageUp | Command::PageDown
        );
        if moves && self.typed.as_ref().is_some_and(|text| !text.is_empty()) {
            return Step::say("Enter takes what you typed; Bksp takes it away.");
        }
        match command {
            Command::GoTo(row) => self.go(row.min(last)),
            Command::Up => self.go(self.row.saturating_sub(1)),
            Command::Down => self.go((self.row + 1).min(last)),
            Command::PageUp => self.go(self.row.saturating_sub(10)),
            Command::PageDown => self.go((self.row + 10).min(last)),
            Command::Type(c)
                if c.is_ascii_alphanumeric() || matches!(c, '.' | ',' | '-' | '/' | '%' | ' ') =>
            {
                let typed = self.typed.get_or_insert_default();
                if typed.len() < LONGEST {
                    typed.push(c);
                }
            }
            Command::Erase => match &mut self.typed {
                Some(typed) => {
                    typed.pop();
                }
                // Nothing typed: the own value is to go.
                None => self.typed = Some(String::new()),
            },
            Command::Take => {
                let Some(typed) = self.typed.clone() else {
                    return Step::say(
                        "Type a value and press Enter; Bksp then Enter goes back to the default.",
                    );
                };
                return match self.changed(&typed, session) {
                    Ok(practice) => {
                        self.typed = None;
                        Step::want(Intent::SetPractice(Box::new(practice)))
                    }
                    Err(why) => Step::fail(why),
                };
            }
            Command::Back if self.typed.as_ref().is_some_and(String::is_empty) => self.typed = None,
            Command::Back => return Step::close(),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
