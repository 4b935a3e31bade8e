//! A visit line by line, without boxes, colour or a cursor that moves: for screen readers, braille lines and slow links. It is
//! the same visit: the same state, advice, draft and files.

use std::io::{self, BufRead, Write};

use super::app::App;
use super::desk::Desk;
use super::effect::Effect;
use super::input::{self, Typed};
use super::run::{Opening, WalkError, open_app};
use super::screens::safety::cards;
use super::theme::Theme;
use super::walk::Walk;
use crate::advice::Prompt;
use crate::model::{
    Finding, HiveId, Reply, RuleId, Temperature, Value, Weather, Wind, YardId, days_after, visible,
};
use crate::report::facts;
use crate::store::{BookFolder, DraftStep};

/// What an answer leads to.
enum Go {
    /// On to the next question.
    On,
    /// On to the next hive.
    NextHive,
    /// Out of the program; the draft is kept.
    Leave,
}

/// Walks a yard line by line.
///
/// # Errors
/// Where the lines cannot be read or written, or the book's folder fails.
pub fn walk_plain(
    folder: BookFolder,
    book: crate::model::Book,
    opening: &Opening,
    yard: Option<&YardId>,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> Result<(), WalkError> {
    let (mut app, mut desk) = open_app(folder, book, opening, Theme::none())?;
    let mut lines = Lines { input, out };
    if let Some(why) = app.read_only.clone() {
        lines.say(&format!("Read-only: {why}. Nothing can be logged."))?;
        return Ok(());
    }
    if app.walk.is_none() && !begin(&mut app, &mut desk, yard, &mut lines)? {
        return Ok(());
    }
    lines.say("Enter passes a question over. u undoes, g goes on to the next hive, safety shows first aid, q leaves: the visit is kept.")?;
    while let Some(hive) = app.walk.as_ref().and_then(Walk::hive).cloned() {
        match at_hive(&mut app, &mut desk, &hive, &mut lines)? {
            Go::Leave => {
                lines.say("The visit is open and safe on the disk; walk again to go on.")?;
                return Ok(());
            }
            Go::On | Go::NextHive => {
                app.now = (opening.clock)();
                let now = app.now;
                let Some(walk) = &mut app.walk else { break };
                let (steps, more) = walk.finish_hive(now);
                for step in steps {
                    carry_out(&mut desk, &mut app, Effect::Draft(step), &mut lines)?;
                }
                if !more {
                    break;
                }
            }
        }
    }
    wrap_up(&mut app, &mut desk, &mut lines)
}

/// Lines in and out.
struct Lines<'a, R, W> {
    input: &'a mut R,
    out: &'a mut W,
}

impl<R: BufRead, W: Write> Lines<'_, R, W> {
    fn say(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.out, "{}", visible(text))
    }

    /// Asks, and gives the answer without spaces about it; `None` at the end of the input.
    fn ask(&mut self, question: &str) -> io::Result<Option<String>> {
        write!(self.out, "{}: ", visible(question))?;
        self.out.flush()?;
        let mut line = String::new();
        let read = self.input.read_line(&mut line)?;
        Ok((read > 0).then(|| visible(line.trim())))
    }
}

fn carry_out<R: BufRead, W: Write>(
    desk: &mut Desk,
    app: &mut App,
    effect: Effect,
    lines: &mut Lines<'_, R, W>,
) -> io::Result<()> {
    let was = app.unwritten.clone();
    desk.carry_out(effect, app);
    match &app.unwritten {
        Some(why) if was.is_none() => lines
            .say(&format!("NOT ON THE DISK: {why}. It is kept in memory; each answer tries the disk again.")),
        None if was.is_some() => lines.say("On the disk again."),
        _ => Ok(()),
    }
}

/// Chooses the yard, asks the weather and begins; `false` where there is nothing to walk or the input ended.
fn begin<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    yard: Option<&YardId>,
    lines: &mut Lines<'_, R, W>,
) -> Result<bool, WalkError> {
    let plans: Vec<(YardId, usize)> =
        app.plan.yards.iter().map(|y| (y.yard.clone(), y.queue.len())).collect();
    let chosen = match (yard, plans.as_slice()) {
        (Some(yard), _) => yard.clone(),
        (None, []) => {
            lines.say("This book has no yard yet.")?;
            return Ok(false);
        }
        (None, [(only, _)]) => only.clone(),
        (None, several) => {
            for (at, (name, due)) in several.iter().enumerate() {
                lines.say(&format!("{} {name}: {due} hives need something", at + 1))?;
            }
            let Some(answer) = lines.ask("Which yard, by its number")? else { return Ok(false) };
            let at = answer.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).unwrap_or(0);
            several.get(at).or(several.first()).map_or_else(|| YardId::new(""), |(name, _)| name.clone())
        }
    };
    let units = app.book.units;
    let mut weather = Weather::default();
    if let Some(text) = lines.ask("Temperature")?.filter(|t| !t.is_empty()) {
        match Temperature::parse_in(&text, units) {
            Ok(temperature) => weather.temperature = Some(temperature),
            Err(err) => lines.say(&err.to_string())?,
        }
    }
    if let Some(text) = lines.ask("Wind")?.filter(|t| !t.is_empty()) {
        match Wind::parse_in(&text, units) {
            Ok(wind) => weather.wind = Some(wind),
            Err(err) => lines.say(&err.to_string())?,
        }
    }
    weather.rain = lines.ask("Rain, y or n")?.and_then(|t| match t.as_str() {
        "y" => Some(true),
        "n" => Some(false),
        _ => None,
    });
    let effects = app.begin_walk(&chosen, weather, Vec::new());
    if effects.is_empty() || app.walk.as_ref().is_none_or(|w| w.queue.is_empty()) {
        lines.say("There is no hive to see in that yard.")?;
        return Ok(false);
    }
    for effect in effects {
        carry_out(desk, app, effect, lines)?;
    }
    Ok(true)
}

fn at_hive<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    hive: &HiveId,
    lines: &mut Lines<'_, R, W>,
) -> Result<Go, WalkError> {
    let now = app.now;
    if let Some(walk) = &mut app.walk {
        walk.arrive(now);
    }
    let at = Effect::Draft(DraftStep::At { hive: hive.clone(), field: 0 });
    carry_out(desk, app, at, lines)?;
    let Some(view) = app.view(hive) else { return Ok(Go::NextHive) };
    lines.say("")?;
    lines.say(&format!("Hive {hive}, {}", facts::stack_and_queen(&view.state)))?;
    lines.say(&facts::last(&view.state, app.book.units))?;
    let mut asked: Vec<Finding> = Vec::new();
    // Each answer may ask for another look.
    while let Some(view) = app.view(hive) {
        let Some(finding) = view.looks.iter().copied().find(|f| !asked.contains(f)) else { break };
        asked.push(finding);
        if view.entry.findings.get(finding).is_some() {
            continue;
        }
        match ask_finding(app, desk, hive, finding, lines)? {
            Go::On => {}
            other => return Ok(other),
        }
    }
    let mut seen: Vec<&'static str> = Vec::new();
    while let Some(view) = app.view(hive) {
        let Some(prompt) = view.advice.prompts.iter().find(|p| !seen.contains(&p.rule)).cloned() else {
            break;
        };
        seen.push(prompt.rule);
        match ask_prompt(app, desk, hive, &prompt, lines)? {
            Go::On => {}
            other => return Ok(other),
        }
    }
    match lines.ask("A note, or Enter")? {
        None => Ok(Go::Leave),
        Some(note) => {
            if !note.is_empty() {
                change(app, desk, hive, lines, |entry| entry.note = note)?;
            }
            Ok(Go::On)
        }
    }
}

/// An answer that is a command of its own; `None` where it is none.
fn command<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    answer: &str,
    lines: &mut Lines<'_, R, W>,
) -> Result<Option<Go>, WalkError> {
    match answer {
        "q" => Ok(Some(Go::Leave)),
        "g" => Ok(Some(Go::NextHive)),
        "u" => {
            let step = app.walk.as_mut().and_then(Walk::undo);
            lines.say(if step.is_some() { "Undone." } else { "Nothing to undo." })?;
            if let Some(step) = step {
                carry_out(desk, app, Effect::Draft(step), lines)?;
            }
            Ok(Some(Go::On))
        }
        "safety" => {
            for card in cards::CARDS {
                lines.say(card.title)?;
                for step in card.steps {
                    lines.say(step)?;
                }
            }
            Ok(Some(Go::On))
        }
        _ => Ok(None),
    }
}

fn ask_finding<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    hive: &HiveId,
    finding: Finding,
    lines: &mut Lines<'_, R, W>,
) -> Result<Go, WalkError> {
    let units = app.book.units;
    loop {
        let question = format!("{} ({})", finding.label(), input::keys_of(finding.kind(), units));
        let Some(answer) = lines.ask(&question)? else { return Ok(Go::Leave) };
        if answer.is_empty() {
            return Ok(Go::On);
        }
        if let Some(go) = command(app, desk, &answer, lines)? {
            return Ok(go);
        }
        match read_value(finding, &answer, app) {
            Ok(value) => {
                change(app, desk, hive, lines, |entry| {
                    entry.findings.set(finding, Some(value));
                })?;
                return Ok(Go::On);
            }
            Err(why) => lines.say(&why)?,
        }
    }
}

/// A whole answer as one keystroke gives it, or a number typed out.
fn read_value(finding: Finding, answer: &str, app: &App) -> Result<Value, String> {
    let mut text = String::new();
    for c in answer.chars() {
        match input::type_into(finding.kind(), &mut text, c) {
            Typed::Whole(value) => return Ok(value),
            Typed::Part => {}
            Typed::Nothing => return Err(format!("`{answer}` is not {}", finding.kind().range())),
        }
    }
    input::value_of(finding.kind(), &text, app.book.units)
}

fn ask_prompt<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    hive: &HiveId,
    prompt: &Prompt,
    lines: &mut Lines<'_, R, W>,
) -> Result<Go, WalkError> {
    let latest = prompt.due.latest.format("%-d %b %Y");
    lines.say(&format!("{}: {}, by {latest}. {}", prompt.urgency.word(), prompt.title, prompt.why))?;
    for (at, offer) in prompt.offers.iter().enumerate() {
        lines.say(&format!("  {} {}", at + 1, offer.label))?;
    }
    loop {
        let Some(answer) = lines.ask("A number logs it, p puts it off a week, x not needed, w how")? else {
            return Ok(Go::Leave);
        };
        let today = app.today;
        match answer.as_str() {
            "" => return Ok(Go::On),
            "w" => {
                for (at, step) in prompt.how.iter().enumerate() {
                    lines.say(&format!("  {}. {step}", at + 1))?;
                }
                if let Some(rule) = crate::advice::rule(prompt.rule) {
                    lines.say(&format!("  source: {}", rule.source))?;
                }
            }
            "x" | "p" => {
                let reply = if answer == "x" {
                    Reply::NotNeeded
                } else {
                    let reason = lines.ask("Why")?.filter(|r| !r.is_empty());
                    let reason = reason.unwrap_or_else(|| "not today".to_owned());
                    Reply::PutOff { reason, until: days_after(today, 7) }
                };
                change(app, desk, hive, lines, |entry| entry.answer(RuleId::new(prompt.rule), reply))?;
                return Ok(Go::On);
            }
            number => {
                let at = number.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
                if let Some(offer) = at.and_then(|at| prompt.offers.get(at)) {
                    if app.cautions_first(&offer.actions) {
                        lines.say(cards::BEFORE.title)?;
                        for step in cards::BEFORE.steps {
                            lines.say(step)?;
                        }
                    }
                    change(app, desk, hive, lines, |entry| {
                        offer.clone().log(prompt.rule, entry, today);
                    })?;
                    return Ok(Go::On);
                }
                if let Some(go) = command(app, desk, number, lines)? {
                    return Ok(go);
                }
                lines.say("That is none of the answers here.")?;
            }
        }
    }
}

fn change<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    hive: &HiveId,
    lines: &mut Lines<'_, R, W>,
    with: impl FnOnce(&mut crate::model::Entry),
) -> Result<(), WalkError> {
    let Some(walk) = &mut app.walk else { return Ok(()) };
    let mut entry = walk.entry(hive);
    with(&mut entry);
    let faults = entry.faults();
    if let Some(fault) = faults.first() {
        lines.say(fault)?;
        return Ok(());
    }
    if let Some(step) = walk.change(entry) {
        carry_out(desk, app, Effect::Draft(step), lines)?;
    }
    Ok(())
}

fn wrap_up<R: BufRead, W: Write>(
    app: &mut App,
    desk: &mut Desk,
    lines: &mut Lines<'_, R, W>,
) -> Result<(), WalkError> {
    let Some(walk) = &app.walk else { return Ok(()) };
    let visit = walk.visit_to_save(app.now);
    lines.say("")?;
    if visit.entries.is_empty() {
        lines.say("Nothing was written at any hive; the visit stays open.")?;
        return Ok(());
    }
    for entry in &visit.entries {
        let done = entry.done_words(app.book.units);
        lines.say(&format!("{}: {}", entry.hive, done.join("; ")))?;
    }
    match lines.ask("Save the visit, y or n")?.as_deref() {
        Some("y") => {
            carry_out(desk, app, Effect::SaveVisit(visit), lines)?;
            let said = app.message.as_ref().map(|m| m.text.clone()).unwrap_or_default();
            lines.say(&said)?;
        }
        _ => lines.say("Not saved yet: it is kept, and walk goes on with it.")?,
    }
    Ok(())
}
