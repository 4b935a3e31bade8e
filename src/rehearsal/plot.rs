//! How a rehearsal begins: its first day, its hives, and the book in which the keeper finds them.

use chrono::{Datelike, NaiveDate};

use crate::model::{
    Beginning, Book, Depth, Elevation, Entrance, Hive, HiveBox, HiveId, Made, Origin, Place, Queen,
    QueenStatus, Rehearsal, Role, Scenario, Start, Units, Yard, YardId, days_after,
};
use crate::season::Shift;

/// The yard of a rehearsal.
const YARD: &str = "Home yard";

/// The scenarios that come with the program: a name, and what it holds.
pub const SCENARIOS: &[(&str, &str)] = &[
    ("spring-reversal", include_str!("scenarios/spring-reversal.ron")),
    ("swarm-week", include_str!("scenarios/swarm-week.ron")),
    ("august-mites", include_str!("scenarios/august-mites.ron")),
    ("light-september", include_str!("scenarios/light-september.ron")),
    ("queenless-split", include_str!("scenarios/queenless-split.ron")),
    ("robbing", include_str!("scenarios/robbing.ron")),
];

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap_or_default()
}

/// A year with so many hives: to the first of May, as the generator's winters are told.
pub fn whole_year(seed: u64, hives: u8, start: Start, place: Option<Place>, year: i32) -> Rehearsal {
    let late = place.map_or(0, |place| Shift::by_place(place).spring);
    let began = match start {
        Start::Overwintered => day(year, 3, 20),
        Start::Package => day(year, 4, 20),
        Start::Nuc => day(year, 5, 8),
    };
    let began = days_after(began, late);
    let hives = (1..=hives).map(|n| Beginning {
        hive: HiveId::new(format!("R{n}")),
        start,
        // Most are single deep boxes.
        boxes: if start == Start::Overwintered && n.is_multiple_of(3) { 2 } else { 1 },
        supers: 0,
        made: Vec::new(),
    });
    let hives = hives.collect();
    let until = day(year + 1, 5, 1);
    let yard = YardId::new(YARD);
    Rehearsal { seed, yard, place, scenario: None, hives, began, until, today: began }
}

/// A scenario in a year; none where that year has not its days.
pub fn of_scenario(scenario: Scenario, seed: Option<u64>, year: i32) -> Option<Rehearsal> {
    let began = scenario.from.in_year(year)?;
    let until = days_after(began, scenario.days());
    Some(Rehearsal {
        seed: seed.unwrap_or(scenario.seed),
        yard: YardId::new(YARD),
        place: None,
        hives: scenario.hives.clone(),
        began,
        until,
        today: began,
        scenario: Some(scenario),
    })
}

/// The book in which the keeper finds the hives.
pub fn book_of(rehearsal: &Rehearsal, units: Units) -> Book {
    let mut book = Book::empty("Rehearsal", units);
    // Visits of days to come may be logged.
    book.demo_on = Some(rehearsal.until);
    let mut yard = Yard::named(rehearsal.yard.clone());
    let reference = Place { latitude: 43.0, longitude: -86.0, elevation: Elevation::from_metres(200.0) };
    yard.place = Some(rehearsal.place.unwrap_or(reference));
    yard.hives = rehearsal.hives.iter().map(|each| hive_of(each, rehearsal.began)).collect();
    book.yards.push(yard);
    book
}

fn hive_of(beginning: &Beginning, began: NaiveDate) -> Hive {
    let drawn = match beginning.start {
        Start::Package => 0,
        Start::Nuc => 5,
        Start::Overwintered => 10,
    };
    let nest = (0..beginning.boxes).map(|_| HiveBox::with_drawn(Depth::Deep, 10, Role::Nest, drawn));
    let supers = (0..beginning.supers).map(|_| HiveBox::new(Depth::Medium, 10, Role::Super));
    let (origin, since, status) = match beginning.start {
        Start::Package => (Origin::Package, began, QueenStatus::Caged),
        Start::Nuc => (Origin::Nuc, began, QueenStatus::Laying),
        Start::Overwintered => (Origin::Overwintered, day(began.year() - 1, 5, 1), QueenStatus::Laying),
    };
    let queen = match beginning.start {
        Start::Package => Queen::of_status(status, Some(began)),
        Start::Nuc | Start::Overwintered => Queen::of_status(status, None),
    };
    let mut hive = Hive::new(beginning.hive.clone(), origin, since, nest.chain(supers).collect(), queen);
    let entrance = beginning.made.iter().find_map(|made| match made {
        Made::Entrance(entrance) => Some(*entrance),
        _ => None,
    });
    hive.entrance = entrance.unwrap_or(Entrance::Reduced);
    hive
}
