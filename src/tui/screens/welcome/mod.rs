//! The first steps where there is no book yet: the demonstration, or a book of one's own.

pub(crate) mod draw;

use chrono::NaiveDate;

use crate::model::{
    Book, Contents, Elevation, FreezeDates, Hive, HiveId, Origin, Place, Queen, QueenStatus, Units, Yard,
    YardId, stack_from,
};
use crate::session::names_from;
use crate::session::typing;
use crate::tui::command::Command;

/// What the first steps end in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Chosen {
    Demo,
    /// A new book.
    New(Box<Book>),
    /// Nothing: the program is left.
    Left,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Question {
    /// Demonstration, new book or leave.
    Choose,
    /// US or metric.
    Units,
    /// The keeper's name.
    Keeper,
    /// The first yard's name.
    Yard,
    /// Where it is.
    Place,
    /// How many hives.
    Hives,
    /// The boxes of each.
    Boxes,
    /// The first one's name.
    First,
}

#[derive(Debug)]
pub(crate) struct WelcomeScreen {
    pub(crate) step: Question,
    /// Which row of a choice.
    pub(crate) row: usize,
    pub(crate) units: Units,
    pub(crate) keeper: String,
    pub(crate) yard: String,
    /// Where the yard is, as typed.
    pub(crate) place: String,
    /// How many hives, as typed.
    pub(crate) hives: String,
    /// The boxes of each, as typed.
    pub(crate) boxes: String,
    /// The first one's name.
    pub(crate) first: String,
    pub(crate) fault: Option<String>,
    today: NaiveDate,
}

/// Choices of the first step.
pub(crate) const CHOICES: &[&str] =
    &["Look at the demonstration (an invented keeper's book)", "Begin a book of my own", "Leave"];
pub(crate) const UNITS: &[&str] = &["US: pounds, gallons, Fahrenheit", "Metric: kilograms, liters, Celsius"];
const LONGEST: usize = 60;
/// Most hives set up at once.
const MOST_HIVES: usize = 500;

impl WelcomeScreen {
    pub(crate) fn on(today: NaiveDate) -> Self {
        Self {
            step: Question::Choose,
            row: 0,
            units: Units::Us,
            keeper: String::new(),
            yard: String::new(),
            place: String::new(),
            hives: String::new(),
            boxes: "1 deep".to_owned(),
            first: "1".to_owned(),
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
            Question::Choose => CHOICES.len(),
            Question::Units => UNITS.len(),
            _ => 0,
        }
    }

    fn text(&mut self) -> Option<&mut String> {
        match self.step {
            Question::Choose | Question::Units => None,
            Question::Keeper => Some(&mut self.keeper),
            Question::Yard => Some(&mut self.yard),
            Question::Place => Some(&mut self.place),
            Question::Hives => Some(&mut self.hives),
            Question::Boxes => Some(&mut self.boxes),
            Question::First => Some(&mut self.first),
        }
    }

    fn typed(&mut self, c: char) {
        let figures = self.step == Question::Hives;
        let rows = self.rows();
        if let Some(text) = self.text() {
            let most = if figures { 3 } else { LONGEST };
            if !c.is_control() && (!figures || c.is_ascii_digit()) && text.chars().count() < most {
                text.push(c);
            }
        } else {
            let place = typing::place_of(c);
            if let Some(at) = place.filter(|at| *at < rows) {
                self.row = at;
            }
        }
    }

    fn back(&mut self) -> Option<Chosen> {
        self.row = 0;
        self.step = match self.step {
            Question::Choose => return Some(Chosen::Left),
            Question::Units => Question::Choose,
            Question::Keeper => Question::Units,
            Question::Yard => Question::Keeper,
            Question::Place => Question::Yard,
            Question::Hives => Question::Place,
            Question::Boxes => Question::Hives,
            Question::First => Question::Boxes,
        };
        None
    }

    fn take(&mut self) -> Option<Chosen> {
        match self.step {
            Question::Choose => match self.row {
                0 => return Some(Chosen::Demo),
                1 => self.step = Question::Units,
                _ => return Some(Chosen::Left),
            },
            Question::Units => {
                self.units = if self.row == 0 { Units::Us } else { Units::Metric };
                self.step = Question::Keeper;
            }
            Question::Keeper if self.keeper.trim().is_empty() => {
                self.fault = Some("Write your name: it heads the reports.".to_owned());
            }
            Question::Keeper => self.step = Question::Yard,
            Question::Yard => match YardId::new(self.yard.trim()).fault() {
                Some(fault) => self.fault = Some(format!("The yard's name {fault}.")),
                None => self.step = Question::Place,
            },
            Question::Place => match where_it_is(&self.place, self.units) {
                Ok(_) => self.step = Question::Hives,
                Err(why) => self.fault = Some(why),
            },
            Question::Hives => match self.hives.parse::<usize>() {
                Ok(count) if (1..=MOST_HIVES).contains(&count) => self.step = Question::Boxes,
                _ => self.fault = Some(format!("Write how many hives stand there, 1 to {MOST_HIVES}.")),
            },
            Question::Boxes => match stack_from(&self.boxes) {
                Ok(boxes) if !boxes.is_empty() => self.step = Question::First,
                Ok(_) => self.fault = Some("Write the boxes, such as `1 deep`.".to_owned()),
                Err(why) => self.fault = Some(why),
            },
            Question::First => match self.book() {
                Ok(book) => return Some(Chosen::New(Box::new(book))),
                Err(why) => self.fault = Some(why),
            },
        }
        self.row = 0;
        None
    }

    /// A book of one yard with so many hives alike, checked as a whole.
    fn book(&self) -> Result<Book, String> {
        let count = self.hives.parse::<usize>().map_err(|err| err.to_string())?;
        let mut boxes = stack_from(&self.boxes)?;
        for each in &mut boxes {
            each.holds = Contents { drawn: Some(each.frames), ..Contents::default() };
        }
        let (place, freezes) = where_it_is(&self.place, self.units)?;
        let mut yard = Yard { place, freezes, ..Yard::named(YardId::new(self.yard.trim())) };
        yard.hives = names_from(self.first.trim(), count)
            .into_iter()
            .map(|name| {
                Hive::new(
                    HiveId::new(name),
                    Origin::Overwintered,
                    self.today,
                    boxes.clone(),
                    Queen::of_status(QueenStatus::Laying, None),
                )
            })
            .collect();
        let mut book = Book::empty(self.keeper.trim(), self.units);
        book.yards.push(yard);
        match book.faults(self.today).into_iter().next() {
            Some(fault) => Err(format!("{}: {}.", fault.what, fault.mend)),
            None => Ok(book),
        }
    }
}

/// A place or freeze dates as typed: `43.2 -86.1`, `43.2 -86.1 650 ft`, or `05-09 10-04`; nothing is the reference.
fn where_it_is(text: &str, units: Units) -> Result<(Option<Place>, Option<FreezeDates>), String> {
    let refuse = || {
        "Write degrees north and east (west is negative), such as 43.2 -86.1 650 ft, or the freeze dates, such as 05-09 10-04; or nothing."
            .to_owned()
    };
    let parts: Vec<&str> = text.split_whitespace().collect();
    if parts.is_empty() {
        return Ok((None, None));
    }
    if let [spring, autumn] = parts.as_slice()
        && let (Ok(last_spring), Ok(first_autumn)) = (spring.parse(), autumn.parse())
    {
        return Ok((None, Some(FreezeDates { last_spring, first_autumn })));
    }
    let [north, east, height @ ..] = parts.as_slice() else { return Err(refuse()) };
    let degrees =
        |text: &str, most: f64| text.replace(',', ".").parse::<f64>().ok().filter(|d| d.abs() <= most);
    let (Some(latitude), Some(longitude)) = (degrees(north, 66.0), degrees(east, 180.0)) else {
        return Err(refuse());
    };
    let elevation = match height {
        [] => Elevation::from_metres(0.0),
        height => Elevation::parse_in(&height.join(" "), units).map_err(|err| err.to_string())?,
    };
    Ok((Some(Place { latitude, longitude, elevation }), None))
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
    fn a_book_of_ones_own_is_begun_in_eight_steps_and_any_step_goes_back() {
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
        assert_eq!((screen.step, screen.keeper.as_str()), (Question::Keeper, "Ann"));
        screen.update(Command::Take);
        screen.update(Command::Take);
        typed(&mut screen, "north");
        screen.update(Command::Take);
        assert!(screen.fault.as_ref().is_some_and(|f| f.contains("43.2 -86.1")), "{:?}", screen.fault);
        for _ in 0..5 {
            screen.update(Command::Erase);
        }
        typed(&mut screen, "46,5 7,5 500 m");
        screen.update(Command::Take);
        typed(&mut screen, "0");
        assert_eq!(screen.update(Command::Take), None);
        screen.update(Command::Erase);
        typed(&mut screen, "12x");
        screen.update(Command::Take);
        typed(&mut screen, " + 1 medium");
        screen.update(Command::Take);
        screen.update(Command::Erase);
        typed(&mut screen, "A1");
        let Some(Chosen::New(book)) = screen.update(Command::Take) else { panic!("no book") };
        assert_eq!(book.units, Units::Metric);
        assert_eq!(book.yards[0].hives.len(), 12);
        assert_eq!(book.yards[0].hives[11].id.as_str(), "A12");
        assert_eq!(book.yards[0].hives[0].boxes.len(), 2);
        assert!((book.yards[0].place.unwrap().longitude - 7.5).abs() < 1e-9);
        assert!(book.faults("2026-05-03".parse().unwrap()).is_empty());
    }
}
