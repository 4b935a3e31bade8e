//! The season: a yard's year as a strip with today on it, its dates, and the deadlines counted down.

mod draw;
mod strip;

use crate::model::visible;
use crate::plan::{self, DEADLINES};
use crate::report::{countdown, place_words, sun_words};
use crate::season::{Calendar, REFERENCE, SeasonDate, Window};
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::to::To;
use crate::tui::view::{Canvas, Step, View};
use crate::wording;

#[derive(Debug)]
pub(crate) struct SeasonScreen {
    /// Which yard of the book.
    yard: usize,
    /// Which date.
    row: usize,
    seen: Option<Seen>,
}

/// What is shown of a yard's year.
#[derive(Debug)]
struct Seen {
    calendar: Calendar,
    /// The phase, and where the yard is.
    place: String,
    /// A bloom and the sun, as far as they are known.
    known: String,
    /// The dates, in the calendar's order.
    dates: Vec<Row>,
    /// The windows of the other yards, first and last day in words, in the same order.
    elsewhere: Vec<(String, Vec<(String, String)>)>,
}

/// A date, in words.
#[derive(Debug)]
struct Row {
    name: &'static str,
    window: Window,
    opens: String,
    closes: String,
    countdown: String,
    /// How many hives meet it, where it is a deadline in sight.
    met: String,
    from: String,
    is_over: bool,
}

impl SeasonScreen {
    /// Of a yard, on the deadline that is next.
    pub(crate) fn of(session: &Session, yard: usize) -> Self {
        let row = session.book().yards.get(yard).map_or(0, |y| {
            let is_deadline = |id| DEADLINES.iter().any(|(deadline, _)| *deadline == id);
            let is_next = |d: &SeasonDate| d.window.closes >= session.today() && is_deadline(d.id);
            session.calendar(y).dates.iter().position(is_next).unwrap_or(0)
        });
        Self { yard, row, seen: None }
    }
}

impl View for SeasonScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Season
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        let yards = session.book().yards.len();
        match command {
            Command::Up => self.row = self.row.saturating_sub(1),
            Command::Down => self.row = (self.row + 1).min(REFERENCE.len() - 1),
            Command::Left | Command::Right if yards > 0 => {
                let step = if command == Command::Right { 1 } else { yards - 1 };
                self.yard = (self.yard + step) % yards;
                self.refresh(session);
            }
            Command::Practice => {
                return Step::open(To::Practice(REFERENCE.get(self.row).map(|r| r.id)));
            }
            Command::Back => return Step::close(),
            _ => {}
        }
        Step::stay()
    }

    fn refresh(&mut self, session: &Session) {
        let (book, today) = (session.book(), session.today());
        self.seen = book.yards.get(self.yard).map(|yard| {
            let calendar = session.calendar(yard);
            let stands: Vec<_> = yard.hives.iter().filter_map(|h| session.folded().hive(&h.id)).collect();
            let deadlines = plan::deadlines(&stands, &calendar, &book.practice, today);
            let dates = calendar.dates.iter().map(|date| Row {
                name: date.id.reference().name,
                window: date.window,
                opens: wording::day(book.units, date.window.opens),
                closes: wording::day(book.units, date.window.closes),
                countdown: countdown(date, today),
                met: deadlines
                    .iter()
                    .find(|d| d.date == date.id)
                    .map_or_else(String::new, |d| d.words(today)),
                from: date.from(book.units),
                is_over: today > date.window.closes,
            });
            let dates = dates.collect();
            let known = [
                calendar.bloom.map(|b| b.words(book.units)),
                sun_words(yard, today, session.offset(), book.units),
            ];
            Seen {
                place: format!("{} · {}", calendar.phase(today).word(), place_words(yard, book.units)),
                known: known.into_iter().flatten().collect::<Vec<_>>().join(" · "),
                dates,
                elsewhere: elsewhere(session, self.yard),
                calendar,
            }
        });
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

/// The windows of the book's other yards, where they are few enough to be read.
fn elsewhere(session: &Session, but: usize) -> Vec<(String, Vec<(String, String)>)> {
    const FEW: usize = 4;
    let units = session.book().units;
    let others = session.book().yards.iter().enumerate().filter(|(at, _)| *at != but);
    others
        .take(FEW)
        .map(|(_, yard)| {
            let calendar = session.calendar(yard);
            let window = |date: &SeasonDate| {
                (wording::day(units, date.window.opens), wording::day(units, date.window.closes))
            };
            (visible(yard.name.as_str()), calendar.dates.iter().map(window).collect())
        })
        .collect()
}
