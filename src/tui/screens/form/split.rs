//! What a split asks besides the new hive's name: its boxes, and what became of the queen.

use super::stands::next;
use crate::model::HiveId;
use crate::session::{Answers, Intent, OLD_QUEEN, OTHER_HALF, Session, is_seen};
use crate::tui::field::Field;

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
    let boxes = next(&mut fields)?.the_words();
    let old = next(&mut fields)?;
    if boxes.is_empty() {
        return session.split_of(from, new, &boxes, (0, None), answers.cloned());
    }
    let old = old.the_pick()?;
    let other = next(&mut fields)?;
    let other = if is_seen(old) { Some(other.the_pick()?) } else { None };
    session.split_of(from, new, &boxes, (old, other), answers.cloned())
}
