//! The desk: the book's folder and the draft that is open. Effects are carried out here, and nowhere else.

use std::path::{Path, PathBuf};

use super::app::App;
use super::effect::Effect;
use super::screens::Screen;
use super::screens::log::LogScreen;
use super::screens::trouble::TroubleScreen;
use super::walk::Walk;
use crate::model::{Visit, VisitId};
use crate::store::{BookFolder, Draft, LeftDraft, Lock, StoreError, write_settings};

/// The book's folder and the draft that is open.
#[derive(Debug)]
pub(crate) struct Desk {
    folder: BookFolder,
    draft: Option<Draft>,
    /// Held while the program runs.
    _lock: Option<Lock>,
    /// Folders in which a visit is kept while the book's disk refuses.
    emergency: Vec<PathBuf>,
    /// The folder of settings, where one is known.
    config: Option<PathBuf>,
}

impl Desk {
    /// A desk on a book's folder, with no draft open.
    pub(crate) fn new(folder: BookFolder, lock: Option<Lock>, emergency: Vec<PathBuf>) -> Self {
        Self { folder, draft: None, _lock: lock, emergency, config: None }
    }

    /// With a folder of settings.
    pub(crate) fn with_config(mut self, config: Option<PathBuf>) -> Self {
        self.config = config;
        self
    }

    /// Takes up the visit that was left; of several the keeper chooses.
    pub(crate) fn take_up_left(&mut self, app: &mut App) -> Result<(), StoreError> {
        app.left = self.folder.left_drafts(&self.emergency)?;
        self.forget_saved(app);
        let open: Vec<LeftDraft> = app.left.iter().filter(|l| !l.is_aside).cloned().collect();
        match open.as_slice() {
            [] => {}
            [LeftDraft { path, visit: Ok(visit), .. }] if app.yard(&visit.yard).is_some() => {
                self.take_up(path, &visit.id, app);
            }
            several => {
                let many = several.len();
                app.screens.push(Screen::Log(LogScreen::default()));
                app.say(format!(
                    "{many} unfinished visit{} in the log: Enter takes one up, the others are kept.",
                    if many == 1 { "" } else { "s" }
                ));
            }
        }
        Ok(())
    }

    /// A visit that was saved, its draft left by a kill in between: the book holds it.
    fn forget_saved(&self, app: &mut App) {
        let is_saved = |id: &VisitId| app.book.visits.iter().any(|v| v.id == *id);
        let (saved, left): (Vec<LeftDraft>, Vec<LeftDraft>) = std::mem::take(&mut app.left)
            .into_iter()
            .partition(|l| !l.is_aside && l.visit.as_ref().is_ok_and(|v| is_saved(&v.id)));
        for draft in saved {
            let finished = match &draft.visit {
                Ok(visit) => self.folder.take_up(&draft.path, &visit.id).and_then(Draft::finish),
                Err(_) => Ok(()),
            };
            // It is only in the way: the next start tries again.
            let _ = finished;
        }
        app.left = left;
    }

    fn take_up(&mut self, path: &Path, id: &VisitId, app: &mut App) {
        let mut draft = match self.folder.take_up(path, id) {
            Ok(draft) => draft,
            Err(err) => return app.fail(format!("{}. It stays where it is.", err.with_cause())),
        };
        let names = app.book.names();
        let resumed = Walk::resume(draft.steps().to_vec()).map(|(mut walk, field)| {
            walk.bring_up(&names);
            (walk, field)
        });
        if let Some((walk, field)) = resumed.filter(|(walk, _)| app.yard(&walk.visit.yard).is_some()) {
            self.draft = Some(draft);
            app.left.retain(|left| left.path != path);
            app.screens.truncate(1);
            app.resume(walk, field);
            return;
        }
        // Too little in it to take up, or a yard that is gone: kept, out of the way.
        let kept = draft.set_aside();
        self.list_left(app);
        app.fail(match kept {
            Ok(()) => "There is too little in it to take up, or its yard is gone; it is kept.".to_owned(),
            Err(err) => err.with_cause(),
        });
    }

    fn list_left(&self, app: &mut App) {
        if let Ok(left) = self.folder.left_drafts(&self.emergency) {
            app.left = left;
            self.forget_saved(app);
        }
    }

    /// Does what the program asks; where the disk refuses, the keeper is told and nothing is lost.
    pub(crate) fn carry_out(&mut self, effect: Effect, app: &mut App) {
        tracing::debug!(effect = kind_of(&effect), "to do");
        let asked_for = matches!(effect, Effect::CatchUp | Effect::SaveVisit(_));
        let (result, visit) = match effect {
            Effect::BeginDraft(id) => {
                self.draft = Some(self.folder.draft_of(&id));
                return;
            }
            Effect::Draft(step) => match &mut self.draft {
                Some(draft) => (draft.append(step), None),
                None => return,
            },
            Effect::CatchUp => match &mut self.draft {
                Some(draft) => (draft.catch_up(), None),
                None => return,
            },
            Effect::SaveVisit(visit) => (self.save(&visit, app), Some(Box::new(visit))),
            Effect::SaveYards(book) => {
                match self.folder.save_yards(&book) {
                    Ok(()) => app.yards_saved(*book),
                    // What could not be written does not hold either.
                    Err(err) => app.fail(format!(
                        "NOT ON THE DISK, nothing changed. {}. Try again when it is mended.",
                        err.with_cause()
                    )),
                }
                return;
            }
            Effect::SaveSettings(settings) => {
                super::guard::take_mouse(settings.mouse);
                let written = self.config.as_deref().map(|folder| write_settings(folder, &settings));
                if let Some(Err(err)) = written {
                    app.fail(format!("It holds until the program is left: {}.", err.with_cause()));
                }
                return;
            }
            Effect::TakeUp(path, id) => return self.take_up(&path, &id, app),
            Effect::PutAside => return self.put_aside(app),
        };
        match result {
            Ok(()) => {
                if app.unwritten.take().is_some() {
                    app.say("On the disk again: nothing was lost.");
                }
            }
            Err(err) => self.trouble(&err, visit, asked_for, app),
        }
    }

    fn save(&mut self, visit: &Visit, app: &mut App) -> Result<(), StoreError> {
        self.folder.add_visit(visit)?;
        app.visit_saved(visit);
        if let Some(draft) = self.draft.take() {
            // The visit is safe; a draft that stays is found to be saved at the next start.
            let _ = draft.finish();
        }
        Ok(())
    }

    fn put_aside(&mut self, app: &mut App) {
        let Some(draft) = &mut self.draft else { return };
        match draft.set_aside() {
            Ok(()) => {
                self.draft = None;
                app.put_aside();
            }
            Err(err) => app.fail(format!("{}. The visit stays open.", err.with_cause())),
        }
        self.list_left(app);
    }

    fn trouble(&mut self, err: &StoreError, visit: Option<Box<Visit>>, asked_for: bool, app: &mut App) {
        let kept_in = match &mut self.draft {
            Some(draft) => draft.rescue(&self.emergency).map(Path::to_owned),
            None => None,
        };
        let what = err.with_cause();
        tracing::warn!(kept_elsewhere = kept_in.is_some(), cause = ?std::error::Error::source(err), "the disk refuses");
        let is_known = app.unwritten.replace(what.clone()).is_some();
        if self.draft.is_none() {
            // A withdrawal: nothing was typed that could be lost.
            app.unwritten = None;
        }
        let is_shown = matches!(app.screens.last(), Some(Screen::Trouble(_)));
        if is_shown || (is_known && !asked_for) {
            return app.fail(what);
        }
        app.screens.push(Screen::Trouble(TroubleScreen {
            what,
            mend: sentence(&err.hint()),
            kept_in: kept_in.map(|path| path.display().to_string()),
            visit,
            is_leaving: false,
        }));
    }
}

/// What an effect is, for the log: never what the keeper wrote.
fn kind_of(effect: &Effect) -> &'static str {
    match effect {
        Effect::BeginDraft(_) => "begin a draft",
        Effect::Draft(_) => "put a step on the disk",
        Effect::CatchUp => "try the disk again",
        Effect::SaveYards(_) => "write the yards",
        Effect::SaveSettings(_) => "write the settings",
        Effect::TakeUp(..) => "take up a visit",
        Effect::PutAside => "put a visit aside",
        Effect::SaveVisit(_) => "write a visit",
    }
}

/// With a great letter and a stop.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}
