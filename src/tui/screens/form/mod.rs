//! A form: some fields, one under the other, and a line that keeps them. Leaving it changes nothing.

mod actions;
mod draw;
mod split;
mod stands;

use crate::model::{Action, Asking, Jotting};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::field::{self, Field};
use crate::tui::keys::ScreenId;
use crate::tui::to::Purpose;
use crate::tui::view::{Canvas, Step, Unlogged, View};

#[derive(Debug)]
pub(crate) struct FormScreen {
    purpose: Purpose,
    title: String,
    fields: Vec<Field>,
    /// Which has the focus; past the last, the line that keeps them.
    row: usize,
    /// What will be logged, line by line, where it is settled already.
    shows: Vec<String>,
    /// What was understood of the fields, where that is read back while they are typed.
    understood: Vec<String>,
    /// What keeping them is called.
    keep: &'static str,
}

impl FormScreen {
    /// A form for a purpose.
    pub(crate) fn of(purpose: Purpose, session: &Session) -> Self {
        let shows = shown_of(&purpose, session);
        let (title, keep, fields) = match &purpose {
            Purpose::Log { hive, actions, answers, instead } => {
                let asking = match answers {
                    _ if *instead => Asking::Logged,
                    Some(_) => Asking::Prompted,
                    None => Asking::Listed,
                };
                let fields = actions.iter().flat_map(|a| actions::fields_of(a, hive, asking, session));
                (format!("What was done at {hive}"), "Log it", fields.collect())
            }
            Purpose::LikeLast(hive) => (format!("As at the hive before, at {hive}"), "Log it", Vec::new()),
            Purpose::CopyOn(hive) => (
                "The same for the next hives".to_owned(),
                "Log it there",
                actions::copy_fields(hive, session),
            ),
            Purpose::Yard(None) => ("A new yard".to_owned(), "Keep it", stands::yard_fields(None, session)),
            Purpose::Yard(Some(old)) => {
                (format!("Yard {old}"), "Keep it", stands::yard_fields(session.yard(old), session))
            }
            Purpose::NewHives(yard) => {
                (format!("New hives at {yard}"), "Set them up", stands::new_hive_fields(yard, session))
            }
            Purpose::Hive(old) => (format!("Hive {old}"), "Keep it", stands::hive_fields(old, session)),
        };
        let understood = Vec::new();
        let title = crate::model::visible(&title);
        let mut form = Self { purpose, title, fields, row: 0, shows, understood, keep };
        form.follow(session);
        form
    }

    /// What stands in one field follows another, and what was understood is read back.
    fn follow(&mut self, session: &Session) {
        match &self.purpose {
            Purpose::Log { actions, .. } => actions::follow(actions, &mut self.fields, session),
            Purpose::Yard(_) => self.understood = stands::understood(session, &self.fields),
            Purpose::LikeLast(_) | Purpose::CopyOn(_) | Purpose::NewHives(_) | Purpose::Hive(_) => {}
        }
    }

    /// What keeping the fields asks for.
    fn wants(&self, session: &Session) -> Result<Intent, String> {
        match &self.purpose {
            Purpose::Log { hive, actions, answers, instead } => {
                actions::wants(session, hive, actions, answers.as_ref(), *instead, &self.fields)
            }
            Purpose::LikeLast(hive) => Ok(Intent::LikeLast(hive.clone())),
            Purpose::CopyOn(hive) => actions::wants_copies(session, hive, &self.fields),
            Purpose::Yard(old) => stands::wants_yard(session, old.as_ref(), &self.fields),
            Purpose::NewHives(yard) => stands::wants_hives(yard, &self.fields),
            Purpose::Hive(old) => stands::wants_hive(session, old, &self.fields),
        }
    }
}

/// The place of a form on the pad.
fn place_of(purpose: &Purpose) -> String {
    let kinds = |actions: &[Action]| actions.iter().map(Action::name).collect::<Vec<_>>().join(" ");
    match purpose {
        Purpose::Log { hive, actions, instead: false, .. } => format!("log {hive} {}", kinds(actions)),
        Purpose::Log { hive, actions, instead: true, .. } => format!("change {hive} {}", kinds(actions)),
        Purpose::LikeLast(hive) => format!("like last {hive}"),
        Purpose::CopyOn(hive) => format!("copy on {hive}"),
        Purpose::Yard(None) => "new yard".to_owned(),
        Purpose::Yard(Some(old)) => format!("yard {old}"),
        Purpose::NewHives(yard) => format!("new hives {yard}"),
        Purpose::Hive(old) => format!("hive set-up {old}"),
    }
}

/// What a form logs whatever stands in its fields.
fn shown_of(purpose: &Purpose, session: &Session) -> Vec<String> {
    let units = session.book().units;
    let words = |actions: &[Action]| actions.iter().map(|a| a.words(units)).collect();
    match purpose {
        Purpose::LikeLast(hive) => {
            session.last_logged(hive).map(|(_, actions)| words(&actions)).unwrap_or_default()
        }
        Purpose::CopyOn(hive) => {
            let entry = session.view(hive).map(|view| view.entry);
            entry
                .and_then(|entry| entry.actions.last().map(|last| words(std::slice::from_ref(last))))
                .unwrap_or_default()
        }
        Purpose::Log { .. } | Purpose::Yard(_) | Purpose::NewHives(_) | Purpose::Hive(_) => Vec::new(),
    }
}

fn lower_first(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

impl View for FormScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Form
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn typed(&self) -> Option<Unlogged> {
        Some(Unlogged {
            place: place_of(&self.purpose),
            what: format!("\"{}\"", self.title),
            cells: field::touched(&self.fields),
            ..Unlogged::default()
        })
    }

    fn put_back(&mut self, session: &Session, typed: &Jotting) -> bool {
        let Some(last) = field::put_back(&mut self.fields, typed) else { return false };
        self.row = last;
        self.follow(session);
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if let Some(field) = self.fields.get_mut(self.row) {
            if let Command::Type(c) = command
                && let Some(why) = field.refuses(c)
            {
                return Step::say(why);
            }
            if field.update(command) {
                self.follow(session);
                return Step::stay();
            }
        }
        match command {
            Command::GoTo(row) => self.row = row.min(self.fields.len()),
            Command::Up => self.row = self.row.saturating_sub(1),
            // The line that keeps is come to by Tab alone: no key held down on the fields logs them.
            Command::Down | Command::Take if self.row + 1 < self.fields.len() => self.row += 1,
            Command::Down | Command::Take if self.row < self.fields.len() => {
                return Step::say(format!(
                    "That was the last: Tab, then Enter, to {}.",
                    lower_first(self.keep)
                ));
            }
            Command::Switch => self.row = if self.row < self.fields.len() { self.fields.len() } else { 0 },
            Command::Take => {
                return match self.wants(session) {
                    Ok(intent) => Step::want(intent).and_close(),
                    Err(why) => Step::fail(why),
                };
            }
            Command::Back if self.fields.iter().any(|field| field.touched().is_some()) => {
                return Step::say("Nothing was logged; what you typed is kept here.").and_close();
            }
            Command::Back => return Step::say("Nothing was changed.").and_close(),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}
