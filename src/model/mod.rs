//! The model: what a keeper's book holds, as plain data, and its fold into what each hive is on a date.
//!
//! In: nothing but values. Out: [`Book`] and, by [`fold`], [`HiveState`]. Touches no file, clock or terminal.

#![warn(clippy::wildcard_enum_match_arm)]

mod action;
mod answerable;
mod book;
mod cells;
mod cores;
mod corrections;
mod days;
mod draft;
mod finding;
mod findings;
pub mod fold;
mod former;
mod hive;
mod joined;
mod left_out;
mod medicine;
mod names;
mod pad;
mod practice;
mod rehearsal;
mod renamed;
mod season_date;
mod settings;
mod stack;
mod supply;
mod table_text;
#[cfg(test)]
pub(crate) mod testing;
mod trios;
mod units;
mod visit;
mod yard;

pub use action::{
    About, Action, Around, Asked, Asking, Authority, Given, Level, Loss, Mix, Offered, Takes, Treatment,
    medicine_asks, medicine_given, queen_asks, queen_given,
};
pub use answerable::{Answerable, Bees, Cells, Frames, Kind, Mites, MitesADay, Percent, Value};
pub use book::{Book, FORMAT, Fault, FaultAt};
pub use cells::{cell, uncell};
pub use cores::on_every_core;
pub use corrections::{Conflict, Corrections, VisitStatus};
pub use days::days_after;
pub use draft::{DraftStep, LeftDraft, LeftVisit};
pub use finding::{
    Backfill, BottomBox, CellKind, CountBy, Cover, Disease, FeederLevel, Finding, Findings, Fine, Flight,
    Heft, LastSeen, Part, Pattern, Pests, Robbing, Seen, Temper,
};
pub use fold::{Cleared, Course, Fed, Folded, FormerColony, HiveState, MiteCount, SeenBloom};
pub use hive::{
    Contents, Depth, Entrance, FeederKind, Hive, HiveBox, Mark, Origin, Queen, QueenStatus, Role,
};
pub use joined::{Difference, Joined, Side, joined};
pub use left_out::{LeftOut, file_words};
pub use medicine::Medicine;
pub use names::{HiveId, LONGEST_NAME, RuleId, VisitId, YardId, is_unseen, mark, visible};
pub use pad::{DayWish, Jotting, PadLine, pad_of};
pub use practice::{LabelLimits, OwnDate, Practice, Threshold};
pub use rehearsal::{Beginning, Judged, MOST_HIVES, Made, Measure, Rehearsal, Scenario, Start};
pub use renamed::{LoggedNames, PresentNames};
pub use season_date::{DateId, REFERENCE, Reference, Sense};
pub use settings::{Settings, Signs, WeekBegins};
pub use stack::{stack_from, stack_words};
pub use supply::Supply;
pub use table_text::{DayOrder, Orders, day_of_cell, delimiter_of};
pub use units::{Elevation, Mass, QuantityError, Temperature, Units, Volume, Wind, trimmed};
pub(crate) use visit::in_bloom;
pub use visit::{Answer, Bloom, Entry, InBloom, Loaded, Promise, Reply, Visit, Weather, visit_id};
pub use yard::{DayOfYear, Flow, FreezeDates, Hemisphere, Place, Yard, flows_from};
