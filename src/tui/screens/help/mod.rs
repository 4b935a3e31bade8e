//! The keys of a place, as they really are, and the finder: typed words search keys, screens and hives, Enter runs what is
//! found.

pub(crate) mod draw;

use crate::model::HiveId;
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::keymap::name;
use crate::tui::keys::{Binding, Place};
use crate::tui::screens::{Screen, Turn, card};
use crate::tui::search::Search;
use crate::tui::widgets::row_after;

/// What the finder may find.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Found {
    /// What a key does in a place.
    Key(Place, Command),
    /// A hive.
    Hive(HiveId),
}

/// A line of the finder.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    /// The key, where it has one here.
    pub(crate) key: String,
    /// In words.
    pub(crate) words: String,
    /// What Enter runs.
    pub(crate) found: Found,
}

/// The finder's screen.
#[derive(Debug)]
pub(crate) struct HelpScreen {
    /// Whose keys.
    pub(crate) place: Place,
    /// What is searched.
    pub(crate) search: Search,
    /// Which line of those that fit.
    pub(crate) row: usize,
}

impl HelpScreen {
    /// The keys of a place.
    pub(crate) fn of(place: Place) -> Self {
        Self { place, search: Search::typed(), row: 0 }
    }

    /// What fits the search: this place's keys, then, once something is typed, those of the day and the hives.
    pub(crate) fn items(&self, app: &App) -> Vec<Item> {
        let keys = &app.look.keys;
        let key = |b: &Binding| Item {
            key: name(b.key),
            words: words_of(b),
            found: Found::Key(self.place, b.command),
        };
        let mut items: Vec<Item> = keys.of(self.place).chain(keys.everywhere()).map(key).collect();
        if self.search.text.is_empty() {
            return items;
        }
        let opens = |b: &&Binding| !moves(b.command) && b.command != Command::Help;
        if self.place != Place::Today {
            items.extend(keys.of(Place::Today).filter(opens).map(|b| Item {
                key: String::new(),
                words: format!("Today: {}", words_of(b)),
                found: Found::Key(Place::Today, b.command),
            }));
        }
        items.extend(app.folded.hives().map(|state| Item {
            key: String::new(),
            words: format!("card of {} · {}", state.id, state.yard),
            found: Found::Hive(state.id.clone()),
        }));
        items.retain(|item| self.search.fits(&item.words));
        items
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command) -> Turn {
        if self.search.write(command) {
            self.row = 0;
            return Turn::Stay;
        }
        let items = self.items(app);
        let last = items.len().saturating_sub(1);
        if let Some(row) = row_after(command, self.row, last) {
            self.row = row;
            return Turn::Stay;
        }
        match command {
            Command::Back => return Turn::Close,
            Command::Take => {
                return match items.get(self.row).map(|i| i.found.clone()) {
                    Some(Found::Key(place, command)) => Turn::Run(place, command),
                    Some(Found::Hive(hive)) => Turn::Replace(Screen::Card(card::CardScreen::of(app, hive))),
                    None => {
                        app.fail("Nothing is called so: erase some of it.");
                        Turn::Stay
                    }
                };
            }
            _ => {}
        }
        Turn::Stay
    }
}

/// What a key does, with the name of the screen it opens where that is another word: it is found by either.
fn words_of(binding: &Binding) -> String {
    let screen = match binding.command {
        Command::Season => Place::Season.words(),
        Command::Roster => Place::Roster.words(),
        Command::Card => Place::Card.words(),
        Command::WrapUp => Place::WrapUp.words(),
        Command::Weeks | Command::Readiness | Command::Worth => Place::Sheet.words(),
        Command::Act => Place::Act.words(),
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
