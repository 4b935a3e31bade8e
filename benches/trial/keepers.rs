//! Keepers over simulated colonies, three winters in a row.

use chrono::{Datelike, NaiveDate};
use yardwalk::model::{
    Depth, Entrance, Hive, HiveBox, HiveId, HiveState, Mass, Origin, Practice, Queen, QueenStatus, Role,
    Yard, YardId, on_every_core,
};
use yardwalk::rehearsal::{Keeping, Tended};
use yardwalk::simulated::{Colony, Death, Season, Told};

pub(crate) use yardwalk::rehearsal::Keeper;

/// What became of one colony in a bee year: from 1 May, the first time from 1 March, to 1 May.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Outcome {
    pub(crate) yard: u64,
    pub(crate) died: Option<Death>,
    /// United with another: neither lost nor kept.
    pub(crate) united: bool,
    pub(crate) mites_on_date: f64,
    /// Pounds.
    pub(crate) honey: f64,
    /// Pounds.
    pub(crate) sugar: f64,
    pub(crate) swarms: u32,
    pub(crate) treatments: u32,
    pub(crate) minutes: f64,
}

/// Colonies of a yard.
const YARD: usize = 8;

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

/// One colony, and what the trial notes of it.
struct Kept {
    tended: Tended,
    mites_on_date: f64,
    /// What it had come to by the beginning of this bee year.
    before: Told,
}

/// Keeps so many yards of colonies through three winters in a row, each year with its own weather.
pub(crate) fn keep(keeper: Keeper, colonies: usize, trace: Option<(u64, usize)>) -> Vec<Outcome> {
    let yards = u64::try_from(colonies.div_ceil(YARD)).unwrap();
    let all: Vec<u64> = (0..yards).collect();
    on_every_core(&all, 1, |yard| keep_yard(keeper, *yard, trace)).into_iter().flatten().collect()
}

/// Winters in a row.
const WINTERS: i32 = 3;
/// The first year.
const FIRST: i32 = 2026;

fn keep_yard(keeper: Keeper, number: u64, trace: Option<(u64, usize)>) -> Vec<Outcome> {
    let weather_of = |year: i32| Season::of(number * 31 + u64::try_from(year).unwrap() * 3 + 1);
    let mut season = weather_of(FIRST);
    let mut kept: Vec<Kept> = (0..YARD).map(|at| start(number, at, FIRST)).collect();
    let mut outcomes = Vec::new();
    let (first, last) = (day(FIRST, 3, 1), day(FIRST + WINTERS, 5, 1));
    let (yard, practice) = (Yard::named(YardId::new("Y")), Practice::default());
    let mut keeping = Keeping::of(keeper, &yard, &practice, first);
    let traced = trace.filter(|(at, _)| *at == number).map(|(_, hive)| hive);
    for on in first.iter_days().take_while(|on| *on <= last) {
        if (on.month(), on.day()) == (1, 1) {
            season = weather_of(on.year());
        }
        let weather = season.day(on);
        for each in &mut kept {
            each.tended.colony.day(&weather);
            if (on.month(), on.day()) == (9, 25) {
                each.mites_on_date = each.tended.colony.mite_percent();
            }
        }
        let mut tended: Vec<Tended> = Vec::with_capacity(YARD);
        let mut noted = Vec::with_capacity(YARD);
        for each in kept.drain(..) {
            tended.push(each.tended);
            noted.push((each.mites_on_date, each.before));
        }
        keeping.day(&mut tended, &weather, &mut |at, prompt| {
            if traced == Some(at) {
                let first = prompt.offers.first().map(|o| o.label.as_str());
                println!("{on} {} {} | {first:?}", prompt.urgency.word(), prompt.title);
            }
        });
        let both = tended.into_iter().zip(noted);
        kept = both.map(|(tended, (mites_on_date, before))| Kept { tended, mites_on_date, before }).collect();
        if (on.month(), on.day()) == (5, 1) && on.year() > FIRST {
            outcomes.extend(kept.iter().map(|k| outcome(k, number)));
            for (at, each) in kept.iter_mut().enumerate() {
                next_year(each, number, at, on.year());
            }
        }
    }
    outcomes
}

/// The next bee year of a colony; where it died or was united, another in its place.
fn next_year(kept: &mut Kept, yard: u64, at: usize, year: i32) {
    if kept.tended.colony.died().is_some() || kept.tended.united {
        *kept = start(yard + 1_000_003 * u64::try_from(year).unwrap(), at, year);
    } else {
        kept.before = kept.tended.colony.told();
        kept.tended.minutes = 0.0;
    }
}

fn start(seed: u64, at: usize, year: i32) -> Kept {
    let number = seed * 64 + u64::try_from(at).unwrap();
    let boxes = 1 + u32::from(number.is_multiple_of(3));
    let id = HiveId::new(format!("H{at}"));
    let queen = Queen { year: Some(year - 1), ..Queen::of_status(QueenStatus::Laying, None) };
    let nest = vec![HiveBox::new(Depth::Deep, 10, Role::Nest); usize::try_from(boxes).unwrap()];
    let hive = Hive::new(id, Origin::Overwintered, day(year - 1, 5, 1), nest, queen);
    let mut state = HiveState::start(&hive, &YardId::new("Y"));
    state.entrance = Entrance::Reduced;
    let colony = Colony::overwintered(boxes, number * 7 + 5);
    Kept { tended: Tended::of(colony, state, number * 7 + 6), mites_on_date: 0.0, before: Told::default() }
}

fn outcome(kept: &Kept, yard: u64) -> Outcome {
    let Kept { tended, mites_on_date, before } = kept;
    let told = tended.colony.told();
    let pounds = |kg: f64| Mass::from_kilograms(kg).pounds();
    Outcome {
        yard,
        died: tended.colony.died().map(|(_, of)| of).filter(|_| !tended.united),
        united: tended.united,
        mites_on_date: *mites_on_date,
        honey: pounds(told.honey - before.honey),
        sugar: pounds(told.sugar - before.sugar),
        swarms: told.swarms - before.swarms,
        treatments: told.treatments - before.treatments,
        minutes: tended.minutes,
    }
}
