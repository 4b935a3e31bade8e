//! What is typed in the first steps, kept on a pad of its own until there is a book.

use super::{CAME, FITTINGS, Question, WelcomeScreen};
use crate::model::{Jotting, Units};

/// The steps in their order, each with its name on the pad.
const STEPS: [(Question, &str); 13] = [
    (Question::Choose, "choose"),
    (Question::Units, "units"),
    (Question::Keeper, "keeper"),
    (Question::Yard, "yard"),
    (Question::Place, "place"),
    (Question::ReadBack, "read back"),
    (Question::Hives, "hives"),
    (Question::Boxes, "boxes"),
    (Question::Came, "came as"),
    (Question::Since, "since"),
    (Question::Fittings, "fittings"),
    (Question::NestBoxes, "nest boxes"),
    (Question::First, "first"),
];
/// The name of the step they were left at.
const STEP: &str = "step";
const METRIC: &str = "metric";

impl WelcomeScreen {
    /// What stands in all fields.
    pub(crate) fn typed(&self) -> Jotting {
        let step = STEPS.iter().find(|(step, _)| *step == self.step).map_or("", |(_, name)| name);
        let mut cells: Vec<(&str, String)> = vec![(STEP, step.to_owned())];
        if self.units == Units::Metric {
            cells.push((METRIC, String::new()));
        }
        let texts = [
            ("keeper", &self.keeper),
            ("yard", &self.yard),
            ("place", &self.place),
            ("hives", &self.hives),
            ("boxes", &self.boxes),
            ("since", &self.since),
            ("first", &self.first),
        ];
        cells.extend(texts.map(|(name, text)| (name, text.clone())));
        cells.push(("came as", self.came.to_string()));
        cells.push(("nest boxes", self.nest_boxes.to_string()));
        let on = FITTINGS.iter().zip(self.fittings).filter(|(_, on)| *on);
        cells.extend(on.map(|(name, _)| (*name, String::new())));
        Jotting {
            place: "first steps".to_owned(),
            on: self.today,
            what: "the first steps".to_owned(),
            is_open: true,
            cells: cells.into_iter().map(|(name, text)| (name.to_owned(), text)).collect(),
            boxes: Vec::new(),
        }
    }

    /// Puts back what was typed, and goes to the step it was left at. What does not fit any more is left out.
    pub(crate) fn put_back(&mut self, typed: &Jotting) {
        for (step, name) in STEPS {
            if let (Some(there), Some(text)) = (typed.cell(name), self.text_in(step)) {
                there.clone_into(text);
            }
        }
        let row = |name: &str, rows: usize| {
            typed.cell(name).and_then(|at| at.parse::<usize>().ok()).filter(|at| *at < rows)
        };
        self.came = row("came as", CAME.len()).unwrap_or(self.came);
        self.nest_boxes = row("nest boxes", super::NEST_BOXES.len()).unwrap_or(self.nest_boxes);
        self.units = if typed.cell(METRIC).is_some() { Units::Metric } else { Units::Us };
        self.fittings = FITTINGS.map(|name| typed.cell(name).is_some());
        let step = STEPS.iter().find(|(_, name)| typed.cell(STEP) == Some(*name));
        self.step = step.map_or(Question::Choose, |(step, _)| *step);
        self.row = match self.step {
            Question::Units => usize::from(self.units == Units::Metric),
            Question::Came => self.came,
            Question::NestBoxes => self.nest_boxes,
            _ => 0,
        };
    }

    /// Text pasted into the field in hand: its first line.
    pub(crate) fn paste(&mut self, text: &str) {
        for c in text.trim_start().lines().next().unwrap_or_default().chars() {
            if self.text().is_some() {
                self.type_in(c);
            }
        }
    }
}
