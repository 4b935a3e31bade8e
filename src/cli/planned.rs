//! The plan of a day and the weeks ahead: worked out, or as they were kept in the cache while no file of the book has changed.

use std::io::Write;

use chrono::NaiveDate;

use super::progress::Progress;
use super::{Args, CliError, Surroundings, day_of, outputs, read_book_on};
use crate::model::{Book, Folded, Yard, on_every_core};
use crate::plan::{self, DayPlan, Outlook, Weeks, YardPlan};
use crate::report;
use crate::store::{Files, Source};

/// Names in the cache.
const DAY: &str = "day";
const WEEKS: &str = "weeks";

/// A book that is sound, its day, and where what is learned of it is kept.
pub(super) struct Reading {
    pub(super) book: Book,
    pub(super) today: NaiveDate,
    files: Files,
    source: Source,
}

impl Reading {
    pub(super) fn of(args: &Args, around: &Surroundings) -> Result<Self, CliError> {
        let files = around.files();
        let (book, source) = read_book_on(&files, args, around)?;
        let today = day_of(args, around, &book, &source);
        Ok(Self { book, today, files, source })
    }

    /// The plan of the day for some yards; what is kept is that of all.
    pub(super) fn day(&self, folded: &Folded, yards: &[&Yard]) -> DayPlan {
        let mut day = self.files.learned(self.source.path(), DAY, self.today).unwrap_or_else(|| {
            let day = plan::day(&self.book, folded, self.today);
            self.files.keep_learned(self.source.path(), DAY, self.today, &day);
            day
        });
        day.yards.retain(|plan| is_of(yards, plan));
        day
    }

    /// The plan and the weeks ahead of some yards.
    fn ahead(&self, yards: &[&Yard]) -> (DayPlan, Vec<Weeks>) {
        let kept: Option<(DayPlan, Vec<Weeks>)> = self
            .files
            .learned(self.source.path(), DAY, self.today)
            .zip(self.files.learned(self.source.path(), WEEKS, self.today));
        if let Some((day, weeks)) = kept {
            return only(yards, day, weeks);
        }
        let folded = Folded::of(&self.book, self.today);
        let pace = plan::pace(&self.book, folded.as_of);
        // All of a yard on one core, which keeps its hives in mind.
        let progress = Progress::of("yards planned", yards.len());
        let (book, today) = (&self.book, self.today);
        let planned = on_every_core(yards, 1, |yard| {
            let plan = plan::yard_day(book, &folded, yard, today, pace);
            let weeks = Weeks::of(&mut Outlook::of(book, &folded, yard), &plan, today, pace);
            progress.step();
            (plan, weeks)
        });
        drop(progress);
        let (yards, weeks) = planned.into_iter().unzip();
        let day = DayPlan { date: today, pace, yards };
        if day.yards.len() == self.book.yards.len() {
            self.files.keep_learned(self.source.path(), DAY, self.today, &day);
            self.files.keep_learned(self.source.path(), WEEKS, self.today, &weeks);
        }
        (day, weeks)
    }
}

/// Whether a plan is that of one of some yards.
fn is_of(yards: &[&Yard], plan: &YardPlan) -> bool {
    yards.iter().any(|yard| yard.name == plan.yard)
}

/// Of what is known of all yards that of some.
fn only(yards: &[&Yard], day: DayPlan, weeks: Vec<Weeks>) -> (DayPlan, Vec<Weeks>) {
    let DayPlan { date, pace, yards: plans } = day;
    let (yards, weeks) = plans.into_iter().zip(weeks).filter(|(plan, _)| is_of(yards, plan)).unzip();
    (DayPlan { date, pace, yards }, weeks)
}

/// Prints the plan of the day, with what lies ahead.
pub(super) fn print(
    args: &Args,
    around: &Surroundings,
    yard: Option<&str>,
    json: bool,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let reading = Reading::of(args, around)?;
    let yards = outputs::yards(&reading.book, yard)?;
    let (day, weeks) = reading.ahead(&yards);
    let text = if json {
        report::plan_json(&day, &weeks)?
    } else {
        report::plan_text(&day, &weeks, reading.book.units)
    };
    out.write_all(text.as_bytes())?;
    Ok(())
}
