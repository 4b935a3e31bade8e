//! The forms of yards and hives as they are set up: each asks for a yard or a hive to be set up or changed.

use crate::model::{
    DayOfYear, Elevation, FreezeDates, Given, Hive, HiveId, LONGEST_NAME, Origin, Place, Queen, QueenStatus,
    Yard, YardId, flows_from, queen_asks, queen_given, stack_from, stack_words,
};
use crate::session::{Intent, Session, names_from};
use crate::tui::field::Field;

/// Most hives set up at once.
const MOST: u8 = 200;
/// How many fields ask for a queen.
const QUEEN_FIELDS: usize = 5;

/// The next field of a form.
pub(super) fn next<'a>(fields: &mut impl Iterator<Item = &'a Field>) -> Result<&'a Field, String> {
    fields.next().ok_or_else(|| "A field is missing.".to_owned())
}

pub(super) fn yard_fields(yard: Option<&Yard>, session: &Session) -> Vec<Field> {
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
            place.map(|p| session.book().units.elevation(p.elevation)),
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
        Field::words(
            "Flows of nectar",
            "first and last day, as 06-10 to 07-31; commas between several",
            &flow_words(yard),
            80,
        ),
        Field::words("Note", "the gate, the bull, the neighbor", yard.map_or("", |y| y.note.as_str()), 200),
    ]
}

pub(super) fn wants_yard(
    session: &Session,
    old: Option<&YardId>,
    fields: &[Field],
) -> Result<Intent, String> {
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
        Elevation::parse_in(&height.the_words(), session.book().units)
            .map_err(|err| format!("Height: {err}"))?
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
    let flows = flows_from(&next(&mut fields)?.the_words())?;
    let note = next(&mut fields)?.the_words();
    let yard = Yard { place, freezes, flows, note, ..Yard::named(name) };
    Ok(Intent::SetUpYard { old: old.cloned(), yard: Box::new(yard) })
}

fn flow_words(yard: Option<&Yard>) -> String {
    let flows: Vec<String> = yard.iter().flat_map(|y| &y.flows).map(ToString::to_string).collect();
    flows.join(", ")
}

fn month_and_day(field: &Field) -> Result<Option<DayOfYear>, String> {
    if field.is_empty() {
        return Ok(None);
    }
    field.the_words().parse().map(Some).map_err(|err: String| format!("{}: {err}", field.label))
}

pub(super) fn new_hive_fields(yard: &YardId, session: &Session) -> Vec<Field> {
    vec![
        Field::figures("How many", "1 to 200", 1),
        Field::words(
            "First one's name",
            "the others count on from it",
            &session.next_name(yard),
            LONGEST_NAME,
        ),
        Field::choice("Came as", "", Origin::Overwintered),
        Field::day(
            "Since",
            "the day from which the book knows them",
            session.today(),
            (session.today(), session.book().units),
        ),
        Field::words("Boxes", "bottom to top: 1 deep, or 2 deep + 1 medium super", "1 deep", 60),
        Field::figures("Drawn frames a box", "the others are foundation", 10),
        Field::choice("Queen", "what is known of her", QueenStatus::Laying),
    ]
}

pub(super) fn wants_hives(yard: &YardId, fields: &[Field]) -> Result<Intent, String> {
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
    let names = names_from(&first, usize::from(count)).into_iter();
    let hives = names.map(|name| {
        let queen = Queen::of_status(status, queen_since);
        Hive::new(HiveId::new(name), origin, since, boxes.clone(), queen)
    });
    Ok(Intent::AddHives { yard: yard.clone(), hives: hives.collect() })
}

pub(super) fn hive_fields(old: &HiveId, session: &Session) -> Vec<Field> {
    let Some((yard, hive)) = session.book().hive(old) else { return Vec::new() };
    let yards: Vec<String> = session.book().yards.iter().map(|y| y.name.to_string()).collect();
    let at = session.book().yards.iter().position(|y| y.name == yard.name).unwrap_or(0);
    let mut fields = vec![
        Field::words("Name", "what was logged stays with it", hive.id.as_str(), LONGEST_NAME),
        Field::one_of("Yard", "where it stands", yards, at),
        Field::choice("Came as", "", hive.origin),
        Field::day(
            "Since",
            "the day from which the book knows it",
            hive.since,
            (session.today(), session.book().units),
        ),
        Field::words("Boxes then", "what has changed since is in the log", &stack_words(&hive.boxes), 80),
    ];
    let mut queen = hive.queen.clone();
    queen.since = queen.since.or(Some(hive.since));
    fields.extend(
        queen_asks(&queen, session.today())
            .into_iter()
            .map(|a| Field::of(a, session.today(), session.book().units)),
    );
    fields.push(Field::words("Note", "in your words", &hive.note, 200));
    let leaves = hive.left.map_or_else(String::new, |left| left.to_string());
    let help = "the day it was sold, given away or united; empty while it stands";
    fields.push(Field::words("Left on", help, &leaves, 10));
    fields
}

pub(super) fn wants_hive(session: &Session, old: &HiveId, fields: &[Field]) -> Result<Intent, String> {
    let (_, hive) = session.book().hive(old).ok_or("This hive is gone.")?;
    let mut hive = hive.clone();
    let mut fields = fields.iter();
    hive.id = HiveId::new(next(&mut fields)?.the_words());
    let to = YardId::new(next(&mut fields)?.shown());
    hive.origin = next(&mut fields)?.the_choice()?;
    hive.since = next(&mut fields)?.the_day()?;
    let boxes = next(&mut fields)?.the_words();
    if boxes != stack_words(&hive.boxes) {
        hive.boxes = stack_from(&boxes)?;
    }
    let about_queen: Vec<Given> =
        fields.by_ref().take(QUEEN_FIELDS).map(Field::given).collect::<Result<_, String>>()?;
    let queen = queen_given(&mut about_queen.iter())?;
    let is_as_it_was = hive.queen.since.is_none() && queen.since == Some(hive.since);
    hive.queen = Queen { since: if is_as_it_was { None } else { queen.since }, ..queen };
    hive.note = next(&mut fields)?.the_words();
    let left = next(&mut fields)?.the_words();
    hive.left = match left.as_str() {
        "" => None,
        text => Some(
            text.parse().map_err(|_| format!("Left on: `{text}` is no day such as {}.", session.today()))?,
        ),
    };
    Ok(Intent::ChangeHive { old: old.clone(), yard: to, hive: Box::new(hive) })
}
