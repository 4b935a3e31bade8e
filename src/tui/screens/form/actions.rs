//! The fields of actions, and what they ask for once they are filled in.

#![warn(clippy::wildcard_enum_match_arm)]

use crate::model::{Action, Given, Hive, HiveId, Origin, Queen, QueenStatus, stack_from};
use crate::session::{Answers, Intent, Session};
use crate::tui::field::Field;

use super::stands::next;

/// The fields of an action, with what is proposed. A split asks besides how its hive is set up.
pub(super) fn fields_of(action: &Action, hive: &HiveId, session: &Session) -> Vec<Field> {
    let neighbours = session.neighbours(hive);
    let asks = action.asks(&session.about(&neighbours));
    let mut fields: Vec<Field> =
        asks.into_iter().map(|asked| Field::of(asked, session.today(), session.book().units)).collect();
    if matches!(action, Action::SplitInto { .. }) {
        fields.push(Field::words("Its boxes", "such as 1 deep, or 1 5-frame deep", "1 deep", 60));
        fields.push(Field::choice(
            "Its queen",
            "the old one, a cell, a cage, or none yet",
            QueenStatus::Cell,
        ));
    }
    fields
}

/// What the fields ask to be logged.
pub(super) fn wants(
    session: &Session,
    hive: &HiveId,
    actions: &[Action],
    answers: Option<&Answers>,
    instead: bool,
    fields: &[Field],
) -> Result<Intent, String> {
    let given = fields.iter().map(Field::given).collect::<Result<Vec<Given>, String>>()?;
    let neighbours = session.neighbours(hive);
    let about = session.about(&neighbours);
    let mut given = given.iter();
    let mut done = Vec::new();
    for action in actions {
        done.push(action.given(&about, &mut given)?);
    }
    let (hive, answers) = (hive.clone(), answers.cloned());
    let [Action::SplitInto { hive: new }] = done.as_slice() else {
        return Ok(Intent::Log { hive, actions: done, answers, instead });
    };
    let mut rest = fields.iter().skip(1);
    let boxes = stack_from(&next(&mut rest)?.the_words())?;
    let status: QueenStatus = next(&mut rest)?.the_choice()?;
    let today = session.today();
    let queen = Queen { since: Some(today), ..Queen::of_status(status, None) };
    let mut new = Hive::new(new.clone(), Origin::Split, today, boxes, queen);
    new.note = format!("split from {hive}");
    Ok(Intent::Split { from: hive, hive: Box::new(new), answers })
}

/// What is proposed in one field follows what was chosen in another: a treatment's last day, the treatment.
pub(super) fn follow(actions: &[Action], fields: &mut [Field], session: &Session) {
    if let ([Action::Treat { .. }], [treatment, until, ..]) = (actions, fields)
        && let Ok(treatment) = treatment.the_choice()
    {
        until.propose_day(session.treatment_ends(treatment));
    }
}

/// How many of the next hives have the same done.
pub(super) fn copy_fields(hive: &HiveId, session: &Session) -> Vec<Field> {
    let next = session.next_hives(hive);
    let names: Vec<&str> = next.iter().map(HiveId::as_str).collect();
    vec![Field::figures("How many of the next", &names.join(" "), next.len())]
}

pub(super) fn wants_copies(session: &Session, hive: &HiveId, fields: &[Field]) -> Result<Intent, String> {
    let most = i64::try_from(session.next_hives(hive).len()).unwrap_or(0);
    let count = next(&mut fields.iter())?.the_whole(0..=most)?;
    Ok(Intent::CopyOn { hive: hive.clone(), count: usize::try_from(count).unwrap_or(0) })
}
