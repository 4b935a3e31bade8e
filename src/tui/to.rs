//! Where to go, as plain data: no screen knows another.

use crate::advice::Prompt;
use crate::model::{Action, DateId, Finding, HiveBox, HiveId, YardId};
use crate::session::{Answers, Trouble};

use super::command::Command;
use super::keys::ScreenId;

/// A screen to go to, with what it needs to know.
#[derive(Debug, Clone)]
pub(crate) enum To {
    /// The day.
    Today,
    /// The weather, before a visit to a yard that begins at a hive.
    Weather(YardId, HiveId),
    /// At a hive, on a field where a draft was taken up.
    Hive(HiveId, Option<usize>),
    /// Putting a hive's prompt off.
    PutOff(HiveId, Box<Prompt>),
    /// The reasons of a hive's prompt.
    Why(HiveId, Box<Prompt>),
    /// A note on a hive.
    Note(HiveId),
    /// The end of a visit.
    WrapUp,
    /// All yards and hives.
    Roster,
    /// One hive.
    Card(HiveId),
    /// The load list of a yard of the day, by its position.
    Load(usize),
    /// Every visit.
    Log,
    /// A sheet on a yard of the book, by its position.
    Sheet(Sheet, usize),
    /// A yard's year, by its position.
    Season(usize),
    /// The thresholds and dates, on one of the dates.
    Practice(Option<DateId>),
    /// A disk that refuses.
    Trouble(Trouble),
    /// The program is to be left while something is in memory only, and why that is.
    Leaving(String),
    /// Comments written by hand would go: so many.
    Comments(usize),
    /// Which day is acted on, after midnight.
    NewDay,
    /// When to come back in a rehearsal, and after its end what really was.
    Rehearsal,
    /// The files that were left out of the book.
    LeftOut,
    /// What can be logged at a hive.
    Act(HiveId),
    Form(Purpose),
    /// The boxes of a hive, as a picture.
    Stack(HiveId, Vec<HiveBox>),
    /// The calculator.
    Calc,
    /// The weather and bloom of the open visit, to be corrected.
    OpenWeather,
    /// The settings, at one by its place.
    Settings(usize),
    /// First aid; before a treatment what to mind stands above it.
    Safety(bool),
    /// The keys of a screen, and the finder.
    Help(ScreenId),
}

/// Which sheet on a yard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sheet {
    /// Trips in the weeks ahead.
    Weeks,
    /// Readiness for winter.
    Readiness,
    /// What each hive is worth.
    Worth,
}

impl Sheet {
    /// The one after it.
    pub(crate) fn next(self) -> Self {
        match self {
            Self::Weeks => Self::Readiness,
            Self::Readiness => Self::Worth,
            Self::Worth => Self::Weeks,
        }
    }

    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Weeks => "Weeks ahead",
            Self::Readiness => "Ready for winter?",
            Self::Worth => "What each hive is worth",
        }
    }
}

/// What a form is for.
#[derive(Debug, Clone)]
pub(crate) enum Purpose {
    /// Actions to log at a hive of the visit in hand, in the shape they are to have.
    Log {
        hive: HiveId,
        /// The actions, with the amounts proposed.
        actions: Vec<Action>,
        /// The prompt they answer.
        answers: Option<Answers>,
        /// Whether they take the place of the action logged last.
        instead: bool,
    },
    /// What was done at the hive before, for this one.
    LikeLast(HiveId),
    /// The last action of a hive, for so many of the next.
    CopyOn(HiveId),
    /// A yard; a new one where there is no old name.
    Yard(Option<YardId>),
    /// New hives of a yard.
    NewHives(YardId),
    /// A hive as it was set up.
    Hive(HiveId),
}

/// What the finder may find.
#[derive(Debug, Clone)]
pub(crate) enum Found {
    /// What a key does in a place.
    Key(ScreenId, Command),
    Hive(HiveId),
    /// Something that can be logged at the hive in hand.
    Deed(Box<Action>),
    /// Something to look at, at the hive in hand.
    Field(Finding),
    /// A setting, by its place.
    Setting(usize),
}
