//! The end of a visit: what was done, what each hive needs next and when, what was put off; then saved.

mod draw;

use crate::advice::rule_name;
use crate::model::{Entry, HiveId, Reply};
use crate::report::findings_words;
use crate::session::{Evening, Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::Scroll;
use crate::wording;

/// One hive of the wrap-up.
#[derive(Debug)]
struct HiveLine {
    hive: HiveId,
    /// What was done, in words.
    done: Vec<String>,
    /// What was found and counted.
    found: String,
    /// What was put off.
    put_off: Vec<String>,
    /// What was asked and is still open.
    open: Vec<String>,
    /// What it needs next, where nothing is open.
    next: Option<String>,
}

#[derive(Debug, Default)]
pub(crate) struct WrapUpScreen {
    yard: String,
    /// The hives looked at.
    lines: Vec<HiveLine>,
    /// Hives that were due and of which nothing is written.
    passed_over: Vec<HiveId>,
    scroll: Scroll,
}

impl View for WrapUpScreen {
    fn id(&self) -> ScreenId {
        ScreenId::WrapUp
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        match command {
            // Nothing goes by it, so it is not asked twice: the draft waits in the log.
            Command::PutAside if session.visit().is_some() => Step::want(Intent::PutAside),
            Command::Back => Step::close(),
            Command::Take => Step::want(Intent::Save),
            other => {
                self.scroll.update(other);
                Step::stay()
            }
        }
    }

    fn refresh(&mut self, session: &Session) {
        let Some(open) = session.visit() else { return };
        let visit = open.finished_visit();
        self.yard = visit.yard.to_string();
        let evening = session.evening();
        let stands = |hive: &HiveId| visit.entry(hive).is_some();
        // A hive made today stands in the wrap-up too, though nothing is written of it yet.
        let made = session.made_today(&visit.yard).into_iter().filter(|hive| !stands(hive)).map(Entry::blank);
        let entries: Vec<Entry> = visit.entries.iter().cloned().chain(made).collect();
        self.lines = entries.iter().map(|entry| line(session, &evening, entry)).collect();
        let due = open.queue.iter().take(open.due);
        self.passed_over = due.filter(|hive| visit.entry(hive).is_none()).cloned().collect();
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

fn line(session: &Session, evening: &Evening<'_>, entry: &Entry) -> HiveLine {
    let units = session.book().units;
    let view = session.view(&entry.hive);
    let prompts = view.iter().flat_map(|v| &v.advice.prompts).filter(|p| p.makes_a_trip());
    let open = prompts.map(|p| format!("{} by {}", p.title, wording::day(units, p.due.latest)));
    let next = view.as_ref().and_then(|view| evening.next_due(view));
    let put_off = entry.answers.iter().filter_map(|answer| match &answer.reply {
        Reply::PutOff { reason, until } => {
            let until = wording::day(units, *until);
            Some(format!("{} put off to {until}: {reason}", rule_name(&answer.rule)))
        }
        Reply::Done | Reply::NotNeeded => None,
    });
    HiveLine {
        hive: entry.hive.clone(),
        done: if entry.is_blank() { vec!["new today".to_owned()] } else { entry.done_words(units) },
        found: findings_words(&entry.findings, units),
        put_off: put_off.collect(),
        open: open.collect(),
        next: next.map(|next| format!("next {}: {}", wording::weekday_and_day(units, next.on), next.title)),
    }
}
