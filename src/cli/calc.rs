//! `yardwalk calc`: sums that need no book.

use std::io::Write;

use chrono::NaiveDate;
use clap::{Args as ClapArgs, Subcommand, ValueEnum};

use super::{Args, CliError, Surroundings};
use crate::colony::brood::Beginning;
use crate::colony::strength::FrameSize;
use crate::model::{Depth, HiveBox, Mass, Practice, Temperature, Units};
use crate::report::calc::{self, MixedBy, Sum};
use crate::report::calc_ask;

/// Which sum, and how to print it.
#[derive(Debug, Clone, ClapArgs)]
pub struct CalcArgs {
    /// The sum
    #[command(subcommand)]
    sum: Which,
    /// As JSON, each figure's unit beside it
    #[arg(long, global = true)]
    json: bool,
    /// Days in words as `3 May` in place of `May 3`
    #[arg(long, global = true)]
    metric: bool,
}

#[derive(Debug, Clone, Subcommand)]
enum Which {
    /// Mites of a wash: the rate, its doubt, the chance of being over a limit
    Wash {
        /// Mites counted
        #[arg(long)]
        mites: u16,
        /// Bees in the jar
        #[arg(long, default_value_t = 300)]
        bees: u16,
        /// Your limit, mites per 100 bees
        #[arg(long, default_value_t = 2.0)]
        limit: f64,
        /// The day of the wash
        #[arg(long, value_name = "DATE", requires = "by")]
        on: Option<NaiveDate>,
        /// The day it is carried forward to
        #[arg(long, value_name = "DATE", requires = "on")]
        by: Option<NaiveDate>,
    },
    /// A syrup: water for the sugar, what it makes, how thick it is
    Syrup {
        /// Sugar, with its unit: 10lb or 5kg
        #[arg(long)]
        sugar: Mass,
        /// Sugar to water: 1:1 or 2:1
        #[arg(long, value_parser = calc_ask::ratio, default_value = "1:1")]
        mix: f64,
        /// How it is measured
        #[arg(long, value_enum, default_value_t = By::Weight)]
        by: By,
    },
    /// Stores from the two sides of a hive, lifted by a scale
    Stores {
        /// Left side, with its unit
        #[arg(long)]
        left: Mass,
        /// Right side, with its unit
        #[arg(long)]
        right: Mass,
        /// Boxes of ten frames, bottom to top: deep,deep or deep,medium
        #[arg(long, value_parser = boxes)]
        boxes: Boxes,
        /// Frames of bees; a winter cluster where it is left out
        #[arg(long)]
        bees: Option<f64>,
    },
    /// Water of honey from a refractometer, and its grade
    Moisture {
        /// Refractive index
        #[arg(long, conflicts_with = "brix", required_unless_present = "brix")]
        nd: Option<f64>,
        /// Brix, where the scale shows that
        #[arg(long)]
        brix: Option<f64>,
        /// Temperature of the reading, with its unit
        #[arg(long, default_value = "20C")]
        at: Temperature,
    },
    /// A queen's days, from how she begins
    Queen {
        /// How she begins
        #[arg(long, value_enum)]
        event: Event,
        /// The day
        #[arg(long, value_name = "DATE")]
        date: NaiveDate,
    },
    /// Frames of bees some days on
    Strength {
        /// Frames of bees
        #[arg(long)]
        bees: f64,
        /// Frames of brood
        #[arg(long)]
        brood: f64,
        /// The frame
        #[arg(long, value_enum, default_value_t = Frame::Deep)]
        frame: Frame,
        /// Days ahead
        #[arg(long, default_value_t = 21)]
        days: usize,
        /// From which day; today where it is left out
        #[arg(long, value_name = "DATE")]
        from: Option<NaiveDate>,
    },
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum By {
    Weight,
    Volume,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Event {
    /// Left to raise their own from young larvae
    Split,
    /// A sealed cell left or given
    Cell,
    /// A cell a day or two before she hatches
    RipeCell,
    /// A virgin seen
    Virgin,
    /// A mated queen hung in her cage
    Cage,
    /// A prime swarm hived
    Swarm,
    /// A package hived, its queen caged
    Package,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Frame {
    Deep,
    Medium,
    Shallow,
    Dadant,
    Swiss,
    Zander,
}

/// Boxes as typed.
#[derive(Debug, Clone)]
struct Boxes(Vec<HiveBox>);

fn boxes(text: &str) -> Result<Boxes, String> {
    calc_ask::boxes(text).map(Boxes)
}

impl Event {
    fn words(self) -> &'static str {
        match self {
            Self::Split => "Split, left to raise a queen",
            Self::Cell => "Sealed cell",
            Self::RipeCell => "Ripe cell",
            Self::Virgin => "Virgin",
            Self::Cage => "Queen caged",
            Self::Swarm => "Swarm",
            Self::Package => "Package",
        }
    }

    fn beginning(self) -> Beginning {
        match self {
            Self::Split => Beginning::WalkAway,
            Self::Cell => Beginning::SealedCell,
            Self::RipeCell => Beginning::RipeCell,
            Self::Virgin => Beginning::Virgin,
            Self::Cage => Beginning::Caged,
            Self::Swarm => Beginning::PrimeSwarm,
            Self::Package => Beginning::Package,
        }
    }
}

impl Frame {
    fn size(self) -> FrameSize {
        match self {
            Self::Deep => FrameSize::Inch(Depth::Deep),
            Self::Medium => FrameSize::Inch(Depth::Medium),
            Self::Shallow => FrameSize::Inch(Depth::Shallow),
            Self::Dadant => FrameSize::Dadant,
            Self::Swiss => FrameSize::Swiss,
            Self::Zander => FrameSize::Zander,
        }
    }
}

/// Prints a sum.
pub(super) fn run(
    asked: &CalcArgs,
    args: &Args,
    around: &Surroundings,
    out: &mut impl Write,
) -> Result<(), CliError> {
    let units = if asked.metric { Units::Metric } else { Units::Us };
    let today = args.on.unwrap_or_else(|| around.today());
    let sum = work_out(&asked.sum, units, today).map_err(CliError::NoSum)?;
    let text = if asked.json { sum.json()? } else { sum.text() };
    out.write_all(text.as_bytes())?;
    Ok(())
}

fn work_out(which: &Which, units: Units, today: NaiveDate) -> Result<Sum, String> {
    match which {
        Which::Wash { mites, bees, limit, on, by } => {
            calc::of_wash((*mites, *bees), *limit, on.zip(*by), units)
        }
        Which::Syrup { sugar, mix, by } => {
            let by = match by {
                By::Weight => MixedBy::Weight,
                By::Volume => MixedBy::Volume,
            };
            calc::of_syrup(*sugar, *mix, by, Practice::default().pounds_per_gallon())
        }
        Which::Stores { left, right, boxes, bees } => calc::of_stores(*left, *right, &boxes.0, *bees),
        Which::Moisture { nd, brix, at } => calc::of_moisture(*nd, *brix, *at),
        Which::Queen { event, date } => Ok(calc::of_queen(event.words(), event.beginning(), *date, units)),
        Which::Strength { bees, brood, frame, days, from } => {
            calc::of_strength(*bees, *brood, frame.size(), *days, from.unwrap_or(today))
        }
    }
}
