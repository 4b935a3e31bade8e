//! The table of keys: it feeds dispatch, the footer, the finder and the README; `keymap` puts it in force.

use crossterm::event::KeyCode;

use super::command::Command;

/// Where a key holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    /// The first steps.
    Welcome,
    /// The day.
    Today,
    /// The weather, before a visit.
    Weather,
    /// At a hive.
    Hive,
    /// Putting a prompt off.
    PutOff,
    /// A prompt's reasons.
    Why,
    /// A note.
    Note,
    /// The end of a visit.
    WrapUp,
    /// All hives.
    Roster,
    /// One hive.
    Card,
    /// The load list.
    Load,
    /// Every visit.
    Log,
    /// A sheet on a yard.
    Sheet,
    /// A yard's year.
    Season,
    /// The thresholds and dates.
    Practice,
    /// A disk that refuses.
    Trouble,
    /// Searching a list.
    Search,
    /// What was done at a hive.
    Act,
    /// A form.
    Form,
    /// The boxes of a hive.
    Stack,
    /// How the program looks and is worked.
    Settings,
    /// What to do when something goes wrong.
    Safety,
    /// The keys of a place, and the finder.
    Help,
}

impl Place {
    /// Every place.
    pub(crate) const ALL: &'static [Self] = &[
        Self::Welcome,
        Self::Today,
        Self::Weather,
        Self::Hive,
        Self::PutOff,
        Self::Why,
        Self::Note,
        Self::WrapUp,
        Self::Roster,
        Self::Card,
        Self::Load,
        Self::Log,
        Self::Sheet,
        Self::Season,
        Self::Practice,
        Self::Trouble,
        Self::Search,
        Self::Act,
        Self::Form,
        Self::Stack,
        Self::Settings,
        Self::Safety,
        Self::Help,
    ];

    /// In words.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Welcome => "First steps",
            Self::Today => "Today",
            Self::Weather => "Weather",
            Self::Hive => "At the hive",
            Self::PutOff => "Put off",
            Self::Why => "Why",
            Self::Note => "Note",
            Self::WrapUp => "Wrap-up",
            Self::Roster => "Roster",
            Self::Card => "Hive card",
            Self::Load => "Load list",
            Self::Log => "Log",
            Self::Sheet => "Yard sheets",
            Self::Season => "Season",
            Self::Practice => "Practice",
            Self::Trouble => "Not on the disk",
            Self::Search => "Searching a list",
            Self::Act => "What was done",
            Self::Form => "Form",
            Self::Stack => "Boxes",
            Self::Settings => "Settings",
            Self::Safety => "Safety",
            Self::Help => "Keys and finder",
        }
    }
}

/// One row: in a place, a key means a command.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Binding {
    /// Where.
    pub(crate) place: Place,
    /// Which key.
    pub(crate) key: KeyCode,
    /// What it does.
    pub(crate) command: Command,
    /// In a word or two, for the footer.
    pub(crate) words: &'static str,
}

const fn row(place: Place, key: KeyCode, command: Command, words: &'static str) -> Binding {
    Binding { place, key, command, words }
}

const fn letter(place: Place, key: char, command: Command, words: &'static str) -> Binding {
    row(place, KeyCode::Char(key), command, words)
}

/// Every key, in the order the footer shows them.
pub(crate) const KEYS: &[Binding] = &[
    row(Place::Welcome, KeyCode::Up, Command::Up, "up"),
    row(Place::Welcome, KeyCode::Down, Command::Down, "down"),
    row(Place::Welcome, KeyCode::Enter, Command::Take, "choose"),
    row(Place::Welcome, KeyCode::Esc, Command::Back, "back"),
    row(Place::Welcome, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Today, KeyCode::Enter, Command::Walk, "walk the yard"),
    letter(Place::Today, 'l', Command::Load, "load list"),
    letter(Place::Today, 'n', Command::Weeks, "next weeks"),
    letter(Place::Today, 'c', Command::Card, "card"),
    letter(Place::Today, 'h', Command::Roster, "hives"),
    letter(Place::Today, 'y', Command::Season, "year"),
    letter(Place::Today, 's', Command::WrapUp, "save"),
    letter(Place::Today, 'q', Command::Quit, "quit"),
    row(Place::Today, KeyCode::Right, Command::Right, "next yard"),
    letter(Place::Today, 'r', Command::Readiness, "ready?"),
    letter(Place::Today, 'v', Command::Worth, "worth"),
    letter(Place::Today, 'i', Command::Pin, "pin first"),
    letter(Place::Today, 'e', Command::Earlier, "earlier"),
    letter(Place::Today, 'd', Command::Later, "later"),
    letter(Place::Today, 'o', Command::Log, "log"),
    letter(Place::Today, 'p', Command::Practice, "practice"),
    letter(Place::Today, 'g', Command::Settings, "settings"),
    letter(Place::Today, 't', Command::Theme, "day/night"),
    row(Place::Today, KeyCode::Left, Command::Left, "yard before"),
    row(Place::Today, KeyCode::Up, Command::Up, "up"),
    row(Place::Today, KeyCode::Down, Command::Down, "down"),
    letter(Place::Today, '?', Command::Help, "keys"),
    row(Place::Weather, KeyCode::Enter, Command::Take, "take, go on"),
    row(Place::Weather, KeyCode::Up, Command::Up, "up"),
    row(Place::Weather, KeyCode::Down, Command::Down, "down"),
    row(Place::Weather, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Weather, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Hive, 'g', Command::GoOn, "go on"),
    row(Place::Hive, KeyCode::Enter, Command::Take, "take"),
    row(Place::Hive, KeyCode::Tab, Command::Switch, "fields/prompts"),
    letter(Place::Hive, 'p', Command::PutOff, "put off"),
    letter(Place::Hive, 'x', Command::NotNeeded, "not needed"),
    letter(Place::Hive, 'w', Command::Why, "why"),
    letter(Place::Hive, 'm', Command::More, "more fields"),
    letter(Place::Hive, 'a', Command::Act, "act"),
    letter(Place::Hive, 'e', Command::Amounts, "amounts"),
    letter(Place::Hive, 'o', Command::Note, "note"),
    letter(Place::Hive, 'u', Command::Undo, "undo"),
    letter(Place::Hive, 'r', Command::Redo, "redo"),
    letter(Place::Hive, 's', Command::WrapUp, "wrap up"),
    letter(Place::Hive, 'b', Command::GoBack, "hive before"),
    letter(Place::Hive, 'c', Command::Card, "hive card"),
    letter(Place::Hive, 'k', Command::Boxes, "boxes"),
    letter(Place::Hive, 'l', Command::LikeLast, "as last hive"),
    letter(Place::Hive, 'f', Command::CopyOn, "for next hives"),
    row(Place::Hive, KeyCode::Up, Command::Up, "up"),
    row(Place::Hive, KeyCode::Down, Command::Down, "down"),
    row(Place::Hive, KeyCode::Left, Command::Left, "choice before"),
    row(Place::Hive, KeyCode::Right, Command::Right, "next choice"),
    row(Place::Hive, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Hive, KeyCode::Esc, Command::Back, "today"),
    letter(Place::Hive, '?', Command::Help, "keys"),
    row(Place::PutOff, KeyCode::Enter, Command::Take, "put off"),
    row(Place::PutOff, KeyCode::Up, Command::Up, "up"),
    row(Place::PutOff, KeyCode::Down, Command::Down, "down"),
    row(Place::PutOff, KeyCode::PageUp, Command::PageUp, "a week earlier"),
    row(Place::PutOff, KeyCode::PageDown, Command::PageDown, "a week later"),
    row(Place::PutOff, KeyCode::Left, Command::Left, "earlier"),
    row(Place::PutOff, KeyCode::Right, Command::Right, "later"),
    row(Place::PutOff, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::PutOff, KeyCode::Esc, Command::Back, "back"),
    row(Place::Why, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Why, 'w', Command::Back, "back"),
    row(Place::Why, KeyCode::Up, Command::Up, "up"),
    row(Place::Why, KeyCode::Down, Command::Down, "down"),
    row(Place::Why, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Why, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Note, KeyCode::Enter, Command::Take, "keep"),
    row(Place::Note, KeyCode::Esc, Command::Back, "keep, back"),
    row(Place::Note, KeyCode::Left, Command::Left, "left"),
    row(Place::Note, KeyCode::Right, Command::Right, "right"),
    row(Place::Note, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Note, KeyCode::Delete, Command::EraseNext, "erase after"),
    row(Place::Note, KeyCode::Home, Command::ToStart, "start"),
    row(Place::Note, KeyCode::End, Command::ToEnd, "end"),
    row(Place::Note, KeyCode::Up, Command::Up, "word before"),
    row(Place::Note, KeyCode::Down, Command::Down, "next word"),
    row(Place::WrapUp, KeyCode::Enter, Command::Take, "save the visit"),
    row(Place::WrapUp, KeyCode::Esc, Command::Back, "back to the hives"),
    letter(Place::WrapUp, 'x', Command::PutAside, "leave unsaved"),
    row(Place::WrapUp, KeyCode::Up, Command::Up, "up"),
    row(Place::WrapUp, KeyCode::Down, Command::Down, "down"),
    row(Place::WrapUp, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::WrapUp, KeyCode::PageDown, Command::PageDown, "page down"),
    letter(Place::WrapUp, '?', Command::Help, "keys"),
    row(Place::Roster, KeyCode::Enter, Command::Card, "hive card"),
    letter(Place::Roster, 'e', Command::Edit, "change it"),
    letter(Place::Roster, 'a', Command::NewHives, "add hives"),
    letter(Place::Roster, 'n', Command::NewYard, "new yard"),
    letter(Place::Roster, 'i', Command::Earlier, "stand earlier"),
    letter(Place::Roster, 'd', Command::Later, "stand later"),
    letter(Place::Roster, '/', Command::Filter, "search"),
    letter(Place::Roster, 'u', Command::Undo, "undo"),
    letter(Place::Roster, 'r', Command::Redo, "redo"),
    row(Place::Roster, KeyCode::Up, Command::Up, "up"),
    row(Place::Roster, KeyCode::Down, Command::Down, "down"),
    row(Place::Roster, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Roster, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Roster, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Roster, 'h', Command::Back, "back"),
    letter(Place::Roster, '?', Command::Help, "keys"),
    row(Place::Card, KeyCode::Tab, Command::Switch, "words/picture"),
    row(Place::Card, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Card, 'c', Command::Back, "back"),
    row(Place::Card, KeyCode::Up, Command::Up, "up"),
    row(Place::Card, KeyCode::Down, Command::Down, "down"),
    row(Place::Card, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Card, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Card, KeyCode::Left, Command::Left, "hive before"),
    row(Place::Card, KeyCode::Right, Command::Right, "next hive"),
    letter(Place::Card, '?', Command::Help, "keys"),
    row(Place::Load, KeyCode::Enter, Command::Take, "tick"),
    letter(Place::Load, ' ', Command::Take, "tick"),
    row(Place::Load, KeyCode::Up, Command::Up, "up"),
    row(Place::Load, KeyCode::Down, Command::Down, "down"),
    row(Place::Load, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Load, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Load, KeyCode::Left, Command::Left, "yard before"),
    row(Place::Load, KeyCode::Right, Command::Right, "next yard"),
    row(Place::Load, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Load, 'l', Command::Back, "back"),
    letter(Place::Load, '?', Command::Help, "keys"),
    row(Place::Log, KeyCode::Enter, Command::Take, "correct it"),
    letter(Place::Log, 'x', Command::Withdraw, "withdraw it"),
    letter(Place::Log, 'k', Command::Keep, "keep of two"),
    letter(Place::Log, '/', Command::Filter, "search"),
    row(Place::Log, KeyCode::Up, Command::Up, "up"),
    row(Place::Log, KeyCode::Down, Command::Down, "down"),
    row(Place::Log, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Log, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Log, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Log, '?', Command::Help, "keys"),
    row(Place::Sheet, KeyCode::Tab, Command::Switch, "next sheet"),
    row(Place::Sheet, KeyCode::Up, Command::Up, "up"),
    row(Place::Sheet, KeyCode::Down, Command::Down, "down"),
    row(Place::Sheet, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Sheet, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Sheet, KeyCode::Left, Command::Left, "yard before"),
    row(Place::Sheet, KeyCode::Right, Command::Right, "next yard"),
    row(Place::Sheet, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Sheet, '?', Command::Help, "keys"),
    row(Place::Season, KeyCode::Up, Command::Up, "up"),
    row(Place::Season, KeyCode::Down, Command::Down, "down"),
    row(Place::Season, KeyCode::Left, Command::Left, "yard before"),
    row(Place::Season, KeyCode::Right, Command::Right, "next yard"),
    letter(Place::Season, 'p', Command::Practice, "own dates"),
    row(Place::Season, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Season, 'y', Command::Back, "back"),
    letter(Place::Season, '?', Command::Help, "keys"),
    row(Place::Practice, KeyCode::Enter, Command::Take, "keep"),
    row(Place::Practice, KeyCode::Backspace, Command::Erase, "erase, default"),
    row(Place::Practice, KeyCode::Up, Command::Up, "up"),
    row(Place::Practice, KeyCode::Down, Command::Down, "down"),
    row(Place::Practice, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Practice, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Practice, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Practice, '?', Command::Help, "keys"),
    row(Place::Trouble, KeyCode::Enter, Command::Take, "try again"),
    row(Place::Trouble, KeyCode::Esc, Command::Back, "go on in memory"),
    letter(Place::Trouble, 'q', Command::Quit, "leave"),
    row(Place::Search, KeyCode::Enter, Command::Take, "keep the search"),
    row(Place::Search, KeyCode::Esc, Command::Back, "show all"),
    row(Place::Search, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Search, KeyCode::Up, Command::Up, "up"),
    row(Place::Search, KeyCode::Down, Command::Down, "down"),
    row(Place::Act, KeyCode::Enter, Command::Take, "choose"),
    row(Place::Act, KeyCode::Esc, Command::Back, "back"),
    row(Place::Act, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Act, KeyCode::Up, Command::Up, "up"),
    row(Place::Act, KeyCode::Down, Command::Down, "down"),
    row(Place::Act, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Act, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Form, KeyCode::Enter, Command::Take, "next, keep"),
    row(Place::Form, KeyCode::Tab, Command::Switch, "to the last line"),
    row(Place::Form, KeyCode::Esc, Command::Back, "leave as it was"),
    row(Place::Form, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Form, KeyCode::Left, Command::Left, "left, before"),
    row(Place::Form, KeyCode::Right, Command::Right, "right, next"),
    row(Place::Form, KeyCode::Up, Command::Up, "up"),
    row(Place::Form, KeyCode::Down, Command::Down, "down"),
    row(Place::Form, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Form, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Stack, KeyCode::Enter, Command::Take, "log it"),
    letter(Place::Stack, 'a', Command::AddBox, "add a box"),
    letter(Place::Stack, 'x', Command::RemoveBox, "take it off"),
    letter(Place::Stack, 'd', Command::Depth, "depth"),
    letter(Place::Stack, 'r', Command::Role, "nest/super"),
    letter(Place::Stack, 'f', Command::Frames, "frames"),
    row(Place::Stack, KeyCode::Left, Command::Left, "fewer drawn"),
    row(Place::Stack, KeyCode::Right, Command::Right, "more drawn"),
    row(Place::Stack, KeyCode::PageUp, Command::PageUp, "box up"),
    row(Place::Stack, KeyCode::PageDown, Command::PageDown, "box down"),
    row(Place::Stack, KeyCode::Esc, Command::Back, "leave as it was"),
    row(Place::Stack, KeyCode::Up, Command::Up, "up"),
    row(Place::Stack, KeyCode::Down, Command::Down, "down"),
    letter(Place::Stack, '?', Command::Help, "keys"),
    row(Place::Settings, KeyCode::Enter, Command::Right, "next"),
    row(Place::Settings, KeyCode::Left, Command::Left, "before"),
    row(Place::Settings, KeyCode::Right, Command::Right, "next"),
    row(Place::Settings, KeyCode::Up, Command::Up, "up"),
    row(Place::Settings, KeyCode::Down, Command::Down, "down"),
    row(Place::Settings, KeyCode::Esc, Command::Back, "back"),
    letter(Place::Settings, '?', Command::Help, "keys"),
    row(Place::Safety, KeyCode::Esc, Command::Back, "back"),
    row(Place::Safety, KeyCode::Enter, Command::Back, "back"),
    row(Place::Safety, KeyCode::Up, Command::Up, "up"),
    row(Place::Safety, KeyCode::Down, Command::Down, "down"),
    row(Place::Safety, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Safety, KeyCode::PageDown, Command::PageDown, "page down"),
    row(Place::Help, KeyCode::Enter, Command::Take, "run it"),
    row(Place::Help, KeyCode::Backspace, Command::Erase, "erase"),
    row(Place::Help, KeyCode::Esc, Command::Back, "back"),
    row(Place::Help, KeyCode::Up, Command::Up, "up"),
    row(Place::Help, KeyCode::Down, Command::Down, "down"),
    row(Place::Help, KeyCode::PageUp, Command::PageUp, "page up"),
    row(Place::Help, KeyCode::PageDown, Command::PageDown, "page down"),
];

/// Keys that hold in every place, also where text is typed; the place in these rows is not looked at.
pub(crate) const EVERYWHERE: &[Binding] = &[
    row(Place::Help, KeyCode::F(1), Command::Help, "keys, find"),
    row(Place::Help, KeyCode::F(2), Command::Safety, "safety"),
    row(Place::Help, KeyCode::F(3), Command::Theme, "day/night"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::keymap::Keymap;

    #[test]
    fn no_key_is_bound_twice_in_one_place() {
        assert_eq!(Keymap::default().conflict(), None);
        for binding in KEYS.iter().chain(EVERYWHERE) {
            assert!(binding.words.len() <= 18, "{}", binding.words);
        }
        for place in Place::ALL {
            assert!(KEYS.iter().any(|b| b.place == *place), "{place:?} has no key");
        }
    }

    #[test]
    fn only_the_day_and_a_refusing_disk_leave_the_program() {
        for binding in KEYS.iter().filter(|b| b.command == Command::Quit) {
            assert!(matches!(binding.place, Place::Today | Place::Trouble));
        }
    }
}
