//! The keeper's practice: every threshold and date, with its default, range and source, to be set or left.

pub(crate) mod draw;

use crate::model::{DateId, DayOfYear, OwnDate, Practice, Threshold};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;

/// Longest text of a value.
const LONGEST: usize = 12;

/// One line of the practice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Item {
    /// A threshold.
    Threshold(&'static Threshold),
    /// The day a date opens, or the one it closes.
    Date(DateId, bool),
}

/// Every line, in the order it is shown.
pub(crate) fn items() -> Vec<Item> {
    let dates = DateId::ALL.iter().flat_map(|id| [Item::Date(*id, true), Item::Date(*id, false)]);
    Practice::THRESHOLDS.iter().map(Item::Threshold).chain(dates).collect()
}

/// The practice screen.
#[derive(Debug, Default)]
pub(crate) struct PracticeScreen {
    /// Which line.
    pub(crate) row: usize,
    /// What is typed in its place; none where nothing is.
    pub(crate) typed: Option<String>,
}

impl PracticeScreen {
    /// On the closing of a date, or at the top.
    pub(crate) fn at(date: Option<DateId>) -> Self {
        let row = date.and_then(|d| items().iter().position(|i| *i == Item::Date(d, false))).unwrap_or(0);
        Self { row, typed: None }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let last = items().len() - 1;
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
            Command::Take if app.refuses_to_write() => {}
            Command::Take => {
                if let Some(typed) = self.typed.clone() {
                    match self.changed(&typed, app) {
                        Ok(practice) => {
                            self.typed = None;
                            if practice == app.book.practice {
                                app.say("As it was.");
                            } else {
                                effects.push(Effect::SaveYards(Box::new(app.yards_with(practice))));
                            }
                        }
                        Err(why) => app.fail(why),
                    }
                } else {
                    app.say("Type a value and press Enter; Bksp then Enter goes back to the default.");
                }
            }
            Command::Back if self.typed.is_some() => self.typed = None,
            Command::Back => return Turn::Close,
            _ => {}
        }
        Turn::Stay
    }

    fn go(&mut self, row: usize) {
        self.row = row;
        self.typed = None;
    }

    /// The practice with what was typed; nothing typed is the default.
    fn changed(&self, typed: &str, app: &App) -> Result<Practice, String> {
        let mut practice = app.book.practice.clone();
        let given = (!typed.trim().is_empty()).then(|| typed.trim());
        match items().get(self.row) {
            Some(Item::Threshold(threshold)) => {
                let value = given.map(|text| threshold.parse(text, app.book.units)).transpose()?;
                practice.set(threshold.field, value);
            }
            Some(Item::Date(date, is_opening)) => {
                let day = given.map(str::parse::<DayOfYear>).transpose()?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Book, Units};
    use crate::tui::theme::Theme;

    fn app() -> App {
        let now = "2026-05-03T09:00:00".parse().unwrap();
        App::new(Book::empty("T", Units::Us), "2026-05-03".parse().unwrap(), now, 1, Theme::none())
    }

    fn type_in(screen: &mut PracticeScreen, app: &mut App, text: &str) -> Option<Practice> {
        let mut effects = Vec::new();
        for c in text.chars() {
            screen.update(app, Command::Type(c), &mut effects);
        }
        screen.update(app, Command::Take, &mut effects);
        match effects.pop() {
            Some(Effect::SaveYards(book)) => Some(book.practice),
            _ => None,
        }
    }

    #[test]
    fn a_value_is_set_refused_with_its_range_and_given_back_to_the_default() {
        let mut app = app();
        let mut screen = PracticeScreen::default();
        let practice = type_in(&mut screen, &mut app, "3").unwrap();
        assert_eq!(practice.own("mite_limit"), Some(3.0));
        assert_eq!(type_in(&mut screen, &mut app, "30"), None);
        assert!(app.message.as_ref().unwrap().text.contains("0.5 to 5"), "{:?}", app.message);
        app.book.practice = practice;
        screen.typed = None;
        let mut effects = Vec::new();
        screen.update(&mut app, Command::Erase, &mut effects);
        assert_eq!(type_in(&mut screen, &mut app, "").unwrap(), Practice::default());
    }

    #[test]
    fn a_date_is_set_end_by_end() {
        let mut app = app();
        let mut screen = PracticeScreen::at(Some(DateId::HoneyBoxesOff));
        app.book.practice = type_in(&mut screen, &mut app, "08-20").unwrap();
        screen.update(&mut app, Command::Up, &mut Vec::new());
        let practice = type_in(&mut screen, &mut app, "08-01").unwrap();
        let own = practice.date(DateId::HoneyBoxesOff).unwrap();
        assert_eq!((own.opens, own.closes), ("08-01".parse().ok(), "08-20".parse().ok()));
        assert_eq!(type_in(&mut screen, &mut app, "13-01"), None);
        assert!(app.message.unwrap().is_error);
    }

    #[test]
    fn leaving_a_line_leaves_what_was_typed_and_changes_nothing() {
        let mut app = app();
        let mut screen = PracticeScreen::default();
        let mut effects = Vec::new();
        screen.update(&mut app, Command::Type('9'), &mut effects);
        screen.update(&mut app, Command::Down, &mut effects);
        assert!(screen.typed.is_none() && effects.is_empty());
    }
}
