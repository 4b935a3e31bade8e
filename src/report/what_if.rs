//! What would come of each choice at a hive, side by side, by the colony's model: for a prompt's reasons and for the card.

use chrono::NaiveDate;
use schemars::JsonSchema;
use serde::Serialize;

use crate::advice::{Deed, Prompt};
use crate::colony::model::{Deed as Done, Forecast, held};
use crate::colony::spread::Spread;
use crate::model::{
    Action, Depth, HiveId, HiveState, Level, Mass, Mix, Practice, Role, Treatment, Units, Volume, days_after,
};
use crate::plan::{once_done, spring};
use crate::season::{Calendar, DateId};
use crate::wording;

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    /// Treatments: mites on the date for winter bees, and the winter.
    Mites,
    /// Food: what is there when feeding ends, and the winter.
    Food,
    /// Room: bees, and the chance to swarm.
    Room,
    /// Splitting: bees, and the chance to swarm.
    Split,
}

impl Topic {
    /// As a heading.
    pub fn title(self) -> &'static str {
        match self {
            Self::Mites => "WHAT IF: MITES",
            Self::Food => "WHAT IF: FOOD",
            Self::Room => "WHAT IF: ROOM",
            Self::Split => "WHAT IF: A SPLIT",
        }
    }
}

/// One choice and what would come of it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Outcome {
    /// The choice.
    pub choice: String,
    /// In the columns' order.
    pub comes_to: Vec<String>,
}

/// Choices side by side.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WhatIf {
    /// What is compared.
    pub topic: Topic,
    /// What stands in each column.
    pub columns: Vec<String>,
    /// The first is to do nothing.
    pub rows: Vec<Outcome>,
    /// How often such ranges held.
    pub held: String,
}

/// The hive a question is asked of, and when.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// As it is, today's entry included.
    pub hive: &'a HiveState,
    /// Its yard's dates.
    pub calendar: &'a Calendar,
    /// The keeper's thresholds.
    pub practice: &'a Practice,
    /// The units to speak in.
    pub units: Units,
    /// The day.
    pub today: NaiveDate,
}

/// One choice: what is done at once, and what later.
struct Choice {
    label: String,
    now: Vec<Action>,
    later: Vec<(NaiveDate, Done)>,
}

impl Choice {
    fn now(label: impl Into<String>, actions: &[Action]) -> Self {
        Self { label: label.into(), now: actions.to_vec(), later: Vec::new() }
    }
}

/// Days a treatment is put off in the choice to wait.
const WAIT: i64 = 14;
/// Days ahead that room and splits are judged by.
const AHEAD: i64 = 28;

/// What a prompt's ways come to; none where no way changes what the model knows of.
pub fn of_prompt(prompt: &Prompt, asked: &Asked<'_>) -> Option<WhatIf> {
    let topic = topic_of(prompt)?;
    let offered = prompt.offers.iter().filter(|offer| !offer.actions.is_empty());
    let mut choices: Vec<Choice> =
        offered.map(|offer| Choice::now(offer.label.clone(), &offer.actions)).collect();
    match topic {
        Topic::Mites => choices.extend(in_two_weeks(&choices, asked)),
        Topic::Food => choices = feedings(prompt, choices, asked.units),
        Topic::Room => {}
        Topic::Split => choices = vec![split()],
    }
    compare(topic, choices, asked)
}

/// What matters at a hive now, for its card.
pub fn of_hive(asked: &Asked<'_>) -> Vec<WhatIf> {
    let (calendar, today, hive) = (asked.calendar, asked.today, asked.hive);
    if !hive.is_alive() || calendar.is_winter(today) || hive.last_visit.is_none() {
        return Vec::new();
    }
    let mut all = Vec::new();
    if hive.last_wash().is_some_and(|wash| calendar.holds(wash.on)) && hive.course_on(today).is_none() {
        let until = days_after(today, 28);
        let treat =
            |treatment: Treatment| Choice::now(treatment.word(), &[Action::Treat { treatment, until }]);
        let mut choices: Vec<Choice> =
            [Treatment::FormicStrips, Treatment::ThymolGel, Treatment::AmitrazStrips].map(treat).into();
        choices.extend(in_two_weeks(&choices, asked));
        all.extend(compare(Topic::Mites, choices, asked));
    }
    if calendar.at_widest(DateId::SwarmSeason).holds(today) {
        all.extend(compare(Topic::Room, vec![one_box(hive), split()], asked));
    }
    let feeding = calendar.closes(DateId::MainFlow)..=calendar.closes(DateId::FeedingDone);
    if feeding.contains(&today) && hive.super_boxes() == 0 {
        all.extend(compare(Topic::Food, gallons(Mix::Thick, asked.units), asked));
    }
    all
}

fn topic_of(prompt: &Prompt) -> Option<Topic> {
    let does = |deed| prompt.deeds.contains(&deed);
    if does(Deed::Treats) {
        Some(Topic::Mites)
    } else if does(Deed::Splits) {
        Some(Topic::Split)
    } else if does(Deed::AddsSuper) || does(Deed::AddsNestBox) {
        Some(Topic::Room)
    } else if does(Deed::GivesSyrup) || does(Deed::FeedsSolid) {
        Some(Topic::Food)
    } else {
        None
    }
}

/// The first treatment two weeks later.
fn in_two_weeks(choices: &[Choice], asked: &Asked<'_>) -> Option<Choice> {
    let first = choices.iter().find_map(|choice| {
        choice.now.iter().find_map(|action| {
            if let Action::Treat { treatment, until } = action { Some((*treatment, *until)) } else { None }
        })
    });
    let (treatment, until) = first?;
    let on = days_after(asked.today, WAIT);
    let later = vec![(on, Done::Treat(treatment, days_after(until, WAIT)))];
    let label = format!("{} on {}", treatment.word(), wording::day(asked.units, on));
    Some(Choice { label, now: Vec::new(), later })
}

fn gallons(mix: Mix, units: Units) -> Vec<Choice> {
    [2.0, 4.0]
        .map(|gallons| {
            let volume = Volume::from_gallons(gallons);
            let label = format!("{} of {} syrup", units.volume(volume), mix.word());
            Choice::now(label, &[Action::FeedSyrup { mix, volume }])
        })
        .into()
}

/// The prompt's own feedings; of syrup also two and four gallons.
fn feedings(prompt: &Prompt, offered: Vec<Choice>, units: Units) -> Vec<Choice> {
    let thick = prompt.deeds.contains(&Deed::FeedsThick);
    if !prompt.deeds.contains(&Deed::GivesSyrup) {
        return offered;
    }
    offered.into_iter().chain(gallons(if thick { Mix::Thick } else { Mix::Thin }, units)).collect()
}

fn one_box(hive: &HiveState) -> Choice {
    let add = Action::AddBox {
        depth: Depth::Medium,
        frames: hive.box_frames(),
        role: Role::Super,
        drawn: hive.box_frames(),
        level: Level::AboveNest,
    };
    Choice::now("one honey box more", &[add])
}

fn split() -> Choice {
    Choice::now("split, the queen left here", &[Action::SplitInto { hive: HiveId::new("split") }])
}

fn compare(topic: Topic, choices: Vec<Choice>, asked: &Asked<'_>) -> Option<WhatIf> {
    if choices.is_empty() {
        return None;
    }
    let on = judged_on(topic, asked);
    let limit = asked.practice.mite_limit();
    let day = wording::day(asked.units, on);
    let columns = match topic {
        Topic::Mites => {
            vec![format!("mites % by {day}"), format!("over {limit} %"), "through winter".to_owned()]
        }
        Topic::Food => vec![format!("food by {day}"), "through winter".to_owned()],
        Topic::Room | Topic::Split => vec![format!("frames of bees by {day}"), format!("swarms by {day}")],
    };
    let nothing = Choice { label: "do nothing".to_owned(), now: Vec::new(), later: Vec::new() };
    let rows: Vec<Outcome> = std::iter::once(nothing)
        .chain(choices)
        .filter_map(|choice| {
            let ahead = forecast(&choice, topic, asked, on);
            Some(Outcome { comes_to: cells(topic, &ahead, asked, on)?, choice: choice.label })
        })
        .collect();
    let held = match topic {
        Topic::Mites => held::NEXT_WASH.words(),
        Topic::Room | Topic::Split => held::BEES_FROM_44.words(),
        Topic::Food => "how often ranges for food hold is not known: no open data to hold them to".to_owned(),
    };
    (rows.len() > 1).then_some(WhatIf { topic, columns, rows, held })
}

/// The day the outcome is told of.
fn judged_on(topic: Topic, asked: &Asked<'_>) -> NaiveDate {
    let (calendar, today) = (asked.calendar, asked.today);
    match topic {
        Topic::Mites => calendar.closes(DateId::MitesInCheck).max(days_after(today, AHEAD)),
        Topic::Food if today < calendar.opens(DateId::MainFlow) => calendar.opens(DateId::MainFlow),
        Topic::Food => calendar.closes(DateId::FeedingDone).max(days_after(today, AHEAD)),
        Topic::Room | Topic::Split => days_after(today, AHEAD),
    }
}

fn forecast(choice: &Choice, topic: Topic, asked: &Asked<'_>, on: NaiveDate) -> Forecast {
    let belief = once_done(asked.hive, asked.calendar, asked.today, &choice.now);
    let until = match topic {
        Topic::Mites | Topic::Food => spring(asked.calendar).max(on),
        Topic::Room | Topic::Split => on,
    };
    Forecast::of(&belief, until, &choice.later)
}

/// `0.6 (0.2 to 2.0)`: the middle, and what holds nine in ten.
fn range(spread: Spread, words: impl Fn(f64) -> String) -> String {
    format!("{} ({} to {})", words(spread.middle), words(spread.lowest), words(spread.highest))
}

fn cells(topic: Topic, ahead: &Forecast, asked: &Asked<'_>, on: NaiveDate) -> Option<Vec<String>> {
    // In steps of five: finer would say more than is known.
    let percent = |chance: f64| match (20.0 * chance).round() {
        none if none < 1.0 => "under 5 %".to_owned(),
        all if all > 19.0 => "over 95 %".to_owned(),
        some => format!("{:.0} %", 5.0 * some),
    };
    let one = |n: f64| format!("{n:.1}");
    let mass = |kilograms: f64| asked.units.mass(Mass::from_kilograms(kilograms));
    Some(match topic {
        Topic::Mites => vec![
            range(ahead.mites(on)?, one),
            percent(ahead.chance_over(on, asked.practice.mite_limit())?),
            percent(ahead.comes_through()?),
        ],
        Topic::Food => vec![range(ahead.stores(on)?, mass), percent(ahead.comes_through()?)],
        Topic::Room | Topic::Split => vec![range(ahead.bees(on)?, one), percent(ahead.swarms_by(on)?)],
    })
}

impl WhatIf {
    /// Columns that the choices take, and then each column of what they come to.
    pub fn widths(&self) -> (usize, Vec<usize>) {
        let length = |text: &String| text.chars().count();
        let first = self.rows.iter().map(|row| length(&row.choice)).max().unwrap_or(0);
        let column = |(at, head): (usize, &String)| {
            let cells = self.rows.iter().filter_map(|row| row.comes_to.get(at));
            cells.map(length).chain([length(head)]).max().unwrap_or(0)
        };
        (first, self.columns.iter().enumerate().map(column).collect())
    }

    /// As lines, what is compared under each other.
    pub fn lines(&self) -> Vec<String> {
        let (first, widths) = self.widths();
        let line = |head: &str, cells: &[String]| {
            let cells: Vec<String> =
                cells.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}")).collect();
            format!("{head:<first$}  {}", cells.join("  ")).trim_end().to_owned()
        };
        let mut lines = vec![line("", &self.columns)];
        lines.extend(self.rows.iter().map(|row| line(&row.choice, &row.comes_to)));
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::MiteCount;
    use crate::model::testing::{day, hive};
    use crate::season::Shift;

    fn asked_of<T>(hive: &HiveState, today: &str, ask: impl FnOnce(&Asked<'_>) -> T) -> T {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let practice = Practice::default();
        ask(&Asked { hive, calendar: &calendar, practice: &practice, units: Units::Us, today: day(today) })
    }

    fn counted() -> HiveState {
        let mut state = hive(1);
        state.last_visit = Some(day("2026-07-20"));
        state.washes.push(MiteCount { on: day("2026-07-20"), mites: 9, bees: 300 });
        state
    }

    #[test]
    fn a_treatment_leaves_fewer_mites_than_nothing_now_or_in_two_weeks() {
        let all = asked_of(&counted(), "2026-07-20", of_hive);
        let mites = all.iter().find(|w| w.topic == Topic::Mites).unwrap();
        let middle = |choice: &str| -> f64 {
            let row = mites.rows.iter().find(|r| r.choice.starts_with(choice)).unwrap();
            row.comes_to[0].split(' ').next().unwrap().parse().unwrap()
        };
        assert!(middle("formic acid strips") < middle("do nothing"));
        assert!(middle("formic acid strips on Aug 3") < middle("do nothing"));
        assert!(mites.held.contains("95 times in 100 on 122 real splits"), "{}", mites.held);
    }

    #[test]
    fn its_columns_stand_under_each_other() {
        let all = asked_of(&counted(), "2026-07-20", of_hive);
        let lines = all[0].lines();
        let starts: Vec<usize> = lines.iter().skip(1).map(|line| line.find('(').unwrap()).collect();
        assert!(starts.windows(2).all(|w| w[0].abs_diff(w[1]) <= 1), "{lines:#?}");
        assert!(lines[0].contains("mites % by Aug 17"), "{lines:#?}");
    }

    #[test]
    fn more_syrup_is_more_food_and_a_box_is_fewer_swarms() {
        let mut state = hive(1);
        state.last_visit = Some(day("2026-09-01"));
        let food =
            asked_of(&state, "2026-09-01", of_hive).into_iter().find(|w| w.topic == Topic::Food).unwrap();
        let pounds: Vec<f64> =
            food.rows.iter().map(|r| r.comes_to[0].split(' ').next().unwrap().parse().unwrap()).collect();
        assert!(pounds.windows(2).all(|w| w[0] < w[1]), "{pounds:?}");
        state.last_visit = Some(day("2026-05-05"));
        state.seen.bees = crate::model::testing::frames("2026-05-05", 9.5);
        let room =
            asked_of(&state, "2026-05-05", of_hive).into_iter().find(|w| w.topic == Topic::Room).unwrap();
        let chance = |row: &Outcome| row.comes_to[1].split(' ').next().unwrap().parse::<u32>().unwrap_or(0);
        assert!(chance(&room.rows[1]) < chance(&room.rows[0]), "{room:?}");
    }

    #[test]
    fn in_winter_or_where_no_one_looked_nothing_is_compared() {
        assert!(asked_of(&counted(), "2026-12-20", of_hive).is_empty());
        assert!(asked_of(&hive(1), "2026-07-20", of_hive).is_empty());
    }
}
