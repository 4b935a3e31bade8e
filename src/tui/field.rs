//! A field of a form: what is typed or chosen in it, and how that is read.

use std::ops::RangeInclusive;

use chrono::NaiveDate;
use tui_input::{Input, InputRequest};

use super::command::Command;
use crate::model::{self, Answerable, Asked, Given, Jotting, Kind, Units, Value, days_after};
use crate::session::typing::{place_of, word_of};
use crate::wording;

/// What a field takes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Takes {
    /// Words, so many characters at most.
    Words(usize),
    /// A number, with its unit where it has one.
    Figures,
    /// One of some words.
    Choice(Vec<String>),
    /// A day, counted from this one, in the order of the units' place.
    Day(NaiveDate, Units),
}

#[derive(Debug, Clone)]
pub(crate) struct Field {
    pub(crate) label: String,
    /// What may stand in it.
    pub(crate) help: String,
    pub(crate) takes: Takes,
    pub(crate) text: Input,
    /// Which of its choices; none until one is made where none is proposed.
    pub(crate) at: Option<usize>,
    /// Whether what stands in it is only proposed: the first figure typed takes its place.
    is_proposed: bool,
}

/// Longest number with its unit.
const LONGEST_FIGURES: usize = 16;
/// Longest day, as `September 30, 2026`.
const LONGEST_DAY: usize = 18;

impl Field {
    fn new(label: &str, help: &str, takes: Takes, text: String) -> Self {
        Self {
            label: label.to_owned(),
            help: help.to_owned(),
            takes,
            text: Input::new(text),
            at: None,
            is_proposed: true,
        }
    }

    /// A field of an action or a queen.
    pub(crate) fn of(asked: Asked, today: NaiveDate, units: Units) -> Self {
        let takes = match asked.takes {
            model::Takes::Words(most) => Takes::Words(most),
            model::Takes::Figures => Takes::Figures,
            model::Takes::Choice(words) => Takes::Choice(words),
            model::Takes::Day => Takes::Day(today, units),
        };
        let (text, at) = match asked.value {
            Given::Words(words) => (words, None),
            Given::Pick(at) => (String::new(), Some(at)),
            Given::Day(day) => (wording::day_and_year(units, day), None),
            Given::Open => (String::new(), None),
        };
        Self { at, ..Self::new(asked.label, asked.help, takes, text) }
    }

    /// What stands in it.
    ///
    /// # Errors
    /// Where a day cannot be read.
    pub(crate) fn given(&self) -> Result<Given, String> {
        Ok(match &self.takes {
            Takes::Words(_) | Takes::Figures => Given::Words(self.the_words()),
            Takes::Choice(_) => Given::Pick(self.the_pick()?),
            Takes::Day(..) => Given::Day(self.the_day()?),
        })
    }

    pub(crate) fn words(label: &str, help: &str, value: &str, most: usize) -> Self {
        Self::new(label, help, Takes::Words(most), value.to_owned())
    }

    pub(crate) fn figures(label: &str, help: &str, value: impl std::fmt::Display) -> Self {
        Self::new(label, help, Takes::Figures, value.to_string())
    }

    /// One of some words.
    pub(crate) fn one_of(label: &str, help: &str, words: Vec<String>, at: usize) -> Self {
        Self { at: Some(at), ..Self::new(label, help, Takes::Choice(words), String::new()) }
    }

    /// One of some words, none of which is proposed: only the keeper knows.
    pub(crate) fn open_choice(label: &str, help: &str, words: &[&str]) -> Self {
        let words = words.iter().map(|word| (*word).to_owned()).collect();
        Self { at: None, ..Self::one_of(label, help, words, 0) }
    }

    /// One of the words of a choice of the model.
    pub(crate) fn choice<T: Answerable>(label: &str, help: &str, value: T) -> Self {
        let at = match value.value() {
            Value::Choice(at) => at,
            _ => 0,
        };
        Self::one_of(label, help, choice_words::<T>(), at)
    }

    pub(crate) fn day(label: &str, help: &str, value: NaiveDate, (today, units): (NaiveDate, Units)) -> Self {
        Self::new(label, help, Takes::Day(today, units), wording::day_and_year(units, value))
    }

    /// What is shown of it.
    pub(crate) fn shown(&self) -> String {
        match &self.takes {
            Takes::Choice(words) if word_of(words, self.text.value()).is_none() && !self.is_empty() => {
                self.text.value().to_owned()
            }
            Takes::Choice(words) => self.at.and_then(|at| words.get(at)).cloned().unwrap_or_default(),
            Takes::Words(_) | Takes::Figures => self.text.value().to_owned(),
            Takes::Day(..) => match self.the_day() {
                Ok(day) => format!("{} ({})", self.text.value(), wording::weekday(day)),
                Err(_) => self.text.value().to_owned(),
            },
        }
    }

    /// What may be typed.
    pub(crate) fn keys(&self) -> String {
        match &self.takes {
            Takes::Choice(words) if words.len() <= 9 => words
                .iter()
                .enumerate()
                .map(|(at, w)| format!("{} {w}", at + 1))
                .collect::<Vec<_>>()
                .join("  "),
            Takes::Choice(_) => "Left and Right choose".to_owned(),
            Takes::Words(_) | Takes::Figures => String::new(),
            Takes::Day(_, units) => {
                format!("Left Right a day, t today, w a week, or {}", wording::day_examples(*units))
            }
        }
    }

    /// Takes a command; whether it was one for it.
    pub(crate) fn update(&mut self, command: Command) -> bool {
        if let (Takes::Figures | Takes::Day(..), Command::Type(c), true) =
            (&self.takes, command, self.is_proposed)
            && self.takes_char(c)
        {
            self.text = Input::default();
        }
        if matches!(command, Command::Type(_) | Command::Erase | Command::Left | Command::Right) {
            self.is_proposed = false;
        }
        match (&self.takes, command) {
            (Takes::Choice(words), Command::Right | Command::Left) => {
                let last = words.len().saturating_sub(1);
                let next = if command == Command::Right {
                    self.at.map_or(0, |at| if at < last { at + 1 } else { 0 })
                } else {
                    self.at.and_then(|at| at.checked_sub(1)).unwrap_or(last)
                };
                self.choose(next);
            }
            (Takes::Choice(words), Command::Type(c)) => {
                let longer = format!("{}{c}", self.text.value());
                let begins = |word: &String| word.to_lowercase().starts_with(&longer.to_lowercase());
                if let Some(at) = place_of(c).filter(|at| *at < words.len()) {
                    self.choose(at);
                } else if let Some(at) = words.iter().position(begins) {
                    // As far as it is typed it shows, so that the rest of the word goes with it.
                    self.at = word_of(words, &longer).or(Some(at));
                    self.text = Input::new(longer);
                }
            }
            (Takes::Day(today, _), Command::Type(c @ ('t' | 'w'))) if !self.is_in_a_word() => {
                let day = if c == 't' { *today } else { days_after(*today, 7) };
                self.put_day(day);
            }
            (Takes::Day(..), Command::Left) => self.move_day(-1),
            (Takes::Day(..), Command::Right) => self.move_day(1),
            (_, Command::Type(c)) => {
                if self.takes_char(c) {
                    let _ = self.text.handle(InputRequest::InsertChar(c));
                }
            }
            (_, Command::Erase) => {
                let _ = self.text.handle(InputRequest::DeletePrevChar);
            }
            (Takes::Words(_) | Takes::Figures, Command::Left) => {
                let _ = self.text.handle(InputRequest::GoToPrevChar);
            }
            (Takes::Words(_) | Takes::Figures, Command::Right) => {
                let _ = self.text.handle(InputRequest::GoToNextChar);
            }
            _ => return false,
        }
        true
    }

    /// What was typed or chosen in it; none where it stands as it was proposed.
    pub(crate) fn touched(&self) -> Option<String> {
        (!self.is_proposed).then(|| match &self.takes {
            Takes::Choice(_) => self.shown(),
            Takes::Words(_) | Takes::Figures | Takes::Day(..) => self.text.value().to_owned(),
        })
    }

    /// Puts back what was typed or chosen in it.
    pub(crate) fn put_back(&mut self, text: &str) {
        self.is_proposed = false;
        match &self.takes {
            Takes::Choice(words) => match words.iter().position(|word| word == text) {
                Some(at) => self.choose(at),
                None => {
                    for c in text.chars() {
                        self.update(Command::Type(c));
                    }
                }
            },
            Takes::Words(_) | Takes::Figures | Takes::Day(..) => self.text = Input::new(text.to_owned()),
        }
    }

    /// Proposes another day, where none was typed or moved to.
    pub(crate) fn propose_day(&mut self, day: NaiveDate) {
        if self.is_proposed && matches!(self.takes, Takes::Day(..)) {
            self.put_day(day);
        }
    }

    /// Writes a day the way days are shown.
    fn put_day(&mut self, day: NaiveDate) {
        if let Takes::Day(_, units) = self.takes {
            self.text = Input::new(wording::day_and_year(units, day));
        }
    }

    /// Whether a letter would go on with a month that is being typed, rather than with a day that stands whole.
    fn is_in_a_word(&self) -> bool {
        let text = self.text.value();
        let is_whole = match self.takes {
            Takes::Day(_, units) => self.the_day().is_ok_and(|day| wording::day_and_year(units, day) == text),
            _ => false,
        };
        !is_whole && text.contains(char::is_alphabetic)
    }

    fn choose(&mut self, at: usize) {
        self.at = Some(at);
        self.text = Input::default();
    }

    /// Which of its words was chosen.
    pub(crate) fn the_pick(&self) -> Result<usize, String> {
        let Takes::Choice(words) = &self.takes else { return Err(self.refuse("is no choice")) };
        let typed = self.text.value();
        if !typed.is_empty() && word_of(words, typed).is_none() {
            return Err(self.refuse(&format!("`{typed}` could be several: {}", words.join(", "))));
        }
        self.at.ok_or_else(|| self.refuse(&format!("choose one: {}", words.join(", "))))
    }

    /// What may be typed, where a character may not.
    pub(crate) fn refuses(&self, c: char) -> Option<String> {
        let takes = match &self.takes {
            Takes::Choice(words) => {
                let longer = format!("{}{c}", self.text.value()).to_lowercase();
                place_of(c).is_some_and(|at| at < words.len())
                    || words.iter().any(|word| word.to_lowercase().starts_with(&longer))
            }
            Takes::Day(..) => matches!(c, 't' | 'w') || self.takes_char(c),
            Takes::Words(_) | Takes::Figures => self.takes_char(c),
        };
        let keys = match &self.takes {
            Takes::Words(most) => format!("{most} characters at most"),
            Takes::Figures => "a number, with its unit if it has another".to_owned(),
            Takes::Choice(_) | Takes::Day(..) => self.keys(),
        };
        (!takes).then(|| self.refuse(&keys))
    }

    /// Whether a character is of the kind typed here.
    fn is_fitting(&self, c: char) -> bool {
        match &self.takes {
            Takes::Words(_) => !c.is_control(),
            Takes::Figures => c.is_alphanumeric() || matches!(c, '.' | ',' | '-' | '+' | ' '),
            Takes::Day(..) => c.is_ascii_alphanumeric() || matches!(c, '-' | '+' | '/' | '.' | ',' | ' '),
            Takes::Choice(_) => false,
        }
    }

    fn takes_char(&self, c: char) -> bool {
        let most = match &self.takes {
            Takes::Words(most) => *most,
            Takes::Figures => LONGEST_FIGURES,
            Takes::Day(..) => LONGEST_DAY,
            Takes::Choice(_) => 0,
        };
        // What is only proposed goes as soon as anything else is typed.
        let is_replaced = self.is_proposed && !matches!(self.takes, Takes::Words(_));
        self.is_fitting(c) && (is_replaced || self.text.value().chars().count() < most)
    }

    fn move_day(&mut self, by: i64) {
        if let Ok(day) = self.the_day() {
            self.put_day(days_after(day, by));
        }
    }

    fn refuse(&self, why: &str) -> String {
        format!("{}: {why}", self.label)
    }

    /// The words, without spaces about them.
    pub(crate) fn the_words(&self) -> String {
        self.text.value().trim().to_owned()
    }

    /// Whether nothing is typed.
    pub(crate) fn is_empty(&self) -> bool {
        self.text.value().trim().is_empty()
    }

    /// What was chosen of a choice of the model.
    pub(crate) fn the_choice<T: Answerable>(&self) -> Result<T, String> {
        T::from_value(Value::Choice(self.the_pick()?)).ok_or_else(|| self.refuse("choose one"))
    }

    /// A whole number of a range.
    pub(crate) fn the_whole(&self, range: RangeInclusive<i64>) -> Result<i64, String> {
        let (least, most) = (*range.start(), *range.end());
        self.the_words()
            .parse()
            .ok()
            .filter(|n| range.contains(n))
            .ok_or_else(|| self.refuse(&format!("write a whole number, {least} to {most}")))
    }

    /// A whole number that fits a byte.
    pub(crate) fn the_count(&self, range: RangeInclusive<u8>) -> Result<u8, String> {
        let whole = self.the_whole(i64::from(*range.start())..=i64::from(*range.end()))?;
        u8::try_from(whole).map_err(|err| self.refuse(&err.to_string()))
    }

    /// A day as people write it.
    pub(crate) fn the_day(&self) -> Result<NaiveDate, String> {
        let Takes::Day(today, units) = self.takes else { return Err(self.refuse("is no day")) };
        wording::read_day(&self.the_words(), today, units)
            .ok_or_else(|| self.refuse(&format!("write a day such as {}", wording::day_examples(units))))
    }
}

/// The name of a field on the pad: a form may have one label twice.
fn cell_name(at: usize, field: &Field) -> String {
    format!("{} {}", at + 1, field.label)
}

/// What was typed or chosen in fields, by their names.
pub(crate) fn touched(fields: &[Field]) -> Vec<(String, String)> {
    let cell = |(at, field): (usize, &Field)| field.touched().map(|text| (cell_name(at, field), text));
    fields.iter().enumerate().filter_map(cell).collect()
}

/// Puts back what was typed or chosen in fields; which was the last of them.
pub(crate) fn put_back(fields: &mut [Field], typed: &Jotting) -> Option<usize> {
    let mut last = None;
    for (at, field) in fields.iter_mut().enumerate() {
        if let Some(text) = typed.cell(&cell_name(at, field)) {
            field.put_back(text);
            last = Some(at);
        }
    }
    last
}

fn choice_words<T: Answerable>() -> Vec<String> {
    match T::KIND {
        Kind::Choice(words) => words.iter().map(|w| (*w).to_owned()).collect(),
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Depth;

    fn type_in(field: &mut Field, text: &str) {
        for c in text.chars() {
            field.update(Command::Type(c));
        }
    }

    #[test]
    fn a_day_is_typed_whole_or_short_or_counted_and_moved_by_the_arrows() {
        let today = "2026-05-03".parse().unwrap();
        let read = |text: &str| {
            let mut field = Field::day("Until", "", today, (today, Units::Us));
            for _ in 0..20 {
                field.update(Command::Erase);
            }
            type_in(&mut field, text);
            field.the_day().map(|d| d.to_string())
        };
        assert_eq!(read("2027-01-31").as_deref(), Ok("2027-01-31"));
        assert_eq!(read("05-20").as_deref(), Ok("2026-05-20"));
        assert_eq!(read("+10").as_deref(), Ok("2026-05-13"));
        assert_eq!(read("w").as_deref(), Ok("2026-05-10"));
        assert!(read("02-30").unwrap_err().contains("Until: write a day"));
        assert!(read("").is_err());
        let mut field = Field::day("Until", "", today, (today, Units::Us));
        field.update(Command::Left);
        assert_eq!(field.shown(), "May 2, 2026 (Sat)");
        // Typed over what is proposed, whole and in the order of the place; what no day has is refused in words.
        for text in ["October 20, 2026", "20 Oct"] {
            let mut field = Field::day("Until", "", today, (today, Units::Us));
            type_in(&mut field, text);
            assert_eq!(field.given(), Ok(Given::Day("2026-10-20".parse().unwrap())), "{text}");
        }
        let mut field = Field::day("Until", "", today, (today, Units::Us));
        type_in(&mut field, "6/1/2026");
        assert_eq!(field.given(), Ok(Given::Day("2026-06-01".parse().unwrap())));
        assert!(field.refuses('%').unwrap().contains("Until: ") && field.refuses('1').is_none());
    }

    #[test]
    fn a_choice_is_made_by_figure_letter_and_arrow() {
        let mut field = Field::choice("Depth", "", Depth::Deep);
        type_in(&mut field, "2");
        assert_eq!(field.the_choice::<Depth>(), Ok(Depth::Medium));
        type_in(&mut field, "s");
        assert_eq!(field.the_choice::<Depth>(), Ok(Depth::Shallow));
        field.update(Command::Right);
        assert_eq!(field.the_choice::<Depth>(), Ok(Depth::Deep));
        type_in(&mut field, "9z");
        assert_eq!(field.the_choice::<Depth>(), Ok(Depth::Deep));
        // A whole word is one answer, not five.
        type_in(&mut field, "medium");
        assert_eq!(field.the_choice::<Depth>(), Ok(Depth::Medium));
        assert_eq!(field.shown(), "medium");
    }

    #[test]
    fn where_nothing_is_proposed_nothing_stands_until_it_is_chosen() {
        let open = |takes| Asked { label: "Cleared", help: "", takes, value: Given::Open };
        let today = "2026-05-03".parse().unwrap();
        let mut by =
            Field::of(open(model::Takes::Choice(vec!["a".to_owned(), "b".to_owned()])), today, Units::Us);
        assert!(by.given().unwrap_err().contains("Cleared: choose one"));
        by.update(Command::Right);
        assert_eq!(by.given(), Ok(Given::Pick(0)));
        let on = Field::of(open(model::Takes::Day), today, Units::Us);
        assert!(on.given().unwrap_err().contains("write a day"));
    }

    #[test]
    fn numbers_out_of_range_are_refused_with_the_range() {
        let mut field = Field::figures("Frames", "", 10);
        assert_eq!(field.the_count(2..=14), Ok(10));
        type_in(&mut field, "1");
        assert_eq!(field.the_count(1..=14), Ok(1), "the first figure takes the place of what was proposed");
        type_in(&mut field, "00");
        assert!(field.the_count(2..=14).unwrap_err().contains("Frames: write a whole number, 2 to 14"));
        let mut field = Field::figures("Sugar", "", "");
        type_in(&mut field, "2 kg");
        assert_eq!(field.given(), Ok(Given::Words("2 kg".to_owned())));
    }
}
