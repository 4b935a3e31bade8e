//! The first steps where there is no book yet: the demonstration, or a book of one's own.

pub(crate) mod draw;

use chrono::NaiveDate;

use crate::model::{
    Book, Contents, Depth, Hive, HiveBox, HiveId, Origin, Queen, QueenStatus, Role, Units, Yard, YardId,
};
use crate::tui::command::Command;
use crate::tui::input;

/// What the first steps end in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Chosen {
    /// The demonstration.
    Demo,
    /// A new book.
    New(Box<Book>),
    /// Nothing: the program is left.
    Left,
}

/// Which step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    /// Demonstration, new book or leave.
    Choose,
    /// US or metric.
    Units,
    /// The keeper's name.
    Keeper,
    /// The first yard's name.
    Yard,
    /// How many hives.
    Hives,
}

/// The first steps.
#[derive(Debug)]
pub(crate) struct WelcomeScreen {
    /// Which step.
    pub(crate) step: Step,
    /// Which row of a choice.
    pub(crate) row: usize,
    /// Units chosen.
    pub(crate) units: Units,
    /// The keeper's name.
    pub(crate) keeper: String,
    /// The yard's name.
    pub(crate) yard: String,
    /// How many hives, as typed.
    pub(crate) hives: String,
    /// What is wrong.
    pub(crate) fault: Option<String>,
    today: NaiveDate,
}

/// Choices of the first step.
pub(crate) const CHOICES: &[&str] =
    &["Look at the demonstration (an invented keeper's book)", "Begin a book of my own", "Leave"];
/// Choices of units.
pub(crate) const UNITS: &[&str] = &["US: pounds, gallons, Fahrenheit", "Metric: kilograms, litres, Celsius"];
/// Most hives set up at once.
const MOST_HIVES: usize = 500;

impl WelcomeScreen {
    /// On a day.
    pub(crate) fn on(today: NaiveDate) -> Self {
        Self {
            step: Step::Choose,
            row: 0,
            units: Units::Us,
            keeper: String::new(),
            yard: String::new(),
            hives: String::new(),
            fault: None,
            today,
        }
    }

    /// Does what a command says; what was chosen at the end.
    pub(crate) fn update(&mut self, command: Command) -> Option<Chosen> {
        self.fault = None;
        match command {
            Command::Quit => return Some(Chosen::Left),
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(self.rows().saturating_sub(1)),
            Command::Type(c) => self.typed(c),
            Command::Erase => {
                if let Some(text) = self.text() {
                    text.pop();
                }
            }
            Command::Back => return self.back(),
            Command::Take => return self.take(),
            _ => {}
        }
        None
    }

    fn rows(&self) -> usize {
        match self.step {
            Step::Choose => CHOICES.len(),
            Step::Units => UNITS.len(),
            Step::Keeper | Step::Yard | Step::Hives => 0,
        }
    }

    fn text(&mut self) -> Option<&mut String> {
        match self.step {
            Step::Choose | Step::Units => None,
            Step::Keeper => Some(&mut self.keeper),
            Step::Yard => Some(&mut self.yard),
            Step::Hives => Some(&mut self.hives),
        }
    }

    fn typed(&mut self, c: char) {
        let figures = self.step == Step::Hives;
        let rows = self.rows();
        if let Some(text) = self.text() {
            let most = if figures { 3 } else { crate::model::LONGEST_NAME };
            if !c.is_control() && (!figures || c.is_ascii_digit()) && text.chars().count() < most {
                text.push(c);
            }
        } else {
            let place = input::place_of(c);
            if let Some(at) = place.filter(|at| *at < rows) {
                self.row = at;
            }
        }
    }

    fn back(&mut self) -> Option<Chosen> {
        self.row = 0;
        self.step = match self.step {
            Step::Choose => return Some(Chosen::Left),
            Step::Units => Step::Choose,
            Step::Keeper => Step::Units,
            Step::Yard => Step::Keeper,
            Step::Hives => Step::Yard,
        };
        None
    }

    fn take(&mut self) -> Option<Chosen> {
        match self.step {
            Step::Choose => match self.row {
                0 => return Some(Chosen::Demo),
                1 => self.step = Step::Units,
                _ => return Some(Chosen::Left),
            },
            Step::Units => {
                self.units = if self.row == 0 { Units::Us } else { Units::Metric };
                self.step = Step::Keeper;
            }
            Step::Keeper if self.keeper.trim().is_empty() => {
                self.fault = Some("Write your name: it heads the reports.".to_owned());
            }
            Step::Keeper => self.step = Step::Yard,
            Step::Yard => match YardId::new(self.yard.trim()).fault() {
                Some(fault) => self.fault = Some(format!("The yard's name {fault}.")),
                None => self.step = Step::Hives,
            },
            Step::Hives => match self.hives.parse::<usize>() {
                Ok(count) if (1..=MOST_HIVES).contains(&count) => {
                    return Some(Chosen::New(Box::new(self.book(count))));
                }
                _ => self.fault = Some(format!("Write how many hives stand there, 1 to {MOST_HIVES}.")),
            },
        }
        self.row = 0;
        None
    }

    /// A book of one yard with so many single deeps, to be described further.
    fn book(&self, count: usize) -> Book {
        let mut book = Book::empty(self.keeper.trim(), self.units);
        let mut nest = HiveBox::new(Depth::Deep, 10, Role::Nest);
        nest.holds = Contents { drawn: Some(10), ..Contents::default() };
        let hives = (1..=count)
            .map(|n| {
                Hive::new(
                    HiveId::new(n.to_string()),
                    Origin::Overwintered,
                    self.today,
                    vec![nest.clone()],
                    Queen::of_status(QueenStatus::Laying, None),
                )
            })
            .collect();
        book.yards.push(Yard {
            name: YardId::new(self.yard.trim()),
            place: None,
            formerly: Vec::new(),
            freezes: None,
            note: String::new(),
            hives,
        });
        book
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(screen: &mut WelcomeScreen, text: &str) {
        for c in text.chars() {
            screen.update(Command::Type(c));
        }
    }

    #[test]
    fn a_book_of_ones_own_is_begun_in_five_steps_and_any_step_goes_back() {
        let mut screen = WelcomeScreen::on("2026-05-03".parse().unwrap());
        screen.update(Command::Down);
        screen.update(Command::Take);
        screen.update(Command::Down);
        screen.update(Command::Take);
        assert_eq!(screen.update(Command::Take), None);
        assert!(screen.fault.is_some(), "a name is wanted");
        typed(&mut screen, "Ann");
        screen.update(Command::Take);
        typed(&mut screen, "Meadow");
        screen.update(Command::Back);
        assert_eq!((screen.step, screen.keeper.as_str()), (Step::Keeper, "Ann"));
        screen.update(Command::Take);
        screen.update(Command::Take);
        typed(&mut screen, "0");
        assert_eq!(screen.update(Command::Take), None);
        screen.update(Command::Erase);
        typed(&mut screen, "12x");
        let Some(Chosen::New(book)) = screen.update(Command::Take) else { panic!("no book") };
        assert_eq!(book.units, Units::Metric);
        assert_eq!(book.yards[0].hives.len(), 12);
        assert!(book.faults("2026-05-03".parse().unwrap()).is_empty());
    }
}
