//! An action's fields, and the action they make.

use std::slice::Iter;

use crate::advice::Offer;
use crate::model::{
    Action, Book, Depth, Hive, HiveBox, HiveId, Mark, Origin, Queen, QueenStatus, Role, days_after,
};
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::field::Field;

/// Longest own words.
const LONGEST: usize = 120;

/// Whether there is anything to fill in.
pub(crate) fn has_fields(action: &Action, hive: &HiveId, app: &App) -> bool {
    !fields_of(action, hive, app).is_empty()
}

/// The hives of the same yard that stand with a colony, without this one.
fn neighbours(hive: &HiveId, app: &App) -> Vec<HiveId> {
    let yard = app.folded.hive(hive).map(|s| s.yard.clone());
    app.folded
        .hives()
        .filter(|s| s.id != *hive && s.is_alive() && Some(&s.yard) == yard.as_ref())
        .map(|s| s.id.clone())
        .collect()
}

/// A free name for a new hive after those that are there: `A1` and `A2` are followed by `A3`.
pub(super) fn next_name(app: &App, yard: &crate::model::YardId) -> String {
    let names: Vec<&str> = app.yard(yard).into_iter().flat_map(|y| &y.hives).map(|h| h.id.as_str()).collect();
    let last = names.last().copied().unwrap_or("0");
    let stem = last.trim_end_matches(|c: char| c.is_ascii_digit());
    let mut number: u32 = last.strip_prefix(stem).and_then(|n| n.parse().ok()).unwrap_or(0);
    loop {
        number += 1;
        let name = format!("{stem}{number}");
        if app.book.hive_named(&name).is_none() {
            return name;
        }
    }
}

/// The fields of an action, with what is proposed.
pub(super) fn fields_of(action: &Action, hive: &HiveId, app: &App) -> Vec<Field> {
    let units = app.book.units;
    let frames = |value: u8| Field::figures("Frames it takes", "2 to 14", value);
    match action {
        Action::AddBox { depth, frames: takes, role, drawn, level } => vec![
            Field::choice("Depth", "of the box", *depth),
            Field::choice("For", "nest or super", *role),
            frames(*takes),
            Field::figures("Drawn frames", "the others are foundation", drawn),
            Field::choice("Goes", "where in the stack", *level),
        ],
        Action::RemoveBox { role, level } => vec![
            Field::choice("Which", "nest box or super", *role),
            Field::choice("From", "where in the stack", *level),
        ],
        Action::FeedSyrup { mix, volume } => vec![
            Field::choice("Syrup", "sugar to water by weight", *mix),
            Field::figures("How much", "as 1.5 gal or 4 l", units.volume(*volume)),
        ],
        Action::FeedSugar { mass } => {
            vec![Field::figures("Dry sugar", "as 4 lb or 2 kg", units.mass(*mass))]
        }
        Action::SetFeeder { feeder } => {
            vec![Field::maybe_choice("Feeder now on", "", "none", *feeder)]
        }
        Action::SetEntrance { entrance } => vec![Field::choice("Entrance now", "", *entrance)],
        Action::SetUpperEntrance { open } => vec![Field::yes_no("Upper entrance open", "", *open)],
        Action::SetMouseGuard { on } => vec![Field::yes_no("Mouse guard on", "", *on)],
        Action::SwapFrames { frames } => {
            vec![Field::figures("Frames changed", "full ones for drawn ones", frames)]
        }
        Action::Treat { treatment, until } => vec![
            Field::choice("Treatment", "the label in hand rules", *treatment),
            Field::day("Out on", "it comes out", *until, app.today),
        ],
        Action::EndTreatment { treatment } => {
            vec![Field::choice("Treatment taken out", "", *treatment)]
        }
        Action::SetQueen { queen } => queen_fields(queen, app),
        Action::SplitInto { hive: new } => vec![
            Field::words("New hive's name", "it joins the yard at the end of its stands", new.as_str(), 32),
            Field::words("Its boxes", "such as 1 deep, or 1 5-frame deep", "1 deep", 60),
            Field::choice("Its queen", "the old one, a cell, a cage, or none yet", QueenStatus::Cell),
        ],
        Action::Joined { hive: other } => {
            let near = neighbours(hive, app);
            let at = near.iter().position(|h| h == other).unwrap_or(0);
            vec![Field::one_of(
                "Joined to this hive",
                "its stand is empty afterwards",
                near.iter().map(ToString::to_string).collect(),
                at,
            )]
        }
        Action::TakeHoney { frames, mass } => vec![
            Field::figures("Frames taken", "0 to 60", frames),
            Field::maybe("Honey", "if weighed, as 60 lb or 27 kg", mass.map(|m| units.mass(m))),
        ],
        Action::Retire { loss } => vec![Field::choice("The colony is gone", "why", *loss)],
        Action::Restock { origin } => vec![Field::choice("A new colony", "how it came", *origin)],
        Action::Other { what } => vec![Field::words("What was done", "in your words", what, LONGEST)],
        Action::SetBoxes { .. }
        | Action::ReverseBoxes
        | Action::CutCells
        | Action::JoinInto { .. }
        | Action::CallInspector
        | Action::ClearDisease => Vec::new(),
    }
}

pub(super) fn queen_fields(queen: &Queen, app: &App) -> Vec<Field> {
    let year = queen.year.map(|y| y.to_string());
    vec![
        Field::choice("Queen", "what is known of her", queen.status),
        Field::maybe("Raised in", "the year; empty if not known", year),
        Field::maybe_choice("Mark", "the colour goes with the last figure of the year", "none", queen.mark),
        Field::words("Comes from", "in your words", &queen.origin, 60),
        Field::day("Queen since", "when this began", queen.since.unwrap_or(app.today), app.today),
    ]
}

/// The next field of a form.
pub(super) fn next<'a>(fields: &mut Iter<'a, Field>) -> Result<&'a Field, String> {
    fields.next().ok_or_else(|| "a field is missing".to_owned())
}

pub(super) fn queen_of(fields: &mut Iter<'_, Field>) -> Result<Queen, String> {
    let status: QueenStatus = next(fields)?.the_choice()?;
    let year = next(fields)?;
    let year = if year.is_empty() { None } else { Some(year.the_whole(1990..=2200)?) };
    let mark: Option<Mark> = next(fields)?.the_maybe_choice();
    let origin = next(fields)?.the_words();
    let since = next(fields)?.the_day()?;
    let year = year.and_then(|y| i32::try_from(y).ok());
    Ok(Queen { status, year, mark, origin, since: Some(since) })
}

/// The action its fields make.
pub(super) fn action_of(
    template: &Action,
    fields: &mut Iter<'_, Field>,
    app: &App,
) -> Result<Action, String> {
    let units = app.book.units;
    let action = match template {
        Action::AddBox { .. } => Action::AddBox {
            depth: next(fields)?.the_choice()?,
            role: next(fields)?.the_choice()?,
            frames: next(fields)?.the_count(2..=14)?,
            drawn: next(fields)?.the_count(0..=14)?,
            level: next(fields)?.the_choice()?,
        },
        Action::RemoveBox { .. } => {
            Action::RemoveBox { role: next(fields)?.the_choice()?, level: next(fields)?.the_choice()? }
        }
        Action::FeedSyrup { .. } => {
            Action::FeedSyrup { mix: next(fields)?.the_choice()?, volume: next(fields)?.the_volume(units)? }
        }
        Action::FeedSugar { .. } => Action::FeedSugar { mass: next(fields)?.the_mass(units)? },
        Action::SetFeeder { .. } => Action::SetFeeder { feeder: next(fields)?.the_maybe_choice() },
        Action::SetEntrance { .. } => Action::SetEntrance { entrance: next(fields)?.the_choice()? },
        Action::SetUpperEntrance { .. } => Action::SetUpperEntrance { open: next(fields)?.is_yes() },
        Action::SetMouseGuard { .. } => Action::SetMouseGuard { on: next(fields)?.is_yes() },
        Action::SwapFrames { .. } => Action::SwapFrames { frames: next(fields)?.the_count(1..=60)? },
        Action::Treat { .. } => {
            Action::Treat { treatment: next(fields)?.the_choice()?, until: next(fields)?.the_day()? }
        }
        Action::EndTreatment { .. } => Action::EndTreatment { treatment: next(fields)?.the_choice()? },
        Action::SetQueen { .. } => Action::SetQueen { queen: queen_of(fields)? },
        Action::SplitInto { .. } => return split_of(fields, app),
        Action::Joined { .. } => {
            let name = next(fields)?.shown();
            if name.is_empty() {
                return Err("There is no other living hive in this yard.".to_owned());
            }
            Action::Joined { hive: HiveId::new(name) }
        }
        Action::TakeHoney { .. } => {
            let frames = next(fields)?.the_count(0..=60)?;
            let weighed = next(fields)?;
            let mass = if weighed.is_empty() { None } else { Some(weighed.the_mass(units)?) };
            Action::TakeHoney { frames, mass }
        }
        Action::Retire { .. } => Action::Retire { loss: next(fields)?.the_choice()? },
        Action::Restock { .. } => Action::Restock { origin: next(fields)?.the_choice()? },
        Action::Other { .. } => {
            let what = next(fields)?.the_words();
            if what.is_empty() {
                return Err("Say in a few words what was done.".to_owned());
            }
            Action::Other { what }
        }
        plain => plain.clone(),
    };
    match action.fault() {
        Some(fault) => Err(fault),
        None => Ok(action),
    }
}

/// A split is checked here; its hive is set up when it is logged.
fn split_of(fields: &mut Iter<'_, Field>, app: &App) -> Result<Action, String> {
    let name = HiveId::new(next(fields)?.the_words());
    crate::model::stack_from(&next(fields)?.the_words())?;
    next(fields)?.the_choice::<QueenStatus>()?;
    if let Some(fault) = name.fault() {
        return Err(format!("The new hive's name {fault}."));
    }
    if app.book.hive_named(name.as_str()).is_some() {
        return Err(format!("There is a hive {name} already."));
    }
    Ok(Action::SplitInto { hive: name })
}

/// Logs actions at a hive of the visit in progress; a split sets up its hive, a union empties the other's stand.
pub(super) fn log(
    app: &mut App,
    hive: &HiveId,
    done: Vec<Action>,
    prompt: Option<&(&'static str, Vec<(i64, String)>)>,
    instead: bool,
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    if app.walk.is_none() {
        return Err("No visit is open: begin one first.".to_owned());
    }
    let words: Vec<String> = done.iter().map(|a| a.words(app.book.units)).collect();
    for action in &done {
        if let Action::Joined { hive: other } = action {
            let into = Action::JoinInto { hive: hive.clone() };
            app.change(other, effects, |entry| entry.actions.push(into));
        }
    }
    let today = app.today;
    let answer = prompt.cloned();
    app.change(hive, effects, |entry| {
        if instead {
            entry.actions.pop();
        }
        match answer {
            Some((rule, promises)) => {
                Offer { label: String::new(), actions: done, promises }.log(rule, entry, today);
            }
            None => entry.actions.extend(done),
        }
    });
    if let Some(walk) = &mut app.walk {
        walk.stand_at(hive);
    }
    app.say(format!("Logged: {}. u undoes it.", words.join(", ")));
    Ok(())
}

/// The yards with a hive that was split off, to be saved before the split is logged.
pub(super) fn with_split(app: &App, from: &HiveId, fields: &[Field]) -> Result<Book, String> {
    let mut fields = fields.iter();
    let name = HiveId::new(next(&mut fields)?.the_words());
    let boxes: Vec<HiveBox> = crate::model::stack_from(&next(&mut fields)?.the_words())?;
    let status = next(&mut fields)?.the_choice()?;
    let queen = Queen { since: Some(app.today), ..Queen::of_status(status, None) };
    let mut hive = Hive::new(name, Origin::Split, app.today, boxes, queen);
    hive.note = format!("split from {from}");
    let mut book = Book { visits: Vec::new(), ..app.book.clone() };
    let yard = app.folded.hive(from).map(|s| s.yard.clone());
    if let Some(yard) = book.yards.iter_mut().find(|y| Some(&y.name) == yard.as_ref()) {
        yard.hives.push(hive);
    }
    Ok(book)
}

/// The hives after this one in the queue that are due and not done.
fn next_hives(hive: &HiveId, app: &App) -> Vec<HiveId> {
    let Some(walk) = &app.walk else { return Vec::new() };
    let at = walk.queue.iter().position(|h| h == hive).map_or(0, |at| at + 1);
    walk.queue.iter().take(walk.due).skip(at).filter(|h| !walk.finished.contains(*h)).cloned().collect()
}

pub(super) fn copy_fields(hive: &HiveId, app: &App) -> Vec<Field> {
    let next = next_hives(hive, app);
    let names: Vec<&str> = next.iter().map(HiveId::as_str).collect();
    vec![Field::figures("How many of the next", &names.join(" "), next.len())]
}

pub(super) fn copy_on(
    app: &mut App,
    hive: &HiveId,
    fields: &[Field],
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    let entry = app.walk.as_ref().map(|w| w.entry(hive));
    let action = entry.and_then(|e| e.actions.last().cloned()).ok_or("Nothing was logged here yet.")?;
    let near = next_hives(hive, app);
    let most = i64::try_from(near.len()).unwrap_or(0);
    let count = next(&mut fields.iter())?.the_whole(0..=most)?;
    let words = action.words(app.book.units);
    let count = usize::try_from(count).unwrap_or(0);
    for other in near.iter().take(count) {
        let action = action.clone();
        app.change(other, effects, |entry| entry.actions.push(action));
    }
    if let Some(walk) = &mut app.walk {
        walk.stand_at(hive);
    }
    app.say(format!("Logged at {count} more: {words}. u undoes them, one hive at a time."));
    Ok(())
}

/// What can be logged at a hive, with what is likely proposed.
pub(crate) fn can_be_done(hive: &HiveId, app: &App) -> Vec<(&'static str, Action)> {
    use crate::model::{Entrance, FeederKind, Level, Loss, Mass, Mix, Treatment, Volume};
    let Some(view) = app.view(hive) else { return Vec::new() };
    let state = view.state;
    let nest_depth = state.nest_depth();
    let running = state.courses.iter().rev().find(|c| c.ended.is_none()).map(|c| c.treatment);
    let free = next_name(app, &state.yard);
    let other = neighbours(hive, app).into_iter().next().unwrap_or_else(|| HiveId::new(""));
    let depth =
        if state.boxes.iter().any(|b| b.depth == Depth::Shallow) { Depth::Shallow } else { Depth::Medium };
    vec![
        (
            "put on a super",
            Action::AddBox { depth, frames: 10, role: Role::Super, drawn: 10, level: Level::AboveNest },
        ),
        (
            "put on a nest box",
            Action::AddBox {
                depth: nest_depth,
                frames: 10,
                role: Role::Nest,
                drawn: 10,
                level: Level::AboveNest,
            },
        ),
        ("took off a box", Action::RemoveBox { role: Role::Super, level: Level::Top }),
        ("the boxes as they are now", Action::SetBoxes { boxes: state.boxes.clone() }),
        ("reversed the two lowest boxes", Action::ReverseBoxes),
        ("fed syrup", Action::FeedSyrup { mix: Mix::Thin, volume: Volume::from_gallons(1.0) }),
        ("laid on dry sugar", Action::FeedSugar { mass: Mass::from_pounds(4.0) }),
        (
            "put on or took off the feeder",
            Action::SetFeeder { feeder: if state.feeder.is_some() { None } else { Some(FeederKind::Frame) } },
        ),
        (
            "set the entrance",
            Action::SetEntrance {
                entrance: if state.entrance == Entrance::Open { Entrance::Reduced } else { Entrance::Open },
            },
        ),
        ("upper entrance opened or closed", Action::SetUpperEntrance { open: !state.upper_entrance }),
        ("mouse guard on or off", Action::SetMouseGuard { on: !state.mouse_guard }),
        ("changed full frames for drawn ones", Action::SwapFrames { frames: 2 }),
        ("cut out queen cells", Action::CutCells),
        (
            "began a treatment",
            Action::Treat { treatment: Treatment::FormicStrips, until: days_after(app.today, 14) },
        ),
        (
            "took out a treatment",
            Action::EndTreatment { treatment: running.unwrap_or(Treatment::FormicStrips) },
        ),
        ("another queen, or more is known of her", Action::SetQueen { queen: state.queen.clone() }),
        ("split it into a new hive", Action::SplitInto { hive: HiveId::new(free) }),
        ("joined another hive to it", Action::Joined { hive: other }),
        ("took honey", Action::TakeHoney { frames: 10, mass: None }),
        ("called the inspector", Action::CallInspector),
        ("disease cleared", Action::ClearDisease),
        ("the colony is gone", Action::Retire { loss: Loss::Unknown }),
        ("a new colony on this stand", Action::Restock { origin: Origin::Package }),
        ("something else", Action::Other { what: String::new() }),
    ]
}
