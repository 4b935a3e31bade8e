//! A visit line by line, without boxes, color or a cursor that moves: for screen readers, braille lines and slow links.
//!
//! In: an open book, lines. Out: lines. Questions and answers only; what they do is the session's, as on the screen.

use std::io::{self, BufRead, Write};

use chrono::{NaiveDate, NaiveDateTime};

mod amounts;

use crate::advice::Prompt;
use crate::model::{Finding, HiveId, RuleId, Temperature, Units, Value, Weather, Wind, YardId, visible};
use crate::report::facts;
use crate::session::typing::{self, Typed};
use crate::session::{Done, Intent, News, OpenBook, OpenVisit, Refusal, Session};
use crate::wording::{self, safety};

/// What an answer leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Go {
    /// On to the next question.
    On,
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
/// # Errors
/// Where the lines cannot be read or written.
pub fn walk(
    (open, opened): (OpenBook, Done),
    clock: fn() -> NaiveDateTime,
    yard: Option<&YardId>,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut plain = Plain { open, clock, input, out };
    if let Some(said) = &opened.said {
        plain.say(&said.text)?;
    }
    if plain.open.session().read_only().is_some() {
        return plain.say("Nothing can be logged.");
    }
    if plain.open.session().visit().is_none() && !plain.begin(yard)? {
        return Ok(());
    }
    plain.say(
        "Enter passes a question over. u undoes, g goes on to the next hive, safety shows first aid, q leaves: the \
         visit is kept.",
    )?;
    while let Some(hive) = plain.open.session().visit().and_then(|v| v.hive()).cloned() {
        if plain.at_hive(&hive)? == Go::Leave {
            return plain.say("The visit is open and safe on the disk; walk again to go on.");
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
                let trouble = done.news.iter().any(|news| matches!(news, News::NotOnDisk(_)));
                if let Some(said) = done.said.as_ref().filter(|_| !trouble) {
                    self.say(&said.text)?;
                }
                if let (true, false, Some(why)) =
                    (trouble, was_unwritten, self.session().unwritten().map(str::to_owned))
                {
                    self.say(&format!(
                        "NOT ON THE DISK: {why}. It is kept in memory; each answer tries the disk again."
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
        let plans: Vec<(YardId, usize)> =
            self.session().plan().yards.iter().map(|y| (y.yard.clone(), y.queue.len())).collect();
        let yard = match (yard, plans.as_slice()) {
            (Some(yard), _) => yard.clone(),
            (None, []) => {
                self.say(
                    "This book has no yard yet: `yardwalk` without `walk --plain` sets one up (h, then n).",
                )?;
                return Ok(false);
            }
            (None, [(only, _)]) => only.clone(),
            (None, several) => {
                for (at, (name, due)) in several.iter().enumerate() {
                    let hives = wording::count(*due, "hive");
                    let need = if *due == 1 { "needs" } else { "need" };
                    self.say(&format!("{} {name}: {hives} {need} something", at + 1))?;
                }
                let chosen = self.ask_until("Which yard, by its number", |answer| {
                    let at = answer.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
                    at.and_then(|at| several.get(at))
                        .map(|(name, _)| name.clone())
                        .ok_or_else(|| format!("Write a number, 1 to {}.", several.len()))
                })?;
                let first = || several.first().map(|(name, _)| name.clone());
                let Some(chosen) = chosen.or_else(first) else { return Ok(false) };
                chosen
            }
        };
        let Some(weather) = self.weather()? else { return Ok(false) };
        Ok(self.want(Intent::Begin { yard, hive: None, weather, blooms: Vec::new() })?.is_some())
    }

    fn weather(&mut self) -> io::Result<Option<Weather>> {
        let units = self.units();
        let temperature = self
            .ask_until("Temperature", |text| Temperature::parse_in(text, units).map_err(|e| e.to_string()))?;
        let wind = self.ask_until("Wind", |text| Wind::parse_in(text, units).map_err(|e| e.to_string()))?;
        let rain = self.ask_until("Rain, y or n", |text| match text {
            "y" | "yes" => Ok(true),
            "n" | "no" => Ok(false),
            _ => Err("Write y or n.".to_owned()),
        })?;
        if matches!(rain, Reply::End) {
            return Ok(None);
        }
        Ok(Some(Weather {
            temperature: temperature.or_else(|| None),
            wind: wind.or_else(|| None),
            rain: rain.or_else(|| None),
        }))
    }

    fn at_hive(&mut self, hive: &HiveId) -> io::Result<Go> {
        let Some(view) = self.session().view(hive) else { return Ok(Go::NextHive) };
        self.say("")?;
        let units = self.units();
        self.say(&format!("Hive {hive}, {}", facts::stack_and_queen(&view.state, units)))?;
        self.say(&facts::last(&view.state, units))?;
        let mut asked: Vec<Finding> = Vec::new();
        // Each answer may ask for another look.
        while let Some(view) = self.session().view(hive) {
            let Some(finding) = view.looks.iter().copied().find(|f| !asked.contains(f)) else { break };
            asked.push(finding);
            if view.entry.findings.get(finding).is_some() {
                continue;
            }
            match self.ask_finding(hive, finding)? {
                Go::On => {}
                other => return Ok(other),
            }
        }
        let mut seen: Vec<&'static str> = Vec::new();
        while let Some(view) = self.session().view(hive) {
            let Some(prompt) = view.advice.prompts.iter().find(|p| !seen.contains(&p.rule)).cloned() else {
                break;
            };
            seen.push(prompt.rule);
            match self.ask_prompt(hive, &prompt)? {
                Go::On => {}
                other => return Ok(other),
            }
        }
        let Some(text) = self.ask("A note, or Enter")? else { return Ok(Go::Leave) };
        if !text.is_empty() {
            self.want(Intent::Note { hive: hive.clone(), text })?;
        }
        Ok(Go::On)
    }

    /// An answer that is a command of its own; `None` where it is none.
    fn command(&mut self, answer: &str) -> io::Result<Option<Go>> {
        match answer {
            "q" => Ok(Some(Go::Leave)),
            "g" => Ok(Some(Go::NextHive)),
            "u" => {
                self.want(Intent::Undo)?;
                Ok(Some(Go::On))
            }
            "safety" => {
                for card in safety::CARDS {
                    self.card(card)?;
                }
                Ok(Some(Go::On))
            }
            _ => Ok(None),
        }
    }

    fn ask_finding(&mut self, hive: &HiveId, finding: Finding) -> io::Result<Go> {
        let units = self.units();
        loop {
            let question = format!("{} ({})", finding.label(), typing::keys_of(finding.kind(), units));
            let Some(answer) = self.ask(&question)? else { return Ok(Go::Leave) };
            if answer.is_empty() {
                return Ok(Go::On);
            }
            if let Some(go) = self.command(&answer)? {
                return Ok(go);
            }
            match read_value(finding, &answer, units) {
                Ok(value) => {
                    let intent = Intent::Find { hive: hive.clone(), finding, value: Some(value) };
                    if self.want(intent)?.is_some() {
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
        for (at, offer) in prompt.offers.iter().enumerate() {
            self.say(&format!("  {} {}", at + 1, offer.label))?;
        }
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
                    let at = number.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
                    let Some(offer) = at.filter(|at| *at < prompt.offers.len()) else {
                        if let Some(go) = self.command(number)? {
                            return Ok(go);
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
        let Some(reason) = self.ask("Why")? else { return Ok(None) };
        let (units, today) = (self.units(), self.session().today());
        let proposed = self.session().put_off_to(prompt);
        let question =
            format!("To which day (Enter: {}; or +5, or 2026-05-03)", wording::day(units, proposed));
        let until = self.ask_until(&question, |text| read_day(text, today, units))?;
        Ok(until.or_else(|| Some(proposed)).map(|until| Intent::PutOff {
            hive: hive.clone(),
            rule: RuleId::new(prompt.rule),
            reason: if reason.is_empty() { "not today".to_owned() } else { reason },
            until,
        }))
    }

    fn wrap_up(&mut self) -> io::Result<()> {
        let units = self.units();
        let Some(visit) = self.session().visit().map(OpenVisit::finished_visit) else { return Ok(()) };
        self.say("")?;
        if visit.entries.is_empty() {
            return self.say("Nothing was written at any hive; the visit stays open.");
        }
        for entry in &visit.entries {
            self.say(&format!("{}: {}", entry.hive, entry.done_words(units).join("; ")))?;
        }
        match self.ask("Save the visit, y or n")?.as_deref() {
            Some("y" | "yes") => self.want(Intent::Save).map(|_| ()),
            _ => self.say("Not saved yet: it is kept, and walk goes on with it."),
        }
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
