//! Arguments, and the commands that need no screen.

mod args;
mod calc;
mod error;
mod export;
mod man;
mod outputs;
mod planned;
mod progress;
mod rehearse;
mod season;
mod tables;

pub use args::{Args, ColorChoice, Command, ReportName};
pub use error::CliError;

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::model::{Book, PadLine, RuleId, Settings, pad_of, visible};
use crate::session::{OpenBook, Opening};
use crate::store::{self, BookFolder, Config, Files, Source, StoreError};
use crate::tui::Depth;
use crate::{advice, plain, report, tui, wording};
use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use clap::CommandFactory as _;

/// The sample book, so that the demonstration works wherever the program is.
const SAMPLE: &str = include_str!("../../sample-yard.ron");
/// The name its faults are reported under.
const SAMPLE_NAME: &str = "sample-yard.ron";

/// What the program finds around it.
#[derive(Debug, Clone)]
pub struct Surroundings {
    /// Reads the clock.
    pub clock: fn() -> NaiveDateTime,
    /// The offset of the laptop's clock from UTC on a day.
    pub offset: fn(NaiveDate) -> FixedOffset,
    /// A number by which this start differs from another.
    pub seed: u16,
    /// The folder of this user's books, where one is known.
    pub data: Option<PathBuf>,
    /// The folder of this user's settings, where one is known.
    pub config: Option<PathBuf>,
    /// The folder of what may be thrown away, where one is known.
    pub cache: Option<PathBuf>,
    /// Whether there is a terminal to draw on.
    pub is_terminal: bool,
    /// What the terminal can show.
    pub wear: tui::Wear,
    /// The locale, as `de_DE.UTF-8`; empty where none is set.
    pub locale: String,
}

impl Surroundings {
    fn today(&self) -> NaiveDate {
        (self.clock)().date()
    }

    /// The disk, with what was read kept in the cache.
    fn files(&self) -> Files {
        self.cache.as_deref().map_or_else(Files::default, Files::keeping)
    }

    /// With what the arguments say of the look.
    fn with(&self, args: &Args) -> Result<Self, CliError> {
        let mut around = self.clone();
        let asked = match args.color {
            ColorChoice::Auto => None,
            ColorChoice::Never => Some(Depth::Never),
            ColorChoice::Sixteen => Some(Depth::Sixteen),
            ColorChoice::TwoHundredFiftySix => Some(Depth::TwoHundredFiftySix),
            ColorChoice::Full => Some(Depth::Full),
        };
        around.wear.depth = asked.unwrap_or(self.wear.depth);
        if let Some(name) = &args.theme {
            let known = tui::theme_names(&config(self));
            if !known.contains(name) {
                return Err(CliError::NoTheme { asked: name.clone(), known: known.join(", ") });
            }
            around.wear.theme = Some(name.clone());
        }
        Ok(around)
    }
}

/// Runs what was asked.
///
/// # Errors
/// The book or the request is at fault; nothing was changed.
pub fn run(args: &Args, around: &Surroundings, out: &mut impl Write) -> Result<ExitCode, CliError> {
    let around = &around.with(args)?;
    match &args.command {
        None | Some(Command::Walk { plain: false, .. }) => open(args, around),
        Some(Command::Demo { fresh }) => demo(args, around, *fresh),
        Some(Command::Rehearse(asked)) => rehearse::run(asked, args, around, out),
        Some(Command::Plan { yard, json }) => {
            planned::print(args, around, yard.as_deref(), *json, out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Load { yard, json }) => {
            outputs::load(args, around, yard.as_deref(), *json, out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Hive { name, json }) => {
            outputs::hive(args, around, name, *json, out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Export(what)) => export::run(what, args, around, out).map(|()| ExitCode::SUCCESS),
        Some(Command::Import(asked)) => outputs::import(asked, args, around, out),
        Some(Command::Season(asked)) => season::run(asked, args, around, out).map(|()| ExitCode::SUCCESS),
        Some(Command::Calc(asked)) => calc::run(asked, args, around, out).map(|()| ExitCode::SUCCESS),
        Some(Command::Practice { json }) => {
            let (practice, units) = match read_book(args, around) {
                Ok((book, _)) => (book.practice, book.units),
                // Without a book the defaults are what the advice goes by.
                Err(CliError::NoBookYet | CliError::Store(StoreError::NoHome)) => Default::default(),
                Err(err) => return Err(err),
            };
            let text = if *json {
                report::practice_json(&practice)?
            } else {
                report::practice_text(&practice, units)
            };
            out.write_all(text.as_bytes())?;
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Backup { file }) => {
            outputs::backup(file, args, around, out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Restore { file, to }) => {
            outputs::restore(file, to, around, out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Walk { plain: true, yard }) => {
            walk_plain(args, around, yard.as_deref(), out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Completions { shell }) => {
            // The generator panics where it cannot write: a pipe may be closed, and a disk full.
            let mut text = Vec::new();
            clap_complete::generate(*shell, &mut Args::command(), "yardwalk", &mut text);
            out.write_all(&text)?;
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Man { command, to }) => {
            manual(command.as_deref(), to.as_deref(), out).map(|()| ExitCode::SUCCESS)
        }
        Some(Command::Schema { report }) => {
            out.write_all(report::schema(report.reported())?.as_bytes())?;
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Keys) => {
            out.write_all(tui::key_text().as_bytes())?;
            Ok(ExitCode::SUCCESS)
        }
        Some(Command::Check) => check(args, around, out),
        Some(Command::Rules) => {
            for rule in advice::ALL {
                writeln!(out, "{} ({})\n  {}\n  source: {}", rule.id, rule.name, rule.about, rule.source)?;
            }
            Ok(ExitCode::SUCCESS)
        }
    }
}

/// The day to act on: as asked, else a demonstration's own, else today.
fn day_of(args: &Args, around: &Surroundings, book: &Book, source: &Source) -> NaiveDate {
    let own = match source {
        Source::File(_) => book.demo_on,
        Source::Folder(_) => None,
    };
    args.on.or(own).unwrap_or_else(|| around.today())
}

fn data_folder(around: &Surroundings) -> Result<&Path, StoreError> {
    around.data.as_deref().ok_or(StoreError::NoHome)
}

/// Which book is meant: the one named, else the only one there is.
fn book_path(args: &Args, around: &Surroundings) -> Result<PathBuf, CliError> {
    if let Some(named) = &args.book {
        // A bare name may be a book of the data folder.
        let known = around.data.as_ref().map(|data| data.join(named));
        return Ok(match known {
            Some(folder) if !named.exists() && folder.join("yard.ron").is_file() => folder,
            Some(_) | None => named.clone(),
        });
    }
    let data = data_folder(around)?;
    let mut books = store::books_in(data)?;
    match (books.pop(), books.is_empty()) {
        (Some(only), true) => Ok(only),
        (Some(last), false) => {
            books.push(last);
            let names: Vec<_> =
                books.iter().filter_map(|p| p.file_name().map(|n| visible(&n.to_string_lossy()))).collect();
            Err(CliError::ManyBooks { folder: data.to_owned(), names: names.join(", ") })
        }
        (None, _) => Err(CliError::NoBookYet),
    }
}

/// The book that is meant, as far as it holds together. What is left out of it is told on the way of errors, so that a pipe
/// gets what it asked for and the keeper reads that it is without something.
fn read_book(args: &Args, around: &Surroundings) -> Result<(Book, Source), CliError> {
    read_book_on(&around.files(), args, around)
}

/// The same through files that are at hand.
fn read_book_on(files: &Files, args: &Args, around: &Surroundings) -> Result<(Book, Source), CliError> {
    let (book, source, left_out) = store::read_usable_on(files, &book_path(args, around)?, around.today())?;
    files.write_snapshot();
    if let Source::Folder(folder) = &source
        && store::rehearsal_in(folder)?.is_some()
    {
        let _ = writeln!(io::stderr(), "yardwalk: REHEARSAL: these hives are simulated colonies");
    }
    for file in &left_out {
        let _ =
            writeln!(io::stderr(), "yardwalk: without {}\n  to mend: {}", file.words(), visible(&file.mend));
    }
    Ok((book, source))
}

fn refuse_faults(book: &Book, source: &Source, around: &Surroundings) -> Result<(), StoreError> {
    store::refuse_faults(book, source, around.today())
}

/// Prints a manual page, or writes all of them into a folder.
fn manual(command: Option<&str>, to: Option<&Path>, out: &mut impl Write) -> Result<(), CliError> {
    let Some(folder) = to else {
        let page = man::page_of(command)?;
        let page = page.ok_or_else(|| CliError::NoCommand(visible(command.unwrap_or_default())))?;
        out.write_all(&page)?;
        return Ok(());
    };
    for page in man::pages()? {
        let path = folder.join(&page.file);
        store::write_export(&path, &String::from_utf8_lossy(&page.text))?;
        writeln!(out, "wrote {}", visible(&path.display().to_string()))?;
    }
    Ok(())
}

fn check(args: &Args, around: &Surroundings, out: &mut impl Write) -> Result<ExitCode, CliError> {
    let path = book_path(args, around)?;
    let store::Contents { book, source, files, left_out, differences } = store::read_all(&path)?;
    for file in &left_out {
        writeln!(out, "{}\n  to mend: {}", file.words(), visible(&file.mend))?;
    }
    for difference in &differences {
        let mend = "in the program, f on Today, then z on the one to keep";
        writeln!(out, "{}\n  to mend: {mend}", difference.sentence())?;
    }
    let mut faults = book.faults(book.last_day(around.today()));
    faults.extend(unknown_rules(&book));
    let corrections = crate::model::Corrections::of(&book, book.last_day(around.today()));
    let text = report::check_text(
        &book,
        &faults,
        corrections.conflicts(),
        left_out.len() + differences.len(),
        |fault| match &fault.at {
            crate::model::FaultAt::Visit(id) => {
                let file = files.get(id).map_or_else(|| source.file(), |file| source.path().join(file));
                format!("{}: visit `{}`", visible(&file.display().to_string()), visible(id.as_str()))
            }
            crate::model::FaultAt::Yards => visible(&source.file().display().to_string()),
        },
    );
    out.write_all(text.as_bytes())?;
    let is_whole = left_out.is_empty() && differences.is_empty();
    let sound = faults.is_empty() && is_whole && corrections.conflicts().is_empty();
    Ok(if sound { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// Answers to rules that there are none of: a slip of the pen in a hand-written visit.
fn unknown_rules(book: &Book) -> Vec<crate::model::Fault> {
    let unknown = |rule: &RuleId| advice::rule(rule.as_str()).is_none();
    book.visits
        .iter()
        .flat_map(|visit| {
            visit.entries.iter().flat_map(|e| &e.answers).filter(|a| unknown(&a.rule)).map(|a| {
                crate::model::Fault {
                    at: crate::model::FaultAt::Visit(visit.id.clone()),
                    what: format!("answers a rule `{}` that there is none of", a.rule),
                    mend: "write the name of a rule as `yardwalk rules` lists them".to_owned(),
                }
            })
        })
        .collect()
}

/// Opens the program on the book there is, or on the first steps where there is none.
fn open(args: &Args, around: &Surroundings) -> Result<ExitCode, CliError> {
    if !around.is_terminal {
        return Err(CliError::NoTerminal);
    }
    let path = match book_path(args, around) {
        Ok(path) => path,
        Err(CliError::NoBookYet) => {
            let data = data_folder(around)?.to_owned();
            return first_steps(args, around, &data);
        }
        Err(err) => return Err(err),
    };
    if path.is_file() {
        let (book, _) = store::read(&path)?;
        return scratch(args, around, &book, &path, false);
    }
    let files = around.files();
    let glanced = glance(&files, args, around, &path)?;
    let (folder, book) = match BookFolder::open_on(files, &path, around.today()) {
        Err(err) if err.path() == Some(&path.join("yard.ron")) => {
            drop(glanced);
            let (folder, book) = bring_back(&path, err, around)?;
            return walk(args, around, folder, book, None);
        }
        opened => opened?,
    };
    walk(args, around, folder, book, glanced)
}

/// Shows the first screen of the day before the book is read, where it is known to be what it was.
fn glance(
    files: &Files,
    args: &Args,
    around: &Surroundings,
    path: &Path,
) -> Result<Option<tui::Glanced>, CliError> {
    let today = around.today();
    let emergency = store::emergency_folders(around.data.as_deref());
    let Some(kept) = files.glance(path, args.on.unwrap_or(today), today, &emergency) else { return Ok(None) };
    Ok(tui::glance(kept, &config(around), &around.wear)?)
}

/// Offers the last good `yard.ron` in the place of one that cannot be read.
fn bring_back(path: &Path, err: StoreError, around: &Surroundings) -> Result<(BookFolder, Book), CliError> {
    let Some(former) = store::last_good(path)? else { return Err(err.into()) };
    let hives: usize = former.book.yards.iter().map(|yard| yard.hives.len()).sum();
    let offered = tui::Offered {
        fault: wording::sentence(&format!("yard.ron: {}", visible(&err.what()))),
        former: crate::model::file_words(&former.file),
        holds: format!(
            "{} and {}",
            wording::count(former.book.yards.len(), "yard"),
            wording::count(hives, "hive")
        ),
    };
    if !tui::bring_back(config(around), around.wear.clone(), &offered)? {
        return Err(err.into());
    }
    store::bring_back(path, &former)?;
    Ok(BookFolder::open(path, around.today())?)
}

fn first_steps(args: &Args, around: &Surroundings, data: &Path) -> Result<ExitCode, CliError> {
    let (mut pad, lines) = store::Pad::of_first_steps(data)?;
    let today = args.on.unwrap_or_else(|| around.today());
    let (typed, _) = pad_of(lines, today);
    // A disk that refuses it costs what is typed here at a kill and nothing else: there is no book to speak of it in.
    let mut keep = |jotting| drop(pad.append(&PadLine::Typed(jotting)));
    // Not kept, the colors are asked for anew at the next start: no reason to stop here.
    let mut wear_on = |settings: &Settings| {
        if let Some(folder) = &around.config {
            let _ = store::write_settings(folder, settings);
        }
    };
    match tui::welcome(config(around), around.wear.clone(), today, typed.last(), &mut keep, &mut wear_on)? {
        tui::Welcomed::Left => Ok(ExitCode::SUCCESS),
        tui::Welcomed::Demo => demo(args, around, false),
        tui::Welcomed::Rehearsal => rehearse::year(args, around),
        tui::Welcomed::NewBook(mut book) => {
            // Told from another book of the same keeper by when it was begun.
            let begun = format!("{} {} {}", book.keeper, (around.clock)(), around.seed);
            book.id = Some(crate::model::mark(&begun));
            let path = data.join("bees");
            BookFolder::create(&path, &book)?;
            // They are done; a leftover would only be offered once more where the book is taken away.
            let _ = pad.write_anew(&[]);
            let (folder, book) = BookFolder::open(&path, around.today())?;
            walk(args, around, folder, book, None)
        }
    }
}

fn demo(args: &Args, around: &Surroundings, fresh: bool) -> Result<ExitCode, CliError> {
    if !around.is_terminal {
        return Err(CliError::NoTerminal);
    }
    let book = store::book_from_text(SAMPLE, Path::new(SAMPLE_NAME))?;
    scratch(args, around, &book, Path::new(SAMPLE_NAME), fresh)
}

fn scratch(
    args: &Args,
    around: &Surroundings,
    book: &Book,
    from: &Path,
    fresh: bool,
) -> Result<ExitCode, CliError> {
    let (folder, book) = store::unpack(book, from, data_folder(around)?, around.today(), fresh)?;
    walk(args, around, folder, book, None)
}

/// What the folder of settings holds; the defaults where there is none.
fn config(around: &Surroundings) -> Config {
    let mut config = around.config.as_deref().map_or_else(Config::default, store::read_config);
    // Nothing is chosen yet: a dark ground is kept where the terminal says it has one.
    if !config.is_set {
        config.settings.is_night = around.wear.is_dark == Some(true);
    }
    config
}

/// Walks a yard line by line on standard input and output.
fn walk_plain(
    args: &Args,
    around: &Surroundings,
    yard: Option<&str>,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let path = book_path(args, around)?;
    let (folder, book) = if path.is_file() {
        let (book, _) = store::read(&path)?;
        store::unpack(&book, &path, data_folder(around)?, around.today(), false)?
    } else {
        BookFolder::open(&path, around.today())?
    };
    let yard = match yard {
        Some(asked) => Some(book.yard(asked).map(|y| y.name.clone()).ok_or_else(|| CliError::NoYard {
            asked: asked.to_owned(),
            known: book.yards.iter().map(|y| y.name.to_string()).collect::<Vec<_>>().join(", "),
        })?),
        None => None,
    };
    if folder.rehearsal()?.is_some() {
        writeln!(
            out,
            "REHEARSAL: these hives are simulated colonies; only the screen asks them what is seen."
        )?;
    }
    let opening = opening(args, around, &book);
    let open = OpenBook::open(folder, book, config(around).settings, &opening)?;
    if plain::walk(open, around.clock, yard.as_ref(), &mut io::stdin().lock(), out)? {
        return Ok(());
    }
    Err(CliError::NotOnDisk)
}

fn opening(args: &Args, around: &Surroundings, book: &Book) -> Opening {
    let today = args.on.or(book.demo_on).unwrap_or_else(|| around.today());
    Opening {
        today,
        clock: around.clock,
        offset: around.offset,
        seed: around.seed,
        config: around.config.clone(),
        emergency: store::emergency_folders(around.data.as_deref()),
    }
}

fn walk(
    args: &Args,
    around: &Surroundings,
    folder: BookFolder,
    book: Book,
    glanced: Option<tui::Glanced>,
) -> Result<ExitCode, CliError> {
    let opening = opening(args, around, &book);
    let config = config(around);
    let open = OpenBook::open(folder, book, config.settings.clone(), &opening)?;
    tui::walk_from(glanced, open, config, around.wear.clone(), around.clock)?;
    Ok(ExitCode::SUCCESS)
}
