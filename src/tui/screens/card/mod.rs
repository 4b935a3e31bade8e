//! A hive's card: what it is, what it needs, and its history.

mod draw;

use chrono::NaiveDate;

use crate::advice::rule_name;
use crate::model::fold::whole_history;
use crate::model::{Entry, HiveId, Reply, Units};
use crate::plan::{self, DateStatus, NextDue};
use crate::report::what_if::{Asked, WhatIf, of_hive};
use crate::report::{findings_words, worked_out};
use crate::session::{HiveView, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, View};
use crate::tui::widgets::{Picture, Scroll};
use crate::wording;

#[derive(Debug)]
pub(crate) struct CardScreen {
    hive: HiveId,
    scroll: Scroll,
    /// Which of its pages.
    page: CardPage,
    seen: Option<Seen>,
}

/// A page of the card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum CardPage {
    /// What it is, needs and was.
    Words,
    /// What would come of each choice.
    WhatIf,
    /// Its boxes and the year's counts.
    Picture,
}

impl CardPage {
    fn next(self) -> Self {
        match self {
            Self::Words => Self::WhatIf,
            Self::WhatIf => Self::Picture,
            Self::Picture => Self::Words,
        }
    }
}

/// What is shown of a hive.
#[derive(Debug)]
struct Seen {
    view: HiveView,
    today: NaiveDate,
    /// What it needs next, where nothing is due today.
    next: Option<NextDue>,
    /// Figures that follow from what is known.
    worked_out: Vec<String>,
    /// What would come of each choice that matters now.
    what_if: Vec<WhatIf>,
    /// How it stands to its dates in sight.
    dates: Option<String>,
    /// Every entry, the newest first.
    history: Vec<Past>,
    picture: Picture,
}

/// One entry of the past, in words.
#[derive(Debug)]
struct Past {
    head: String,
    holds: bool,
    seen: String,
    did: Vec<String>,
    put_off: Vec<String>,
    note: String,
}

impl CardScreen {
    pub(crate) fn of(hive: HiveId) -> Self {
        Self { hive, scroll: Scroll::default(), page: CardPage::Words, seen: None }
    }
}

impl View for CardScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Card
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        match command {
            Command::Left | Command::Right => {
                let hives = session.hives();
                let at = hives.iter().position(|h| *h == self.hive).unwrap_or(0);
                let step = if command == Command::Right { 1 } else { hives.len().saturating_sub(1) };
                if let Some(hive) = hives.get((at + step) % hives.len().max(1)) {
                    *self = Self { page: self.page, ..Self::of(hive.clone()) };
                    self.refresh(session);
                }
            }
            Command::Switch => {
                self.page = self.page.next();
                self.scroll = Scroll::default();
            }
            Command::Back => return Step::close(),
            other => self.scroll.update(other),
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        let (book, today) = (session.book(), session.today());
        self.seen = session.view(&self.hive).map(|view| {
            let calendar = session.yard(&view.state.yard).map(|yard| session.calendar(yard));
            Seen {
                today,
                next: session.evening().next_due(&view),
                worked_out: calendar.as_ref().map_or_else(Vec::new, |calendar| {
                    worked_out(&view.state, calendar, &book.practice, book.units, today)
                }),
                what_if: calendar.as_ref().map_or_else(Vec::new, |calendar| {
                    let (practice, units) = (&book.practice, book.units);
                    of_hive(&Asked { hive: &view.state, calendar, practice, units, today })
                }),
                dates: calendar.and_then(|calendar| {
                    dates_words(&plan::standing(&view.state, &calendar, &book.practice, today), session)
                }),
                history: whole_history(book, &self.hive, today)
                    .into_iter()
                    .map(|(visit, entry, stand)| {
                        let minutes = entry.minutes.map_or_else(String::new, |m| format!(", {m} min"));
                        let stood = match stand.words() {
                            "" => String::new(),
                            words => format!(", {words}"),
                        };
                        let day = wording::day_and_year(book.units, visit.on);
                        past(entry, format!("{day}{minutes}{stood}"), stand.holds(), book.units)
                    })
                    .collect(),
                picture: Picture::of(&view.state, session),
                view,
            }
        });
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        if let Some(seen) = &self.seen {
            draw::draw(self, seen, session, canvas);
        }
    }
}

/// How the hive stands to its dates in sight; none where there are none.
fn dates_words(dates: &[plan::HiveDate], session: &Session) -> Option<String> {
    let (units, today) = (session.book().units, session.today());
    let words: Vec<String> = dates
        .iter()
        .map(|date| {
            let by = wording::day(units, date.by);
            let status = match date.status {
                DateStatus::Met => "met".to_owned(),
                DateStatus::InHand => "in hand".to_owned(),
                DateStatus::Open => format!("not yet, due {}", wording::days_from(today, date.by)),
                DateStatus::Late => format!("LATE since {by}"),
            };
            format!("{} by {by}: {status}", date.what)
        })
        .collect();
    (!words.is_empty()).then(|| words.join(" · "))
}

fn past(entry: &Entry, head: String, holds: bool, units: Units) -> Past {
    let put_off = entry.answers.iter().filter_map(|answer| match &answer.reply {
        Reply::PutOff { reason, until } => {
            let until = wording::day(units, *until);
            Some(format!("put off to {until}: {} ({reason})", rule_name(&answer.rule)))
        }
        Reply::Done | Reply::NotNeeded => None,
    });
    Past {
        head,
        holds,
        seen: findings_words(&entry.findings, units),
        did: entry.actions.iter().map(|action| action.words(units)).collect(),
        put_off: put_off.collect(),
        note: entry.note.clone(),
    }
}
