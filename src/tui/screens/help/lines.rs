//! The lines of the finder: the keys of the place, and once something is typed all else the program knows: what can be
//! logged, what can be looked at, screens, settings, hives.

use super::{FinderLine, HelpScreen};
use crate::model::Finding;
use crate::session::Session;
use crate::tui::command::Command;
use crate::tui::keymap::name;
use crate::tui::keys::{Binding, ScreenId};
use crate::tui::setting;
use crate::tui::synonyms;
use crate::tui::to::Found;

/// What fits the search, the place's own keys first.
pub(super) fn find(screen: &HelpScreen, session: &Session) -> Vec<FinderLine> {
    let keys = &screen.look.keys;
    let here = keys.of(screen.screen).chain(keys.beyond(screen.screen));
    let mut lines: Vec<FinderLine> = here
        .map(|b| FinderLine { key: name(b.key), ..line(words_of(b), Found::Key(screen.screen, b.command)) })
        .collect();
    if screen.search.text.is_empty() {
        return lines;
    }
    if screen.screen != ScreenId::Today {
        let opens = |b: &&Binding| !moves(b.command) && b.command != Command::Help;
        let day = keys.of(ScreenId::Today).filter(opens);
        lines.extend(
            day.map(|b| line(format!("Today: {}", words_of(b)), Found::Key(ScreenId::Today, b.command))),
        );
    }
    lines.extend(KEYLESS.iter().map(|(words, command)| line(*words, Found::Key(ScreenId::Today, *command))));
    let hive = session.visit().and_then(|open| open.hive().cloned()).or_else(|| first_hive(session));
    lines.extend(hive.iter().flat_map(|hive| session.offered(hive)).map(|offered| FinderLine {
        also: "log done".to_owned(),
        ..line(format!("log: {}", offered.words), Found::Deed(Box::new(offered.action)))
    }));
    lines.extend(Finding::ALL.iter().map(|finding| FinderLine {
        also: finding.help().to_owned(),
        ..line(format!("look at: {}", finding.label()), Found::Field(*finding))
    }));
    lines.extend(setting::ALL.iter().enumerate().map(|(at, setting)| FinderLine {
        also: setting.also().to_owned(),
        ..line(format!("setting: {}", setting.label()), Found::Setting(at))
    }));
    lines.extend(session.folded().hives().map(|state| {
        line(format!("card of {} \u{b7} {}", state.id, state.yard), Found::Hive(state.id.clone()))
    }));
    lines.retain(|l| synonyms::fits(&format!("{} {}", l.words, l.also), &screen.search.text));
    lines
}

/// Screens that no key of their own opens.
const KEYLESS: &[(&str, Command)] = &[
    ("ready for winter?", Command::Readiness),
    ("what each hive is worth", Command::Worth),
    ("weather and bloom of this visit", Command::Weather),
];

fn line(words: impl Into<String>, found: Found) -> FinderLine {
    FinderLine { key: String::new(), words: words.into(), also: String::new(), found }
}

fn first_hive(session: &Session) -> Option<crate::model::HiveId> {
    session.folded().hives().next().map(|state| state.id.clone())
}

/// What a key does, with the name of the screen it opens where that is another word: it is found by either.
fn words_of(binding: &Binding) -> String {
    let screen = match binding.command {
        Command::Season => ScreenId::Season.words(),
        Command::Roster => ScreenId::Roster.words(),
        Command::Card => ScreenId::Card.words(),
        Command::Weeks => ScreenId::Sheet.words(),
        Command::Log => ScreenId::Log.words(),
        Command::LeftOut => ScreenId::LeftOut.words(),
        Command::Practice => ScreenId::Practice.words(),
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
