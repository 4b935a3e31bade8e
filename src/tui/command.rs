//! What a key can mean.

/// A command to the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Command {
    /// A character for the field in hand.
    Type(char),
    /// Take back the last character, or clear the field.
    Erase,
    /// One row up.
    Up,
    /// One row down.
    Down,
    PageUp,
    PageDown,
    /// To the left: the former choice or yard.
    Left,
    /// To the right: the next choice or yard.
    Right,
    /// To the other half of the screen.
    Switch,
    /// Take it, open it, go in.
    Take,
    /// One step back; nothing is lost.
    Back,
    /// On to the next hive.
    GoOn,
    /// Back to the hive before.
    GoBack,
    /// Put a prompt off.
    PutOff,
    /// A prompt is not needed.
    NotNeeded,
    /// The calculator.
    Calc,
    /// Why, how and from where.
    Why,
    /// The weather and bloom of the visit in hand.
    Weather,
    /// The hive was found fine.
    Fine,
    /// All findings, or the few again.
    More,
    /// A note on this hive.
    Note,
    Undo,
    Redo,
    /// Go through a yard, or go on with it.
    Walk,
    /// The roster of hives.
    Roster,
    Rehearsal,
    /// The card of a hive.
    Card,
    /// Wrap up the visit.
    WrapUp,
    /// The load list.
    Load,
    /// Every visit, to be corrected or withdrawn.
    Log,
    /// Show the files that were left out of the book.
    LeftOut,
    /// Log something that no prompt asks for.
    Act,
    /// The amounts of a prompt's first way, or of what was logged last.
    Amounts,
    /// The boxes as a picture.
    Boxes,
    /// Log here what was logged at the hive before.
    LikeLast,
    /// Log what was logged last at the next hives too.
    CopyOn,
    /// Put a box on.
    AddBox,
    /// Take a box off.
    RemoveBox,
    /// Another depth of box.
    Depth,
    /// Nest or super.
    Role,
    /// Another number of frames.
    Frames,
    /// Change how a hive is set up.
    Edit,
    /// Set up hives.
    NewHives,
    /// Set up a yard.
    NewYard,
    /// To the start of a text.
    ToStart,
    /// To the end of a text.
    ToEnd,
    /// Take out the character after the cursor.
    EraseNext,
    /// Search a list.
    Filter,
    /// What is typed goes where it belongs: the terminal has lost its focus.
    Settle,
    /// To a row, by its number: a tap.
    GoTo(usize),
    /// What to do when something goes wrong.
    Safety,
    /// How the program looks and is worked.
    Settings,
    /// Keep one of two corrections.
    Keep,
    /// Leave a visit unsaved, its draft kept.
    PutAside,
    /// Withdraw a visit.
    Withdraw,
    /// Trips in the weeks ahead.
    Weeks,
    /// Readiness for winter.
    Readiness,
    /// What each hive is worth.
    Worth,
    /// The chosen hive earlier in the queue.
    Earlier,
    /// The chosen hive later in the queue.
    Later,
    /// The chosen hive first, or no longer.
    Pin,
    /// A yard's year.
    Season,
    /// The thresholds and dates.
    Practice,
    /// The keys of this place.
    Help,
    /// Day and night colors.
    Theme,
    /// Yes, do it.
    Yes,
    /// Leave the program.
    Quit,
}
