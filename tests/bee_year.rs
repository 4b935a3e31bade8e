//! A bee year of 200 invented hives under three keepers: one who does what the prompts ask, one who never does, one who
//! comes every third week. What no keeper may ever be told, and what the first must come to.
//!
//! The truth behind the hives is a rough model of our own (growth by season, mites 2.2 % a day with brood): it feeds the
//! findings, and nothing is claimed of real colonies.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test may stop where it likes"
)]

#[path = "support/climates.rs"]
mod climates;

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use climates::{CLIMATES, Climate, FIRST, REFERENCE, month_of_the_bees};
use yardwalk::advice::{Advice, Day, Deed, Prompt, Situation, Urgency, advise};
use yardwalk::colony::stores::{Occupants, tare};
use yardwalk::colony::treatment;
use yardwalk::model::{
    Action, Book, Depth, Entry, Finding, Folded, Hive, HiveBox, HiveId, HiveState, Mass, Origin, Promise,
    Queen, QueenStatus, Role, Temperature, Units, Value, Visit, VisitId, Weather, Yard, YardId, days_after,
};
use yardwalk::plan::{self, DEADLINES, DateStatus};
use yardwalk::season::{Calendar, DateId};

const YARDS: usize = 10;

/// A linear congruential generator (Numerical Recipes' constants), so that every run is the same year.
struct Dice(u32);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(self.0 >> 8) / f64::from(1u32 << 24)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.roll()
    }
}

/// What a colony truly is.
#[derive(Debug, Clone)]
struct Truth {
    bees: f64,
    brood: f64,
    honey: f64,
    mites: f64,
    full: f64,
    drawn: f64,
    cracks: bool,
    sick: bool,
    /// The day's high, Fahrenheit.
    high: f64,
}

impl Truth {
    fn pass(&mut self, today: NaiveDate, hive: &HiveState, calendar: &Calendar) {
        let month = month_of_the_bees(today, calendar);
        let brood_time = (3..=10).contains(&month);
        let room = hive.nest_frames().max(5.0) * 1.2;
        let growth = match month {
            3 => 0.002,
            4 | 5 => 0.025,
            6 => 0.012,
            7 => 0.0,
            8..=10 => -0.008,
            _ => -0.004,
        };
        self.bees = (self.bees * (1.0 + growth)).clamp(0.5, room);
        self.brood = if brood_time { (self.bees * 0.45).min(9.0) } else { 0.0 };
        if brood_time {
            self.mites *= 1.022;
        }
        if let Some(course) = hive.course_on(today) {
            let days = (course.until - course.began).num_days().max(1) as f64;
            self.mites *= 0.08_f64.powf(1.0 / days);
        }
        let flow = calendar.is_flow(today);
        if flow && hive.super_boxes() > 0 && self.bees > 8.0 {
            self.full = (self.full + 4.0).min(100.0);
        }
        if flow || calendar.window(DateId::FallFlow).holds(today) {
            if self.honey < 60.0 {
                self.honey += 0.4;
            }
            self.drawn = (self.drawn + 0.3).min(hive.nest_frames());
        } else {
            self.honey = (self.honey - 0.25).max(4.0);
        }
        self.mites = self.mites.min(20.0);
    }

    fn did(&mut self, action: &Action) {
        match action {
            Action::FeedSyrup { volume, .. } => {
                self.honey += 7.0 * volume.gallons();
                self.drawn += 2.0;
            }
            Action::FeedSugar { mass } => self.honey += mass.pounds(),
            Action::AddBox { role: Role::Super, .. } => self.full = 10.0,
            Action::TakeHoney { .. } => self.full = 0.0,
            // Given in one day: all of it works at once.
            Action::Treat { treatment, .. }
                if matches!(treatment.word(), "oxalic acid vapor" | "oxalic acid dribble") =>
            {
                self.mites *= 0.1;
            }
            _ => {}
        }
    }

    fn answer(&self, finding: Finding, hive: &HiveState, dice: &mut Dice) -> Value {
        let frames = |n: f64| Value::Frames((n * 4.0).round().clamp(0.0, 240.0) / 4.0);
        match finding {
            Finding::Dead | Finding::Droppings | Finding::Dying => Value::YesNo(false),
            Finding::Pollen
            | Finding::EntranceClear
            | Finding::Larvae
            | Finding::Sealed
            | Finding::QueenSeen => Value::YesNo(true),
            Finding::Eggs => Value::YesNo(self.brood > 0.0),
            Finding::Cracks => Value::YesNo(self.cracks),
            Finding::Fine | Finding::Pests | Finding::Cover | Finding::CountBy => Value::Choice(0),
            Finding::Board => Value::Count(self.mites.round() as u16),
            Finding::HighToday | Finding::HighSoon => {
                Value::Temperature(Temperature::from_fahrenheit(self.high))
            }
            Finding::Flight => Value::Choice(2),
            Finding::Robbing | Finding::Temper | Finding::Pattern | Finding::Feeder | Finding::Backfill => {
                Value::Choice(0)
            }
            Finding::Heft => Value::Choice(usize::from(self.honey > 15.0) + usize::from(self.honey > 40.0)),
            Finding::Weight => {
                let inside = Occupants { bees: Some(self.bees), brood: self.brood, pollen: 0.0 };
                Value::Mass(Mass::from_pounds(tare(&hive.boxes, inside).pounds() + self.honey))
            }
            Finding::SuperFull => Value::Percent(self.full),
            Finding::Capped => Value::Percent((self.full - 12.0).max(0.0)),
            Finding::Moisture => Value::Percent(17.6),
            Finding::Bees | Finding::Seams => frames(self.bees),
            Finding::Brood => frames(self.brood),
            Finding::Cells => Value::Count(if dice.roll() < 0.05 { 8 } else { 0 }),
            Finding::CellKind => Value::Choice(1),
            Finding::Honey => frames(self.honey / 6.0),
            Finding::Drawn => frames(self.drawn.min(hive.nest_frames())),
            Finding::SpareDrawn => frames(3.0),
            Finding::Disease => Value::Choice(if self.sick { 3 } else { 0 }),
            Finding::Mites => Value::Count((self.mites * 3.0).round() as u16),
            Finding::WashBees => Value::Count(300),
            Finding::BottomBox => Value::Choice(if dice.roll() < 0.5 { 0 } else { 3 }),
        }
    }
}

struct World {
    book: Book,
    truths: BTreeMap<HiveId, Truth>,
    dice: Dice,
}

/// The same hives each time: overwintered ones in one or two deeps, packages, nucs and splits to come.
fn world(climate: &Climate) -> World {
    let mut dice = Dice(20_260_302);
    let mut book = Book::empty("Three keepers", Units::Us);
    let mut truths = BTreeMap::new();
    for yard in 0..YARDS {
        let mut hives = Vec::new();
        for stand in 0..climate.hives / YARDS {
            let id = HiveId::new(format!("Y{yard}-{stand}"));
            let kind = dice.roll();
            let (origin, since, bees) = match kind {
                k if k < 0.75 => (Origin::Overwintered, climate.at("2026-01-01"), dice.between(3.0, 10.0)),
                k if k < 0.88 => (Origin::Package, climate.at("2026-04-20"), 4.0),
                k if k < 0.95 => (Origin::Nuc, climate.at("2026-05-10"), 5.0),
                _ => (Origin::Split, climate.at("2026-06-01"), 5.0),
            };
            let deeps = usize::from(origin == Origin::Overwintered && dice.roll() < 0.4) + 1;
            let queen = match origin {
                Origin::Package => Queen::of_status(QueenStatus::Caged, Some(since)),
                Origin::Split => Queen::of_status(QueenStatus::Cell, Some(since)),
                _ => Queen::of_status(QueenStatus::Laying, None),
            };
            let boxes = vec![HiveBox::new(Depth::Deep, 10, Role::Nest); deeps];
            hives.push(Hive::new(id.clone(), origin, since, boxes, queen));
            truths.insert(
                id,
                Truth {
                    bees,
                    brood: 0.0,
                    honey: dice.between(6.0, 45.0),
                    mites: dice.between(0.1, 1.2),
                    full: 0.0,
                    drawn: if origin == Origin::Overwintered { 20.0 } else { 2.0 },
                    cracks: dice.roll() < 0.2,
                    sick: dice.roll() < 0.01,
                    high: 70.0,
                },
            );
        }
        book.yards.push(Yard { hives, ..climate.yard(YardId::new(format!("Yard {yard}"))) });
    }
    World { book, truths, dice }
}

/// A day's weather: the month's mean and some doubt, Fahrenheit.
fn weather(climate: &Climate, today: NaiveDate, dice: &mut Dice) -> Weather {
    let f = climate.highs[today.month0() as usize] + dice.between(-9.0, 9.0);
    Weather { temperature: Some(Temperature::from_fahrenheit(f)), wind: None, rain: None }
}

/// What nobody may ever be told.
fn hold(advice: &Advice, s: &Situation<'_>) {
    let today = s.day.today;
    let f = s.day.weather.temperature.unwrap().fahrenheit();
    let course = s.hive.course_on(today);
    let rules: BTreeSet<&str> = advice.prompts.iter().map(|p| p.rule).collect();
    assert_eq!(rules.len(), advice.prompts.len(), "asked twice: {:?}", advice.prompts);
    let needs_no_more =
        advice.prompts.iter().filter(|p| p.urgency > Urgency::Must && p.minutes > 0.0).count();
    assert!(needs_no_more <= 6, "more than one visit can do on {today}");
    for prompt in &advice.prompts {
        let does = |deed| prompt.deeds.contains(&deed);
        assert!(!(does(Deed::LiftsFrames) && f < 60.0), "{today}, {f:.0} F: {}", prompt.title);
        let forbids =
            |c: &yardwalk::model::Course| !treatment::limits(c.treatment, s.day.practice).with_supers.value;
        assert!(!(does(Deed::AddsSuper) && course.is_some_and(forbids)), "{today}: super in treatment");
        let last = s.day.calendar.closes(DateId::LastSplit);
        assert!(!(does(Deed::Splits) && today > last), "{today}: split after {last}");
        assert!(!(does(Deed::GivesSyrup) && s.hive.super_boxes() > 0), "{today}: syrup under honey boxes");
        assert!(prompt.due.opens <= prompt.due.aim && prompt.due.aim <= prompt.due.latest);
    }
}

/// Does what a prompt asks: looks first, then takes the first offer; says whether anything is left to look at.
fn obey(
    prompt: &Prompt,
    entry: &mut Entry,
    state: &HiveState,
    truth: &mut Truth,
    today: NaiveDate,
    dice: &mut Dice,
) {
    let mut looked = false;
    for finding in &prompt.asks {
        if entry.findings.get(*finding).is_none() {
            let value = truth.answer(*finding, state, dice);
            assert!(entry.findings.set(*finding, Some(value)), "{finding:?} {value:?}");
            looked = true;
        }
    }
    if looked {
        return;
    }
    if let Some(offer) = prompt.offers.first() {
        for action in &offer.actions {
            truth.did(action);
            entry.actions.push(action.clone());
        }
        for (days, what) in &offer.promises {
            entry.promises.push(Promise { on: days_after(today, *days), what: what.clone() });
        }
    }
    entry.answer(prompt.taken(prompt.offers.first(), today));
}

/// What a year of one keeper came to.
#[derive(Default)]
struct Outcome {
    visits: usize,
    prompts: usize,
    /// First day each hive was told of each deadline, by yard.
    told: BTreeMap<(HiveId, DateId), NaiveDate>,
    /// How each hive stood on the last day of each deadline, and that day.
    stood: BTreeMap<(HiveId, DateId), (DateStatus, NaiveDate)>,
    /// When each hive came.
    came: BTreeMap<HiveId, NaiveDate>,
}

fn year(climate: &Climate, every: i64, obeys: bool) -> Outcome {
    let mut world = world(climate);
    let mut outcome = Outcome::default();
    let hives = world.book.yards.iter().flat_map(|y| &y.hives);
    outcome.came = hives.map(|h| (h.id.clone(), h.since)).collect();
    let first = climate.at(FIRST);
    let mut folded = Folded::of(&world.book, first);
    for at in 0..climate.weeks * 7 {
        let today = days_after(first, at);
        // Hives that come to their stands during the year.
        if folded.hives().count() < climate.hives && at % 7 == 0 || folded.as_of.month() != today.month() {
            folded = Folded::of(&world.book, today);
        }
        folded.as_of = today;
        let visit_today = at % every == 0;
        let now = weather(climate, today, &mut world.dice);
        let yards = world.book.yards.clone();
        for (number, yard) in yards.iter().enumerate() {
            let calendar = plan::calendar(&world.book, &folded, yard, today);
            let stands: Vec<&HiveState> = yard.hives.iter().filter_map(|h| folded.hive(&h.id)).collect();
            let day = Day {
                today,
                calendar: &calendar,
                weather: now,
                practice: &world.book.practice,
                units: Units::Us,
                stands: &stands,
            };
            let mut entries = Vec::new();
            for before in &stands {
                let truth = world.truths.get_mut(&before.id).unwrap();
                truth.high = now.temperature.unwrap().fahrenheit();
                truth.pass(today, before, &calendar);
                if !visit_today || !before.is_alive() {
                    continue;
                }
                for s in plan::standing(before, &calendar, day.practice, today) {
                    outcome.told.entry((before.id.clone(), s.date)).or_insert(today);
                }
                let entry = walk(before, truth, &day, obeys, &mut world.dice, &mut outcome);
                if !entry.is_blank() {
                    entries.push(entry);
                }
            }
            if !entries.is_empty() {
                let id = VisitId::new(format!("{today}-{number}"));
                let visit = Visit { entries, ..Visit::begun(id, yard.name.clone(), today) };
                world.book.visits.push(visit.clone());
                folded.add(&world.book, &visit);
                outcome.visits += 1;
            }
            for (date, _) in DEADLINES {
                if calendar.closes(*date) == today {
                    for state in yard.hives.iter().filter_map(|h| folded.hive(&h.id)) {
                        for s in plan::standing(state, &calendar, &world.book.practice, today) {
                            if s.date == *date {
                                outcome.stood.insert((state.id.clone(), *date), (s.status, today));
                            }
                        }
                    }
                }
            }
        }
    }
    outcome
}

/// One hive of a visit, prompt by prompt until nothing is left.
fn walk(
    before: &HiveState,
    truth: &mut Truth,
    day: &Day<'_>,
    obeys: bool,
    dice: &mut Dice,
    outcome: &mut Outcome,
) -> Entry {
    let mut entry = Entry::blank(before.id.clone());
    let mut asked: BTreeSet<String> = BTreeSet::new();
    for _ in 0..60 {
        let mut state = before.clone();
        state.apply(&entry, day.today);
        let situation = Situation::of(&state, Some(&entry), *day);
        let advice = advise(&situation);
        hold(&advice, &situation);
        let Some(prompt) = advice.prompts.first() else { return entry };
        // `TRACE=Y3-17 cargo test --test bee_year -- --nocapture` shows what one hive is told.
        if std::env::var("TRACE").is_ok_and(|id| id == before.id.as_str()) {
            eprintln!(
                "{} {:?} {} | {:?}",
                day.today,
                prompt.urgency,
                prompt.title,
                prompt.offers.first().map(|o| &o.label)
            );
        }
        outcome.prompts += 1;
        if !obeys {
            return entry;
        }
        let answered = entry.answers.iter().any(|a| a.rule.as_str() == prompt.rule);
        assert!(!answered, "{}: {} asked again in one visit", day.today, prompt.rule);
        let was = entry.clone();
        obey(prompt, &mut entry, &state, truth, day.today, dice);
        assert!(asked.insert(format!("{:?}", (prompt.rule, &was))), "{} goes in circles", prompt.rule);
        assert_ne!(was, entry, "{} cannot be answered", prompt.rule);
    }
    panic!("{}: no end of prompts at {}", day.today, before.id);
}

/// Each deadline was in sight of every hive on a visit at least three weeks before it.
fn told_in_time(climate: &Climate, outcome: &Outcome) {
    for ((hive, date), (stand, by)) in &outcome.stood {
        let told = outcome
            .told
            .get(&(hive.clone(), *date))
            .unwrap_or_else(|| panic!("{hive} never told of {date:?}"));
        // Those that came late, or were set up after, cannot be told earlier.
        let could = (*by - outcome.came[hive].max(climate.at(FIRST))).num_days() >= 42;
        let ahead = (*by - *told).num_days();
        assert!(!could || ahead >= 21, "{}: {hive} {date:?} {told} {stand:?}", climate.name);
    }
}

/// What stood on its last day is met or in hand; says how many were looked at.
fn met(climate: &Climate, outcome: &Outcome) -> usize {
    for (date, what) in DEADLINES {
        let stood: Vec<_> = outcome.stood.iter().filter(|((_, d), _)| d == date).collect();
        let missed: Vec<_> = stood
            .iter()
            .filter(|(_, (s, _))| !matches!(s, DateStatus::Met | DateStatus::InHand))
            .map(|((h, _), s)| (h, s))
            .collect();
        assert!(
            missed.is_empty(),
            "{}, {what}: {} of {} missed: {missed:?}",
            climate.name,
            missed.len(),
            stood.len()
        );
    }
    outcome.stood.len()
}

#[test]
fn the_keeper_who_does_what_is_asked_meets_every_date() {
    let outcome = year(&REFERENCE, 7, true);
    assert!(outcome.visits > 300 && outcome.prompts > 10_000, "{} {}", outcome.visits, outcome.prompts);
    told_in_time(&REFERENCE, &outcome);
    assert!(met(&REFERENCE, &outcome) > 130 * DEADLINES.len());
}

#[test]
fn the_keeper_who_does_nothing_is_told_of_every_date_and_nothing_harmful() {
    let outcome = year(&REFERENCE, 7, false);
    assert_eq!(outcome.visits, 0);
    told_in_time(&REFERENCE, &outcome);
    let late = outcome.stood.values().filter(|(s, _)| *s == DateStatus::Open).count();
    assert!(late > 900, "what nobody did is not done: {late}");
}

#[test]
fn the_keeper_of_every_third_week_hears_of_each_date_three_weeks_ahead() {
    let outcome = year(&REFERENCE, 21, true);
    assert!(outcome.visits > 100, "{}", outcome.visits);
    told_in_time(&REFERENCE, &outcome);
}

/// By freeze dates and flow, six climates: told in time, met, and nothing harmful on the way.
#[test]
fn in_six_climates_the_dates_are_told_in_time_and_met() {
    for climate in &CLIMATES {
        let outcome = year(climate, 7, true);
        told_in_time(climate, &outcome);
        let looked = met(climate, &outcome);
        assert!(looked > 25 * (DEADLINES.len() - 2), "{}: {looked}", climate.name);
        let idle = year(climate, 7, false);
        told_in_time(climate, &idle);
    }
}
