//! What a split asks besides the new hive's name: its boxes, and what became of the queen.

use super::stands::next;
use crate::model::{Hive, HiveId, Origin, Queen, QueenStatus, stack_from};
use crate::session::{Answers, Intent, Session};
use crate::tui::field::Field;

/// Where the old queen went, in the order of [`OLD_QUEEN`].
const OLD_QUEEN: &[&str] = &["stayed here", "went with it", "not seen"];
const STAYED: usize = 0;
const WENT: usize = 1;

/// What the half without her has.
const OTHER_HALF: &[(&str, QueenStatus)] = &[
    ("raises its own", QueenStatus::Cell),
    ("a ripe cell", QueenStatus::RipeCell),
    ("a caged queen", QueenStatus::Caged),
    ("a laying queen", QueenStatus::Laying),
];

/// None of it is proposed: only the one who made the split knows.
pub(super) fn fields() -> Vec<Field> {
    let other: Vec<&str> = OTHER_HALF.iter().map(|(words, _)| *words).collect();
    vec![
        Field::words("Its boxes", "such as 1 deep, or 1 5-frame deep", "", 60),
        Field::open_choice("The old queen", "where she is now", OLD_QUEEN),
        Field::open_choice(
            "The half without",
            "what it has for a queen; left open where she was not seen",
            &other,
        ),
    ]
}

/// What the fields ask to be logged.
pub(super) fn wants(
    session: &Session,
    from: &HiveId,
    new: &HiveId,
    answers: Option<&Answers>,
    fields: &[Field],
) -> Result<Intent, String> {
    let mut fields = fields.iter();
    let boxes = next(&mut fields)?;
    if boxes.is_empty() {
        return Err("Its boxes: write them, such as 1 deep or 1 5-frame deep".to_owned());
    }
    let boxes = stack_from(&boxes.the_words())?;
    let (old, other) = (next(&mut fields)?.the_pick()?, next(&mut fields)?);
    let today = session.today();
    let begun = |status| Queen { since: Some(today), ..Queen::of_status(status, None) };
    let raised = || -> Result<Queen, String> {
        let status = OTHER_HALF.get(other.the_pick()?).map_or(QueenStatus::Unknown, |(_, status)| *status);
        Ok(begun(status))
    };
    let (queen, left) = match old {
        STAYED => (raised()?, None),
        WENT => {
            let old = session.view(from).map(|view| view.state.queen);
            (old.unwrap_or_else(|| begun(QueenStatus::Laying)), Some(raised()?))
        }
        // Either half may have her: eggs in a few days tell.
        _ => (begun(QueenStatus::Unknown), Some(begun(QueenStatus::Unknown))),
    };
    let mut hive = Hive::new(new.clone(), Origin::Split, today, boxes, queen);
    hive.note = format!("split from {from}");
    Ok(Intent::Split { from: from.clone(), hive: Box::new(hive), left, answers: answers.cloned() })
}
