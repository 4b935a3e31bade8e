//! What a keeper does to a book from day to day, at random: sets up, undoes it, visits, corrects, withdraws, starts again.

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use proptest::prelude::*;
use yardwalk::model::{
    Book, Depth, Finding, Hive, HiveBox, HiveId, Origin, Queen, QueenStatus, Role, Settings, Units, Value,
    Weather, Yard, YardId,
};
use yardwalk::session::{Intent, OpenBook, Opening};
use yardwalk::store::BookFolder;

pub(crate) fn today() -> NaiveDate {
    "2026-05-03".parse().unwrap()
}

pub(crate) fn clock() -> NaiveDateTime {
    today().and_hms_opt(10, 0, 0).unwrap()
}

pub(crate) fn hive(name: &str) -> Hive {
    let boxes = vec![HiveBox::with_drawn(Depth::Deep, 10, Role::Nest, 10)];
    let since = "2026-01-01".parse().unwrap();
    Hive::new(
        HiveId::new(name),
        Origin::Overwintered,
        since,
        boxes,
        Queen::of_status(QueenStatus::Laying, None),
    )
}

/// Opens it; `start` tells the starts apart, as the clock does.
pub(crate) fn opened(folder: &std::path::Path, start: u16) -> OpenBook {
    let (folder, book) = BookFolder::open(folder, today()).unwrap();
    let opening = Opening {
        today: today(),
        clock,
        offset: |_| FixedOffset::east_opt(0).unwrap(),
        seed: 100 * start,
        emergency: Vec::new(),
        config: None,
    };
    OpenBook::open(folder, book, Settings::default(), &opening).unwrap().0
}

/// Names are few, so that they meet.
pub(crate) const NAMES: [&str; 6] = ["A", "B", "C", "D", "E", "F"];

#[derive(Debug, Clone)]
pub(crate) enum Step {
    AddHive(usize),
    RenameHive(usize, usize),
    MoveHive(usize),
    RenameYard(usize, usize),
    AddYard(usize),
    Visit(usize, bool),
    Withdraw(usize),
    Correct(usize),
    Undo,
    Redo,
    Restart,
}

pub(crate) fn step() -> impl Strategy<Value = Step> {
    let name = 0..NAMES.len();
    prop_oneof![
        2 => name.clone().prop_map(Step::AddHive),
        4 => (0usize..8, name.clone()).prop_map(|(which, name)| Step::RenameHive(which, name)),
        1 => (0usize..8).prop_map(Step::MoveHive),
        2 => (0usize..4, name.clone()).prop_map(|(which, name)| Step::RenameYard(which, name)),
        1 => name.prop_map(Step::AddYard),
        4 => (0usize..8, any::<bool>()).prop_map(|(which, saves)| Step::Visit(which, saves)),
        1 => (0usize..8).prop_map(Step::Withdraw),
        1 => (0usize..8).prop_map(Step::Correct),
        6 => Just(Step::Undo),
        3 => Just(Step::Redo),
        1 => Just(Step::Restart),
    ]
}

/// What the keeper wants by a step, as far as there is anything to do it to.
pub(crate) fn intents(step: &Step, book: &Book) -> Vec<Intent> {
    let hives: Vec<(&Yard, &Hive)> =
        book.yards.iter().flat_map(|yard| yard.hives.iter().map(move |hive| (yard, hive))).collect();
    let hive_at = |which: usize| hives.get(which % hives.len().max(1)).copied();
    let yard_at = |which: usize| &book.yards[which % book.yards.len()];
    let visit_at = |which: usize| book.visits.get(which % book.visits.len().max(1));
    let visited = |hive: &Hive, saves: bool| {
        let (id, frames) = (hive.id.clone(), Some(Value::Frames(7.0)));
        [
            Intent::Find { hive: id, finding: Finding::Bees, value: frames },
            if saves { Intent::Save } else { Intent::PutAside },
        ]
    };
    match step {
        Step::AddHive(name) => {
            vec![Intent::AddHives { yard: yard_at(*name).name.clone(), hives: vec![hive(NAMES[*name])] }]
        }
        Step::RenameHive(which, name) => hive_at(*which).map_or_else(Vec::new, |(yard, hive)| {
            let renamed = Hive { id: HiveId::new(NAMES[*name]), ..hive.clone() };
            vec![Intent::ChangeHive {
                old: hive.id.clone(),
                yard: yard.name.clone(),
                hive: Box::new(renamed),
            }]
        }),
        Step::MoveHive(which) => hive_at(*which).map_or_else(Vec::new, |(_, hive)| {
            let to = yard_at(*which + 1).name.clone();
            vec![Intent::ChangeHive { old: hive.id.clone(), yard: to, hive: Box::new(hive.clone()) }]
        }),
        Step::RenameYard(which, name) => {
            let yard = yard_at(*which);
            let renamed = Yard { name: YardId::new(format!("Yard {}", NAMES[*name])), ..yard.clone() };
            vec![Intent::SetUpYard { old: Some(yard.name.clone()), yard: Box::new(renamed) }]
        }
        Step::AddYard(name) => {
            let yard = Yard::named(YardId::new(format!("Yard {}", NAMES[*name])));
            vec![Intent::SetUpYard { old: None, yard: Box::new(yard) }]
        }
        Step::Visit(which, saves) => hive_at(*which).map_or_else(Vec::new, |(yard, hive)| {
            let begin = Intent::Begin {
                yard: yard.name.clone(),
                hive: Some(hive.id.clone()),
                weather: Weather::default(),
                blooms: Vec::new(),
            };
            [begin].into_iter().chain(visited(hive, *saves)).collect()
        }),
        Step::Withdraw(which) => {
            visit_at(*which).map_or_else(Vec::new, |visit| vec![Intent::Withdraw(visit.id.clone())])
        }
        Step::Correct(which) => visit_at(*which).map_or_else(Vec::new, |visit| {
            let first = visit.entries.first().and_then(|entry| book.hive(&entry.hive));
            let begin = [Intent::Correct(visit.id.clone())];
            begin.into_iter().chain(first.into_iter().flat_map(|(_, hive)| visited(hive, true))).collect()
        }),
        Step::Undo => vec![Intent::UndoSetUp],
        Step::Redo => vec![Intent::RedoSetUp],
        Step::Restart => Vec::new(),
    }
}

/// Two yards, two hives.
pub(crate) fn small_book() -> Book {
    let mut book = Book::empty("T", Units::Us);
    for name in ["Yard A", "Yard B"] {
        book.yards.push(Yard::named(YardId::new(name)));
    }
    book.yards[0].hives = vec![hive("A"), hive("B")];
    book
}

/// Carries out a step in an open book; what is refused changes nothing. No visit stays open.
pub(crate) fn take(open: &mut OpenBook, step: &Step) {
    for intent in intents(step, &open.session().book().clone()) {
        let _ = open.carry_out(intent);
    }
    if open.session().visit().is_some() {
        let _ = open.carry_out(Intent::PutAside);
    }
}
