//! The arguments: one definition feeds the parser, the help, the completions and the manual page.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Parser, Subcommand};

use super::{calc, export, outputs, rehearse, season};
use crate::report::Reported;

/// Shown under the help.
const EXAMPLES: &str = "\
Examples:
  yardwalk                                   open your book, or begin one
  yardwalk demo                              look around in an invented keeper's book
  yardwalk rehearse                          practice a year; no bees are at stake
  yardwalk plan --on 2026-05-03              what is due on a day, as text
  yardwalk load --yard Creek                 what to put on the truck
  yardwalk export ics --to bees.ics          dates for a calendar program
  yardwalk walk --plain                      the visit line by line
  yardwalk completions bash > ~/.local/share/bash-completion/completions/yardwalk
  yardwalk man --to ~/.local/share/man/man1  the manual pages";

/// Walks you through the bee yard: what each hive needs now and why, what was done, and the plan that follows.
#[derive(Debug, Parser)]
#[command(version, about, arg_required_else_help = false, max_term_width = 100, after_help = EXAMPLES)]
pub struct Args {
    /// A book folder, its name, or a whole-book file such as sample-yard.ron
    #[arg(long, global = true, value_name = "PATH")]
    pub book: Option<PathBuf>,
    /// Act as if it were this day (YYYY-MM-DD); what was logged later is left out
    #[arg(long, global = true, value_name = "DATE")]
    pub on: Option<NaiveDate>,
    /// Write what the program does and what went wrong to this file, to be sent with a question; no names of yours stand in it
    #[arg(long, global = true, value_name = "FILE")]
    pub log: Option<PathBuf>,
    /// How many colors to draw with; auto goes by `COLORTERM`, `TERM` and `NO_COLOR`
    #[arg(long, global = true, value_name = "HOW", value_enum, default_value = "auto")]
    pub color: ColorChoice,
    /// The theme to begin with: a built-in one or one of yours
    #[arg(long, global = true, value_name = "NAME")]
    pub theme: Option<String>,
    /// What to do; without it the program opens on the yard
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// How many colors to draw with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum ColorChoice {
    /// As many as the terminal says it has
    Auto,
    /// The sixteen that have names
    #[value(name = "16")]
    Sixteen,
    /// The 256 of xterm's palette
    #[value(name = "256")]
    TwoHundredFiftySix,
    /// Any, of 24 bits
    Full,
    /// None
    Never,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Open the sample book, unpacked into a scratch book
    Demo {
        /// Start over; the former scratch book is moved aside, not removed
        #[arg(long)]
        fresh: bool,
    },
    /// Rehearse a year or one skill in a scratch yard of simulated colonies, which answer what you look at
    Rehearse(rehearse::RehearseArgs),
    /// Walk a yard: on the screen, or with --plain line by line, without boxes or color
    Walk {
        /// Line by line on standard input and output, for screen readers and slow links
        #[arg(long)]
        plain: bool,
        /// This yard
        #[arg(long, value_name = "NAME", requires = "plain")]
        yard: Option<String>,
    },
    /// Print which hives need what on the day
    Plan {
        /// This yard only
        #[arg(long, value_name = "NAME")]
        yard: Option<String>,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Print what the truck must carry on the day
    Load {
        /// This yard only
        #[arg(long, value_name = "NAME")]
        yard: Option<String>,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Print a hive's card: what it is, what it needs, how it stands against its dates, its history
    Hive {
        /// The hive
        name: String,
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Write the book, or a part of it, for other programs
    Export(export::ExportArgs),
    /// Add hives from a table, or make a book from a whole-book file
    Import(outputs::ImportArgs),
    /// Print the dates of the bee year at a yard or any place, each with where it comes from
    Season(season::SeasonArgs),
    /// Work out a sum: a wash, a syrup, stores, moisture, a queen's days, strength; no book is needed
    Calc(calc::CalcArgs),
    /// Print the thresholds and dates the advice goes by, each with where it comes from
    Practice {
        /// As JSON
        #[arg(long)]
        json: bool,
    },
    /// Write the whole book to a new file, and read it back
    Backup {
        /// The file; it must not be there yet
        file: PathBuf,
    },
    /// Make a book folder from a backup; nothing is written over
    Restore {
        /// The backup
        file: PathBuf,
        /// The folder; it must not be there yet
        #[arg(long, value_name = "FOLDER")]
        to: PathBuf,
    },
    /// Read the whole book and list every fault
    Check,
    /// List the rules: when each speaks, and where it is from
    Rules,
    /// Print the keys of every screen
    Keys,
    /// Print a shell's completions: bash, elvish, fish, powershell or zsh
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page, of the program or of one command
    Man {
        /// The command: plan, or "export ics"; the whole program where none is named
        command: Option<String>,
        /// A folder for the pages of the program and of every command
        #[arg(long, value_name = "FOLDER", conflicts_with = "command")]
        to: Option<PathBuf>,
    },
    /// Print the form of a JSON report (JSON Schema), for programs that read it
    Schema {
        /// The report
        #[arg(value_enum)]
        report: ReportName,
    },
}

/// A JSON report by its command.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum ReportName {
    /// `plan --json`
    Plan,
    /// `load --json`
    Load,
    /// `hive --json`
    Hive,
    /// `season --json`
    Season,
    /// `practice --json`
    Practice,
    /// `calc --json`
    Calc,
}

impl ReportName {
    /// The report it names.
    pub(super) fn reported(self) -> Reported {
        match self {
            Self::Plan => Reported::Plan,
            Self::Load => Reported::Load,
            Self::Hive => Reported::Hive,
            Self::Season => Reported::Season,
            Self::Practice => Reported::Practice,
            Self::Calc => Reported::Calc,
        }
    }
}
