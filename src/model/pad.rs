//! The pad: what a keeper has typed and not logged yet, and how they want the day. It is no record; it is kept so that a
//! closed window or a dead battery costs nothing.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::hive::HiveBox;
use super::names::{HiveId, YardId};

/// What stands typed in one place: a note, a form, a field at a hive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Jotting {
    /// The place, such as `note C1`; one place holds one jotting.
    pub place: String,
    /// The day acted on when it was typed.
    pub on: NaiveDate,
    /// What it is called before the keeper: `the note on C1`.
    pub what: String,
    /// Whether the place was still open: the keeper never went away from it.
    pub is_open: bool,
    /// What was typed or chosen, by the name of its field; only what the keeper touched.
    pub cells: Vec<(String, String)>,
    /// The boxes as they were put together, on the screen of a stack.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<HiveBox>,
}

impl Jotting {
    /// What was typed into a field.
    pub fn cell(&self, name: &str) -> Option<&str> {
        self.cells.iter().find(|(of, _)| of == name).map(|(_, text)| text.as_str())
    }
}

/// How the keeper wants one yard's day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct DayWish {
    /// Hives to see first.
    pub pinned: Vec<HiveId>,
    /// The order of the others as they were moved by hand.
    pub moved: Vec<HiveId>,
    /// What is on the truck, in the load list's words.
    pub ticked: Vec<String>,
}

/// One line of the pad's file; the last word on each place and yard stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PadLine {
    /// What is typed in a place.
    Typed(Jotting),
    /// What was typed there is logged, or emptied.
    Done(String),
    /// How the keeper wants a yard's day.
    Day {
        /// The yard.
        yard: YardId,
        /// The day; on another it no longer holds.
        on: NaiveDate,
        /// What is wanted.
        wish: DayWish,
    },
}

/// What a pad comes to: the jottings, oldest first, and the wishes for a day.
pub fn pad_of(lines: Vec<PadLine>, today: NaiveDate) -> (Vec<Jotting>, Vec<(YardId, DayWish)>) {
    let (mut jottings, mut wishes): (Vec<Jotting>, Vec<(YardId, DayWish)>) = (Vec::new(), Vec::new());
    for line in lines {
        match line {
            PadLine::Typed(jotting) => {
                jottings.retain(|j| j.place != jotting.place);
                jottings.push(jotting);
            }
            PadLine::Done(place) => jottings.retain(|j| j.place != place),
            PadLine::Day { yard, on, wish } if on == today => {
                wishes.retain(|(of, _)| *of != yard);
                wishes.push((yard, wish));
            }
            PadLine::Day { .. } => {}
        }
    }
    (jottings, wishes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_word_on_each_place_stands_and_a_wish_holds_for_its_day() {
        let today: NaiveDate = "2026-05-03".parse().unwrap();
        let typed = |place: &str, text: &str| {
            PadLine::Typed(Jotting {
                place: place.to_owned(),
                on: today,
                what: String::new(),
                is_open: true,
                cells: vec![("text".to_owned(), text.to_owned())],
                boxes: Vec::new(),
            })
        };
        let day = |on: NaiveDate, item: &str| PadLine::Day {
            yard: YardId::new("Home"),
            on,
            wish: DayWish { ticked: vec![item.to_owned()], ..DayWish::default() },
        };
        let lines = vec![
            typed("a", "1"),
            typed("b", "2"),
            typed("a", "3"),
            PadLine::Done("b".to_owned()),
            day(today, "smoker"),
            day(today.pred_opt().unwrap(), "syrup"),
        ];
        let (jottings, wishes) = pad_of(lines, today);
        assert_eq!(jottings.len(), 1);
        assert_eq!(jottings[0].cell("text"), Some("3"));
        assert_eq!(jottings[0].cell("other"), None);
        assert_eq!(wishes.len(), 1);
        assert_eq!(wishes[0].1.ticked, ["smoker"]);
    }
}
