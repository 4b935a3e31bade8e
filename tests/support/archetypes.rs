//! Hives of every kind the rules speak to, with what a look finds made on the day itself.

use chrono::{Datelike as _, NaiveDate};
use yardwalk::model::{
    Action, Backfill, BottomBox, CellKind, Cells, Cover, Depth, Disease, Entry, FeederLevel, Findings,
    Flight, Frames, Heft, Hive, HiveBox, HiveId, HiveState, Level, Loss, Mass, Mites, Origin, Pattern,
    Percent, Pests, Promise, Queen, QueenStatus, Robbing, Role, Temper, Temperature, Treatment, Weather,
    YardId, days_after,
};

/// What is set of a hive for a day.
type Set = fn(&mut HiveState, &mut Findings, NaiveDate);

fn treated(state: &mut HiveState, treatment: Treatment, began: NaiveDate, days: i64, is_out: bool) {
    let mut entry = Entry::blank(state.id.clone());
    let until = days_after(began, days);
    entry.actions.push(Action::Treat { treatment, until });
    state.apply(&entry, began);
    if is_out {
        let mut entry = Entry::blank(state.id.clone());
        entry.actions.push(Action::EndTreatment { treatment });
        state.apply(&entry, until);
    }
}

fn honey_box(state: &mut HiveState, on: NaiveDate) {
    let mut entry = Entry::blank(state.id.clone());
    entry.actions.push(Action::AddBox {
        depth: Depth::Medium,
        frames: 10,
        role: Role::Super,
        drawn: 10,
        level: Level::Top,
    });
    state.apply(&entry, on);
}

const SETS: &[Set] = &[
    |_, _, _| (),
    |_, f, _| {
        f.heft = Some(Heft::Light);
        f.flight = Some(Flight::Many);
        f.pollen = Some(true);
    },
    |_, f, _| f.heft = Some(Heft::Light),
    |_, f, _| {
        f.bees = Some(Frames(9.0));
        f.brood = Some(Frames(7.0));
    },
    |_, f, _| {
        f.bees = Some(Frames(18.0));
        f.brood = Some(Frames(9.0));
        f.bottom_box = Some(BottomBox::Empty);
    },
    |_, f, _| {
        f.bees = Some(Frames(2.0));
        f.disease = Some(Disease::None);
        f.mites = Some(Mites(1));
    },
    |s, f, today| {
        honey_box(s, days_after(today, -40));
        f.bees = Some(Frames(16.0));
        f.super_full = Some(Percent(85.0));
        f.capped = Some(Percent(85.0));
    },
    |s, f, today| {
        honey_box(s, days_after(today, -40));
        f.super_full = Some(Percent(80.0));
        f.capped = Some(Percent(40.0));
        f.moisture = Some(Percent(19.5));
    },
    |_, f, _| f.mites = Some(Mites(15)),
    |_, f, _| f.mites = Some(Mites(5)),
    |_, f, _| f.weight = Some(Mass::from_pounds(60.0)),
    |_, f, _| f.backfill = Some(Backfill::Choked),
    |_, f, _| f.robbing = Some(Robbing::Robbed),
    |_, f, _| f.disease = Some(Disease::Sunken),
    |_, f, _| f.disease = Some(Disease::Chalk),
    |_, f, _| f.dead = Some(true),
    |_, f, _| f.pests = Some(Pests::Beetles),
    |_, f, _| f.droppings = Some(true),
    |_, f, _| f.dying = Some(true),
    |_, f, _| f.cover = Some(Cover::Damp),
    |_, f, _| f.high_soon = Some(Temperature::from_fahrenheit(100.0)),
    |_, f, _| {
        f.eggs = Some(false);
        f.larvae = Some(false);
        f.sealed = Some(true);
    },
    |_, f, _| {
        f.cells = Some(Cells(8));
        f.cell_kind = Some(CellKind::Swarm);
        f.eggs = Some(true);
    },
    |s, _, today| s.queen = Queen::of_status(QueenStatus::Cell, Some(days_after(today, -15))),
    |s, f, today| {
        s.origin = Origin::Package;
        s.came = days_after(today, -6);
        f.feeder = Some(FeederLevel::Empty);
    },
    |s, _, today| treated(s, Treatment::FormicStrips, days_after(today, -44), 14, true),
    |s, _, today| treated(s, Treatment::AmitrazStrips, days_after(today, -45), 42, false),
    |s, _, today| treated(s, Treatment::OxalicVapour, days_after(today, -7), 0, true),
    |s, f, _| {
        s.queen.year = Some(2022);
        f.temper = Some(Temper::Hot);
        f.pattern = Some(Pattern::Spotty);
    },
    |s, f, _| {
        s.boxes = vec![HiveBox::new(Depth::Deep, 5, Role::Nest)];
        f.bees = Some(Frames(5.0));
    },
    |s, f, today| {
        s.drone_comb = Some(days_after(today, -20));
        f.bees = Some(Frames(9.0));
    },
    |s, f, _| {
        s.entrance = yardwalk::model::Entrance::Small;
        s.mouse_guard = true;
        f.bees = Some(Frames(14.0));
    },
    |s, _, today| {
        let answered = yardwalk::model::fold::Answered {
            on: days_after(today, -7),
            reply: yardwalk::model::Reply::NotNeeded,
        };
        s.answers.insert(yardwalk::model::RuleId::new("mites.wash"), answered);
    },
    |s, _, today| {
        let mut entry = Entry::blank(s.id.clone());
        entry.promises.push(Promise { on: today, what: "look again".to_owned() });
        s.apply(&entry, days_after(today, -7));
    },
    |s, _, today| s.lost = Some((days_after(today, -5), Loss::Small)),
];

/// Every kind of hive, in one and in two boxes, on a day.
/// Mean highs of the reference place by month, Fahrenheit (common practice, no single source).
const HIGHS: [f64; 12] = [30.0, 34.0, 45.0, 60.0, 70.0, 80.0, 84.0, 82.0, 74.0, 62.0, 47.0, 35.0];

/// The usual weather of a day at the reference place, as far as a rule asks for it.
pub(crate) fn usual_weather(today: NaiveDate) -> Weather {
    let high = HIGHS[today.month0() as usize];
    Weather { temperature: Some(Temperature::from_fahrenheit(high)), ..Weather::default() }
}

pub(crate) fn on(today: NaiveDate) -> Vec<HiveState> {
    let mut all = Vec::new();
    for deeps in [1, 2] {
        for set in SETS {
            let hive = Hive::new(
                HiveId::new("H"),
                Origin::Overwintered,
                "2025-05-01".parse().unwrap(),
                vec![HiveBox::new(Depth::Deep, 10, Role::Nest); deeps],
                Queen::of_status(QueenStatus::Laying, None),
            );
            let mut state = HiveState::start(&hive, &YardId::new("Y"));
            let mut entry = Entry::blank(HiveId::new("H"));
            set(&mut state, &mut entry.findings, today);
            state.apply(&entry, today);
            all.push(state);
        }
    }
    all
}
