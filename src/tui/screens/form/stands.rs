//! The forms of yards and hives as they are set up: each asks for a yard or a hive to be set up or changed.

use crate::model::{
    Given, Hive, HiveId, LONGEST_NAME, Origin, Queen, QueenStatus, Yard, YardId, flows_from, queen_asks,
    queen_given, stack_from, stack_words,
};
use crate::report::read_back;
use crate::session::{Intent, Session, names_from};
use crate::tui::field::Field;
use crate::wording::{self, Where};

/// Most hives set up at once.
const MOST: u8 = 200;
/// How many fields ask for a queen.
const QUEEN_FIELDS: usize = 5;

/// The next field of a form.
pub(super) fn next<'a>(fields: &mut impl Iterator<Item = &'a Field>) -> Result<&'a Field, String> {
    fields.next().ok_or_else(|| "A field is missing.".to_owned())
}

pub(super) fn yard_fields(yard: Option<&Yard>, session: &Session) -> Vec<Field> {
    let units = session.book().units;
    let place = yard.and_then(|y| y.place).map_or_else(String::new, |place| wording::place(place, units));
    let freezes = yard.and_then(|y| y.freezes).map_or_else(String::new, |freezes| {
        let day = |day| wording::day_of_year(day, units);
        format!("{}, {}", day(freezes.last_spring), day(freezes.first_autumn))
    });
    vec![
        Field::words("Name", "as it is called", yard.map_or("", |y| y.name.as_str()), LONGEST_NAME),
        Field::words(
            "Place",
            "as a map gives it: 44.47, -72.69; the height if you know it: 650 ft",
            &place,
            60,
        ),
        Field::words(
            "Freeze dates",
            "the average last and first one: May 9, Oct 4; they say more than a place",
            &freezes,
            40,
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

/// The yard as the fields give it.
fn yard_of(session: &Session, fields: &[Field]) -> Result<Yard, String> {
    let mut fields = fields.iter();
    let name = YardId::new(next(&mut fields)?.the_words());
    let said = |field: &Field| {
        wording::read_where(&field.the_words(), session.book().units)
            .map_err(|why| format!("{}: {why}", field.label))
    };
    let (place, freezes) = (next(&mut fields)?, next(&mut fields)?);
    // Either may be written in either line: what it is shows by itself.
    let (mut yard, read) = (Yard::named(name), [said(place)?, said(freezes)?]);
    for each in read {
        match each {
            Where::Place(place) => yard.place = Some(place),
            Where::Freezes(freezes) => yard.freezes = Some(freezes),
            Where::Unsaid => {}
        }
    }
    yard.flows = flows_from(&next(&mut fields)?.the_words())?;
    yard.note = next(&mut fields)?.the_words();
    Ok(yard)
}

/// What was understood of a yard's place, while it is typed.
pub(super) fn understood(session: &Session, fields: &[Field]) -> Vec<String> {
    match yard_of(session, fields) {
        Ok(yard) => read_back(&yard, session.book().units, session.today()),
        Err(why) => vec![why],
    }
}

pub(super) fn wants_yard(
    session: &Session,
    old: Option<&YardId>,
    fields: &[Field],
) -> Result<Intent, String> {
    let yard = yard_of(session, fields)?;
    if let Some(fault) = yard.name.fault() {
        return Err(format!("The name {fault}."));
    }
    Ok(Intent::SetUpYard { old: old.cloned(), yard: Box::new(yard) })
}

fn flow_words(yard: Option<&Yard>) -> String {
    let flows: Vec<String> = yard.iter().flat_map(|y| &y.flows).map(ToString::to_string).collect();
    flows.join(", ")
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
