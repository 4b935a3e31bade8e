//! A prompt: what to do at a hive, why, how, by when and with what.

use chrono::NaiveDate;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::gear::Gear;
use super::rules::RuleName;
use crate::model::{
    Action, Answer, Depth, Entry, FeederKind, Finding, Mass, Mix, Promise, Reply, Role, RuleId, Treatment,
    Units, Volume, days_after,
};

/// How pressing a prompt is; the more pressing sorts first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Urgency {
    /// Stop and do nothing else here.
    Stop,
    /// Left undone, the colony or the honey is at risk.
    Must,
    /// Good practice, by its date.
    Should,
    /// Worth knowing; nothing is lost.
    May,
}

impl Urgency {
    /// The sign beside a prompt: a word, for color is never the only sign.
    pub fn word(self) -> &'static str {
        match self {
            Self::Stop => "STOP",
            Self::Must => "MUST",
            Self::Should => "should",
            Self::May => "may",
        }
    }
}

/// When a thing is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Due {
    /// First day it makes sense.
    pub opens: NaiveDate,
    /// The day to aim for.
    pub aim: NaiveDate,
    /// The last day it is of use.
    pub latest: NaiveDate,
}

impl Due {
    /// From a day on, aimed for and at the latest on others; put in order.
    pub fn new(opens: NaiveDate, aim: NaiveDate, latest: NaiveDate) -> Self {
        let latest = latest.max(opens);
        Self { opens, aim: aim.clamp(opens, latest), latest }
    }

    /// On one day.
    pub fn on(day: NaiveDate) -> Self {
        Self { opens: day, aim: day, latest: day }
    }
}

/// What doing a thing means for the hive, so that the engine can hold it back where it would do harm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Deed {
    /// The lid is lifted for a few seconds, no longer.
    CracksLid,
    /// The lid comes off.
    OpensLid,
    /// Frames come out.
    LiftsFrames,
    /// A honey box goes on.
    AddsSuper,
    /// Syrup is given.
    GivesSyrup,
    /// The entrance gets smaller.
    Narrows,
    /// Comb goes from hive to hive.
    MovesComb,
    /// Bees are taken for a count.
    Washes,
    /// Boxes change places.
    Reverses,
    /// A nest box goes on.
    AddsNestBox,
    /// A colony is made two.
    Splits,
    /// Two colonies are made one.
    Unites,
    /// Sugar, fondant or honey is given.
    FeedsSolid,
    /// Honey is taken for people.
    TakesHoney,
    /// The honey boxes come off.
    TakesSupers,
    /// A nest box comes off.
    TakesNestBox,
    /// A mite treatment goes in.
    Treats,
    /// The entrance gets wider.
    Widens,
    /// The upper entrance is opened.
    OpensUpper,
    /// A mouse guard goes on.
    Guards,
    /// The syrup is thin.
    FeedsThin,
    /// The syrup is thick.
    FeedsThick,
    /// A queen is brought in, in her cage or as a cell.
    BringsQueen,
    /// The queen is taken out.
    TakesQueen,
    /// Queen cells are cut.
    CutsCells,
}

/// Something the truck must carry.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Need {
    /// A box with its frames.
    Box {
        /// Depth.
        depth: Depth,
        /// For what.
        role: Role,
    },
    /// Drawn frames.
    DrawnFrames {
        /// How many.
        count: u8,
    },
    /// Syrup.
    Syrup {
        /// How thick.
        mix: Mix,
        /// How much.
        volume: Volume,
    },
    /// Dry sugar.
    Sugar {
        /// How much.
        mass: Mass,
    },
    /// A feeder.
    Feeder {
        /// Which.
        kind: FeederKind,
    },
    /// A treatment for one hive.
    Treatment {
        /// Which.
        treatment: Treatment,
    },
    /// Jar, sieve, half-cup and alcohol.
    WashKit,
    /// An entrance reducer.
    Reducer,
    /// A mouse guard.
    MouseGuard,
    /// Small gear.
    Gear(Gear),
}

impl Need {
    /// In words and the book's units.
    pub fn words(self, units: Units) -> String {
        match self {
            Self::Box { depth, role: Role::Nest } => format!("{} nest box", depth.word()),
            Self::Box { depth, role: Role::Super } => format!("{} super", depth.word()),
            Self::DrawnFrames { count } => format!("{count} drawn frames"),
            Self::Syrup { mix, volume } => format!("{} {} syrup", units.volume(volume), mix.word()),
            Self::Sugar { mass } => format!("{} dry sugar", units.mass(mass)),
            Self::Feeder { kind } => kind.word().to_owned(),
            Self::Treatment { treatment } => treatment.word().to_owned(),
            Self::WashKit => "wash kit and alcohol".to_owned(),
            Self::Reducer => "entrance reducer".to_owned(),
            Self::MouseGuard => "mouse guard".to_owned(),
            Self::Gear(gear) => gear.words().to_owned(),
        }
    }
}

/// A way to do what the prompt asks, ready to be logged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Offer {
    /// In a few words.
    pub label: String,
    /// What is logged when it is taken.
    pub actions: Vec<Action>,
    /// Things to come back for when it is taken: in days from today, and what.
    pub promises: Vec<(i64, String)>,
    /// Whether its amounts are typed by the keeper before it is logged: nobody can know them beforehand.
    pub asks: bool,
    /// Days for which taking it puts the prompt off: what cannot be done today, and must be on another.
    pub later: Option<i64>,
}

impl Offer {
    /// Nothing today: the prompt comes again in so many days.
    pub fn later(label: impl Into<String>, days: i64) -> Self {
        Self { later: Some(days), ..Self::noted(label) }
    }

    /// What taking it on a day says of the prompt.
    fn reply(&self, today: NaiveDate) -> Reply {
        self.later.map_or(Reply::Done, |days| Reply::PutOff {
            reason: self.label.clone(),
            until: days_after(today, days),
        })
    }

    /// An offer of one action.
    pub fn of(label: impl Into<String>, action: Action) -> Self {
        Self::doing(label, vec![action])
    }

    /// An offer of several actions.
    pub fn doing(label: impl Into<String>, actions: Vec<Action>) -> Self {
        Self { label: label.into(), actions, promises: Vec::new(), asks: false, later: None }
    }

    /// An answer that logs no action: it was looked at, or it is known.
    pub fn noted(label: impl Into<String>) -> Self {
        Self::doing(label, Vec::new())
    }

    /// Its amounts are asked for before it is logged.
    #[must_use]
    pub fn asking(mut self) -> Self {
        self.asks = true;
        self
    }

    /// Logs it in an entry, with the prompt's answer.
    pub fn log(self, answer: Answer, entry: &mut Entry, today: NaiveDate) {
        entry.actions.extend(self.actions);
        let promise = |(days, what)| Promise { on: days_after(today, days), what };
        entry.promises.extend(self.promises.into_iter().map(promise));
        entry.answer(answer);
    }

    /// With a promise to come back.
    #[must_use]
    pub fn promising(mut self, days: i64, what: impl Into<String>) -> Self {
        self.promises.push((days, what.into()));
        self
    }
}

/// What one rule says to one hive on one day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Prompt {
    /// The rule.
    #[serde(with = "super::rules::by_name")]
    pub rule: RuleName,
    /// What, in a few words.
    pub title: String,
    /// Why, with this hive's numbers.
    pub why: String,
    /// How, a step a line.
    pub how: Vec<String>,
    /// How pressing.
    pub urgency: Urgency,
    /// When.
    pub due: Due,
    /// With what.
    pub needs: Vec<Need>,
    /// Ways to do it, the usual one first; none where looking is all that is asked.
    pub offers: Vec<Offer>,
    /// What must be looked at for it.
    pub asks: Vec<Finding>,
    /// What doing it means for the hive.
    pub deeds: Vec<Deed>,
    /// Minutes it takes, common practice.
    pub minutes: f64,
    /// Whether answering it keeps the promises that are due.
    pub keeps_promises: bool,
    /// Whether it is a look and no more, which another prompt may ask for as well.
    pub is_look: bool,
}

/// Whether some words name a day, as `May 6` or `6 May`.
fn names_a_day(words: &str) -> bool {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let words: Vec<&str> = words.split(' ').map(|w| w.trim_matches(|c: char| !c.is_alphanumeric())).collect();
    words.windows(2).any(|pair| match pair {
        [a, b] => {
            [(a, b), (b, a)].iter().any(|(month, day)| MONTHS.contains(month) && day.parse::<u8>().is_ok())
        }
        _ => false,
    })
}

impl Prompt {
    /// A prompt that asks to look or says something, to be filled further.
    pub fn new(
        rule: &'static str,
        urgency: Urgency,
        due: Due,
        title: impl Into<String>,
        why: impl Into<String>,
    ) -> Self {
        Self {
            rule,
            title: title.into(),
            why: why.into(),
            how: Vec::new(),
            urgency,
            due,
            needs: Vec::new(),
            offers: Vec::new(),
            asks: Vec::new(),
            deeds: Vec::new(),
            minutes: 0.0,
            keeps_promises: false,
            is_look: false,
        }
    }

    /// What, and by when: `Wash for mites by May 2`, `Wash for mites, LATE since May 2`; the day is said once where the
    /// words have it already.
    pub fn by_when(&self, today: NaiveDate, units: Units) -> String {
        let by = self.by(today, units);
        let is_said = names_a_day(&self.title);
        match (self.is_late(today), is_said) {
            (true, true) if !self.title.contains("Late") => format!("{}, LATE", self.title),
            (_, true) => self.title.clone(),
            (false, false) => format!("{} {by}", self.title),
            (true, false) => format!("{}, {by}", self.title),
        }
    }

    /// Whether its last day is over.
    pub fn is_late(&self, today: NaiveDate) -> bool {
        self.due.latest < today
    }

    /// By when: `by May 2`, or `LATE since May 2`.
    pub fn by(&self, today: NaiveDate, units: Units) -> String {
        let day = units.day(self.due.latest);
        if self.is_late(today) { format!("LATE since {day}") } else { format!("by {day}") }
    }

    /// Whether a trip is made for it: a must, a should, or a choice that comes once a year.
    pub fn makes_a_trip(&self) -> bool {
        self.urgency <= Urgency::Should || super::rules::rule(self.rule).is_some_and(|rule| rule.once_a_year)
    }

    /// The answer that is written down for it.
    pub fn answered(&self, reply: Reply) -> Answer {
        Answer { keeps_promises: self.keeps_promises, ..Answer::to(RuleId::new(self.rule), reply) }
    }

    /// The answer of one who takes a way of it on a day; of one who did it where it offers none.
    pub fn taken(&self, way: Option<&Offer>, today: NaiveDate) -> Answer {
        self.answered(way.map_or(Reply::Done, |offer| offer.reply(today)))
    }

    /// Answering it keeps the promises that are due.
    #[must_use]
    pub fn keeping_promises(mut self) -> Self {
        self.keeps_promises = true;
        self
    }

    /// How to do it, a step a line.
    #[must_use]
    pub fn how(mut self, steps: &[&str]) -> Self {
        self.how.extend(steps.iter().map(|s| (*s).to_owned()));
        self
    }

    /// What to look at.
    #[must_use]
    pub fn asks(mut self, findings: &[Finding]) -> Self {
        self.asks.extend_from_slice(findings);
        self
    }

    /// What it means for the hive, and the minutes it takes.
    #[must_use]
    pub fn doing(mut self, deeds: &[Deed], minutes: f64) -> Self {
        self.deeds.extend_from_slice(deeds);
        self.minutes += minutes;
        self
    }

    /// A way to do it.
    #[must_use]
    pub fn offer(mut self, offer: Offer) -> Self {
        self.offers.push(offer);
        self
    }

    /// Ways to do it.
    #[must_use]
    pub fn offers(mut self, offers: Vec<Offer>) -> Self {
        self.offers.extend(offers);
        self
    }

    /// What the truck must carry.
    #[must_use]
    pub fn needs(mut self, need: Need) -> Self {
        self.needs.push(need);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;

    #[test]
    fn a_due_window_is_always_in_order() {
        let due = Due::new(day("2026-05-10"), day("2026-05-01"), day("2026-05-05"));
        assert_eq!(
            (due.opens, due.aim, due.latest),
            (day("2026-05-10"), day("2026-05-10"), day("2026-05-10"))
        );
        let due = Due::new(day("2026-05-01"), day("2026-06-01"), day("2026-05-05"));
        assert_eq!(
            (due.opens, due.aim, due.latest),
            (day("2026-05-01"), day("2026-05-05"), day("2026-05-05"))
        );
    }

    #[test]
    fn the_more_pressing_sorts_first() {
        assert!(
            Urgency::Stop < Urgency::Must
                && Urgency::Must < Urgency::Should
                && Urgency::Should < Urgency::May
        );
    }
}
