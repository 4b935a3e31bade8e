//! The manual pages: one of the program and one of each command, from the definition that parses the arguments, with keys,
//! files and exit status.

use std::io;

use clap::{Command, CommandFactory as _};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use super::Args;
use crate::tui;

/// A page and the name of its file.
pub(super) struct Page {
    pub(super) file: String,
    pub(super) text: Vec<u8>,
}

/// Every page: the program's, and one of each command and of those under it.
pub(super) fn pages() -> io::Result<Vec<Page>> {
    let program = built();
    let mut pages = vec![page(&program, true)?];
    each_under(&program, &mut |command| {
        pages.push(page(command, false)?);
        Ok(())
    })?;
    Ok(pages)
}

/// The page of the program, or of a command by its words such as `export ics`; `None` where there is none of that name.
pub(super) fn page_of(words: Option<&str>) -> io::Result<Option<Vec<u8>>> {
    let program = built();
    let mut command = &program;
    for word in words.unwrap_or_default().split_whitespace() {
        match command.find_subcommand(word) {
            Some(found) => command = found,
            None => return Ok(None),
        }
    }
    let is_program = command.get_name() == program.get_name();
    page(command, is_program).map(|page| Some(page.text))
}

fn built() -> Command {
    let mut program = Args::command().disable_help_subcommand(true);
    program.build();
    program
}

fn each_under(command: &Command, take: &mut impl FnMut(&Command) -> io::Result<()>) -> io::Result<()> {
    for each in command.get_subcommands() {
        take(each)?;
        each_under(each, take)?;
    }
    Ok(())
}

fn page(command: &Command, is_program: bool) -> io::Result<Page> {
    let name = command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned();
    let man = Man::new(command.clone().display_name(name.clone())).title(&name);
    let mut text = Vec::new();
    man.render_title(&mut text)?;
    man.render_name_section(&mut text)?;
    man.render_synopsis_section(&mut text)?;
    man.render_description_section(&mut text)?;
    if command.get_opts().next().is_some() || command.get_positionals().next().is_some() {
        man.render_options_section(&mut text)?;
    }
    if command.has_subcommands() {
        man.render_subcommands_section(&mut text)?;
    }
    if is_program {
        keys(&mut text)?;
    }
    if is_program || DRAWS.contains(&name.as_str()) {
        section(&mut text, "ENVIRONMENT", ENVIRONMENT)?;
    }
    section(&mut text, "FILES", FILES)?;
    section(&mut text, "EXIT STATUS", EXIT_STATUS)?;
    if is_program {
        man.render_extra_section(&mut text)?;
        section(&mut text, "SAFETY", SAFETY)?;
    }
    Ok(Page { file: format!("{name}.1"), text })
}

/// The commands that draw on the terminal, by the names of their pages.
const DRAWS: &[&str] = &["yardwalk-demo", "yardwalk-walk"];

const ENVIRONMENT: &[(&str, &str)] = &[
    ("NO_COLOR", "If set and not empty, no color is used."),
    ("COLORTERM, TERM", "How many colors the terminal has, and whether it has signs besides letters."),
    ("COLORFGBG", "Whether the terminal's ground is dark, for the first start."),
    (
        "LC_ALL, LC_CTYPE, LANG",
        "Without UTF-8, lines and bars are made of ASCII. LC_NUMERIC tells how --excel writes numbers.",
    ),
];

const FILES: &[(&str, &str)] = &[
    (
        "~/.local/share/yardwalk/",
        "The books, each a folder: yard.ron, visits/, drafts/, former/. Elsewhere on macOS and Windows.",
    ),
    ("~/.config/yardwalk/settings.ron", "What was set on this laptop."),
    ("~/.config/yardwalk/keys.ron, themes/*.ron", "Keys and themes of your own; only read."),
];

const EXIT_STATUS: &[(&str, &str)] = &[
    ("0", "What was asked for was done."),
    (
        "1",
        "It could not be done, or what was checked has a fault; the reason and how to mend it are on standard error.",
    ),
    ("2", "The arguments are not understood."),
    ("128 and a signal's number", "Ended from outside; nothing typed is lost."),
];

const SAFETY: &[(&str, &str)] = &[(
    "Bees sting, and a sting can kill.",
    "Know who is allergic, and carry the epinephrine pen. Acids, alcohol, smokers and full boxes hurt people. The label, local \
     law, the apiary inspector and the veterinarian come before anything this program says.",
)];

fn section(text: &mut Vec<u8>, head: &str, rows: &[(&str, &str)]) -> io::Result<()> {
    let mut roff = Roff::new();
    roff.control("SH", [head]);
    for (name, words) in rows {
        roff.control("TP", []);
        roff.text([bold(*name)]);
        roff.text([roman(*words)]);
    }
    roff.to_writer(text)
}

/// The keys of every screen, as the program itself lists them.
fn keys(text: &mut Vec<u8>) -> io::Result<()> {
    let mut roff = Roff::new();
    roff.control("SH", ["KEYS"]);
    roff.control("nf", []);
    for line in tui::key_text().lines() {
        roff.text([roman(line)]);
    }
    roff.control("fi", []);
    roff.to_writer(text)
}
