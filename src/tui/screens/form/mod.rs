//! A form: some fields, one under the other, and a line that keeps them. Leaving it changes nothing.

mod actions;
pub(crate) mod draw;
mod stands;

pub(crate) use actions::{can_be_done, has_fields};
pub(crate) use stands::{names_from, save, yards_of};

use crate::model::{Action, HiveId, YardId};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::field::Field;
use crate::tui::screens::Turn;

/// What a form is for.
#[derive(Debug, Clone)]
pub(crate) enum Purpose {
    /// Actions to log at a hive of the visit in progress, in the shape they are to have.
    Log {
        /// The hive.
        hive: HiveId,
        /// The actions, with the amounts proposed.
        actions: Vec<Action>,
        /// The prompt they answer, with what is promised: in days, and what.
        prompt: Option<(&'static str, Vec<(i64, String)>)>,
        /// Whether they take the place of the last action logged.
        instead: bool,
    },
    /// The last action of a hive, for so many of the next.
    CopyOn {
        /// The hive.
        hive: HiveId,
    },
    /// A yard, new where there is no old one.
    Yard {
        /// Its name until now.
        old: Option<YardId>,
    },
    /// New hives of a yard.
    NewHives {
        /// The yard.
        yard: YardId,
    },
    /// A hive as it was set up.
    Hive {
        /// Its name until now.
        old: HiveId,
    },
}

/// The form's screen.
#[derive(Debug)]
pub(crate) struct FormScreen {
    /// What it is for.
    purpose: Purpose,
    /// Its title.
    pub(crate) title: String,
    /// Its fields.
    pub(crate) fields: Vec<Field>,
    /// Which has the focus; past the last, the line that keeps them.
    pub(crate) row: usize,
    /// What keeping them is called.
    pub(crate) keep: &'static str,
}

impl FormScreen {
    /// A form for a purpose.
    pub(crate) fn of(purpose: Purpose, app: &App) -> Self {
        let (title, keep, fields) = match &purpose {
            Purpose::Log { hive, actions, .. } => (
                format!("What was done at {hive}"),
                "Log it",
                actions.iter().flat_map(|a| actions::fields_of(a, hive, app)).collect(),
            ),
            Purpose::CopyOn { hive } => {
                ("The same for the next hives".to_owned(), "Log it there", actions::copy_fields(hive, app))
            }
            Purpose::Yard { old: None } => {
                ("A new yard".to_owned(), "Keep it", stands::yard_fields(None, app))
            }
            Purpose::Yard { old: Some(old) } => {
                (format!("Yard {old}"), "Keep it", stands::yard_fields(app.yard(old), app))
            }
            Purpose::NewHives { yard } => {
                (format!("New hives at {yard}"), "Set them up", stands::new_hive_fields(yard, app))
            }
            Purpose::Hive { old } => (format!("Hive {old}"), "Keep it", stands::hive_fields(old, app)),
        };
        Self { purpose, title: crate::model::visible(&title), fields, row: 0, keep }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        if let Some(field) = self.fields.get_mut(self.row)
            && field.update(command)
        {
            return Turn::Stay;
        }
        match command {
            Command::GoTo(row) => self.row = row.min(self.fields.len()),
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(self.fields.len()),
            // Straight to the line that keeps, and back.
            Command::Switch => self.row = if self.row < self.fields.len() { self.fields.len() } else { 0 },
            Command::Take if self.row < self.fields.len() => self.row += 1,
            Command::Take => match self.keep(app, effects) {
                Ok(turn) => return turn,
                Err(why) => app.fail(why),
            },
            Command::Back => {
                app.say("Nothing was changed.");
                return Turn::Close;
            }
            _ => {}
        }
        Turn::Stay
    }

    fn keep(&self, app: &mut App, effects: &mut Vec<Effect>) -> Result<Turn, String> {
        match &self.purpose {
            Purpose::Log { hive, actions, prompt, instead } => {
                let mut fields = self.fields.iter();
                let mut done = Vec::new();
                for action in actions {
                    done.push(actions::action_of(action, &mut fields, app)?);
                }
                if done.iter().any(|a| matches!(a, Action::SplitInto { .. })) {
                    let yards = actions::with_split(app, hive, &self.fields)?;
                    save(app, yards, effects)?;
                }
                actions::log(app, hive, done, prompt.as_ref(), *instead, effects)?;
            }
            Purpose::CopyOn { hive } => actions::copy_on(app, hive, &self.fields, effects)?,
            Purpose::Yard { old } => stands::save_yard(app, old.as_ref(), &self.fields, effects)?,
            Purpose::NewHives { yard } => stands::save_new_hives(app, yard, &self.fields, effects)?,
            Purpose::Hive { old } => stands::save_hive(app, old, &self.fields, effects)?,
        }
        Ok(Turn::Close)
    }
}
