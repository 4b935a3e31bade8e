//! The forms of yards and hives as they are set up: each makes the book's yards anew, checked as a whole before it is saved.

use crate::model::{
    Book, DayOfYear, Elevation, FreezeDates, Hive, HiveId, LONGEST_NAME, Origin, Place, Queen, QueenStatus,
    Yard, YardId, stack_from, stack_words,
};
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::field::Field;

use super::actions::{next, next_name, queen_fields, queen_of};

/// Most hives set up at once.
const MOST: u8 = 200;

/// Saves the yards, if the whole book holds together with them.
pub(crate) fn save(app: &mut App, yards: Book, effects: &mut Vec<Effect>) -> Result<(), String> {
    if let Some(why) = &app.read_only {
        return Err(format!("Nothing is written: {why}. Close it first."));
    }
    let whole = app.book.clone().with_yards(yards.clone());
    if let Some(fault) = whole.faults(app.last_day()).into_iter().next() {
        return Err(format!("{}: {}.", fault.what, fault.mend));
    }
    effects.push(Effect::SaveYards(Box::new(yards)));
    Ok(())
}

/// The yards without their visits, to be changed.
pub(crate) fn yards_of(app: &App) -> Book {
    Book { visits: Vec::new(), ..app.book.clone() }
}

pub(super) fn yard_fields(yard: Option<&Yard>, app: &App) -> Vec<Field> {
    let place = yard.and_then(|y| y.place);
    let freezes = yard.and_then(|y| y.freezes);
    let degrees = |value: Option<f64>| value.map(|v| crate::model::trimmed(v, 4));
    vec![
        Field::words("Name", "as it is called", yard.map_or("", |y| y.name.as_str()), LONGEST_NAME),
        Field::maybe(
            "Latitude",
            "degrees north, south is negative: 43.2",
            degrees(place.map(|p| p.latitude)),
        ),
        Field::maybe(
            "Longitude",
            "degrees east, west is negative: -86.1",
            degrees(place.map(|p| p.longitude)),
        ),
        Field::maybe(
            "Height",
            "above the sea, as 650 ft or 200 m",
            place.map(|p| app.book.units.elevation(p.elevation)),
        ),
        Field::maybe(
            "Last freeze in spring",
            "on average, month and day: 05-09; it says more than a place",
            freezes.map(|f| f.last_spring),
        ),
        Field::maybe(
            "First freeze in autumn",
            "on average, month and day: 10-04",
            freezes.map(|f| f.first_autumn),
        ),
        Field::words("Note", "the gate, the bull, the neighbour", yard.map_or("", |y| y.note.as_str()), 200),
    ]
}

pub(super) fn save_yard(
    app: &mut App,
    old: Option<&YardId>,
    fields: &[Field],
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    let mut fields = fields.iter();
    let name = YardId::new(next(&mut fields)?.the_words());
    if let Some(fault) = name.fault() {
        return Err(format!("The name {fault}."));
    }
    let latitude = next(&mut fields)?.the_maybe_number(-66.0..=66.0)?;
    let longitude = next(&mut fields)?.the_maybe_number(-180.0..=180.0)?;
    let height = next(&mut fields)?;
    let elevation = if height.is_empty() {
        Elevation::from_metres(0.0)
    } else {
        Elevation::parse_in(&height.the_words(), app.book.units).map_err(|err| format!("Height: {err}"))?
    };
    let place = match (latitude, longitude) {
        (Some(latitude), Some(longitude)) => Some(Place { latitude, longitude, elevation }),
        (None, None) => None,
        _ => return Err("Write both latitude and longitude, or neither.".to_owned()),
    };
    let spring = month_and_day(next(&mut fields)?)?;
    let autumn = month_and_day(next(&mut fields)?)?;
    let freezes = match (spring, autumn) {
        (Some(last_spring), Some(first_autumn)) => Some(FreezeDates { last_spring, first_autumn }),
        (None, None) => None,
        _ => return Err("Write both freeze dates, or neither.".to_owned()),
    };
    let note = next(&mut fields)?.the_words();
    let mut book = yards_of(app);
    match old {
        Some(old) => {
            let yard = book.yards.iter_mut().find(|y| y.name == *old).ok_or("This yard is gone.")?;
            if yard.name != name {
                yard.formerly.retain(|former| *former != name);
                yard.formerly.push(old.clone());
            }
            (yard.name, yard.place, yard.freezes, yard.note) = (name, place, freezes, note);
        }
        None => book.yards.push(Yard { place, freezes, note, ..Yard::named(name) }),
    }
    save(app, book, effects)
}

fn month_and_day(field: &Field) -> Result<Option<DayOfYear>, String> {
    if field.is_empty() {
        return Ok(None);
    }
    field.the_words().parse().map(Some).map_err(|err: String| format!("{}: {err}", field.label))
}

pub(super) fn new_hive_fields(yard: &YardId, app: &App) -> Vec<Field> {
    vec![
        Field::figures("How many", "1 to 200", 1),
        Field::words("First one's name", "the others count on from it", &next_name(app, yard), LONGEST_NAME),
        Field::choice("Came as", "", Origin::Overwintered),
        Field::day("Since", "the day from which the book knows them", app.today, app.today),
        Field::words("Boxes", "bottom to top: 1 deep, or 2 deep + 1 medium super", "1 deep", 60),
        Field::figures("Drawn frames a box", "the others are foundation", 10),
        Field::choice("Queen", "what is known of her", QueenStatus::Laying),
    ]
}

/// So many names from the first on: `A9` is followed by `A10`, `Hill` by `Hill 2`.
pub(crate) fn names_from(first: &str, count: usize) -> Vec<String> {
    let stem = first.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = first.strip_prefix(stem).and_then(|n| n.parse::<usize>().ok());
    (0..count)
        .map(|step| match number {
            Some(number) => format!("{stem}{}", number + step),
            None if step == 0 => first.to_owned(),
            None => format!("{first} {}", step + 1),
        })
        .collect()
}

pub(super) fn save_new_hives(
    app: &mut App,
    yard: &YardId,
    fields: &[Field],
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    let mut fields = fields.iter();
    let count = next(&mut fields)?.the_count(1..=MOST)?;
    let first = next(&mut fields)?.the_words();
    let origin: Origin = next(&mut fields)?.the_choice()?;
    let since = next(&mut fields)?.the_day()?;
    let mut boxes = stack_from(&next(&mut fields)?.the_words())?;
    let drawn = next(&mut fields)?.the_count(0..=14)?;
    let status: QueenStatus = next(&mut fields)?.the_choice()?;
    for each in &mut boxes {
        each.holds.drawn = Some(drawn.min(each.frames));
    }
    let queen_since = (status != QueenStatus::Laying).then_some(since);
    let mut book = yards_of(app);
    let there = book.yards.iter_mut().find(|y| y.name == *yard).ok_or("This yard is gone.")?;
    for name in names_from(&first, usize::from(count)) {
        let queen = Queen::of_status(status, queen_since);
        there.hives.push(Hive::new(HiveId::new(name), origin, since, boxes.clone(), queen));
    }
    save(app, book, effects)
}

pub(super) fn hive_fields(old: &HiveId, app: &App) -> Vec<Field> {
    let Some((yard, hive)) = app.book.hive(old) else { return Vec::new() };
    let yards: Vec<String> = app.book.yards.iter().map(|y| y.name.to_string()).collect();
    let at = app.book.yards.iter().position(|y| y.name == yard.name).unwrap_or(0);
    let mut fields = vec![
        Field::words("Name", "what was logged stays with it", hive.id.as_str(), LONGEST_NAME),
        Field::one_of("Yard", "where it stands", yards, at),
        Field::choice("Came as", "", hive.origin),
        Field::day("Since", "the day from which the book knows it", hive.since, app.today),
        Field::words("Boxes then", "what has changed since is in the log", &stack_words(&hive.boxes), 80),
    ];
    let mut queen = hive.queen.clone();
    queen.since = queen.since.or(Some(hive.since));
    fields.extend(queen_fields(&queen, app));
    fields.push(Field::words("Note", "in your words", &hive.note, 200));
    let leaves = hive.left.map_or_else(String::new, |left| left.to_string());
    let help = "the day it was sold, given away or united; empty while it stands";
    fields.push(Field::words("Left on", help, &leaves, 10));
    fields
}

pub(super) fn save_hive(
    app: &mut App,
    old: &HiveId,
    fields: &[Field],
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    let (at_yard, hive) = app.book.hive(old).ok_or("This hive is gone.")?;
    let (from, mut hive) = (at_yard.name.clone(), hive.clone());
    let mut fields = fields.iter();
    let name = HiveId::new(next(&mut fields)?.the_words());
    if let Some(fault) = name.fault() {
        return Err(format!("The name {fault}."));
    }
    if name != hive.id {
        hive.formerly.retain(|former| *former != name);
        hive.formerly.push(old.clone());
        hive.id = name;
    }
    let to = YardId::new(next(&mut fields)?.shown());
    hive.origin = next(&mut fields)?.the_choice()?;
    hive.since = next(&mut fields)?.the_day()?;
    let boxes = next(&mut fields)?.the_words();
    if boxes != stack_words(&hive.boxes) {
        hive.boxes = stack_from(&boxes)?;
    }
    let queen = queen_of(&mut fields)?;
    let is_as_it_was = hive.queen.since.is_none() && queen.since == Some(hive.since);
    hive.queen = Queen { since: if is_as_it_was { None } else { queen.since }, ..queen };
    hive.note = next(&mut fields)?.the_words();
    let left = next(&mut fields)?.the_words();
    hive.left = match left.as_str() {
        "" => None,
        text => {
            Some(text.parse().map_err(|_| format!("Left on: `{text}` is no day such as {}.", app.today))?)
        }
    };
    let mut book = yards_of(app);
    let is_moved = from != to;
    for yard in &mut book.yards {
        if is_moved {
            yard.hives.retain(|h| h.id != *old);
        } else if let Some(there) = yard.hives.iter_mut().find(|h| h.id == *old) {
            *there = hive.clone();
        }
    }
    if is_moved {
        let yard = book.yards.iter_mut().find(|y| y.name == to).ok_or("There is no such yard.")?;
        yard.hives.push(hive);
    }
    save(app, book, effects)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_count_on_from_the_first() {
        assert_eq!(names_from("A9", 3), ["A9", "A10", "A11"]);
        assert_eq!(names_from("Hill", 2), ["Hill", "Hill 2"]);
        assert_eq!(names_from("7", 2), ["7", "8"]);
    }
}
