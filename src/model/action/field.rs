//! The fields of an action: what is asked for, with the value proposed, and what was given in answer.
//!
//! A front end shows each [`Asked`] as it likes and hands back one [`Given`] for each, in the same order.

use std::ops::RangeInclusive;
use std::slice::Iter;

use chrono::NaiveDate;

use crate::model::answerable::{Answerable, Kind, Value};
use crate::model::hive::{FeederKind, HiveBox, Mark, Queen, QueenStatus};
use crate::model::medicine::{LONGEST_PART, LONGEST_WITHDRAWAL, Medicine};
use crate::model::names::{HiveId, LONGEST_NAME};
use crate::model::units::{Mass, Units, Volume};

/// What a field takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Takes {
    /// Words, at most so many characters.
    Words(usize),
    /// A number, with its unit where it has one.
    Figures,
    /// One of these words.
    Choice(Vec<String>),
    /// A day.
    Day,
}

/// What stands in a field: proposed, typed or chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// Words or figures as typed.
    Words(String),
    /// The position of a choice.
    Pick(usize),
    /// A day.
    Day(NaiveDate),
    /// Nothing: it is not proposed, and has to be filled in.
    Open,
}

/// One field to fill in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The words beside the field.
    pub label: &'static str,
    /// What may stand in it, in a few words.
    pub help: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What is proposed.
    pub value: Given,
}

/// What fields are read with: the book's units, the day, and the other hives of the yard.
#[derive(Debug, Clone)]
pub struct About<'a> {
    /// The units a bare number is in.
    pub units: Units,
    /// The day.
    pub today: NaiveDate,
    /// The other living hives of the yard, which a union can choose from.
    pub neighbours: &'a [HiveId],
    /// What is filled in.
    pub asking: Asking,
}

/// Where the action comes from whose fields are filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asking {
    /// From the list of all that can be logged: no amount is known.
    Listed,
    /// From a prompt, which says how much.
    Prompted,
    /// It is logged already and is to be changed.
    Logged,
}

/// A row's words for one field, with its range where it is a whole number.
#[derive(Debug, Clone)]
pub(in crate::model) struct Spec {
    pub(super) label: &'static str,
    pub(super) help: &'static str,
    pub(super) range: RangeInclusive<u8>,
    /// Whether a hive is named that is yet to be set up, and so cannot be chosen.
    pub(super) new: bool,
    /// Whether nothing is proposed, so that no key held down can fill it in.
    pub(super) open: bool,
    /// Whether only the keeper knows it, unless a prompt says how much.
    pub(super) own: bool,
}

/// A type that can stand as a field of an action.
pub(in crate::model) trait Askable: Sized {
    /// The field or fields that ask for it, with this value proposed.
    fn asks(&self, spec: &Spec, about: &About<'_>) -> Vec<Asked>;
    /// The value given, or why it cannot be, in a sentence that names the field.
    fn given(&self, spec: &Spec, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String>;
    /// The hive it names, where it names one.
    fn named_hive(&mut self) -> Option<&mut HiveId> {
        None
    }
    /// What is wrong with a value read from a file.
    fn out_of_range(&self, _spec: &Spec) -> Option<String> {
        None
    }
}

impl Spec {
    /// Leaves open what is not to be proposed.
    pub(super) fn opened(&self, asks: Vec<Asked>, about: &About<'_>) -> Vec<Asked> {
        let is_open = match about.asking {
            Asking::Listed => self.open || self.own,
            Asking::Prompted => self.open,
            Asking::Logged => false,
        };
        let open = |asked: Asked| if is_open { Asked { value: Given::Open, ..asked } } else { asked };
        asks.into_iter().map(open).collect()
    }

    fn one(&self, takes: Takes, value: Given) -> Vec<Asked> {
        vec![Asked { label: self.label, help: self.help, takes, value }]
    }

    fn figures(&self, shown: String) -> Vec<Asked> {
        self.one(Takes::Figures, Given::Words(shown))
    }

    fn refuse(&self, why: impl std::fmt::Display) -> String {
        format!("{}: {why}", self.label)
    }

    fn words(&self, given: &mut Iter<'_, Given>) -> Result<String, String> {
        match given.next() {
            Some(Given::Words(words)) => Ok(words.trim().to_owned()),
            Some(Given::Pick(_) | Given::Day(_) | Given::Open) | None => Err(self.refuse("write it out")),
        }
    }

    fn pick(&self, given: &mut Iter<'_, Given>) -> Result<usize, String> {
        match given.next() {
            Some(Given::Pick(at)) => Ok(*at),
            Some(Given::Words(_) | Given::Day(_) | Given::Open) | None => Err(self.refuse("choose one")),
        }
    }

    fn day(&self, given: &mut Iter<'_, Given>) -> Result<NaiveDate, String> {
        match given.next() {
            Some(Given::Day(day)) => Ok(*day),
            Some(Given::Words(_) | Given::Pick(_) | Given::Open) | None => Err(self.refuse("choose a day")),
        }
    }
}

fn words_of<T: Answerable>() -> Vec<String> {
    match T::KIND {
        Kind::Choice(words) => words.iter().map(|w| (*w).to_owned()).collect(),
        Kind::YesNo | Kind::Count(_) | Kind::Frames(_) | Kind::Percent | Kind::Mass | Kind::Temperature => {
            Vec::new()
        }
    }
}

fn place_of<T: Answerable>(value: T) -> usize {
    match value.value() {
        Value::Choice(at) => at,
        Value::YesNo(_)
        | Value::Count(_)
        | Value::Frames(_)
        | Value::Percent(_)
        | Value::Mass(_)
        | Value::Temperature(_) => 0,
    }
}

/// A choice of the model, asked for by its words.
macro_rules! askable_choices {
    ($($ty:ty),+ $(,)?) => { $(
        impl Askable for $ty {
            fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
                spec.one(Takes::Choice(words_of::<Self>()), Given::Pick(place_of(*self)))
            }
            fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
                Self::from_value(Value::Choice(spec.pick(given)?)).ok_or_else(|| spec.refuse("choose one"))
            }
        }
    )+ };
}
askable_choices!(
    super::Mix,
    super::Treatment,
    super::Loss,
    super::Level,
    super::Authority,
    crate::model::hive::Depth,
    crate::model::hive::Role,
    crate::model::hive::Entrance,
    crate::model::hive::Origin,
);

impl Askable for bool {
    fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
        spec.one(Takes::Choice(vec!["yes".to_owned(), "no".to_owned()]), Given::Pick(usize::from(!*self)))
    }
    fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        Ok(spec.pick(given)? == 0)
    }
}

impl Askable for u8 {
    fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
        spec.figures(self.to_string())
    }
    fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        let (least, most) = (spec.range.start(), spec.range.end());
        let number = spec.words(given)?.parse().ok().filter(|n| spec.range.contains(n));
        number.ok_or_else(|| spec.refuse(format!("write a whole number, {least} to {most}")))
    }
    fn out_of_range(&self, spec: &Spec) -> Option<String> {
        let (least, most) = (spec.range.start(), spec.range.end());
        let label = spec.label.to_lowercase();
        (!spec.range.contains(self)).then(|| format!("{label} {self}: it must be {least} to {most}"))
    }
}

impl Askable for Option<FeederKind> {
    fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
        let words = [vec!["none".to_owned()], words_of::<FeederKind>()].concat();
        spec.one(Takes::Choice(words), Given::Pick(self.map_or(0, |kind| place_of(kind) + 1)))
    }
    fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        let at = spec.pick(given)?;
        Ok(at.checked_sub(1).and_then(|at| FeederKind::from_value(Value::Choice(at))))
    }
}

impl Askable for Volume {
    fn asks(&self, spec: &Spec, about: &About<'_>) -> Vec<Asked> {
        spec.figures(about.units.volume(*self))
    }
    fn given(&self, spec: &Spec, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        Self::parse_in(&spec.words(given)?, about.units).map_err(|err| spec.refuse(err))
    }
}

impl Askable for Mass {
    fn asks(&self, spec: &Spec, about: &About<'_>) -> Vec<Asked> {
        spec.figures(about.units.mass(*self))
    }
    fn given(&self, spec: &Spec, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        Self::parse_in(&spec.words(given)?, about.units).map_err(|err| spec.refuse(err))
    }
}

impl Askable for Option<Mass> {
    fn asks(&self, spec: &Spec, about: &About<'_>) -> Vec<Asked> {
        spec.figures(self.map_or_else(String::new, |mass| about.units.mass(mass)))
    }
    fn given(&self, spec: &Spec, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        match spec.words(given)?.as_str() {
            "" => Ok(None),
            text => Mass::parse_in(text, about.units).map(Some).map_err(|err| spec.refuse(err)),
        }
    }
}

impl Askable for NaiveDate {
    fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
        spec.one(Takes::Day, Given::Day(*self))
    }
    fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        spec.day(given)
    }
}

/// Longest words of the keeper's own in an action, in characters.
const LONGEST_WORDS: usize = 120;

impl Askable for String {
    fn asks(&self, spec: &Spec, _: &About<'_>) -> Vec<Asked> {
        spec.one(Takes::Words(LONGEST_WORDS), Given::Words(self.clone()))
    }
    fn given(&self, spec: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        let words = spec.words(given)?;
        if words.is_empty() { Err(spec.refuse("say it in a few words")) } else { Ok(words) }
    }
}

/// Another hive of the yard where there is one to choose from, else a name to be typed.
impl Askable for HiveId {
    fn named_hive(&mut self) -> Option<&mut HiveId> {
        Some(self)
    }
    fn asks(&self, spec: &Spec, about: &About<'_>) -> Vec<Asked> {
        if spec.new || about.neighbours.is_empty() {
            return spec.one(Takes::Words(LONGEST_NAME), Given::Words(self.as_str().to_owned()));
        }
        let at = about.neighbours.iter().position(|h| h == self).unwrap_or(0);
        let names = about.neighbours.iter().map(ToString::to_string).collect();
        spec.one(Takes::Choice(names), Given::Pick(at))
    }
    fn given(&self, spec: &Spec, about: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        if spec.new || about.neighbours.is_empty() {
            let name = Self::new(spec.words(given)?);
            return match name.fault() {
                Some(fault) => Err(spec.refuse(format!("the name {fault}"))),
                None => Ok(name),
            };
        }
        about.neighbours.get(spec.pick(given)?).cloned().ok_or_else(|| spec.refuse("choose one"))
    }
}

/// The boxes are made in a picture, not in fields.
impl Askable for Vec<HiveBox> {
    fn asks(&self, _: &Spec, _: &About<'_>) -> Vec<Asked> {
        Vec::new()
    }
    fn given(&self, _: &Spec, _: &About<'_>, _: &mut Iter<'_, Given>) -> Result<Self, String> {
        Ok(self.clone())
    }
}

impl Askable for Queen {
    fn asks(&self, _: &Spec, about: &About<'_>) -> Vec<Asked> {
        queen_asks(self, about.today)
    }
    fn given(&self, _: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        queen_given(given)
    }
}

impl Askable for Medicine {
    fn asks(&self, _: &Spec, _: &About<'_>) -> Vec<Asked> {
        medicine_asks(self)
    }
    fn given(&self, _: &Spec, _: &About<'_>, given: &mut Iter<'_, Given>) -> Result<Self, String> {
        let record = medicine_given(given)?;
        if record.is_empty() { Err(PRODUCT.refuse("write down at least one part")) } else { Ok(record) }
    }
}

const PRODUCT: Spec = spec("Product", "as its package calls it; empty if you keep no record");
const AMOUNT: Spec = spec("Amount", "as 2 strips, or 50 mL");
const LOT: Spec = spec("Lot", "the lot or batch on the package");
const WITHDRAWAL: Spec = spec("Honey held back", "days after its end, as the label says");
const GIVEN_BY: Spec = spec("Given by", "who gave it");

/// The fields that ask for the record of a treatment, with what is written down filled in.
pub fn medicine_asks(record: &Medicine) -> Vec<Asked> {
    let words = |spec: &Spec, text: &str| spec.one(Takes::Words(LONGEST_PART), Given::Words(text.to_owned()));
    let days = record.withdrawal_days.map_or_else(String::new, |days| days.to_string());
    [
        words(&PRODUCT, &record.product),
        words(&AMOUNT, &record.amount),
        words(&LOT, &record.lot),
        WITHDRAWAL.figures(days),
        words(&GIVEN_BY, &record.by),
    ]
    .concat()
}

/// The record the fields of [`medicine_asks`] were filled in with; nothing in it where all were left empty.
///
/// # Errors
/// Says which field cannot be read, and how it is written.
pub fn medicine_given(given: &mut Iter<'_, Given>) -> Result<Medicine, String> {
    let (product, amount, lot) = (PRODUCT.words(given)?, AMOUNT.words(given)?, LOT.words(given)?);
    let withdrawal_days =
        match WITHDRAWAL.words(given)?.as_str() {
            "" => None,
            text => Some(text.parse::<u16>().ok().filter(|days| *days <= LONGEST_WITHDRAWAL).ok_or_else(
                || WITHDRAWAL.refuse(format!("write days, 0 to {LONGEST_WITHDRAWAL}, or leave it empty")),
            )?),
        };
    let record = Medicine { product, amount, lot, withdrawal_days, by: GIVEN_BY.words(given)? };
    match record.fault() {
        Some(fault) => Err(format!("The record {fault}")),
        None => Ok(record),
    }
}

/// A field without a range.
pub(super) const fn spec(label: &'static str, help: &'static str) -> Spec {
    Spec { label, help, range: 0..=u8::MAX, new: false, open: false, own: false }
}

const STATUS: Spec = spec("Queen", "what you know of her");
const YEAR: Spec = spec("Raised in", "the year; empty if not known");
const MARK: Spec = spec("Mark", "the color goes with the last figure of the year");
const COMES_FROM: Spec = spec("Comes from", "in your words");
const SINCE: Spec = spec("Queen since", "the day this began");

/// The fields that ask for a queen, with what is known of her filled in.
pub fn queen_asks(queen: &Queen, today: NaiveDate) -> Vec<Asked> {
    let marks = [vec!["none".to_owned()], words_of::<Mark>()].concat();
    let year = queen.year.map_or_else(String::new, |y| y.to_string());
    [
        STATUS.one(Takes::Choice(words_of::<QueenStatus>()), Given::Pick(place_of(queen.status))),
        YEAR.figures(year),
        MARK.one(Takes::Choice(marks), Given::Pick(queen.mark.map_or(0, |m| place_of(m) + 1))),
        COMES_FROM.one(Takes::Words(60), Given::Words(queen.origin.clone())),
        SINCE.one(Takes::Day, Given::Day(queen.since.unwrap_or(today))),
    ]
    .concat()
}

/// The queen the fields of [`queen_asks`] were filled in with.
///
/// # Errors
/// Says which field cannot be read, and how it is written.
pub fn queen_given(given: &mut Iter<'_, Given>) -> Result<Queen, String> {
    let status = QueenStatus::from_value(Value::Choice(STATUS.pick(given)?));
    let status = status.ok_or_else(|| STATUS.refuse("choose one"))?;
    let year = match YEAR.words(given)?.as_str() {
        "" => None,
        text => Some(
            text.parse::<i32>()
                .ok()
                .filter(|year| (1990..=2200).contains(year))
                .ok_or_else(|| YEAR.refuse("write a year, 1990 to 2200, or leave it empty"))?,
        ),
    };
    let mark = MARK.pick(given)?.checked_sub(1).and_then(|at| Mark::from_value(Value::Choice(at)));
    let origin = COMES_FROM.words(given)?;
    let since = SINCE.day(given)?;
    Ok(Queen { status, year, mark, origin, since: Some(since) })
}
