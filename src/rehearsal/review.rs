//! The review of a rehearsal that is over: what really was against what was seen and done, and what others would have made
//! of the same colonies.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::keepers::{Keeper, Keeping, Tended};
use super::year::{Year, seed_of};
use crate::model::{Book, Entry, HiveId, HiveState, Judged, Mass, Measure, Rehearsal, Visit, Yard};
use crate::simulated::{Colony, Death};

/// What a colony really was at the end of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Truth {
    /// The day.
    pub on: NaiveDate,
    /// Frames of bees.
    pub bees: f64,
    /// Frames of brood.
    pub brood: f64,
    /// Mites on a hundred bees.
    pub mites: f64,
    /// Honey in the nest, lb.
    pub food: f64,
}

/// What a colony came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CameTo {
    /// When and of what it died.
    pub died: Option<(NaiveDate, Death)>,
    /// Whether it was united with another.
    pub is_united: bool,
    /// Whether its queen lays.
    pub queen_lays: bool,
    /// Swarms lost.
    pub swarms: u32,
    /// Courses of treatment.
    pub treatments: u32,
    /// Honey taken, lb.
    pub honey: f64,
    /// Sugar given, lb.
    pub sugar: f64,
    /// On the last day.
    pub last: Truth,
    /// The most mites on a hundred bees, and when.
    pub most_mites: (f64, NaiveDate),
    /// Mites on a hundred bees on September 25, while the winter bees are raised.
    pub in_fall: Option<f64>,
}

/// One hive over the rehearsal.
#[derive(Debug, Clone, PartialEq)]
pub struct HiveReview {
    /// The hive.
    pub hive: HiveId,
    /// What it really was, day by day.
    pub days: Vec<Truth>,
    /// What the keeper wrote down and did, by day.
    pub entries: Vec<(NaiveDate, Entry)>,
    /// What it came to in the keeper's hands.
    pub came_to: CameTo,
    /// What it would have come to: by the program's advice, by fixed dates, with nothing done.
    pub others: Vec<(&'static str, CameTo)>,
}

/// Whether something a scenario is judged by came out well, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The hive.
    pub hive: HiveId,
    /// What is judged.
    pub judged: Judged,
    /// The figure.
    pub figure: f64,
    /// Whether it is good.
    pub is_good: bool,
}

/// The review.
#[derive(Debug, Clone, PartialEq)]
pub struct Review {
    /// The rehearsal.
    pub rehearsal: Rehearsal,
    /// Its hives, those that came during it too.
    pub hives: Vec<HiveReview>,
    /// What the scenario was judged by.
    pub verdicts: Vec<Verdict>,
    /// Three things to do better, or fewer where there is less to say.
    pub better: Vec<String>,
}

fn pounds(kg: f64) -> f64 {
    Mass::from_kilograms(kg).pounds()
}

fn truth(colony: &Colony, on: NaiveDate) -> Truth {
    let is_dead = colony.died().is_some();
    let of = |figure: f64| if is_dead { 0.0 } else { figure };
    Truth {
        on,
        bees: of(colony.frames_of_bees()),
        brood: of(colony.frames_of_brood()),
        mites: of(colony.mite_percent()),
        food: pounds(colony.honey()),
    }
}

fn came_to(colony: &Colony, is_united: bool, days: &[Truth], until: NaiveDate) -> CameTo {
    let told = colony.told();
    let most = days.iter().max_by(|a, b| a.mites.total_cmp(&b.mites));
    let in_fall = days.iter().find(|day| super::is_fall_day(day.on) && day.bees > 0.0).map(|day| day.mites);
    CameTo {
        died: colony.died().filter(|_| !is_united),
        is_united,
        queen_lays: colony.queen_lays(),
        swarms: told.swarms,
        treatments: told.treatments,
        honey: pounds(told.honey),
        sugar: pounds(told.sugar),
        last: truth(colony, until),
        most_mites: most.map_or((0.0, until), |day| (day.mites, day.on)),
        in_fall,
    }
}

/// Who is compared with.
const OTHERS: &[(&str, Keeper)] =
    &[("the advice", Keeper::Yardwalk(14)), ("fixed dates", Keeper::Dates), ("left alone", Keeper::Nothing)];

impl Review {
    /// The review of a rehearsal by its book; none before its last day.
    pub fn of(rehearsal: &Rehearsal, book: &Book) -> Option<Self> {
        if !rehearsal.is_over() {
            return None;
        }
        let until = rehearsal.until;
        let mut days: BTreeMap<HiveId, Vec<Truth>> = BTreeMap::new();
        let year = Year::followed(rehearsal, book, until, |on, year| {
            for (hive, kept) in year.hives() {
                days.entry(hive.clone()).or_default().push(truth(&kept.colony, on));
            }
        });
        let others: Vec<_> =
            OTHERS.iter().map(|(name, keeper)| (*name, kept_by(rehearsal, book, *keeper))).collect();
        let visits = book.standing_visits(until);
        let hives: Vec<HiveReview> = year
            .hives()
            .map(|(hive, kept)| {
                let days = days.remove(hive).unwrap_or_default();
                let of_hive = |(name, all): &(&'static str, BTreeMap<HiveId, CameTo>)| {
                    // The comparison is by the names hives began with.
                    Some((*name, *all.get(hive)?))
                };
                HiveReview {
                    hive: hive.clone(),
                    came_to: came_to(&kept.colony, kept.is_united, &days, until),
                    entries: entries_of(&visits, hive),
                    others: others.iter().filter_map(of_hive).collect(),
                    days,
                }
            })
            .collect();
        let verdicts = verdicts(rehearsal, &hives);
        let better = super::better::of(&hives, &verdicts);
        Some(Self { rehearsal: rehearsal.clone(), hives, verdicts, better })
    }

    /// Whether all a scenario is judged by came out well; a year is judged by whether its colonies live.
    pub fn is_good(&self) -> bool {
        if self.verdicts.is_empty() {
            return self.hives.iter().all(|hive| hive.came_to.died.is_none());
        }
        self.verdicts.iter().all(|verdict| verdict.is_good)
    }
}

fn entries_of(visits: &[&Visit], hive: &HiveId) -> Vec<(NaiveDate, Entry)> {
    let mut entries: Vec<(NaiveDate, Entry)> =
        visits.iter().filter_map(|visit| Some((visit.on, visit.entry(hive)?.clone()))).collect();
    entries.sort_by_key(|(on, _)| *on);
    entries
}

/// What the same colonies come to in another's hands.
fn kept_by(rehearsal: &Rehearsal, book: &Book, keeper: Keeper) -> BTreeMap<HiveId, CameTo> {
    let named = Yard::named(rehearsal.yard.clone());
    let yard = book.yards.iter().find(|yard| yard.name == rehearsal.yard).unwrap_or(&named);
    let mut year = Year::begun(rehearsal);
    let mut colonies = year.let_go();
    let mut tended: Vec<Tended> = Vec::new();
    for hive in &yard.hives {
        let began = std::iter::once(&hive.id).chain(&hive.formerly).find_map(|name| colonies.remove(name));
        if let Some(kept) = began {
            let seed = seed_of(rehearsal.seed, &format!("{} reader", hive.id));
            tended.push(Tended::of(kept.colony, HiveState::start(hive, &yard.name), seed));
        }
    }
    let mut days: Vec<Vec<Truth>> = vec![Vec::new(); tended.len()];
    let mut keeping = Keeping::of(keeper, yard, &book.practice, rehearsal.began);
    let mut on = rehearsal.began;
    loop {
        let weather = *year.weather();
        keeping.day(&mut tended, &weather, &mut |_, _| {});
        for (each, days) in tended.iter().zip(&mut days) {
            days.push(truth(&each.colony, on));
        }
        if on >= rehearsal.until {
            break;
        }
        on = crate::model::days_after(on, 1);
        year.pass(on);
        let weather = *year.weather();
        for each in tended.iter_mut().filter(|each| !each.united) {
            each.colony.day(&weather);
        }
    }
    let came = tended.iter().zip(&days);
    came.map(|(each, days)| (each.hive().clone(), came_to(&each.colony, each.united, days, rehearsal.until)))
        .collect()
}

fn verdicts(rehearsal: &Rehearsal, hives: &[HiveReview]) -> Vec<Verdict> {
    let judged = rehearsal.scenario.iter().flat_map(|scenario| &scenario.judged);
    let is_meant = |judged: &Judged, hive: &HiveReview| match &judged.hive {
        Some(named) => *named == hive.hive,
        None => rehearsal.hives.iter().any(|each| each.hive == hive.hive),
    };
    judged
        .flat_map(|judged| hives.iter().filter(|hive| is_meant(judged, hive)).map(move |hive| (judged, hive)))
        .map(|(judged, hive)| {
            let figure = measured(&hive.came_to, judged.what);
            let (hive, judged) = (hive.hive.clone(), judged.clone());
            Verdict { hive, is_good: judged.is_met(figure), judged, figure }
        })
        .collect()
}

/// A figure of what a colony came to.
pub(super) fn measured(came: &CameTo, what: Measure) -> f64 {
    let yes = |is: bool| if is { 1.0 } else { 0.0 };
    match what {
        Measure::Alive => yes(came.died.is_none() && !came.is_united),
        Measure::QueenLays => yes(came.died.is_none() && came.queen_lays),
        Measure::Swarms => f64::from(came.swarms),
        Measure::Mites => came.last.mites,
        Measure::Bees => came.last.bees,
        Measure::Brood => came.last.brood,
        Measure::Food => came.last.food,
        Measure::Honey => came.honey,
        Measure::Sugar => came.sugar,
    }
}

/// What a colony died of, in words.
pub fn cause_words(of: Death) -> &'static str {
    match of {
        Death::Starved => "nothing left to eat",
        Death::Mites => "mites, and the virus they carry",
        Death::Queenless => "no queen",
        Death::TooFew => "too few bees",
        Death::Robbed => "robbed out",
    }
}

/// Mites on a hundred bees over which winter bees are raised sick.
const OVER: f64 = 3.0;
/// Food under which a colony is about to starve, lb.
const HUNGRY: f64 = 5.0;
/// Share of the bees that leaves with a swarm, at least.
const LEFT: f64 = 0.35;

impl HiveReview {
    /// What decided its year, and on which day; none where nothing did.
    pub fn decisive(&self) -> Option<(NaiveDate, String)> {
        let first = |is: &dyn Fn(&Truth) -> bool| self.days.iter().find(|day| is(day)).map(|day| day.on);
        match self.came_to.died {
            Some((_, Death::Mites)) => {
                let on = first(&|day| day.mites > OVER)?;
                Some((on, format!("from here on more than {OVER:.0} % of its bees carried mites")))
            }
            Some((on, Death::Starved)) => {
                // The last time it went under, not a lean week it came out of.
                let before = self.days.iter().filter(|day| day.on < on);
                let under = before.rev().take_while(|day| day.food < HUNGRY).last()?;
                Some((under.on, format!("from here on it had less than {HUNGRY:.0} lb of food")))
            }
            Some((on, Death::Queenless)) => {
                let before = self.days.iter().filter(|day| day.on < on);
                let under = before.rev().take_while(|day| day.brood < 0.1).last()?;
                Some((under.on, "from here on it had no brood".to_owned()))
            }
            Some((on, of @ (Death::TooFew | Death::Robbed))) => Some((on, cause_words(of).to_owned())),
            None if self.came_to.swarms > 0 => {
                let mut pairs = self.days.iter().zip(self.days.iter().skip(1));
                let swarm = pairs.find(|(before, day)| day.bees < before.bees * (1.0 - LEFT))?;
                Some((swarm.1.on, "half its bees and the queen left with a swarm".to_owned()))
            }
            None => None,
        }
    }
}
