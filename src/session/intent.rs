//! What a keeper can do, as plain data, and what comes of it.

use std::path::PathBuf;

use chrono::NaiveDate;

use super::effect::Effect;
use crate::model::{
    Action, Answer, Finding, Hive, HiveId, InBloom, Jotting, Practice, Queen, RuleId, Settings, Side, Units,
    Value, VisitId, Weather, Yard, YardId,
};

/// Something the keeper wants done. Every front end asks for it in these words.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "one at a time")]
pub enum Intent {
    /// Begin a visit to a yard, at a hive.
    Begin {
        /// The yard.
        yard: YardId,
        /// The first hive; the first of the queue where none is named.
        hive: Option<HiveId>,
        /// The weather, as far as it was noted.
        weather: Weather,
        /// What is in bloom.
        blooms: Vec<InBloom>,
    },
    /// Correct the weather and the bloom of the open visit.
    SetWeather {
        /// The weather, as far as it is known.
        weather: Weather,
        /// What is in bloom.
        blooms: Vec<InBloom>,
    },
    /// Act on this day from now on.
    ActOn(NaiveDate),
    /// In a rehearsal: look at something at a hive of the open visit, and write down what is found.
    LookAt {
        /// The hive.
        hive: HiveId,
        /// What is looked at.
        finding: Finding,
    },
    /// In a rehearsal: let the season go on, and come back on this day.
    ComeBack(NaiveDate),
    /// Read the whole book again.
    ReadAgain,
    /// Put a file aside that was left out of the book.
    PutFileAside(PathBuf),
    /// Take a file in that was left out, instead of the other one of the same visit.
    KeepFile(PathBuf),
    /// Settle what was set up in two ways, each as chosen.
    Settle(Vec<Side>),
    /// Keep on the pad what is typed in a place and not logged.
    Jot(Jotting),
    /// What was typed in that place is logged, or emptied.
    Jotted(String),
    /// Go to a hive of the open visit.
    GoTo(HiveId),
    /// Remember which field has the focus, so that a killed program comes back to it.
    Stand {
        /// The hive.
        hive: HiveId,
        /// The position of the field.
        field: usize,
    },
    /// Done at this hive: on to the next one that is due.
    FinishHive(HiveId),
    /// Back to the hive before in the queue.
    StepBack,
    /// Write down what was seen, or clear it.
    Find {
        /// The hive.
        hive: HiveId,
        /// What was looked at.
        finding: Finding,
        /// What was seen; none clears it.
        value: Option<Value>,
    },
    /// Do what a prompt asks, in one of the ways it offers.
    Accept {
        /// The hive.
        hive: HiveId,
        /// The prompt's rule.
        rule: RuleId,
        /// Which of its offers, from 0.
        offer: usize,
    },
    /// Put a prompt off.
    PutOff {
        /// The hive.
        hive: HiveId,
        /// The prompt's rule.
        rule: RuleId,
        /// Why, in words.
        reason: String,
        /// The day it is asked again.
        until: NaiveDate,
    },
    /// Note a prompt as not needed.
    NotNeeded {
        /// The hive.
        hive: HiveId,
        /// The prompt's rule.
        rule: RuleId,
    },
    /// Log what was done, with its amounts.
    Log {
        /// The hive.
        hive: HiveId,
        /// The actions.
        actions: Vec<Action>,
        /// The prompt they answer.
        answers: Option<Answers>,
        /// Whether they take the place of the action logged last.
        instead: bool,
    },
    /// Split a hive: the new one joins the yard's stands, then the split is logged.
    Split {
        /// The hive that is split.
        from: HiveId,
        /// The new hive as it is set up.
        hive: Box<Hive>,
        /// The queen of the old hive now, where it is not the one it had.
        left: Option<Queen>,
        /// The prompt it answers.
        answers: Option<Answers>,
    },
    /// See that the cautions were read before these actions are filled in.
    MindCautions(Vec<Action>),
    /// Log here what was logged at the hive before in this visit.
    LikeLast(HiveId),
    /// Log the last action of a hive at so many of the next ones too.
    CopyOn {
        /// The hive.
        hive: HiveId,
        /// How many of the next hives.
        count: usize,
    },
    /// Write a note on a hive; an empty one takes it away.
    Note {
        /// The hive.
        hive: HiveId,
        /// The words.
        text: String,
    },
    /// Undo the last change of the open visit.
    Undo,
    /// Do again what was undone.
    Redo,
    /// Save the open visit.
    Save,
    /// Leave the open visit unsaved; its draft is kept.
    PutAside,
    /// Take up a visit that was left unfinished.
    TakeUp {
        /// Its draft.
        path: PathBuf,
        /// The visit.
        visit: VisitId,
    },
    /// Try once more to put on the disk what it refused.
    TryAgain,
    /// Open a past visit to be corrected.
    Correct(VisitId),
    /// Withdraw a past visit.
    Withdraw(VisitId),
    /// Of two corrections of one visit, keep this one.
    KeepOne(VisitId),
    /// Tick an item of a yard's load list, or untick it.
    Tick {
        /// The yard.
        yard: YardId,
        /// The item, in the load list's words.
        item: String,
    },
    /// Pin a hive to the front of its yard's queue, or let it go.
    Pin(HiveId),
    /// Move a hive one place in its yard's queue.
    Move {
        /// The hive.
        hive: HiveId,
        /// Whether later, else earlier.
        later: bool,
    },
    /// Set up a yard, or change one.
    SetUpYard {
        /// Its name until now; none for a new yard.
        old: Option<YardId>,
        /// Name, place, freeze dates and note; its hives stay.
        yard: Box<Yard>,
    },
    /// Set up hives in a yard.
    AddHives {
        /// The yard.
        yard: YardId,
        /// The hives.
        hives: Vec<Hive>,
    },
    /// Change how a hive is set up, or move it to another yard.
    ChangeHive {
        /// Its name until now.
        old: HiveId,
        /// The yard it stands in from now on.
        yard: YardId,
        /// The hive.
        hive: Box<Hive>,
    },
    /// Move a hive one place among the stands of its yard.
    MoveStand {
        /// The hive.
        hive: HiveId,
        /// Whether later, else earlier.
        later: bool,
    },
    /// Set the keeper's own thresholds and dates.
    SetPractice(Box<Practice>),
    /// Show the book in other units.
    SetUnits(Units),
    /// Undo the last change of yards, hives or practice of this start.
    UndoSetUp,
    /// Do again what was undone of them.
    RedoSetUp,
    /// Write `yard.ron` although comments written into it by hand will go.
    DropComments,
    /// Leave `yard.ron` as it is.
    KeepComments,
    /// Set how the program looks on this laptop.
    SetLook(Box<Settings>),
}

/// The prompt that an action answers, and what is promised with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Answers {
    /// The answer.
    pub answer: Answer,
    /// What to come back for: in days from the visit, and what.
    pub promises: Vec<(i64, String)>,
}

/// Why a thing was not done. Nothing has changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Nothing is wrong: it does not apply here, and this is what does.
    NotHere(String),
    /// It cannot be, and this is why.
    Cannot(String),
    /// What to mind before a treatment is to be read first; asked for again it is done.
    ReadCautions,
}

impl Refusal {
    /// In words.
    pub fn words(&self) -> &str {
        match self {
            Self::NotHere(words) | Self::Cannot(words) => words,
            Self::ReadCautions => "First read what to watch out for before a treatment.",
        }
    }
}

/// What came of an intent.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Done {
    /// What to tell the keeper.
    pub said: Option<Said>,
    /// Where this leaves the keeper.
    pub news: Vec<News>,
    /// What is still to be carried to the disk; empty once it has been.
    pub effects: Vec<Effect>,
}

/// A line for the keeper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The words.
    pub text: String,
    /// Whether something went wrong.
    pub is_error: bool,
}

/// Where the keeper is after an intent was carried out.
#[derive(Debug, Clone, PartialEq)]
pub enum News {
    /// At a hive; at the field where a draft was taken up.
    AtHive {
        /// The hive.
        hive: HiveId,
        /// The position of the field, where it is known.
        field: Option<usize>,
    },
    /// The prompt asks for a look first.
    Look(Finding),
    /// Every hive that was due has been seen.
    AllSeen,
    /// The visit is saved, or put aside: none is open.
    VisitClosed,
    /// Several visits were left unfinished: the keeper chooses.
    SeveralLeft,
    /// The disk refused.
    NotOnDisk(Trouble),
    /// Comments written by hand into `yard.ron` would go; how many there are.
    CommentsAtStake(usize),
}

/// The disk refused: what happened, and where what was entered is kept meanwhile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// What went wrong.
    pub what: String,
    /// How to mend it.
    pub mend: String,
    /// The file that keeps it beside the program's memory.
    pub kept_in: Option<String>,
    /// Whether it is new to the keeper, or came of trying again.
    pub is_new: bool,
}

impl Done {
    /// Done, and this is to be said.
    pub(super) fn saying(text: impl Into<String>) -> Self {
        Self { said: Some(Said { text: text.into(), is_error: false }), ..Self::default() }
    }

    /// Something went wrong that changes nothing.
    pub(super) fn failing(text: impl Into<String>) -> Self {
        Self { said: Some(Said { text: text.into(), is_error: true }), ..Self::default() }
    }

    /// With something to carry to the disk.
    pub(super) fn with(mut self, effects: impl IntoIterator<Item = Effect>) -> Self {
        self.effects.extend(effects);
        self
    }

    /// With where it leaves the keeper.
    pub(super) fn news(mut self, news: News) -> Self {
        self.news.push(news);
        self
    }

    /// This and then that: what is said last is heard.
    pub(super) fn and_then(mut self, later: Self) -> Self {
        self.said = later.said.or(self.said);
        self.news.extend(later.news);
        self.effects.extend(later.effects);
        self
    }
}
