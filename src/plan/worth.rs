//! What each hive is worth: a table to choose breeders, requeening and unions by.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::model::{Action, Book, Entry, Findings, Folded, Hive, HiveId, Loss, Mass, Practice, Temper, Yard};
use crate::season::{Calendar, DateId};

/// What a stand has given and cost since it is in the book.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// The hive.
    pub hive: HiveId,
    /// Bee years in which it was looked at.
    pub years: usize,
    /// Frames of honey taken.
    pub honey_frames: u32,
    /// Honey weighed, where it was.
    pub honey: Mass,
    /// Frames of bees gained from the first count of a spring to the most before the main flow, the mean of the springs.
    pub spring_gain: Option<f64>,
    /// Mites in a hundred bees, the mean of the washes.
    pub mites: Option<f64>,
    /// Washes.
    pub washes: usize,
    /// Colonies lost on the stand.
    pub losses: usize,
    /// The worst temper noted in the last two years.
    pub temper: Option<Temper>,
    /// The year of the queen, where it is known.
    pub queen_year: Option<i32>,
    /// What that suggests.
    pub verdict: Verdict,
}

/// What the figures suggest; the keeper decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// To raise queens from.
    Breeder,
    /// To be kept as it is.
    Keep,
    /// To be given another queen.
    Requeen,
    /// No colony.
    Empty,
}

impl Verdict {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Breeder => "breeder",
            Self::Keep => "keep",
            Self::Requeen => "requeen",
            Self::Empty => "empty",
        }
    }
}

/// Years after which a queen is best replaced (common practice, no single source).
const OLD_QUEEN: i32 = 3;
/// Washes from which a mean says something.
const ENOUGH: usize = 2;

/// What the figures of a hive say, before it is held against its yard.
struct Raw {
    worth: Worth,
    is_sick: bool,
}

/// The table of a yard, the most honey first.
pub fn worth(book: &Book, yard: &Yard, folded: &Folded, today: NaiveDate) -> Vec<Worth> {
    // One pass over the log, however many hives there are.
    let mut logged: BTreeMap<&HiveId, Logged<'_>> = yard.hives.iter().map(|h| (&h.id, Vec::new())).collect();
    for visit in book.standing_visits(today) {
        for entry in &visit.entries {
            if let Some(of_hive) = logged.get_mut(&entry.hive) {
                of_hive.push((visit.on, entry));
            }
        }
    }
    let mut springs = Springs { book, yard, folded, known: BTreeMap::new() };
    let mut rows: Vec<Raw> = yard
        .hives
        .iter()
        .filter(|h| h.since <= today)
        .map(|hive| raw(logged.get(&hive.id).map_or(&[], Vec::as_slice), hive, &mut springs, today))
        .collect();
    let mut honey: Vec<u32> = rows.iter().map(|r| r.worth.honey_frames).collect();
    honey.sort_unstable();
    let upper = honey.get(honey.len() * 3 / 4).copied().unwrap_or(0);
    for row in &mut rows {
        let alive = folded.hive(&row.worth.hive).is_some_and(crate::model::HiveState::is_alive);
        row.worth.verdict = verdict(&row.worth, row.is_sick, alive, upper, &book.practice, today);
    }
    let mut table: Vec<Worth> = rows.into_iter().map(|r| r.worth).collect();
    table.sort_by_key(|w| std::cmp::Reverse(w.honey_frames));
    table
}

fn verdict(
    worth: &Worth,
    sick: bool,
    alive: bool,
    upper: u32,
    practice: &Practice,
    today: NaiveDate,
) -> Verdict {
    use chrono::Datelike;
    if !alive {
        return Verdict::Empty;
    }
    let limit = practice.mite_limit();
    let mitey = worth.washes >= ENOUGH && worth.mites.is_some_and(|m| m > limit);
    let old = worth.queen_year.is_some_and(|year| today.year() - year >= OLD_QUEEN);
    if worth.temper == Some(Temper::Hot) || mitey || old {
        return Verdict::Requeen;
    }
    let proven = worth.washes >= ENOUGH && worth.mites.is_some_and(|m| m <= limit);
    let gave = worth.honey_frames > 0 && worth.honey_frames >= upper;
    if proven && gave && !sick && worth.losses == 0 { Verdict::Breeder } else { Verdict::Keep }
}

/// What was logged of a hive, oldest first.
type Logged<'a> = Vec<(NaiveDate, &'a Entry)>;

/// The springs of a yard by their year: from late winter's heft to the main flow.
struct Springs<'a> {
    book: &'a Book,
    yard: &'a Yard,
    folded: &'a Folded,
    known: BTreeMap<i32, Option<(NaiveDate, NaiveDate)>>,
}

impl Springs<'_> {
    fn of(&mut self, year: i32) -> Option<(NaiveDate, NaiveDate)> {
        let Self { book, yard, folded, known } = self;
        *known.entry(year).or_insert_with(|| {
            let middle = match yard.hemisphere() {
                crate::model::Hemisphere::North => NaiveDate::from_ymd_opt(year, 6, 1),
                crate::model::Hemisphere::South => NaiveDate::from_ymd_opt(year, 12, 1),
            }?;
            let calendar = Calendar::of(yard, &book.practice, folded.blooms(&yard.name), middle);
            Some((calendar.opens(DateId::LateWinterHeft), calendar.opens(DateId::MainFlow)))
        })
    }
}

fn raw(logged: &[(NaiveDate, &Entry)], hive: &Hive, springs: &mut Springs<'_>, today: NaiveDate) -> Raw {
    let state = springs.folded.hive(&hive.id);
    let mut worth = Worth {
        hive: hive.id.clone(),
        years: 0,
        honey_frames: 0,
        honey: Mass::default(),
        spring_gain: None,
        mites: None,
        washes: 0,
        losses: 0,
        temper: None,
        queen_year: state.and_then(|s| s.queen.year),
        verdict: Verdict::Keep,
    };
    let mut rates: Vec<f64> = Vec::new();
    let mut years: Vec<i32> = Vec::new();
    let mut counts: Vec<(NaiveDate, f64)> = Vec::new();
    for (on, entry) in logged {
        let year = crate::season::bee_year(*on, springs.yard.hemisphere());
        if !years.contains(&year) {
            years.push(year);
        }
        rates.extend(rate(&entry.findings));
        counts.extend(entry.findings.bees.map(|b| (*on, b.0)));
        if (today - *on).num_days() <= 730 {
            worth.temper = worth.temper.max(entry.findings.temper);
        }
        for action in &entry.actions {
            if let Action::TakeHoney { frames, mass } = action {
                worth.honey_frames += u32::from(*frames);
                let kilograms = worth.honey.kilograms() + mass.map_or(0.0, Mass::kilograms);
                worth.honey = Mass::from_kilograms(kilograms);
            }
            let is_lost = matches!(action, Action::Retire { loss } if *loss != Loss::GivenUp);
            worth.losses += usize::from(is_lost);
        }
    }
    worth.years = years.len();
    worth.washes = rates.len();
    worth.mites = mean(&rates);
    let gains: Vec<f64> = years.iter().filter_map(|year| gain(&counts, springs.of(*year)?)).collect();
    worth.spring_gain = mean(&gains);
    Raw { worth, is_sick: state.is_some_and(|s| s.disease_suspected.is_some()) }
}

fn rate(findings: &Findings) -> Option<f64> {
    let bees = findings.wash_bees.map_or(300, |b| b.0).max(1);
    findings.mites.map(|m| 100.0 * f64::from(m.0) / f64::from(bees))
}

/// Frames of bees gained in a spring: from its first count to the most before the main flow; none without two counts.
fn gain(counts: &[(NaiveDate, f64)], (from, to): (NaiveDate, NaiveDate)) -> Option<f64> {
    let spring: Vec<f64> =
        counts.iter().filter(|(on, _)| (from..=to).contains(on)).map(|(_, n)| *n).collect();
    let (first, rest) = spring.split_first()?;
    let most = rest.iter().copied().reduce(f64::max)?;
    Some(most - first)
}

fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::testing::day;
    use crate::model::{Frames, Mites, Units, Visit, VisitId, YardId};

    fn book(entries: Vec<(&str, Entry)>) -> (Book, Folded) {
        let mut book = Book::empty("T", Units::Us);
        let state = |id: &str| {
            let boxes =
                vec![crate::model::HiveBox::new(crate::model::Depth::Deep, 10, crate::model::Role::Nest)];
            let queen = crate::model::Queen::of_status(crate::model::QueenStatus::Laying, None);
            Hive::new(HiveId::new(id), crate::model::Origin::Overwintered, day("2025-01-01"), boxes, queen)
        };
        book.yards.push(Yard {
            name: YardId::new("Y"),
            place: None,
            formerly: Vec::new(),
            freezes: None,
            flows: Vec::new(),
            note: String::new(),
            hives: vec![state("A"), state("B")],
        });
        for (at, (on, entry)) in entries.into_iter().enumerate() {
            let id = VisitId::new(at.to_string());
            book.visits.push(Visit { entries: vec![entry], ..Visit::begun(id, YardId::new("Y"), day(on)) });
        }
        let folded = Folded::of(&book, day("2026-09-01"));
        (book, folded)
    }

    fn entry(hive: &str, change: impl FnOnce(&mut Entry)) -> Entry {
        let mut entry = Entry::blank(HiveId::new(hive));
        change(&mut entry);
        entry
    }

    #[test]
    fn honey_gain_mites_and_temper_are_added_up_over_the_years() {
        let bees = |n| move |e: &mut Entry| e.findings.bees = Some(Frames(n));
        let (book, folded) = book(vec![
            ("2025-07-20", entry("A", |e| e.actions.push(Action::TakeHoney { frames: 10, mass: None }))),
            ("2026-04-28", entry("A", bees(5.0))),
            ("2026-05-20", entry("A", bees(12.0))),
            ("2026-06-20", entry("A", bees(18.0))),
            ("2026-06-25", entry("A", |e| e.findings.mites = Some(Mites(3)))),
            ("2026-07-25", entry("A", |e| e.findings.mites = Some(Mites(6)))),
            ("2026-07-26", entry("A", |e| e.actions.push(Action::TakeHoney { frames: 20, mass: None }))),
            ("2026-07-26", entry("B", |e| e.findings.temper = Some(Temper::Hot))),
        ]);
        let table = worth(&book, &book.yards[0], &folded, day("2026-09-01"));
        let a = &table[0];
        assert_eq!((a.hive.as_str(), a.years, a.honey_frames, a.washes), ("A", 2, 30, 2));
        assert_eq!(a.spring_gain, Some(7.0), "from 5 to 12: the count of June is after the flow began");
        assert!((a.mites.unwrap() - 1.5).abs() < 1e-9);
        assert_eq!(a.verdict, Verdict::Breeder);
        assert_eq!(table[1].verdict, Verdict::Requeen, "hot");
    }

    #[test]
    fn a_lost_colony_is_no_breeder() {
        let (book, folded) = book(vec![(
            "2026-04-28",
            entry("A", |e| e.actions.push(Action::Retire { loss: Loss::Starved })),
        )]);
        let table = worth(&book, &book.yards[0], &folded, day("2026-09-01"));
        let a = table.iter().find(|w| w.hive.as_str() == "A").unwrap();
        assert_eq!((a.losses, a.verdict), (1, Verdict::Empty));
    }
}
