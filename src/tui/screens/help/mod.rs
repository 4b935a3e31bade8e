//! The keys of a place, as they really are, and the finder: typed words search keys, screens and hives, Enter runs what is
//! found.

mod draw;

use std::rc::Rc;

use crate::model::HiveId;
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keymap::name;
use crate::tui::keys::{Binding, ScreenId};
use crate::tui::look::Appearance;
use crate::tui::search::Search;
use crate::tui::to::To;
use crate::tui::view::{Canvas, Step, Turn, View};
use crate::tui::widgets::row_after;

/// What the finder may find.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Found {
    /// What a key does in a place.
    Key(ScreenId, Command),
    Hive(HiveId),
}

/// A line of the finder.
#[derive(Debug, Clone)]
pub(crate) struct FinderLine {
    /// The key, where it has one here.
    pub(crate) key: String,
    pub(crate) words: String,
    pub(crate) found: Found,
}

#[derive(Debug)]
pub(crate) struct HelpScreen {
    pub(crate) screen: ScreenId,
    pub(crate) search: Search,
    /// Which line of those that fit.
    pub(crate) row: usize,
    look: Rc<Appearance>,
    /// The lines that fit.
    items: Vec<FinderLine>,
}

impl HelpScreen {
    /// The keys of a screen.
    pub(crate) fn of(screen: ScreenId, look: Rc<Appearance>) -> Self {
        Self { screen, search: Search::typed(), row: 0, look, items: Vec::new() }
    }

    /// What fits the search: this screen's keys, then, once something is typed, those of the day and the hives.
    fn find(&self, session: &Session) -> Vec<FinderLine> {
        let keys = &self.look.keys;
        let key = |b: &Binding| FinderLine {
            key: name(b.key),
            words: words_of(b),
            found: Found::Key(self.screen, b.command),
        };
        let mut items: Vec<FinderLine> = keys.of(self.screen).chain(keys.everywhere()).map(key).collect();
        if self.search.text.is_empty() {
            return items;
        }
        let opens = |b: &&Binding| !moves(b.command) && b.command != Command::Help;
        if self.screen != ScreenId::Today {
            items.extend(keys.of(ScreenId::Today).filter(opens).map(|b| FinderLine {
                key: String::new(),
                words: format!("Today: {}", words_of(b)),
                found: Found::Key(ScreenId::Today, b.command),
            }));
        }
        items.extend(session.folded().hives().map(|state| FinderLine {
            key: String::new(),
            words: format!("card of {} · {}", state.id, state.yard),
            found: Found::Hive(state.id.clone()),
        }));
        items.retain(|item| self.search.fits(&item.words));
        items
    }
}

impl View for HelpScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Help
    }

    fn takes_text(&self) -> bool {
        true
    }

    fn update(&mut self, session: &Session, command: Command) -> Step {
        if self.search.write(command) {
            self.row = 0;
            self.refresh(session);
            return Step::stay();
        }
        if let Some(row) = row_after(command, self.row, self.items.len().saturating_sub(1)) {
            self.row = row;
            return Step::stay();
        }
        match (command, self.items.get(self.row).map(|i| i.found.clone())) {
            (Command::Back, _) => Step::close(),
            (Command::Take, Some(Found::Key(screen, command))) => {
                Step { turn: Turn::Run(screen, command), ..Step::stay() }
            }
            (Command::Take, Some(Found::Hive(hive))) => Step::replace(To::Card(hive)),
            (Command::Take, None) => Step::fail("Nothing is called that: erase some of it."),
            _ => Step::stay(),
        }
    }

    fn refresh(&mut self, session: &Session) {
        self.items = self.find(session);
    }

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
    }
}

/// What a key does, with the name of the screen it opens where that is another word: it is found by either.
fn words_of(binding: &Binding) -> String {
    let screen = match binding.command {
        Command::Season => ScreenId::Season.words(),
        Command::Roster => ScreenId::Roster.words(),
        Command::Card => ScreenId::Card.words(),
        Command::WrapUp => ScreenId::WrapUp.words(),
        Command::Weeks | Command::Readiness | Command::Worth => ScreenId::Sheet.words(),
        Command::Act => ScreenId::Act.words(),
        _ => "",
    };
    let letters =
        |words: &str| words.chars().filter(|c| c.is_alphabetic()).collect::<String>().to_lowercase();
    let is_said = screen.is_empty() || letters(binding.words).contains(&letters(screen));
    if is_said { binding.words.to_owned() } else { format!("{} \u{b7} {screen}", binding.words) }
}

fn moves(command: Command) -> bool {
    matches!(
        command,
        Command::Up | Command::Down | Command::PageUp | Command::PageDown | Command::Left | Command::Right
    )
}
