//! The end of a visit: what was done, what each hive needs next and when, what was put off; then saved.

pub(crate) mod draw;

use crate::advice::{Urgency, rule_name};
use crate::model::{HiveId, Reply};
use crate::plan::{NextDue, next_due};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;
use crate::tui::widgets::Scroll;

/// One hive of the wrap-up.
#[derive(Debug)]
pub(crate) struct Line {
    /// The hive.
    pub(crate) hive: HiveId,
    /// What was done and seen, in words.
    pub(crate) done: Vec<String>,
    /// What was put off.
    pub(crate) put_off: Vec<String>,
    /// What was asked and is still open.
    pub(crate) open: Vec<String>,
    /// What it needs next, where nothing is open.
    pub(crate) next: Option<NextDue>,
}

/// The wrap-up screen.
#[derive(Debug)]
pub(crate) struct WrapUpScreen {
    /// The hives looked at.
    pub(crate) lines: Vec<Line>,
    /// Hives that were due and of which nothing is written.
    pub(crate) passed_over: Vec<HiveId>,
    /// How far it is scrolled.
    pub(crate) scroll: Scroll,
    /// Whether leaving it unsaved waits for its second key.
    asked: bool,
}

impl WrapUpScreen {
    /// The visit in progress, summed up.
    pub(crate) fn of(app: &App) -> Self {
        let Some(walk) = &app.walk else {
            return Self {
                lines: Vec::new(),
                passed_over: Vec::new(),
                scroll: Scroll::default(),
                asked: false,
            };
        };
        let visit = walk.finished_visit();
        let units = app.book.units;
        let lines = visit
            .entries
            .iter()
            .map(|entry| {
                let view = app.view(&entry.hive);
                let open: Vec<String> = view
                    .iter()
                    .flat_map(|v| &v.advice.prompts)
                    .filter(|p| p.urgency <= Urgency::Should)
                    .map(|p| format!("{} by {}", p.title, p.due.latest.format("%-d %b")))
                    .collect();
                let next = view
                    .filter(|_| open.is_empty())
                    .and_then(|v| next_due(&mut app.outlook(app.yard(&visit.yard)?), &v.state, visit.on));
                let done = entry.done_words(units);
                let put_off = entry
                    .answers
                    .iter()
                    .filter_map(|a| match &a.reply {
                        Reply::PutOff { reason, until } => Some(format!(
                            "{} put off to {}: {reason}",
                            rule_name(&a.rule),
                            until.format("%-d %b")
                        )),
                        Reply::Done | Reply::NotNeeded => None,
                    })
                    .collect();
                Line { hive: entry.hive.clone(), done, put_off, open, next }
            })
            .collect();
        let passed_over =
            walk.queue.iter().take(walk.due).filter(|h| visit.entry(h).is_none()).cloned().collect();
        Self { lines, passed_over, scroll: Scroll::default(), asked: false }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let asked = std::mem::take(&mut self.asked);
        match command {
            // The key that asks is not the key that confirms, and Enter would save.
            Command::Type('y') if asked => effects.push(Effect::PutAside),
            _ if asked => app.say("It goes on: nothing was put aside."),
            Command::PutAside if app.walk.is_some() => {
                self.asked = true;
                app.say("Leave this visit unsaved? y leaves it: its draft is kept in the log. Esc goes on.");
            }
            Command::Back => return Turn::Close,
            Command::Take => {
                if let Some(walk) = &app.walk {
                    let visit = walk.visit_to_save(app.now);
                    if visit.entries.is_empty() {
                        app.fail("Nothing was written at any hive, so there is nothing to save yet.");
                    } else {
                        effects.push(Effect::SaveVisit(visit));
                    }
                } else {
                    return Turn::Home;
                }
            }
            other => self.scroll.update(other),
        }
        Turn::Stay
    }
}
