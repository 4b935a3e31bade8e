//! Drawing the first steps.

use ratatui::Frame;
use ratatui::text::Span;
use unicode_width::UnicodeWidthStr;

use super::{CAME, CHOICES, FITTINGS, NEST_BOXES, Question, READ_BACK, UNITS, WelcomeScreen};
use crate::session::Said;
use crate::tui::command::Command;
use crate::tui::keymap::Keymap;
use crate::tui::keys::ScreenId;
use crate::tui::text::pad;
use crate::tui::theme::Theme;
use crate::tui::view::Canvas;
use crate::tui::widgets::{Page, Rows, Taps, ground, page};
use crate::wording;

pub(crate) fn draw(screen: &WelcomeScreen, theme: &Theme, keys: &Keymap, frame: &mut Frame<'_>) {
    ground(frame, frame.area(), theme);
    let message = screen.fault.clone().map(|text| Said { text, is_error: true });
    let taps = Taps::default();
    let mut canvas = Canvas { frame, theme, keys, taps: &taps, message: message.as_ref() };
    let body = page(
        &mut canvas,
        &Page {
            title: "yardwalk: first steps".to_owned(),
            aside: String::new(),
            screen: ScreenId::Welcome,
            hint: "No book is made before the last step, and what you type is kept; Esc: one step back."
                .to_owned(),
            first: &[],
            is_rehearsed: false,
        },
    );
    let mut rows = Rows::new();
    rows.gap();
    let came: Vec<&str> = CAME.iter().map(|(words, _)| *words).collect();
    let understood = match screen.step {
        Question::ReadBack => screen.understood().join(" "),
        _ => String::new(),
    };
    let when = format!("When did they come? Such as {}.", wording::day_examples(screen.units));
    let (question, choices, text): (&str, &[&str], Option<&str>) = match screen.step {
        Question::Choose => ("There is no book yet. What would you like?", CHOICES, None),
        Question::Units => ("Which units do you work in?", UNITS, None),
        Question::Keeper => ("Your name?", &[], Some(&screen.keeper)),
        Question::Yard => ("What is your first yard called?", &[], Some(&screen.yard)),
        Question::Place => (
            "Where is it? Its dates go by that. As a map gives it, such as 44.47, -72.69, with the height if you know it (650 ft); or the average last and first freeze, such as May 9, Oct 4. Empty: the dates of 43 N, 86 W.",
            &[],
            Some(&screen.place),
        ),
        Question::ReadBack => (&understood, READ_BACK, None),
        Question::Hives => ("How many hives stand there?", &[], Some(&screen.hives)),
        Question::Boxes => (
            "Which boxes do most of them stand in, bottom to top? Such as 1 deep, or 2 deep + 1 medium super. Each can be changed later.",
            &[],
            Some(&screen.boxes),
        ),
        Question::Came => ("How did most of them come?", &came, None),
        Question::Since => (&when, &[], Some(&screen.since)),
        Question::Fittings => ("What is on most of them now? A digit puts it in or out.", &FITTINGS, None),
        Question::NestBoxes => ("In how many boxes do you keep the brood nest in summer?", NEST_BOXES, None),
        Question::First => {
            ("What is the first one called? The others count on from it: 1, or A1.", &[], Some(&screen.first))
        }
    };
    rows.text(question, usize::from(body.width).saturating_sub(4), 2, theme.text);
    rows.gap();
    let first_choice = rows.len();
    for (at, choice) in choices.iter().enumerate() {
        let chosen = at == screen.row;
        let mark = if chosen { ">" } else { " " };
        let put_in = match (screen.step, screen.fittings.get(at)) {
            (Question::Fittings, Some(true)) => "[x] ",
            (Question::Fittings, _) => "[ ] ",
            _ => "",
        };
        rows.line(
            pad(&format!("  {mark} {} {put_in}{choice}", at + 1), 62),
            if chosen { theme.focus } else { theme.text },
        );
    }
    if screen.step == Question::Choose {
        rows.gap();
        let key = keys.name_everywhere(Command::Theme);
        rows.line(format!("  Hard to read? {key} changes between light and dark."), theme.muted);
    }
    let line = rows.len();
    if let Some(text) = text {
        rows.spans(vec![Span::styled("  > ", theme.text), Span::styled(pad(text, 60), theme.focus)]);
    }
    rows.draw(&mut canvas, body);
    let (x, y) = match text {
        Some(text) => (4 + text.width(), line),
        None => (2, first_choice + screen.row),
    };
    canvas.frame.set_cursor_position((
        body.x + u16::try_from(x).unwrap_or(0),
        body.y + u16::try_from(y).unwrap_or(0),
    ));
}
