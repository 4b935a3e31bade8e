//! A keeper who goes by the dates of an extension calendar.

use chrono::Datelike;

use super::{Tended, harvest, super_on};
use crate::model::{
    Action, Depth, Entrance, Finding, HiveBox, Level, Mass, Mix, Queen, QueenStatus, Role, Treatment, Value,
    Volume, days_after,
};
use crate::simulated::Weather;

/// Fixed dates, as extension calendars of the north give them (common practice, no single source).
pub(super) fn keep(kept: &mut [Tended], weather: &Weather) {
    for each in kept.iter_mut().filter(|k| k.lives()) {
        by_date(each, weather);
    }
}

fn by_date(kept: &mut Tended, weather: &Weather) {
    let look = |kept: &mut Tended, finding| kept.reader.look(&kept.colony, finding, weather);
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
fn queenless(kept: &mut Tended, weather: &Weather) {
    let eggs = kept.reader.look(&kept.colony, Finding::Eggs, weather);
    kept.without_eggs = if eggs == Some(Value::YesNo(true)) { 0 } else { kept.without_eggs + 1 };
    if kept.without_eggs >= 3 {
        let queen = Queen::of_status(QueenStatus::Caged, Some(weather.on));
        kept.colony.take(&Action::SetQueen { queen }, weather);
        kept.minutes += 10.0;
        kept.without_eggs = 0;
    }
}
