//! A visit line by line, without boxes, color or a cursor that moves: for screen readers, braille lines and slow links.
//!
//! In: an open book, lines. Out: lines. Questions and answers only; what they do is the session's, as on the screen.

use std::collections::BTreeSet;
use std::io::{self, BufRead, Write};

use chrono::{NaiveDate, NaiveDateTime};

mod amounts;
mod deeds;
mod end;
mod numbered;
mod weather;

use crate::advice::Prompt;
use crate::model::{Finding, HiveId, RuleId, Units, Value, YardId, visible};
use crate::report::facts;
use crate::session::typing::{self, Typed};
use crate::session::{Done, Intent, News, OpenBook, Refusal, Session, Trouble};
use crate::wording::{self, safety};

/// What an answer leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Go {
    /// On to the next question.
    On,
    /// The same question again.
    Same,
    /// To the hive the visit stands at now, to be asked again what is open there.
    Anew,
    /// On to the next hive.
    NextHive,
    /// Out of the program; the draft is kept.
    Leave,
}

/// What came back for a question.
enum Reply<T> {
    /// An answer.
    Given(T),
    /// Enter: the question was passed over.
    PassedOver,
    /// The end of the input.
    End,
}

impl<T> Reply<T> {
    /// The answer, with this in place of one that was passed over; none at the end of the input.
    fn or_else(self, passed_over: impl FnOnce() -> Option<T>) -> Option<T> {
        match self {
            Self::Given(value) => Some(value),
            Self::PassedOver => passed_over(),
            Self::End => None,
        }
    }
}

/// Walks a yard line by line.
///
/// Gives whether all that was answered is on the disk.
///
/// # Errors
/// Where the lines cannot be read or written.
pub fn walk(
    (open, opened): (OpenBook, Done),
    clock: fn() -> NaiveDateTime,
    yard: Option<&YardId>,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> io::Result<bool> {
    let mut plain = Plain {
        open,
        clock,
        input,
        out,
        passed: BTreeSet::new(),
        answered: BTreeSet::new(),
        left: BTreeSet::new(),
    };
    if let Some(said) = &opened.said {
        plain.say(&said.text)?;
    }
    if let Some(without) = plain.open.session().without() {
        plain.say(&format!("{without} `yardwalk check` says why, and how to mend it."))?;
    }
    if plain.open.session().read_only().is_some() {
        return plain.say("Nothing can be logged.").map(|()| true);
    }
    if plain.open.session().visit().is_none() && !plain.begin(yard)? {
        return Ok(true);
    }
    plain.say(
        "Enter passes a question over. u undoes and asks again, b goes to the hive before, g to the next one; a logs what no \
         question asks for, weather corrects the weather and the bloom, safety shows first aid, q leaves: the visit is kept.",
    )?;
    while let Some(hive) = plain.open.session().visit().and_then(|v| v.hive()).cloned() {
        match plain.at_hive(&hive)? {
            Go::Leave => return plain.leave(),
            // Back at another hive, or at this one with what was undone asked again.
            Go::Anew => continue,
            Go::On | Go::Same | Go::NextHive => {}
        }
        let done = plain.want(Intent::FinishHive(hive))?;
        if done.is_none_or(|done| done.news.contains(&News::AllSeen)) {
            break;
        }
    }
    plain.wrap_up()
}

/// An open book, and lines in and out.
struct Plain<'a, R, W> {
    open: OpenBook,
    clock: fn() -> NaiveDateTime,
    input: &'a mut R,
    out: &'a mut W,
    /// Looks passed over, by hive: they are not asked again at it.
    passed: BTreeSet<(HiveId, Finding)>,
    /// Looks that were answered at some time, by hive.
    answered: BTreeSet<(HiveId, Finding)>,
    /// Prompts gone past, by hive.
    left: BTreeSet<(HiveId, &'static str)>,
}

impl<R: BufRead, W: Write> Plain<'_, R, W> {
    fn session(&self) -> &Session {
        self.open.session()
    }

    fn units(&self) -> Units {
        self.session().book().units
    }

    fn say(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.out, "{}", visible(text))
    }

    /// Asks, and gives the answer without spaces about it; `None` at the end of the input.
    fn ask(&mut self, question: &str) -> io::Result<Option<String>> {
        write!(self.out, "{}: ", visible(question))?;
        self.out.flush()?;
        let mut line = String::new();
        let read = self.input.read_line(&mut line)?;
        self.open.set_clock((self.clock)());
        Ok((read > 0).then(|| visible(line.trim())))
    }

    /// Asks until the answer can be read.
    fn ask_until<T>(
        &mut self,
        question: &str,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> io::Result<Reply<T>> {
        loop {
            let Some(answer) = self.ask(question)? else { return Ok(Reply::End) };
            if answer.is_empty() {
                return Ok(Reply::PassedOver);
            }
            match read(&answer) {
                Ok(value) => return Ok(Reply::Given(value)),
                Err(why) => self.say(&why)?,
            }
        }
    }

    /// Has something done, and says what came of it; nothing where it was refused. Cautions that are to be read first are
    /// read, and then it is done.
    fn want(&mut self, intent: Intent) -> io::Result<Option<Done>> {
        let was_unwritten = self.session().unwritten().is_some();
        let mut carried = self.open.carry_out(intent.clone());
        if carried == Err(Refusal::ReadCautions) {
            self.card(&safety::BEFORE)?;
            carried = self.open.carry_out(intent);
        }
        match carried {
            Ok(done) => {
                let news = done.news.iter().find_map(|news| match news {
                    News::NotOnDisk(trouble) => Some(trouble.clone()),
                    _ => None,
                });
                let trouble = news.is_some();
                if let Some(said) = done.said.as_ref().filter(|_| !trouble) {
                    self.say(&said.text)?;
                }
                if let (false, Some(Trouble { what, kept_in, .. })) = (was_unwritten, news) {
                    let kept =
                        kept_in.map_or_else(|| "memory".to_owned(), |kept| format!("memory and in {kept}"));
                    self.say(&format!(
                        "NOT ON THE DISK: {what}. It is kept in {kept}; each answer tries the disk again."
                    ))?;
                }
                Ok(Some(done))
            }
            Err(refusal) => {
                self.say(refusal.words())?;
                Ok(None)
            }
        }
    }

    fn card(&mut self, card: &safety::Card) -> io::Result<()> {
        self.say(card.title)?;
        for step in card.steps {
            self.say(step)?;
        }
        Ok(())
    }

    /// Chooses the yard, asks the weather and begins; `false` where there is nothing to walk or the input ended.
    fn begin(&mut self, yard: Option<&YardId>) -> io::Result<bool> {
        let due = |name: &YardId| self.session().yard_plan(name).map_or(0, |plan| plan.queue.len());
        let plans: Vec<(YardId, usize)> = match yard {
            Some(_) => Vec::new(),
            None => self.session().yards_of_day().map(|name| (name.clone(), due(name))).collect(),
        };
        let yard = match (yard, plans.as_slice()) {
            (Some(yard), _) => yard.clone(),
            (None, []) => {
                self.say(
                    "This book has no yard yet: `yardwalk` without `walk --plain` sets one up (h, then A).",
                )?;
                return Ok(false);
            }
            (None, [(only, _)]) => only.clone(),
            (None, several) => {
                self.list(several.iter().map(|(name, due)| {
                    let hives = wording::count(*due, "hive");
                    let need = if *due == 1 { "needs" } else { "need" };
                    format!("{name}: {hives} {need} something")
                }))?;
                let read = |text: &str| numbered::place_among(text, several.len());
                let at = self.ask_until("Which yard, by its number", read)?.or_else(|| Some(0));
                let Some((chosen, _)) = at.and_then(|at| several.get(at)) else { return Ok(false) };
                chosen.clone()
            }
        };
        let Some(weather) = self.weather()? else { return Ok(false) };
        let today = self.session().today();
        let Some(blooms) = self.blooms(today)? else { return Ok(false) };
        Ok(self.want(Intent::Begin { yard, hive: None, weather, blooms })?.is_some())
    }

    fn at_hive(&mut self, hive: &HiveId) -> io::Result<Go> {
        let Some(view) = self.session().view(hive) else { return Ok(Go::NextHive) };
        self.say("")?;
        let units = self.units();
        self.say(&format!("Hive {hive}, {}", facts::stack_and_queen(&view.state, units)))?;
        self.say(&facts::last(&view.state, units))?;
        // Each answer may ask for another look.
        while let Some(view) = self.session().view(hive) {
            let is_open = |f: &Finding| {
                view.entry.findings.get(*f).is_none() && !self.passed.contains(&(hive.clone(), *f))
            };
            let Some(finding) = view.looks.iter().copied().find(is_open) else { break };
            self.passed.insert((hive.clone(), finding));
            match self.ask_finding(hive, finding)? {
                Go::On | Go::Same => {}
                other => {
                    // Turned away from, it was not passed over.
                    self.passed.remove(&(hive.clone(), finding));
                    return Ok(other);
                }
            }
        }
        while let Some(view) = self.session().view(hive) {
            let is_open = |p: &&Prompt| !self.left.contains(&(hive.clone(), p.rule));
            let Some(prompt) = view.advice.prompts.iter().find(is_open).cloned() else { break };
            self.left.insert((hive.clone(), prompt.rule));
            match self.ask_prompt(hive, &prompt)? {
                Go::On | Go::Same => {}
                other => {
                    self.left.remove(&(hive.clone(), prompt.rule));
                    return Ok(other);
                }
            }
        }
        loop {
            let Some(text) = self.ask("A note, or Enter")? else { return Ok(Go::Leave) };
            match self.command(&text)? {
                Some(Go::Same) => continue,
                Some(go) => return Ok(go),
                None => {}
            }
            if !text.is_empty() {
                self.want(Intent::Note { hive: hive.clone(), text })?;
            }
            return Ok(Go::On);
        }
    }

    /// An answer that is a command of its own; `None` where it is none.
    fn command(&mut self, answer: &str) -> io::Result<Option<Go>> {
        Ok(Some(match answer {
            "q" | "quit" => Go::Leave,
            "g" | "go" => Go::NextHive,
            "u" | "undo" => self.anew(Intent::Undo)?,
            "b" | "back" => self.anew(Intent::StepBack)?,
            "a" | "add" => self.add_deed()?,
            "weather" => self.correct_weather()?,
            "safety" => {
                for card in safety::CARDS {
                    self.card(card)?;
                }
                Go::Same
            }
            _ => return Ok(None),
        }))
    }

    /// Goes where something leads, to be asked again there what is open.
    fn anew(&mut self, intent: Intent) -> io::Result<Go> {
        let was_undo = intent == Intent::Undo;
        if self.want(intent)?.is_none() {
            return Ok(Go::Same);
        }
        if let Some(here) = self.session().visit().and_then(|v| v.hive()).cloned() {
            self.left.retain(|(hive, _)| *hive != here);
            // What was passed over stays so when an answer is undone; come back to, all is asked.
            let view = self.session().view(&here);
            let undone = |finding: &Finding| {
                view.as_ref().is_some_and(|v| v.entry.findings.get(*finding).is_none())
                    && self.answered.contains(&(here.clone(), *finding))
            };
            let again: BTreeSet<Finding> = Finding::ALL.iter().copied().filter(undone).collect();
            self.passed.retain(|(hive, f)| *hive != here || (was_undo && !again.contains(f)));
        }
        Ok(Go::Anew)
    }

    fn ask_finding(&mut self, hive: &HiveId, finding: Finding) -> io::Result<Go> {
        let units = self.units();
        loop {
            let question = format!("{} ({})", finding.label(), typing::keys_of(finding.kind(), units));
            let Some(answer) = self.ask(&question)? else { return Ok(Go::Leave) };
            if answer.is_empty() {
                return Ok(Go::On);
            }
            // A letter that is an answer here is the answer: y, n, and the beginnings of words.
            let read = read_value(finding, &answer, units);
            if read.is_err()
                && let Some(go) = self.command(&answer)?
            {
                if go == Go::Same {
                    continue;
                }
                return Ok(go);
            }
            match read {
                Ok(value) => {
                    let intent = Intent::Find { hive: hive.clone(), finding, value: Some(value) };
                    if self.want(intent)?.is_some() {
                        self.answered.insert((hive.clone(), finding));
                        let words = value.words(finding.kind(), units);
                        self.say(&format!("  {}: {words}", finding.label()))?;
                        return Ok(Go::On);
                    }
                }
                Err(why) => self.say(&why)?,
            }
        }
    }

    fn ask_prompt(&mut self, hive: &HiveId, prompt: &Prompt) -> io::Result<Go> {
        let units = self.units();
        let latest = wording::day_and_year(units, prompt.due.latest);
        self.say(&format!("{}: {}, by {latest}. {}", prompt.urgency.word(), prompt.title, prompt.why))?;
        self.list(prompt.offers.iter().map(|offer| &offer.label))?;
        let (hive, rule) = (hive.clone(), RuleId::new(prompt.rule));
        loop {
            let Some(answer) = self.ask("A number logs it, p puts it off, x not needed, w why")? else {
                return Ok(Go::Leave);
            };
            let intent = match answer.as_str() {
                "" => return Ok(Go::On),
                "w" => {
                    self.why(prompt)?;
                    continue;
                }
                "x" => Intent::NotNeeded { hive: hive.clone(), rule: rule.clone() },
                "p" => match self.put_off(&hive, prompt)? {
                    Some(intent) => intent,
                    None => return Ok(Go::Leave),
                },
                number => {
                    let Some(offer) = numbered::place(number).filter(|at| *at < prompt.offers.len()) else {
                        match self.command(number)? {
                            Some(Go::Same) => continue,
                            Some(go) => return Ok(go),
                            None => {}
                        }
                        self.say("That is not one of the answers here.")?;
                        continue;
                    };
                    match prompt.offers.get(offer).filter(|o| o.asks) {
                        Some(way) => match self.amounts(&hive, prompt, way)? {
                            Some(intent) => intent,
                            None => return Ok(Go::Leave),
                        },
                        None => Intent::Accept { hive: hive.clone(), rule: rule.clone(), offer },
                    }
                }
            };
            if self.want(intent)?.is_some() {
                return Ok(Go::On);
            }
        }
    }

    fn why(&mut self, prompt: &Prompt) -> io::Result<()> {
        for (at, step) in prompt.how.iter().enumerate() {
            self.say(&format!("  {}. {step}", at + 1))?;
        }
        let Some(rule) = crate::advice::rule(prompt.rule) else { return Ok(()) };
        if let Some(caution) = rule.caution {
            self.say(&format!("  caution: {caution}"))?;
        }
        self.say(&format!("  source: {}", rule.source))
    }

    /// Why a prompt is put off and to when; `None` at the end of the input.
    fn put_off(&mut self, hive: &HiveId, prompt: &Prompt) -> io::Result<Option<Intent>> {
        let reason = loop {
            let Some(reason) = self.ask("Why")? else { return Ok(None) };
            if !reason.is_empty() {
                break reason;
            }
            self.say("Write a few words: wrong weather, no time today.")?;
        };
        let (units, today) = (self.units(), self.session().today());
        let proposed = self.session().put_off_to(prompt);
        let question = format!(
            "To which day (Enter: {}; or {})",
            wording::day(units, proposed),
            wording::day_examples(units)
        );
        let until = self.ask_until(&question, |text| read_day(text, today, units))?;
        Ok(until.or_else(|| Some(proposed)).map(|until| Intent::PutOff {
            hive: hive.clone(),
            rule: RuleId::new(prompt.rule),
            reason,
            until,
        }))
    }
}

/// A whole answer as one keystroke gives it, or a number typed out.
fn read_value(finding: Finding, answer: &str, units: Units) -> Result<Value, String> {
    let mut text = String::new();
    for c in answer.chars() {
        match typing::type_into(finding.kind(), &mut text, c) {
            Typed::Whole(value) => return Ok(value),
            Typed::Part => {}
            Typed::Nothing => return Err(format!("`{answer}` is not {}", finding.kind().range())),
        }
    }
    typing::value_of(finding.kind(), &text, units)
}

/// A day as people write it.
fn read_day(text: &str, today: NaiveDate, units: Units) -> Result<NaiveDate, String> {
    wording::read_day(text, today, units)
        .ok_or_else(|| format!("`{text}` is not a day: write one such as {}.", wording::day_examples(units)))
}
