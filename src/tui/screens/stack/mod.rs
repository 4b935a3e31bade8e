//! The boxes of a hive as a picture, to be made as they stand: what comes of it is logged as one action.

mod draw;

use crate::model::{Action, Depth, HiveBox, HiveId, Jotting, Role};
use crate::session::{Intent, Session};
use crate::tui::command::Command;
use crate::tui::keys::ScreenId;
use crate::tui::view::{Canvas, Step, Unlogged, View};

/// Frames a box may take, in the order they are gone through: boxes and nuc boxes.
const FRAMES: &[u8] = &[10, 8, 5, 6];
/// Most boxes of a stack.
const MOST: usize = 12;

/// The screen of a stack.
#[derive(Debug)]
pub(crate) struct StackScreen {
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

    fn add(&mut self) -> Step {
        if self.boxes.len() >= MOST {
            return Step::fail(format!("{MOST} boxes are the most."));
        }
        let like = self.boxes.get(self.at).map(|b| (b.depth, b.frames, b.role));
        let (depth, frames, role) = like.unwrap_or((Depth::Deep, 10, Role::Nest));
        self.at = if self.boxes.is_empty() { 0 } else { self.at + 1 };
        let added = HiveBox::with_drawn(depth, frames, role, frames);
        self.boxes.insert(self.at.min(self.boxes.len()), added);
        Step::stay()
    }

    fn remove(&mut self) -> Step {
        let is_nest = self.boxes.get(self.at).is_some_and(|b| b.role == Role::Nest);
        if is_nest && self.boxes.iter().filter(|b| b.role == Role::Nest).count() == 1 {
            return Step::fail("A colony needs a nest box: put another on first.");
        }
        if self.at < self.boxes.len() {
            self.boxes.remove(self.at);
            self.at = self.at.min(self.boxes.len().saturating_sub(1));
        }
        Step::stay()
    }

    fn log(&self) -> Step {
        if self.boxes == self.before {
            return Step::say("The boxes are as they were: Esc goes back.");
        }
        let actions = vec![Action::SetBoxes { boxes: self.boxes.clone() }];
        let intent = Intent::Log { hive: self.hive.clone(), actions, answers: None, instead: false };
        Step::want(intent).and_close()
    }
}

impl View for StackScreen {
    fn id(&self) -> ScreenId {
        ScreenId::Stack
    }

    fn typed(&self) -> Option<Unlogged> {
        let boxes = if self.boxes == self.before { Vec::new() } else { self.boxes.clone() };
        let (place, what) = (format!("boxes {}", self.hive), format!("the boxes of {}", self.hive));
        Some(Unlogged { place, what, boxes, ..Unlogged::default() })
    }

    fn put_back(&mut self, _: &Session, typed: &Jotting) -> bool {
        self.boxes.clone_from(&typed.boxes);
        self.at = self.boxes.len().saturating_sub(1);
        true
    }

    fn update(&mut self, _: &Session, command: Command) -> Step {
        let top = self.boxes.len().saturating_sub(1);
        match command {
            Command::Up => self.at = (self.at + 1).min(top),
            Command::Down => self.at = self.at.saturating_sub(1),
            Command::GoTo(at) => self.at = at.min(top),
            Command::AddBox => return self.add(),
            Command::RemoveBox => return self.remove(),
            Command::Later if self.at < top => {
                self.boxes.swap(self.at, self.at + 1);
                self.at += 1;
            }
            Command::Earlier if self.at > 0 => {
                self.boxes.swap(self.at, self.at - 1);
                self.at -= 1;
            }
            Command::Back if self.boxes == self.before => {
                return Step::say("The boxes are as they were.").and_close();
            }
            Command::Back => {
                let words = "Nothing was logged; the boxes as you put them are kept here.";
                return Step::say(words).and_close();
            }
            Command::Take => return self.log(),
            other => {
                if let Some(each) = self.boxes.get_mut(self.at) {
                    change(each, other);
                }
            }
        }
        Step::stay()
    }

    fn refresh(&mut self, _: &Session) {}

    fn draw(&self, session: &Session, canvas: &mut Canvas<'_, '_>) {
        draw::draw(self, session, canvas);
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
