//! Keepers of simulated colonies: one who does nothing, one who goes by fixed dates, one who does what the program asks.

use chrono::{Datelike, NaiveDate};
use yardwalk::advice::{Day, Deed, Prompt, Situation, Urgency, advise};
use yardwalk::model::{
    Action, Depth, Entrance, Entry, Finding, Hive, HiveBox, HiveId, HiveState, Level, Mass, Mix, Origin,
    Practice, Promise, Queen, QueenStatus, Role, Temperature, Treatment, Units, Value, Volume, Yard, YardId,
    days_after, on_every_core,
};
use yardwalk::season::Calendar;
use yardwalk::simulated::{Colony, Death, Reader, Season, Told, Weather};

/// Who keeps the colonies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keeper {
    /// Puts honey boxes on and takes them off.
    Nothing,
    /// Goes by the dates of an extension calendar.
    Dates,
    /// Comes every so many days and does what must and should be done.
    Yardwalk(i64),
}

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

/// One colony as it is kept.
struct Kept {
    colony: Colony,
    reader: Reader,
    state: HiveState,
    minutes: f64,
    united: bool,
    mites_on_date: f64,
    /// Looks in a row without eggs, for the keeper of dates.
    without_eggs: u32,
    /// What it had come to by the beginning of this bee year.
    before: Told,
    /// The day its keeper comes back for it alone: what must be done tomorrow.
    back: Option<NaiveDate>,
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

fn keep_yard(keeper: Keeper, yard: u64, trace: Option<(u64, usize)>) -> Vec<Outcome> {
    let weather_of = |year: i32| Season::of(yard * 31 + u64::try_from(year).unwrap() * 3 + 1);
    let mut season = weather_of(FIRST);
    let mut kept: Vec<Kept> = (0..YARD).map(|at| start(yard, at, FIRST)).collect();
    let mut outcomes = Vec::new();
    let (first, last) = (day(FIRST, 3, 1), day(FIRST + WINTERS, 5, 1));
    let mut due = first;
    for on in first.iter_days().take_while(|on| *on <= last) {
        if (on.month(), on.day()) == (1, 1) {
            season = weather_of(on.year());
        }
        let weather = season.day(on);
        for each in &mut kept {
            each.colony.day(&weather);
            if (on.month(), on.day()) == (9, 25) {
                each.mites_on_date = each.colony.mite_percent();
            }
        }
        match keeper {
            Keeper::Nothing => nothing(&mut kept, &weather),
            Keeper::Dates => dates(&mut kept, &weather),
            Keeper::Yardwalk(every) => {
                let which = trace.filter(|(at, _)| *at == yard).map(|(_, hive)| hive);
                let visits = on >= due && (is_fit(&weather) || (on - due).num_days() >= WAITS);
                if visits || kept.iter().any(|k| k.back == Some(on)) {
                    walk(&mut kept, &weather, which, visits);
                }
                if visits {
                    // In the winter a look a month is enough.
                    due = days_after(due, if [11, 12, 1, 2].contains(&on.month()) { 28 } else { every });
                }
            }
        }
        if (on.month(), on.day()) == (5, 1) && on.year() > FIRST {
            outcomes.extend(kept.iter().map(|k| outcome(k, yard)));
            for (at, each) in kept.iter_mut().enumerate() {
                next_year(each, yard, at, on.year());
            }
        }
    }
    outcomes
}

/// The next bee year of a colony; where it died or was united, another in its place.
fn next_year(kept: &mut Kept, yard: u64, at: usize, year: i32) {
    if kept.colony.died().is_some() || kept.united {
        *kept = start(yard + 1_000_003 * u64::try_from(year).unwrap(), at, year);
    } else {
        kept.before = kept.colony.told();
        kept.minutes = 0.0;
    }
}

/// Days a keeper waits for a day fit to open hives, before going all the same.
const WAITS: i64 = 4;

/// A dry day, and from April to October one warm enough to lift frames: the program says what it is too cold for.
fn is_fit(weather: &Weather) -> bool {
    let warm =
        Temperature::from_celsius(weather.high - NOON).fahrenheit() >= Practice::default().frames_from();
    !weather.rain && (warm || !(4..=10).contains(&weather.on.month()))
}

/// C by which it is cooler at the visit than the day's high.
const NOON: f64 = 1.5;

fn start(seed: u64, at: usize, year: i32) -> Kept {
    let number = seed * 64 + u64::try_from(at).unwrap();
    let boxes = 1 + u32::from(number.is_multiple_of(3));
    let id = HiveId::new(format!("H{at}"));
    let queen = Queen { year: Some(year - 1), ..Queen::of_status(QueenStatus::Laying, None) };
    let nest = vec![HiveBox::new(Depth::Deep, 10, Role::Nest); usize::try_from(boxes).unwrap()];
    let hive = Hive::new(id, Origin::Overwintered, day(year - 1, 5, 1), nest, queen);
    let mut state = HiveState::start(&hive, &YardId::new("Y"));
    state.entrance = Entrance::Reduced;
    Kept {
        colony: Colony::overwintered(boxes, number * 7 + 5),
        reader: Reader::of(number * 7 + 6),
        state,
        minutes: 0.0,
        united: false,
        mites_on_date: 0.0,
        without_eggs: 0,
        before: Told::default(),
        back: None,
    }
}

fn outcome(kept: &Kept, yard: u64) -> Outcome {
    let (told, before) = (kept.colony.told(), kept.before);
    let pounds = |kg: f64| Mass::from_kilograms(kg).pounds();
    Outcome {
        yard,
        died: kept.colony.died().map(|(_, of)| of).filter(|_| !kept.united),
        united: kept.united,
        mites_on_date: kept.mites_on_date,
        honey: pounds(told.honey - before.honey),
        sugar: pounds(told.sugar - before.sugar),
        swarms: told.swarms - before.swarms,
        treatments: told.treatments - before.treatments,
        minutes: kept.minutes,
    }
}

fn super_on() -> Action {
    Action::AddBox { depth: Depth::Medium, frames: 10, role: Role::Super, drawn: 10, level: Level::Top }
}

fn harvest(kept: &mut Kept, weather: &Weather) {
    kept.colony.take(&Action::TakeHoney { frames: 10, mass: None }, weather);
    for _ in 0..4 {
        kept.colony.take(&Action::RemoveBox { role: Role::Super, level: Level::Top }, weather);
    }
}

fn nothing(kept: &mut [Kept], weather: &Weather) {
    let on = (weather.on.month(), weather.on.day());
    for each in kept.iter_mut().filter(|k| k.colony.died().is_none()) {
        if on == (5, 20) {
            each.colony.take(&super_on(), weather);
            each.colony.take(&super_on(), weather);
            each.minutes += 5.0;
        } else if on == (8, 31) {
            harvest(each, weather);
            each.minutes += 8.0;
        }
    }
}

/// Fixed dates, as extension calendars of the north give them (common practice, no single source).
fn dates(kept: &mut [Kept], weather: &Weather) {
    for each in kept.iter_mut().filter(|k| k.colony.died().is_none()) {
        by_date(each, weather);
    }
}

fn by_date(kept: &mut Kept, weather: &Weather) {
    let look = |kept: &mut Kept, finding| kept.reader.look(&kept.colony, finding, weather);
    let syrup = |mix, gallons| Action::FeedSyrup { mix, volume: Volume::from_gallons(gallons) };
    match (weather.on.month(), weather.on.day()) {
        (3, 20) => {
            kept.minutes += 3.0;
            if look(kept, Finding::Heft) == Some(Value::Choice(0)) {
                kept.colony.take(&Action::FeedSugar { mass: Mass::from_pounds(5.0) }, weather);
                kept.minutes += 3.0;
            }
        }
        (4, 12) => {
            kept.minutes += 3.0;
            if look(kept, Finding::Heft) == Some(Value::Choice(0)) {
                kept.colony.take(&syrup(Mix::Thin, 1.0), weather);
                kept.minutes += 4.0;
            }
        }
        (5, 1) => {
            kept.minutes += 8.0;
            kept.colony.take(&Action::SetEntrance { entrance: Entrance::Open }, weather);
            // A third nest box at most, however many years.
            if kept.colony.adults() > 12_000.0 && kept.state.nest_boxes() < 3 {
                kept.state.boxes.push(HiveBox::new(Depth::Deep, 10, Role::Nest));
                let nest = Action::AddBox {
                    depth: Depth::Deep,
                    frames: 10,
                    role: Role::Nest,
                    drawn: 6,
                    level: Level::Top,
                };
                kept.colony.take(&nest, weather);
            }
        }
        (5, 11 | 21) | (6, 1 | 11 | 21) => {
            kept.minutes += 7.0;
            let cells = look(kept, Finding::Cells);
            let kind = look(kept, Finding::CellKind);
            if matches!(cells, Some(Value::Count(n)) if n > 0) && kind == Some(Value::Choice(1)) {
                let queen = Queen::of_status(QueenStatus::Cell, None);
                kept.colony.take(&Action::SetQueen { queen }, weather);
                kept.minutes += 15.0;
            }
            if (weather.on.month(), weather.on.day()) == (5, 21)
                || (weather.on.month(), weather.on.day()) == (6, 11)
            {
                kept.colony.take(&super_on(), weather);
            }
            queenless(kept, weather);
        }
        (7, 5) => {
            kept.minutes += 5.0;
            if matches!(look(kept, Finding::SuperFull), Some(Value::Percent(p)) if p > 60.0) {
                kept.colony.take(&super_on(), weather);
            }
            queenless(kept, weather);
        }
        (8, 6) => {
            harvest(kept, weather);
            kept.minutes += 12.0;
        }
        (8, 8) => {
            let treatment = if weather.high < 29.4 { Treatment::FormicStrips } else { Treatment::ThymolGel };
            let until = days_after(weather.on, 28);
            kept.colony.take(&Action::Treat { treatment, until }, weather);
            kept.minutes += 8.0;
        }
        (9, 6 | 16 | 26) => {
            kept.minutes += 4.0;
            kept.colony.take(&Action::EndTreatment { treatment: Treatment::ThymolGel }, weather);
            let wanted = if kept.state.nest_boxes() > 1 || kept.colony.honey() > 20.0 { 60.0 } else { 45.0 };
            if matches!(look(kept, Finding::Weight), Some(Value::Mass(m)) if m.kilograms() < wanted) {
                kept.colony.take(&syrup(Mix::Thick, 1.5), weather);
                kept.minutes += 5.0;
            }
        }
        (10, 10) => {
            kept.colony.take(&Action::SetEntrance { entrance: Entrance::Reduced }, weather);
            kept.minutes += 3.0;
        }
        (11, 25) => {
            let treatment = Treatment::OxalicVapour;
            kept.colony.take(&Action::Treat { treatment, until: weather.on }, weather);
            kept.colony.take(&Action::EndTreatment { treatment }, weather);
            kept.minutes += 6.0;
        }
        _ => {}
    }
}

/// No eggs at three looks in a row: a queen is bought.
fn queenless(kept: &mut Kept, weather: &Weather) {
    let eggs = kept.reader.look(&kept.colony, Finding::Eggs, weather);
    kept.without_eggs = if eggs == Some(Value::YesNo(true)) { 0 } else { kept.without_eggs + 1 };
    if kept.without_eggs >= 3 {
        let queen = Queen::of_status(QueenStatus::Caged, Some(weather.on));
        kept.colony.take(&Action::SetQueen { queen }, weather);
        kept.minutes += 10.0;
        kept.without_eggs = 0;
    }
}

/// A visit to the yard, hive by hive, or to those alone for which something was promised: all that must or should be done is
/// done, what only may be is left.
fn walk(kept: &mut [Kept], weather: &Weather, trace: Option<usize>, to_all: bool) {
    let practice = Practice::default();
    let calendar = Calendar::of(&Yard::named(YardId::new("Y")), &practice, &[], weather.on);
    let now = yardwalk::model::Weather {
        temperature: Some(Temperature::from_celsius(weather.high - NOON)),
        wind: None,
        rain: Some(weather.rain),
    };
    for at in 0..kept.len() {
        let promised = kept[at].back.take() == Some(weather.on);
        let alone = kept[at].united || !(to_all || promised);
        if alone || (kept[at].colony.died().is_some() && kept[at].state.lost.is_some()) {
            continue;
        }
        let mut entry = Entry::blank(kept[at].state.id.clone());
        if kept[at].colony.died().is_some() {
            entry.findings.dead = Some(true);
        }
        // The yard as it stood when this hive was come to.
        let yard: Vec<HiveState> = kept.iter().map(|k| k.state.clone()).collect();
        let stands: Vec<&HiveState> = yard.iter().collect();
        let mut opened = false;
        let mut worked = 0.0;
        for _ in 0..40 {
            let mut state = kept[at].state.clone();
            state.apply(&entry, weather.on);
            let day = Day {
                today: weather.on,
                calendar: &calendar,
                weather: now,
                practice: &practice,
                units: Units::Us,
                stands: &stands,
            };
            let advice = advise(&Situation::of(&state, Some(&entry), day));
            let Some(prompt) =
                advice.prompts.iter().find(|p| p.makes_a_trip() || p.urgency <= Urgency::Should)
            else {
                break;
            };
            if trace == Some(at) {
                let first = prompt.offers.first().map(|o| o.label.as_str());
                println!("{} {} {} | {first:?}", weather.on, prompt.urgency.word(), prompt.title);
            }
            let before = entry.clone();
            let looked = obey(prompt, &mut entry, &mut kept[at], weather);
            if !looked {
                worked += prompt.minutes;
                opened |= prompt.deeds.iter().any(|d| matches!(d, Deed::LiftsFrames | Deed::OpensLid));
            }
            if before == entry {
                break;
            }
        }
        if !entry.is_blank() {
            kept[at].minutes += 2.0 + if opened { 3.0 } else { 0.0 } + worked;
        }
        kept[at].state.apply(&entry, weather.on);
        for action in &entry.actions {
            if let Action::JoinInto { hive } = action {
                unite(kept, at, hive);
            }
        }
    }
}

/// Looks at what is asked, and gives whether anything was looked at; else takes the first way.
fn obey(prompt: &Prompt, entry: &mut Entry, kept: &mut Kept, weather: &Weather) -> bool {
    let mut looked = false;
    for finding in &prompt.asks {
        if entry.findings.get(*finding).is_none()
            && let Some(value) = kept.reader.look(&kept.colony, *finding, weather)
        {
            looked |= entry.findings.set(*finding, Some(value));
        }
    }
    if looked {
        return true;
    }
    if let Some(offer) = prompt.offers.first() {
        for action in &offer.actions {
            kept.colony.take(action, weather);
            entry.actions.push(action.clone());
        }
        let promise =
            |(days, what): &(i64, String)| Promise { on: days_after(weather.on, *days), what: what.clone() };
        entry.promises.extend(offer.promises.iter().map(promise));
        // What must be done tomorrow is worth the way.
        if prompt.urgency == Urgency::Must && offer.later == Some(1) {
            kept.back = Some(days_after(weather.on, 1));
        }
    }
    entry.answer(prompt.taken(prompt.offers.first(), weather.on));
    false
}

fn unite(kept: &mut [Kept], at: usize, into: &HiveId) {
    let Some(partner) = kept.iter().position(|k| k.state.id == *into && k.colony.died().is_none()) else {
        return;
    };
    if partner != at {
        let weak = kept[at].colony.clone();
        kept[partner].colony.unite(&weak);
        kept[at].united = true;
    }
}
