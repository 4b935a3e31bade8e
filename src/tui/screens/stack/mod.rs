//! The boxes of a hive as a picture, to be made as they stand: what comes of it is logged as one action.

pub(crate) mod draw;

use crate::model::{Action, Depth, HiveBox, HiveId, Role};
use crate::tui::app::App;
use crate::tui::command::Command;
use crate::tui::effect::Effect;
use crate::tui::screens::Turn;

/// Frames a box may take, in the order they are gone through: boxes and nuc boxes.
const FRAMES: &[u8] = &[10, 8, 5, 6];
/// Most boxes of a stack.
const MOST: usize = 12;

/// The screen of a stack.
#[derive(Debug)]
pub(crate) struct StackScreen {
    /// The hive.
    pub(crate) hive: HiveId,
    /// The boxes, bottom to top.
    pub(crate) boxes: Vec<HiveBox>,
    /// Which has the focus, from the bottom.
    pub(crate) at: usize,
    before: Vec<HiveBox>,
}

impl StackScreen {
    /// Of a hive's boxes.
    pub(crate) fn of(hive: HiveId, boxes: Vec<HiveBox>) -> Self {
        let at = boxes.len().saturating_sub(1);
        Self { hive, before: boxes.clone(), boxes, at }
    }

    pub(super) fn update(&mut self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> Turn {
        let top = self.boxes.len().saturating_sub(1);
        match command {
            Command::Up => self.at = (self.at + 1).min(top),
            Command::Down => self.at = self.at.saturating_sub(1),
            Command::GoTo(at) => self.at = at.min(top),
            Command::AddBox => self.add(app),
            Command::RemoveBox => self.remove(app),
            Command::PageUp if self.at < top => {
                self.boxes.swap(self.at, self.at + 1);
                self.at += 1;
            }
            Command::PageDown if self.at > 0 => {
                self.boxes.swap(self.at, self.at - 1);
                self.at -= 1;
            }
            Command::Back => {
                app.say("The boxes are as they were.");
                return Turn::Close;
            }
            Command::Take => return self.log(app, effects),
            other => {
                if let Some(each) = self.boxes.get_mut(self.at) {
                    change(each, other);
                }
            }
        }
        Turn::Stay
    }

    fn add(&mut self, app: &mut App) {
        if self.boxes.len() >= MOST {
            return app.fail(format!("{MOST} boxes are the most."));
        }
        let like = self.boxes.get(self.at).map(|b| (b.depth, b.frames, b.role));
        let (depth, frames, role) = like.unwrap_or((Depth::Deep, 10, Role::Nest));
        let mut added = HiveBox::new(depth, frames, role);
        added.holds.drawn = Some(frames);
        self.at = if self.boxes.is_empty() { 0 } else { self.at + 1 };
        self.boxes.insert(self.at.min(self.boxes.len()), added);
    }

    fn remove(&mut self, app: &mut App) {
        let is_nest = self.boxes.get(self.at).is_some_and(|b| b.role == Role::Nest);
        if is_nest && self.boxes.iter().filter(|b| b.role == Role::Nest).count() == 1 {
            return app.fail("A colony needs a nest box: put another on first.");
        }
        if self.at < self.boxes.len() {
            self.boxes.remove(self.at);
            self.at = self.at.min(self.boxes.len().saturating_sub(1));
        }
    }

    fn log(&self, app: &mut App, effects: &mut Vec<Effect>) -> Turn {
        let action = Action::SetBoxes { boxes: self.boxes.clone() };
        if let Some(fault) = action.fault() {
            app.fail(fault);
            return Turn::Stay;
        }
        if self.boxes == self.before {
            app.say("The boxes are as they were.");
            return Turn::Close;
        }
        let words = action.words(app.book.units);
        app.change(&self.hive, effects, |entry| entry.actions.push(action));
        app.say(format!("Logged: {words}. u undoes it."));
        Turn::Close
    }
}

fn change(each: &mut HiveBox, command: Command) {
    let drawn = each.holds.drawn.unwrap_or(0);
    match command {
        Command::Depth => {
            each.depth = match each.depth {
                Depth::Deep => Depth::Medium,
                Depth::Medium => Depth::Shallow,
                Depth::Shallow => Depth::Deep,
            }
        }
        Command::Role => {
            each.role = match each.role {
                Role::Nest => Role::Super,
                Role::Super => Role::Nest,
            }
        }
        Command::Frames => {
            let at = FRAMES.iter().position(|f| *f == each.frames).map_or(0, |at| at + 1);
            each.frames = FRAMES.get(at).or(FRAMES.first()).copied().unwrap_or(10);
            each.holds.drawn = Some(drawn.min(each.frames));
        }
        Command::Left => each.holds.drawn = Some(drawn.saturating_sub(1)),
        Command::Right => each.holds.drawn = Some((drawn + 1).min(each.frames)),
        _ => {}
    }
}
