//! The table of keys: it feeds dispatch, the footer, the finder and the README; `keymap` puts it in force.

use crossterm::event::KeyCode;

use super::command::Command;

macro_rules! screens {
    ($( $(#[$doc:meta])* $name:ident => $words:literal, )+) => {
        /// Where a key holds.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum ScreenId { $( $(#[$doc])* $name ),+ }

        impl ScreenId {
            pub(crate) const ALL: &'static [Self] = &[ $( Self::$name ),+ ];

            /// Its name, as the finder lists it.
            pub(crate) fn words(self) -> &'static str {
                match self { $( Self::$name => $words ),+ }
            }
        }
    };
}

screens! {
    /// The first steps.
    Welcome => "First steps",
    /// The day.
    Today => "Today",
    /// The weather, before a visit.
    Weather => "Weather",
    /// At a hive.
    Hive => "At the hive",
    /// Putting a prompt off.
    PutOff => "Put off",
    /// A prompt's reasons.
    Why => "Why",
    /// Words of the keeper's own.
    Note => "Note",
    /// The end of a visit.
    WrapUp => "Wrap-up",
    /// All hives.
    Roster => "Roster",
    /// One hive.
    Card => "Hive card",
    /// The load list.
    Load => "Load list",
    /// Every visit.
    Log => "Log",
    /// A sheet on a yard.
    Sheet => "Yard sheets",
    /// A yard's year.
    Season => "Season",
    /// The thresholds and dates.
    Practice => "Practice",
    /// A disk that refuses.
    Trouble => "Not on the disk",
    /// Comments that would go.
    Comments => "Your comments",
    /// Searching a list.
    Search => "Searching a list",
    /// Files that are no part of the book.
    LeftOut => "Files to mend",
    /// When to come back in a rehearsal, and what really was.
    Rehearsal => "Rehearsal",
    /// A former yard.ron to bring back.
    BringBack => "Bring yard.ron back",
    /// Over midnight.
    NewDay => "Another day",
    /// What was done at a hive.
    Act => "What was done",
    /// The amounts of an action, or the facts of a yard or hive.
    Form => "Form",
    /// The boxes of a hive.
    Stack => "Boxes",
    /// Sums.
    Calc => "Calculator",
    /// How the program looks and is worked.
    Settings => "Settings",
    /// What to do when something goes wrong.
    Safety => "Safety",
    /// The keys of a place, and the finder.
    Help => "Keys and finder",
}

impl ScreenId {
    /// Whether characters are typed there, so that one without a row of its own is text.
    pub(crate) fn is_typed_into(self) -> bool {
        matches!(
            self,
            Self::Welcome
                | Self::Weather
                | Self::PutOff
                | Self::Note
                | Self::Practice
                | Self::Search
                | Self::Act
                | Self::Form
                | Self::Calc
                | Self::Help
        )
    }
}

/// One row: in a place, a key means a command.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Binding {
    pub(crate) place: ScreenId,
    pub(crate) key: KeyCode,
    pub(crate) command: Command,
    /// In a word or two, for the footer.
    pub(crate) words: &'static str,
}

const fn row(place: ScreenId, key: KeyCode, command: Command, words: &'static str) -> Binding {
    Binding { place, key, command, words }
}

const fn letter(place: ScreenId, key: char, command: Command, words: &'static str) -> Binding {
    row(place, KeyCode::Char(key), command, words)
}

/// Every key, in the order the footer shows them.
pub(crate) const KEYS: &[Binding] = &[
    row(ScreenId::Welcome, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Welcome, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Welcome, KeyCode::Enter, Command::Take, "choose"),
    row(ScreenId::Welcome, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Welcome, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Today, KeyCode::Enter, Command::Walk, "walk the yard"),
    letter(ScreenId::Today, 'l', Command::Load, "load list"),
    letter(ScreenId::Today, 'n', Command::Weeks, "next weeks"),
    letter(ScreenId::Today, 'c', Command::Card, "card"),
    letter(ScreenId::Today, 'h', Command::Roster, "hives"),
    letter(ScreenId::Today, 'y', Command::Season, "year"),
    letter(ScreenId::Today, 's', Command::WrapUp, "save, wrap up"),
    letter(ScreenId::Today, 'q', Command::Quit, "leave"),
    row(ScreenId::Today, KeyCode::Right, Command::Right, "next yard"),
    letter(ScreenId::Today, '*', Command::Pin, "pin first"),
    letter(ScreenId::Today, '-', Command::Earlier, "earlier"),
    letter(ScreenId::Today, '+', Command::Later, "later"),
    letter(ScreenId::Today, 'v', Command::Log, "visits"),
    letter(ScreenId::Today, 'f', Command::LeftOut, "files to mend"),
    letter(ScreenId::Today, 't', Command::Practice, "thresholds"),
    letter(ScreenId::Today, ',', Command::Settings, "settings"),
    letter(ScreenId::Today, '=', Command::Calc, "calculator"),
    row(ScreenId::Today, KeyCode::Left, Command::Left, "yard before"),
    row(ScreenId::Today, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Today, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Today, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Today, KeyCode::PageDown, Command::PageDown, "page down"),
    letter(ScreenId::Today, '/', Command::Filter, "search"),
    letter(ScreenId::Today, 'D', Command::Rehearsal, "day to come back"),
    row(ScreenId::Weather, KeyCode::Enter, Command::Take, "take, go on"),
    row(ScreenId::Weather, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Weather, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Weather, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Weather, KeyCode::Esc, Command::Back, "back"),
    letter(ScreenId::Hive, 'g', Command::GoOn, "go on"),
    row(ScreenId::Hive, KeyCode::Enter, Command::Take, "take"),
    row(ScreenId::Hive, KeyCode::Tab, Command::Switch, "fields/prompts"),
    letter(ScreenId::Hive, 'p', Command::PutOff, "put off"),
    letter(ScreenId::Hive, 'x', Command::NotNeeded, "not needed"),
    letter(ScreenId::Hive, 'w', Command::Why, "why"),
    letter(ScreenId::Hive, 'm', Command::More, "more fields"),
    letter(ScreenId::Hive, 'i', Command::Fine, "it is fine"),
    letter(ScreenId::Hive, 'a', Command::Act, "add a deed"),
    letter(ScreenId::Hive, 'e', Command::Amounts, "change amounts"),
    letter(ScreenId::Hive, 'o', Command::Note, "note"),
    letter(ScreenId::Hive, 'W', Command::Weather, "weather"),
    letter(ScreenId::Hive, 'u', Command::Undo, "undo"),
    letter(ScreenId::Hive, 'r', Command::Redo, "redo"),
    letter(ScreenId::Hive, 's', Command::WrapUp, "save, wrap up"),
    letter(ScreenId::Hive, 'b', Command::GoBack, "hive before"),
    letter(ScreenId::Hive, 'c', Command::Card, "hive card"),
    letter(ScreenId::Hive, 'k', Command::Boxes, "boxes"),
    letter(ScreenId::Hive, 'd', Command::LikeLast, "as last hive"),
    letter(ScreenId::Hive, 'j', Command::CopyOn, "for next hives"),
    row(ScreenId::Hive, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Hive, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Hive, KeyCode::Left, Command::Left, "choice before"),
    row(ScreenId::Hive, KeyCode::Right, Command::Right, "next choice"),
    row(ScreenId::Hive, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Hive, KeyCode::Esc, Command::Back, "today"),
    row(ScreenId::PutOff, KeyCode::Enter, Command::Take, "put off"),
    row(ScreenId::PutOff, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::PutOff, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::PutOff, KeyCode::Left, Command::Left, "earlier"),
    row(ScreenId::PutOff, KeyCode::Right, Command::Right, "later"),
    row(ScreenId::PutOff, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::PutOff, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Why, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Why, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Why, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Why, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Why, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Note, KeyCode::Enter, Command::Take, "keep"),
    row(ScreenId::Note, KeyCode::Esc, Command::Back, "keep, back"),
    row(ScreenId::Note, KeyCode::Left, Command::Left, "left"),
    row(ScreenId::Note, KeyCode::Right, Command::Right, "right"),
    row(ScreenId::Note, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Note, KeyCode::Delete, Command::EraseNext, "erase after"),
    row(ScreenId::Note, KeyCode::Home, Command::ToStart, "start"),
    row(ScreenId::Note, KeyCode::End, Command::ToEnd, "end"),
    row(ScreenId::Note, KeyCode::Up, Command::Up, "word before"),
    row(ScreenId::Note, KeyCode::Down, Command::Down, "next word"),
    row(ScreenId::WrapUp, KeyCode::Enter, Command::Take, "save the visit"),
    row(ScreenId::WrapUp, KeyCode::Esc, Command::Back, "back to the hives"),
    letter(ScreenId::WrapUp, 'q', Command::PutAside, "leave unsaved"),
    row(ScreenId::WrapUp, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::WrapUp, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::WrapUp, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::WrapUp, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Roster, KeyCode::Enter, Command::Card, "hive card"),
    letter(ScreenId::Roster, 'e', Command::Edit, "change it"),
    letter(ScreenId::Roster, 'a', Command::NewHives, "add hives"),
    letter(ScreenId::Roster, 'A', Command::NewYard, "add a yard"),
    letter(ScreenId::Roster, '-', Command::Earlier, "stand earlier"),
    letter(ScreenId::Roster, '+', Command::Later, "stand later"),
    letter(ScreenId::Roster, '/', Command::Filter, "search"),
    letter(ScreenId::Roster, 'u', Command::Undo, "undo"),
    letter(ScreenId::Roster, 'r', Command::Redo, "redo"),
    row(ScreenId::Roster, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Roster, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Roster, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Roster, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Roster, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Card, KeyCode::Tab, Command::Switch, "what if, picture"),
    row(ScreenId::Card, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Card, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Card, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Card, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Card, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Card, KeyCode::Left, Command::Left, "hive before"),
    row(ScreenId::Card, KeyCode::Right, Command::Right, "next hive"),
    row(ScreenId::Load, KeyCode::Enter, Command::Take, "tick"),
    letter(ScreenId::Load, ' ', Command::Take, "tick"),
    row(ScreenId::Load, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Load, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Load, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Load, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Load, KeyCode::Left, Command::Left, "yard before"),
    row(ScreenId::Load, KeyCode::Right, Command::Right, "next yard"),
    row(ScreenId::Load, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Log, KeyCode::Enter, Command::Take, "correct it"),
    letter(ScreenId::Log, 'x', Command::Withdraw, "withdraw it"),
    letter(ScreenId::Log, 'z', Command::Keep, "keep one of two"),
    letter(ScreenId::Log, '/', Command::Filter, "search"),
    row(ScreenId::Log, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Log, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Log, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Log, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Log, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Sheet, KeyCode::Tab, Command::Switch, "next sheet"),
    row(ScreenId::Sheet, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Sheet, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Sheet, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Sheet, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Sheet, KeyCode::Left, Command::Left, "yard before"),
    row(ScreenId::Sheet, KeyCode::Right, Command::Right, "next yard"),
    row(ScreenId::Sheet, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Season, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Season, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Season, KeyCode::Left, Command::Left, "yard before"),
    row(ScreenId::Season, KeyCode::Right, Command::Right, "next yard"),
    letter(ScreenId::Season, 't', Command::Practice, "own dates"),
    row(ScreenId::Season, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Practice, KeyCode::Enter, Command::Take, "keep"),
    row(ScreenId::Practice, KeyCode::Backspace, Command::Erase, "erase, default"),
    row(ScreenId::Practice, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Practice, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Practice, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Practice, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Practice, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Trouble, KeyCode::Enter, Command::Take, "try again"),
    row(ScreenId::Trouble, KeyCode::Esc, Command::Back, "go on in memory"),
    letter(ScreenId::Trouble, 'q', Command::Quit, "leave"),
    row(ScreenId::NewDay, KeyCode::Enter, Command::Take, "the new day"),
    row(ScreenId::NewDay, KeyCode::Esc, Command::Back, "the day before"),
    row(ScreenId::BringBack, KeyCode::Enter, Command::Take, "bring it back"),
    row(ScreenId::BringBack, KeyCode::Esc, Command::Back, "leave it"),
    row(ScreenId::Rehearsal, KeyCode::Enter, Command::Take, "go on"),
    row(ScreenId::Rehearsal, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Rehearsal, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Rehearsal, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Rehearsal, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Rehearsal, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Rehearsal, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::LeftOut, KeyCode::Enter, Command::Take, "read again"),
    letter(ScreenId::LeftOut, 'x', Command::Withdraw, "put aside"),
    letter(ScreenId::LeftOut, 'z', Command::Keep, "keep one of two"),
    row(ScreenId::LeftOut, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::LeftOut, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::LeftOut, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::LeftOut, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::LeftOut, KeyCode::Esc, Command::Back, "back"),
    letter(ScreenId::Comments, 's', Command::Yes, "save, drop them"),
    row(ScreenId::Comments, KeyCode::Esc, Command::Back, "leave the file"),
    row(ScreenId::Search, KeyCode::Enter, Command::Take, "keep the search"),
    row(ScreenId::Search, KeyCode::Esc, Command::Back, "show all"),
    row(ScreenId::Search, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Search, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Search, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Act, KeyCode::Enter, Command::Take, "choose"),
    row(ScreenId::Act, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Act, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Act, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Act, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Act, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Act, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Form, KeyCode::Enter, Command::Take, "next"),
    row(ScreenId::Form, KeyCode::Tab, Command::Switch, "done, then Enter"),
    row(ScreenId::Form, KeyCode::Esc, Command::Back, "back, kept"),
    row(ScreenId::Form, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Form, KeyCode::Left, Command::Left, "left, before"),
    row(ScreenId::Form, KeyCode::Right, Command::Right, "right, next"),
    row(ScreenId::Form, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Form, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Stack, KeyCode::Enter, Command::Take, "log it"),
    letter(ScreenId::Stack, 'a', Command::AddBox, "add a box"),
    letter(ScreenId::Stack, 'x', Command::RemoveBox, "take it off"),
    letter(ScreenId::Stack, '1', Command::Depth, "depth"),
    letter(ScreenId::Stack, '2', Command::Role, "nest/super"),
    letter(ScreenId::Stack, '3', Command::Frames, "frames"),
    row(ScreenId::Stack, KeyCode::Left, Command::Left, "fewer drawn"),
    row(ScreenId::Stack, KeyCode::Right, Command::Right, "more drawn"),
    letter(ScreenId::Stack, '+', Command::Later, "box up"),
    letter(ScreenId::Stack, '-', Command::Earlier, "box down"),
    row(ScreenId::Stack, KeyCode::Esc, Command::Back, "back, kept"),
    row(ScreenId::Stack, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Stack, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Calc, KeyCode::Tab, Command::Switch, "next sum"),
    row(ScreenId::Calc, KeyCode::Enter, Command::Take, "next field"),
    row(ScreenId::Calc, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Calc, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Calc, KeyCode::Left, Command::Left, "choice before"),
    row(ScreenId::Calc, KeyCode::Right, Command::Right, "next choice"),
    row(ScreenId::Calc, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Calc, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Settings, KeyCode::Enter, Command::Right, "next"),
    row(ScreenId::Settings, KeyCode::Left, Command::Left, "before"),
    row(ScreenId::Settings, KeyCode::Right, Command::Right, "next"),
    row(ScreenId::Settings, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Settings, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Settings, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Safety, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Safety, KeyCode::Enter, Command::Back, "back"),
    row(ScreenId::Safety, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Safety, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Safety, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Safety, KeyCode::PageDown, Command::PageDown, "page down"),
    row(ScreenId::Help, KeyCode::Enter, Command::Take, "run it"),
    row(ScreenId::Help, KeyCode::Backspace, Command::Erase, "erase"),
    row(ScreenId::Help, KeyCode::Esc, Command::Back, "back"),
    row(ScreenId::Help, KeyCode::Up, Command::Up, "up"),
    row(ScreenId::Help, KeyCode::Down, Command::Down, "down"),
    row(ScreenId::Help, KeyCode::PageUp, Command::PageUp, "page up"),
    row(ScreenId::Help, KeyCode::PageDown, Command::PageDown, "page down"),
];

/// Characters that hold in every place where none is typed; the place in these rows is not looked at.
pub(crate) const UNTYPED: &[Binding] = &[
    letter(ScreenId::Help, '?', Command::Help, "keys, find"),
    letter(ScreenId::Help, '!', Command::Safety, "first aid"),
];

/// Keys that hold in every place, also where text is typed; the place in these rows is not looked at.
pub(crate) const EVERYWHERE: &[Binding] = &[
    row(ScreenId::Help, KeyCode::F(1), Command::Help, "keys, find"),
    row(ScreenId::Help, KeyCode::F(2), Command::Safety, "first aid"),
    row(ScreenId::Help, KeyCode::F(3), Command::Theme, "day/night"),
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
        for place in ScreenId::ALL {
            assert!(KEYS.iter().any(|b| b.place == *place), "{place:?} has no key");
        }
    }

    #[test]
    fn every_screen_has_a_way_out() {
        for place in ScreenId::ALL {
            let leaves =
                |b: &&Binding| b.place == *place && matches!(b.command, Command::Back | Command::Quit);
            assert!(KEYS.iter().any(|b| leaves(&b)), "{place:?} has no key that leaves it");
        }
    }

    #[test]
    fn only_the_day_and_a_refusing_disk_leave_the_program() {
        for binding in KEYS.iter().filter(|b| b.command == Command::Quit) {
            assert!(matches!(binding.place, ScreenId::Today | ScreenId::Trouble));
        }
    }
}
