//! The fields of actions, and what they ask for once they are filled in.

#![warn(clippy::wildcard_enum_match_arm)]

use crate::model::{Action, Asking, Given, HiveId, Medicine, medicine_asks, medicine_given};
use crate::session::{Answers, Intent, Session};
use crate::tui::field::Field;

use super::split;
use super::stands::next;

/// The fields of an action, with what is proposed. A split asks besides how its hive is set up.
pub(super) fn fields_of(action: &Action, hive: &HiveId, asking: Asking, session: &Session) -> Vec<Field> {
    let neighbours = session.neighbours(hive);
    let asks = action.asks(&session.about(&neighbours, asking));
    let mut fields: Vec<Field> =
        asks.into_iter().map(|asked| Field::of(asked, session.today(), session.book().units)).collect();
    if matches!(action, Action::SplitInto { .. }) {
        fields.extend(split::fields());
    }
    // Its record may be written down with it; left empty, none is kept.
    if matches!(action, Action::Treat { .. }) {
        let record = medicine_asks(&Medicine::default()).into_iter();
        fields.extend(record.map(|asked| Field::of(asked, session.today(), session.book().units)));
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
    let neighbours = session.neighbours(hive);
    let about = session.about(&neighbours, Asking::Logged);
    let asked: usize = actions.iter().map(|action| action.asks(&about).len()).sum();
    let given = fields.iter().take(asked).map(Field::given).collect::<Result<Vec<Given>, String>>()?;
    let mut given = given.iter();
    let mut done = Vec::new();
    for action in actions {
        done.push(action.given(&about, &mut given)?);
    }
    match done.as_slice() {
        [Action::SplitInto { hive: new }] => {
            let rest = fields.get(asked..).unwrap_or_default();
            split::wants(session, hive, new, answers, rest)
        }
        [Action::Treat { treatment, .. }] => {
            let treatment = *treatment;
            let rest = fields.get(asked..).unwrap_or_default();
            let given = rest.iter().map(Field::given).collect::<Result<Vec<Given>, String>>()?;
            let record =
                if given.is_empty() { Medicine::default() } else { medicine_given(&mut given.iter())? };
            if !record.is_empty() {
                done.push(Action::RecordMedicine { treatment, record });
            }
            Ok(Intent::Log { hive: hive.clone(), actions: done, answers: answers.cloned(), instead })
        }
        _ => Ok(Intent::Log { hive: hive.clone(), actions: done, answers: answers.cloned(), instead }),
    }
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
