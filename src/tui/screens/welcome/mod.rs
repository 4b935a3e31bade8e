//! The first steps where there is no book yet: the demonstration, or a book of one's own.

pub(crate) mod draw;
mod kept;

use chrono::NaiveDate;

use crate::model::{
    Book, Contents, Entrance, Hive, HiveId, Origin, Queen, QueenStatus, Role, Units, Yard, YardId, stack_from,
};
use crate::report::read_back;
use crate::session::names_from;
use crate::session::typing;
use crate::tui::command::Command;
use crate::wording::{self, Where};

/// What the first steps end in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Chosen {
    Demo,
    /// A rehearsal.
    Rehearsal,
    /// A new book.
    New(Box<Book>),
    /// Nothing: the program is left.
    Left,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Question {
    /// Demonstration, new book, rehearsal or leave.
    Choose,
    /// US or metric.
    Units,
    /// The keeper's name.
    Keeper,
    /// The first yard's name.
    Yard,
    /// Where it is.
    Place,
    /// Whether that was understood.
    ReadBack,
    /// How many hives.
    Hives,
    /// The boxes of each.
    Boxes,
    /// How the colonies came.
    Came,
    /// When they came, where they came this year.
    Since,
    /// What is on the hives: guards and entrances.
    Fittings,
    /// How many boxes a nest is kept to.
    NestBoxes,
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
    /// How the colonies came, by its row.
    pub(crate) came: usize,
    /// When they came, as typed.
    pub(crate) since: String,
    /// What is on the hives, in the order of [`FITTINGS`].
    pub(crate) fittings: [bool; FITTINGS.len()],
    /// How many boxes a nest is kept to.
    pub(crate) nest_boxes: usize,
    /// The first one's name.
    pub(crate) first: String,
    pub(crate) fault: Option<String>,
    today: NaiveDate,
}

/// Choices of the first step.
pub(crate) const CHOICES: &[&str] = &[
    "Look at the demonstration (an invented keeper's book)",
    "Begin a book of my own",
    "Rehearse a year with simulated colonies",
    "Leave",
];
pub(crate) const UNITS: &[&str] = &["US: pounds, gallons, Fahrenheit", "Metric: kilograms, liters, Celsius"];
pub(crate) const READ_BACK: &[&str] = &["Yes, go on", "No, write it again"];
/// How colonies come, in words.
pub(crate) const CAME: &[(&str, Origin)] = &[
    ("They lived through a winter here", Origin::Overwintered),
    ("As packages, this year", Origin::Package),
    ("As nucs, this year", Origin::Nuc),
    ("As swarms, this year", Origin::Swarm),
];
/// What may be on the hives.
pub(crate) const FITTINGS: [&str; 3] = ["entrances narrowed", "upper entrances open", "mouse guards on"];
pub(crate) const NEST_BOXES: &[&str] = &["One box", "Two boxes", "Three boxes"];
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
            came: 0,
            since: String::new(),
            fittings: [false; FITTINGS.len()],
            nest_boxes: 0,
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
            Command::Type(c) => self.type_in(c),
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
            Question::ReadBack => READ_BACK.len(),
            Question::Came => CAME.len(),
            Question::Fittings => FITTINGS.len(),
            Question::NestBoxes => NEST_BOXES.len(),
            _ => 0,
        }
    }

    fn text(&mut self) -> Option<&mut String> {
        self.text_in(self.step)
    }

    fn text_in(&mut self, step: Question) -> Option<&mut String> {
        Some(match step {
            Question::Keeper => &mut self.keeper,
            Question::Yard => &mut self.yard,
            Question::Place => &mut self.place,
            Question::Hives => &mut self.hives,
            Question::Boxes => &mut self.boxes,
            Question::Since => &mut self.since,
            Question::First => &mut self.first,
            Question::Choose
            | Question::Units
            | Question::ReadBack
            | Question::Came
            | Question::Fittings
            | Question::NestBoxes => return None,
        })
    }

    fn type_in(&mut self, c: char) {
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
                if self.step == Question::Fittings
                    && let Some(on) = self.fittings.get_mut(at)
                {
                    *on = !*on;
                }
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
            Question::ReadBack => Question::Place,
            Question::Hives => Question::ReadBack,
            Question::Boxes => Question::Hives,
            Question::Came => Question::Boxes,
            Question::Since => Question::Came,
            Question::Fittings if self.origin() == Origin::Overwintered => Question::Came,
            Question::Fittings => Question::Since,
            Question::NestBoxes => Question::Fittings,
            Question::First => Question::NestBoxes,
        };
        None
    }

    fn take(&mut self) -> Option<Chosen> {
        match self.step {
            Question::Choose => match self.row {
                0 => return Some(Chosen::Demo),
                1 => self.step = Question::Units,
                2 => return Some(Chosen::Rehearsal),
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
            Question::Place => match wording::read_where(&self.place, self.units) {
                Ok(_) => self.step = Question::ReadBack,
                Err(why) => self.fault = Some(why),
            },
            Question::ReadBack => self.step = if self.row == 0 { Question::Hives } else { Question::Place },
            Question::Hives => match self.hives.parse::<usize>() {
                Ok(count) if (1..=MOST_HIVES).contains(&count) => self.step = Question::Boxes,
                _ => self.fault = Some(format!("Write how many hives stand there, 1 to {MOST_HIVES}.")),
            },
            Question::Boxes => match stack_from(&self.boxes) {
                Ok(boxes) if !boxes.is_empty() => {
                    self.step = Question::Came;
                    // As many as they stand in, unless the keeper says another number.
                    self.nest_boxes = boxes.iter().filter(|b| b.role == Role::Nest).count().clamp(1, 3) - 1;
                }
                Ok(_) => self.fault = Some("Write the boxes, such as `1 deep`.".to_owned()),
                Err(why) => self.fault = Some(why),
            },
            Question::Came => {
                self.came = self.row;
                let is_old = self.origin() == Origin::Overwintered;
                self.step = if is_old { Question::Fittings } else { Question::Since };
            }
            Question::Since => match self.day() {
                Ok(_) => self.step = Question::Fittings,
                Err(why) => self.fault = Some(why),
            },
            Question::Fittings => {
                self.step = Question::NestBoxes;
                self.row = self.nest_boxes;
                return None;
            }
            Question::NestBoxes => {
                self.nest_boxes = self.row;
                self.step = Question::First;
            }
            Question::First => match self.book() {
                Ok(book) => return Some(Chosen::New(Box::new(book))),
                Err(why) => self.fault = Some(why),
            },
        }
        self.row = 0;
        None
    }

    fn origin(&self) -> Origin {
        CAME.get(self.came).map_or(Origin::Overwintered, |(_, origin)| *origin)
    }

    /// The day they came.
    fn day(&self) -> Result<NaiveDate, String> {
        let day = wording::read_day(&self.since, self.today, self.units).filter(|day| *day <= self.today);
        day.ok_or_else(|| format!("Write the day they came, such as {}.", wording::day_examples(self.units)))
    }

    /// The yard where it was said to be.
    fn first_yard(&self) -> Result<Yard, String> {
        let yard = Yard::named(YardId::new(self.yard.trim()));
        Ok(match wording::read_where(&self.place, self.units)? {
            Where::Place(place) => Yard { place: Some(place), ..yard },
            Where::Freezes(freezes) => Yard { freezes: Some(freezes), ..yard },
            Where::Unsaid => yard,
        })
    }

    /// What was understood of where it is.
    pub(crate) fn understood(&self) -> Vec<String> {
        match self.first_yard() {
            Ok(yard) => read_back(&yard, self.units, self.today),
            Err(why) => vec![why],
        }
    }

    /// A book of one yard with so many hives alike, checked as a whole.
    fn book(&self) -> Result<Book, String> {
        let count = self.hives.parse::<usize>().map_err(|err| err.to_string())?;
        let mut boxes = stack_from(&self.boxes)?;
        for each in &mut boxes {
            each.holds = Contents { drawn: Some(each.frames), ..Contents::default() };
        }
        let mut yard = self.first_yard()?;
        let origin = self.origin();
        let since = if origin == Origin::Overwintered { self.today } else { self.day()? };
        let [narrowed, upper, guarded] = self.fittings;
        yard.hives = names_from(self.first.trim(), count)
            .into_iter()
            .map(|name| {
                let queen = Queen::of_status(QueenStatus::Laying, None);
                let mut hive = Hive::new(HiveId::new(name), origin, since, boxes.clone(), queen);
                hive.entrance = if narrowed { Entrance::Reduced } else { Entrance::Open };
                (hive.upper_entrance, hive.mouse_guard) = (upper, guarded);
                hive
            })
            .collect();
        let mut book = Book::empty(self.keeper.trim(), self.units);
        #[allow(clippy::cast_precision_loss, reason = "three at most")]
        let nest_boxes = (self.nest_boxes > 0).then(|| (self.nest_boxes + 1) as f64);
        book.practice.set("nest_boxes", nest_boxes);
        book.yards.push(yard);
        match book.faults(self.today).into_iter().next() {
            Some(fault) => Err(format!("{}: {}.", fault.what, fault.mend)),
            None => Ok(book),
        }
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
    fn a_book_of_ones_own_is_begun_in_steps_and_any_step_goes_back() {
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
        assert!(screen.fault.as_ref().is_some_and(|f| f.contains("44.47, -72.69")), "{:?}", screen.fault);
        for _ in 0..5 {
            screen.update(Command::Erase);
        }
        typed(&mut screen, "46,5 7,5 500 m");
        screen.update(Command::Take);
        let understood = screen.understood().join(" ");
        assert!(understood.starts_with("46.5 N, 7.5 E, 500 m (northern hemisphere)"), "{understood}");
        // Read back wrong it is written again.
        screen.update(Command::Down);
        screen.update(Command::Take);
        assert_eq!(screen.step, Question::Place);
        screen.update(Command::Take);
        screen.update(Command::Take);
        typed(&mut screen, "0");
        assert_eq!(screen.update(Command::Take), None);
        screen.update(Command::Erase);
        typed(&mut screen, "12x");
        screen.update(Command::Take);
        typed(&mut screen, " + 1 medium super");
        screen.update(Command::Take);
        typed(&mut screen, "2");
        screen.update(Command::Take);
        screen.update(Command::Take);
        assert!(screen.fault.is_some(), "the day they came is not invented");
        typed(&mut screen, "18 Apr");
        screen.update(Command::Take);
        typed(&mut screen, "13");
        screen.update(Command::Take);
        assert_eq!(screen.row, 0, "one nest box, as they stand");
        typed(&mut screen, "2");
        screen.update(Command::Take);
        screen.update(Command::Erase);
        typed(&mut screen, "A1");
        let Some(Chosen::New(book)) = screen.update(Command::Take) else { panic!("no book") };
        assert_eq!(book.units, Units::Metric);
        assert_eq!(book.yards[0].hives.len(), 12);
        assert_eq!(book.yards[0].hives[11].id.as_str(), "A12");
        assert_eq!(book.yards[0].hives[0].boxes.len(), 2);
        let first = &book.yards[0].hives[0];
        assert_eq!((first.origin, first.entrance), (Origin::Package, Entrance::Reduced));
        assert_eq!(first.since, "2026-04-18".parse().unwrap());
        assert!(first.mouse_guard && !first.upper_entrance);
        assert!((book.practice.nest_boxes() - 2.0).abs() < 1e-9);
        assert!((book.yards[0].place.unwrap().longitude - 7.5).abs() < 1e-9);
        assert!(book.faults("2026-05-03".parse().unwrap()).is_empty());
    }
}
