//! `yardwalk season`: the year of a yard of the book, or of any place.

use std::io::Write;

use chrono::NaiveDate;
use clap::Args as ClapArgs;

use super::{Args, CliError, Surroundings, day_of, read_book};
use crate::model::{
    Book, DayOfYear, Elevation, Folded, FreezeDates, Place, Practice, Units, Yard, YardId, visible,
};
use crate::report;
use crate::season::Calendar;
use crate::{plan, store};

/// Which place's year, and how to print it.
#[derive(Debug, Clone, ClapArgs)]
pub struct SeasonArgs {
    /// A yard of the book; all of them where none is named
    #[arg(long, value_name = "NAME", conflicts_with_all = ["lat", "lon", "elev", "last_freeze", "first_freeze"])]
    yard: Option<String>,
    /// Degrees north; south is negative
    #[arg(long, value_name = "N", allow_negative_numbers = true, requires_all = ["lon", "elev"])]
    lat: Option<f64>,
    /// Degrees east; west is negative
    #[arg(long, value_name = "N", allow_negative_numbers = true, requires = "lat")]
    lon: Option<f64>,
    /// Height above the sea with its unit, such as 300ft or 90m
    #[arg(long, value_name = "HEIGHT", allow_negative_numbers = true, requires = "lat")]
    elev: Option<Elevation>,
    /// Average last freeze of spring, month and day
    #[arg(long, value_name = "MM-DD", requires = "first_freeze")]
    last_freeze: Option<DayOfYear>,
    /// Average first freeze of autumn, month and day
    #[arg(long, value_name = "MM-DD", requires = "last_freeze")]
    first_freeze: Option<DayOfYear>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

impl SeasonArgs {
    /// The place given by its figures, as a yard without hives.
    fn place(&self) -> Option<Yard> {
        let place = self.lat.zip(self.lon).zip(self.elev).map(|((latitude, longitude), elevation)| Place {
            latitude,
            longitude,
            elevation,
        });
        let freezes = self
            .last_freeze
            .zip(self.first_freeze)
            .map(|(last_spring, first_autumn)| FreezeDates { last_spring, first_autumn });
        (place.is_some() || freezes.is_some()).then(|| Yard {
            place,
            freezes,
            ..Yard::named(YardId::new("the place given"))
        })
    }
}

/// Prints the year of a place or of the book's yards.
pub(super) fn run(
    asked: &SeasonArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    if let Some(yard) = asked.place() {
        if let Some(fault) = yard.faults().into_iter().next() {
            return Err(CliError::NoPlace(fault));
        }
        let today = args.on.unwrap_or_else(|| around.today());
        let calendar = Calendar::of(&yard, &Practice::default(), &[], today);
        return print(asked, around, &yard, &calendar, Units::Us, today, out);
    }
    let (book, source) = match read_book(args, around) {
        // Without a book the reference year is what there is to show.
        Err(CliError::NoBookYet | CliError::Store(store::StoreError::NoHome)) if asked.yard.is_none() => {
            let today = args.on.unwrap_or_else(|| around.today());
            let yard = Yard::named(YardId::new("the reference place"));
            let calendar = Calendar::of(&yard, &Practice::default(), &[], today);
            return print(asked, around, &yard, &calendar, Units::Us, today, out);
        }
        other => other?,
    };
    let today = day_of(args, around, &book, &source);
    let folded = Folded::of(&book, today);
    let yards: Vec<&Yard> = match &asked.yard {
        Some(name) => vec![book.yard(name).ok_or_else(|| no_yard(&book, name))?],
        None => book.yards.iter().collect(),
    };
    if asked.json && yards.len() != 1 {
        return Err(CliError::OneYard { known: known(&book) });
    }
    for (at, yard) in yards.into_iter().enumerate() {
        if at > 0 {
            writeln!(out)?;
        }
        let calendar = plan::calendar(&book, &folded, yard, today);
        print(asked, around, yard, &calendar, book.units, today, out)?;
    }
    Ok(())
}

fn print(
    asked: &SeasonArgs,
    around: &Surroundings,
    yard: &Yard,
    calendar: &Calendar,
    units: Units,
    today: NaiveDate,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let laptop = (around.offset)(today);
    let text = if asked.json {
        report::season_json(yard, calendar, today, laptop)?
    } else {
        report::season_text(yard, calendar, units, today, laptop)
    };
    out.write_all(text.as_bytes())?;
    Ok(())
}

/// The names of a book's yards, in words.
pub(super) fn known(book: &Book) -> String {
    book.yards.iter().map(|y| visible(y.name.as_str())).collect::<Vec<_>>().join(", ")
}

/// The error for a yard that is not there.
pub(super) fn no_yard(book: &Book, asked: &str) -> CliError {
    CliError::NoYard { asked: visible(asked), known: known(book) }
}
