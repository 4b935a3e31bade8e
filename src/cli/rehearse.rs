//! A rehearsal: a scratch book whose hives are simulated colonies.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::Datelike;
use clap::{Args as ClapArgs, ValueEnum};

use super::{Args, CliError, Surroundings, data_folder, walk};
use crate::model::{Place, Rehearsal, Scenario, Start, Units, visible};
use crate::rehearsal::{Review, plot};
use crate::season::Shift;
use crate::store::{self, BookFolder};
use crate::wording::Where;
use crate::{report, wording};

/// What to rehearse.
#[derive(Debug, Clone, Default, ClapArgs)]
pub struct RehearseArgs {
    /// Hives of a year, 1 to 12
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=12), conflicts_with = "scenario")]
    hives: Option<u8>,
    /// How the hives of a year begin
    #[arg(long, value_name = "HOW", value_enum, conflicts_with = "scenario")]
    start: Option<StartName>,
    /// Where the yard is, as a map gives it: "44.47, -72.69, 650 ft"; 43 N, 86 W where it is not said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true, conflicts_with = "scenario")]
    place: Option<String>,
    /// The same number gives the same weather and colonies
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
    /// One skill in a few visits: a name of --list, or a file of your club
    #[arg(long, value_name = "NAME")]
    scenario: Option<String>,
    /// Begin another; the former one is moved aside, not removed
    #[arg(long)]
    fresh: bool,
    /// Print what really was, once the rehearsal is over
    #[arg(long, conflicts_with_all = ["fresh", "list"])]
    report: bool,
    /// List the scenarios
    #[arg(long)]
    list: bool,
}

/// How hives begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum StartName {
    /// Three pounds of bees and a caged queen
    Package,
    /// Five frames with a laying queen
    Nuc,
    /// Colonies that came through a winter
    Overwintered,
}

/// The folder of a year.
const YEAR: &str = "rehearsal";
/// Hives of a year where none are asked for.
const HIVES: u8 = 4;

pub(super) fn run(
    asked: &RehearseArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<ExitCode, CliError> {
    if asked.list {
        return list(out).map(|()| ExitCode::SUCCESS);
    }
    let scenario = asked.scenario.as_deref().map(scenario).transpose()?;
    let name = scenario.as_ref().map_or_else(|| YEAR.to_owned(), |s| format!("{YEAR}-{}", s.name));
    let folder = data_folder(around)?.join("scratch").join(&name);
    let there = store::rehearsal_in(&folder)?;
    if asked.report {
        return print_report(there, &folder, around, out).map(|()| ExitCode::SUCCESS);
    }
    if !around.is_terminal {
        return Err(CliError::NoTerminal);
    }
    let wants_another =
        asked.hives.is_some() || asked.start.is_some() || asked.seed.is_some() || asked.place.is_some();
    if let (Some(there), true, false) = (&there, wants_another, asked.fresh) {
        let day = wording::day_and_year(Units::Us, there.today);
        return Err(CliError::RehearsalUnderWay { day });
    }
    let (folder, book) = begin(asked, args, scenario, &name, there.is_some(), around)?;
    walk(args, around, folder, book, None)
}

/// The year that is under way, or one with the usual hives: what the first steps offer.
pub(super) fn year(args: &Args, around: &Surroundings) -> Result<ExitCode, CliError> {
    let folder = data_folder(around)?.join("scratch").join(YEAR);
    let is_there = store::rehearsal_in(&folder)?.is_some();
    let (folder, book) = begin(&RehearseArgs::default(), args, None, YEAR, is_there, around)?;
    walk(args, around, folder, book, None)
}

/// The scratch book of the rehearsal: the one that is under way, or another.
fn begin(
    asked: &RehearseArgs,
    args: &Args,
    scenario: Option<Scenario>,
    name: &str,
    is_there: bool,
    around: &Surroundings,
) -> Result<(BookFolder, crate::model::Book), CliError> {
    let year = args.on.unwrap_or_else(|| around.today()).year();
    let rehearsal = if let Some(scenario) = scenario {
        let name = scenario.name.clone();
        plot::of_scenario(scenario, asked.seed, year)
            .ok_or(CliError::NoScenario { asked: name, known: names() })?
    } else {
        let start = match asked.start {
            Some(StartName::Package) => Start::Package,
            Some(StartName::Nuc) => Start::Nuc,
            Some(StartName::Overwintered) | None => Start::Overwintered,
        };
        let seed = asked.seed.unwrap_or_else(|| u64::from(around.seed));
        let place = asked.place.as_deref().map(place).transpose()?;
        plot::whole_year(seed, asked.hives.unwrap_or(HIVES), start, place, year)
    };
    let book = plot::book_of(&rehearsal, Units::Us);
    // One that was killed between its book and its file is begun anew.
    let fresh = asked.fresh || !is_there;
    let (folder, book) = store::unpack(&book, Path::new(name), data_folder(around)?, rehearsal.until, fresh)?;
    if folder.rehearsal()?.is_none() {
        folder.save_rehearsal(&rehearsal)?;
    }
    Ok((folder, book))
}

/// A place whose season is known well enough to be rehearsed.
fn place(text: &str) -> Result<Place, CliError> {
    match wording::read_where(text, Units::Us) {
        Ok(Where::Place(place)) if !Shift::by_place(place).is_guess() => Ok(place),
        Ok(Where::Place(_)) => Err(CliError::NoPlace(
            "a rehearsal knows the seasons of eastern North America, within three weeks of those at 43 N, 86 W".to_owned(),
        )),
        Ok(Where::Freezes(_) | Where::Unsaid) => {
            Err(CliError::NoPlace("write degrees and height, such as 44.47, -72.69, 650 ft".to_owned()))
        }
        Err(why) => Err(CliError::NoPlace(why)),
    }
}

fn names() -> String {
    plot::SCENARIOS.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ")
}

/// A scenario by its name, or from a file.
fn scenario(asked: &str) -> Result<Scenario, CliError> {
    if let Some((name, text)) = plot::SCENARIOS.iter().find(|(name, _)| *name == asked) {
        return Ok(store::scenario_from_text(text, Path::new(name))?);
    }
    let path = PathBuf::from(asked);
    if path.is_file() {
        return Ok(store::read_scenario(&path)?);
    }
    Err(CliError::NoScenario { asked: visible(asked), known: names() })
}

fn list(out: &mut impl Write) -> Result<(), CliError> {
    for (name, text) in plot::SCENARIOS {
        let scenario = store::scenario_from_text(text, Path::new(name))?;
        writeln!(out, "{name}\n  {}: {}", scenario.title, scenario.story)?;
    }
    Ok(())
}

fn print_report(
    there: Option<Rehearsal>,
    folder: &Path,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let Some(rehearsal) = there else { return Err(CliError::NoRehearsal) };
    let (_, book) = BookFolder::open_on(around.files(), folder, rehearsal.until)?;
    let review = Review::of(&rehearsal, &book)
        .ok_or_else(|| CliError::NotOver { until: wording::day_and_year(book.units, rehearsal.until) })?;
    out.write_all(report::review_text(&review, book.units).as_bytes())?;
    Ok(())
}
