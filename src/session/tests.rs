//! The session by itself, with no disk and no screen: intents in, outcomes given by hand.

use super::*;
use crate::model::testing::day;
use crate::model::{
    Action, Answerable as _, Bloom, Disease, Fine, Frames, Hive, HiveBox, InBloom, Origin, Queen,
    QueenStatus, Reply, Role, RuleId, Treatment, Units, Value, Weather,
};

fn hive(name: &str) -> Hive {
    let boxes = vec![HiveBox::with_drawn(crate::model::Depth::Deep, 10, Role::Nest, 10)];
    let queen = Queen::of_status(QueenStatus::Laying, None);
    Hive::new(HiveId::new(name), Origin::Overwintered, day("2026-01-01"), boxes, queen)
}

fn session(on: &str) -> Session {
    let mut book = Book::empty("T", Units::Us);
    let mut yard = Yard::named(YardId::new("Y"));
    yard.hives = ["A1", "A2", "A3"].map(hive).to_vec();
    book.yards.push(yard);
    let start = Start {
        today: day(on),
        now: day("2026-07-20").and_time(NaiveTime::MIN),
        offset: FixedOffset::east_opt(0).unwrap(),
        seed: 1,
        settings: Settings::default(),
    };
    Session::new(book, start)
}

fn saved(yards: Box<Book>) -> Outcome {
    Outcome::YardsSaved { yards, differences: Vec::new(), was_joined: false }
}

/// A disk that takes everything: the outcome of each effect, and of what follows from it.
fn on_a_sound_disk(session: &mut Session, intent: Intent) -> Result<Done, Refusal> {
    let mut done = session.carry_out(intent)?;
    let mut effects = std::mem::take(&mut done.effects);
    while !effects.is_empty() {
        let outcome = match effects.remove(0) {
            Effect::SaveVisit(visit) => Outcome::VisitSaved(visit),
            Effect::SaveYards { yards, .. } => saved(yards),
            Effect::PutAside { is_unusable } => Outcome::PutAside { is_unusable },
            Effect::Draft(_) | Effect::CatchUp => Outcome::Written,
            Effect::ReadAgain { .. }
            | Effect::PutFileAside { .. }
            | Effect::Settle(_)
            | Effect::BeginDraft(_)
            | Effect::Pad(_)
            | Effect::SaveRehearsal(_)
            | Effect::SaveSettings(_)
            | Effect::TakeUp { .. }
            | Effect::ListLeft
            | Effect::Forget { .. } => Outcome::Nothing,
        };
        let mut later = session.take_in(outcome);
        effects.extend(std::mem::take(&mut later.effects));
        done = done.and_then(later);
    }
    Ok(done)
}

fn begun(on: &str) -> Session {
    let mut session = session(on);
    let weather = Weather {
        temperature: crate::model::Temperature::parse_in("75", Units::Us).ok(),
        ..Weather::default()
    };
    let begin = Intent::Begin { yard: YardId::new("Y"), hive: Some(a1()), weather, blooms: Vec::new() };
    let done = on_a_sound_disk(&mut session, begin).unwrap();
    assert_eq!(done.news, [News::AtHive { hive: a1(), field: None }]);
    session
}

fn a1() -> HiveId {
    HiveId::new("A1")
}

fn entry(session: &Session) -> Entry {
    session.visit().unwrap().entry(&a1())
}

#[test]
fn a_visit_is_begun_found_in_noted_undone_finished_and_saved() {
    let mut session = begun("2026-05-03");
    let bees =
        |frames| Intent::Find { hive: a1(), finding: Finding::Bees, value: Some(Value::Frames(frames)) };
    on_a_sound_disk(&mut session, bees(7.0)).unwrap();
    on_a_sound_disk(&mut session, bees(9.0)).unwrap();
    on_a_sound_disk(&mut session, Intent::Undo).unwrap();
    assert_eq!(entry(&session).findings.bees, Some(Frames(7.0)));
    on_a_sound_disk(&mut session, Intent::Redo).unwrap();
    on_a_sound_disk(&mut session, Intent::Note { hive: a1(), text: " calm ".to_owned() }).unwrap();
    assert_eq!((entry(&session).findings.bees, entry(&session).note.as_str()), (Some(Frames(9.0)), "calm"));
    let done = on_a_sound_disk(&mut session, Intent::FinishHive(a1())).unwrap();
    assert_eq!(done.news, [News::AtHive { hive: HiveId::new("A2"), field: None }]);
    let done = on_a_sound_disk(&mut session, Intent::Save).unwrap();
    assert!(done.news.contains(&News::VisitClosed) && session.visit().is_none());
    assert_eq!(session.folded().hive(&a1()).unwrap().seen.bees.unwrap().value, Frames(9.0));
}

#[test]
fn what_is_refused_changes_nothing() {
    let mut session = begun("2026-05-03");
    let before = format!("{:?}", session.visit());
    let find = |finding, value| Intent::Find { hive: a1(), finding, value: Some(value) };
    for (intent, part) in [
        (find(Finding::Bees, Value::Frames(400.0)), "0 to 60 frames"),
        (find(Finding::Brood, Value::YesNo(true)), "0 to 60 frames"),
        (Intent::GoTo(HiveId::new("B7")), "not in the yard"),
        (Intent::CopyOn { hive: a1(), count: 1 }, "Nothing was logged here"),
        (Intent::LikeLast(a1()), "Nothing was logged at a hive before"),
        (Intent::Save, "nothing to save"),
        (Intent::Undo, "Nothing to undo"),
        (
            Intent::ChangeHive { old: a1(), yard: YardId::new("Y"), hive: Box::new(hive("Z")) },
            "visit is open",
        ),
        (Intent::Accept { hive: a1(), rule: RuleId::new("no.rule"), offer: 0 }, "not asked here"),
        (
            Intent::Log {
                hive: a1(),
                actions: vec![Action::SwapFrames { frames: 99 }],
                answers: None,
                instead: false,
            },
            "1 to 60",
        ),
    ] {
        let words = on_a_sound_disk(&mut session, intent.clone()).unwrap_err().words().to_owned();
        assert!(words.contains(part), "{intent:?}: {words}");
        assert_eq!(format!("{:?}", session.visit()), before, "{intent:?}");
    }
}

#[test]
fn a_day_that_has_not_come_and_a_book_of_another_are_only_read() {
    let mut ahead = session("2026-09-01");
    let begin =
        Intent::Begin { yard: YardId::new("Y"), hive: None, weather: Weather::default(), blooms: Vec::new() };
    assert!(on_a_sound_disk(&mut ahead, begin.clone()).unwrap_err().words().contains("has not come yet"));
    let mut read_only = session("2026-05-03");
    read_only.set_read_only("open in another window".to_owned());
    for intent in [
        begin,
        Intent::SetUnits(Units::Metric),
        Intent::AddHives { yard: YardId::new("Y"), hives: vec![hive("A9")] },
    ] {
        let words = on_a_sound_disk(&mut read_only, intent).unwrap_err().words().to_owned();
        assert!(words.contains("open in another window"), "{words}");
    }
}

/// A hive with signs of disease is not found fine, and one found fine is not any longer when signs are seen.
#[test]
fn a_hive_with_signs_of_disease_is_not_fine() {
    let mut session = begun("2026-05-03");
    let found_to_be = |finding, value| Intent::Find { hive: a1(), finding, value: Some(value) };
    let fine = found_to_be(Finding::Fine, Fine::LookedThrough.value());
    let found = |session: &Session| session.visit().unwrap().entry(&a1()).findings;
    on_a_sound_disk(&mut session, fine.clone()).unwrap();
    on_a_sound_disk(&mut session, found_to_be(Finding::Disease, Disease::Sunken.value())).unwrap();
    assert_eq!((found(&session).fine, found(&session).disease), (None, Some(Disease::Sunken)));
    let words = on_a_sound_disk(&mut session, fine.clone()).unwrap_err().words().to_owned();
    assert!(words.contains("not fine where there are signs of disease"), "{words}");
    on_a_sound_disk(&mut session, found_to_be(Finding::Disease, Disease::None.value())).unwrap();
    on_a_sound_disk(&mut session, fine).unwrap();
    assert_eq!(found(&session).fine, Some(Fine::LookedThrough));
}

/// A bloom tells the year by the day it began, not by the day somebody came to look.
#[test]
fn a_bloom_tells_the_year_by_the_day_it_began_and_undo_takes_that_back() {
    let mut session = begun("2026-05-03");
    let yard = session.book().yards[0].clone();
    let as_usual = session.calendar(&yard);
    let begun_on = day("2026-04-10");
    let blooms = vec![InBloom { bloom: Bloom::Dandelion, since: Some(begun_on) }];
    on_a_sound_disk(&mut session, Intent::SetWeather { weather: Weather::default(), blooms }).unwrap();
    let seen = [SeenBloom { on: begun_on, bloom: Bloom::Dandelion }];
    let early = Calendar::of(&yard, &session.book().practice, &seen, session.today());
    assert_ne!(early, as_usual);
    assert_eq!(session.calendar(&yard), early);
    on_a_sound_disk(&mut session, Intent::Undo).unwrap();
    assert_eq!(session.calendar(&yard), as_usual);
    on_a_sound_disk(&mut session, Intent::Redo).unwrap();
    assert_eq!(session.calendar(&yard), early);
}

/// Whatever asks for it: a prompt put off past its last day is put off, and that is said.
#[test]
fn a_prompt_is_put_off_to_its_last_day_unless_the_keeper_says_later_and_is_told() {
    let mut session = begun("2026-05-03");
    let prompt = session.view(&a1()).unwrap().advice.prompts[0].clone();
    let proposed = session.put_off_to(&prompt);
    assert!(proposed <= prompt.due.latest.max(day("2026-05-04")), "{proposed}");
    let put_off = |until, reason: &str| Intent::PutOff {
        hive: a1(),
        rule: RuleId::new(prompt.rule),
        reason: reason.to_owned(),
        until,
    };
    for (until, reason, part) in [(day("2026-05-03"), "rain", "after today"), (proposed, " ", "Say why")] {
        let words = on_a_sound_disk(&mut session, put_off(until, reason)).unwrap_err().words().to_owned();
        assert!(words.contains(part), "{words}");
    }
    let late = days_after(prompt.due.latest, 3).max(day("2026-05-06"));
    let said = on_a_sound_disk(&mut session, put_off(late, "rain")).unwrap().said.unwrap().text;
    assert!(said.contains("after its last day"), "{said}");
    let is_late =
        |a: &crate::model::Answer| matches!(&a.reply, Reply::PutOff { until, .. } if *until == late);
    assert!(entry(&session).answers.iter().any(is_late));
}

#[test]
fn cautions_come_before_the_first_treatment_of_a_day_and_not_again() {
    let mut session = begun("2026-07-20");
    let treat = Intent::Log {
        hive: a1(),
        actions: vec![Action::Treat { treatment: Treatment::ThymolGel, until: day("2026-08-17") }],
        answers: None,
        instead: false,
    };
    assert_eq!(on_a_sound_disk(&mut session, treat.clone()), Err(Refusal::ReadCautions));
    assert!(entry(&session).actions.is_empty());
    on_a_sound_disk(&mut session, treat).unwrap();
    assert_eq!(entry(&session).actions.len(), 1);
    let again = Intent::MindCautions(entry(&session).actions);
    assert!(on_a_sound_disk(&mut session, again).is_ok());
}

#[test]
fn a_split_is_logged_once_its_hive_is_on_the_disk_and_not_before() {
    for is_refused in [false, true] {
        let mut session = begun("2026-05-03");
        let split = Intent::Split { from: a1(), hive: Box::new(hive("A4")), left: None, answers: None };
        let done = session.carry_out(split.clone()).unwrap();
        assert!(entry(&session).actions.is_empty(), "not yet");
        let [Effect::SaveYards { yards, .. }] = done.effects.as_slice() else { panic!("{done:?}") };
        let outcome = if is_refused {
            Outcome::YardsRefused("the disk is full".to_owned())
        } else {
            saved(yards.clone())
        };
        session.take_in(outcome);
        let logged = entry(&session).actions == [Action::SplitInto { hive: HiveId::new("A4") }];
        assert_eq!((logged, session.folded().hive(&HiveId::new("A4")).is_some()), (!is_refused, !is_refused));
        let again = on_a_sound_disk(&mut session, split);
        assert_eq!(again.is_err(), !is_refused, "a name that is taken is refused");
    }
}

#[test]
fn undoing_a_split_takes_its_hive_away_and_doing_it_again_brings_it_back() {
    let (mut session, a4) = (begun("2026-05-03"), HiveId::new("A4"));
    let queen = Queen::of_status(QueenStatus::Cell, Some(day("2026-05-03")));
    let left = Some(queen.clone());
    let split = Intent::Split { from: a1(), hive: Box::new(hive("A4")), left, answers: None };
    on_a_sound_disk(&mut session, split).unwrap();
    assert_eq!(entry(&session).actions, [Action::SplitInto { hive: a4.clone() }, Action::SetQueen { queen }]);
    let done = on_a_sound_disk(&mut session, Intent::Undo).unwrap();
    assert_eq!(done.said.unwrap().text, "Undone: A1: split into A4 and queen: cell; A4 is taken away.");
    assert!(session.book().hive(&a4).is_none() && entry(&session).actions.is_empty());
    let done = on_a_sound_disk(&mut session, Intent::Redo).unwrap();
    assert!(done.said.unwrap().text.ends_with("A4 stands again."));
    assert!(session.book().hive(&a4).is_some() && entry(&session).actions.len() == 2);
    // What was written at the new hive would have no hive: it is taken back first.
    on_a_sound_disk(&mut session, Intent::Note { hive: a4.clone(), text: "weak".to_owned() }).unwrap();
    on_a_sound_disk(&mut session, Intent::Undo).unwrap();
    assert!(session.book().hive(&a4).is_some(), "the note alone was undone");
    on_a_sound_disk(&mut session, Intent::Undo).unwrap();
    assert!(session.book().hive(&a4).is_none());
}

#[test]
fn yards_that_would_drop_comments_wait_for_an_answer() {
    let mut session = session("2026-05-03");
    let asked = Intent::SetUnits(Units::Metric);
    for drop in [false, true] {
        session.carry_out(asked.clone()).unwrap();
        let done = session.take_in(Outcome::CommentsAtStake(2));
        assert_eq!(done.news, [News::CommentsAtStake(2)]);
        assert_eq!(session.book().units, Units::Us);
        let answer = if drop { Intent::DropComments } else { Intent::KeepComments };
        on_a_sound_disk(&mut session, answer).unwrap();
        assert_eq!(session.book().units == Units::Metric, drop);
    }
    assert!(on_a_sound_disk(&mut session, Intent::DropComments).is_err(), "nothing waits any more");
    on_a_sound_disk(&mut session, Intent::UndoSetUp).unwrap();
    assert_eq!(session.book().units, Units::Us);
}

#[test]
fn what_the_disk_refused_is_known_until_it_takes_it() {
    let mut session = begun("2026-05-03");
    let note = Intent::Note { hive: a1(), text: "calm".to_owned() };
    session.carry_out(note).unwrap();
    let trouble = Trouble { what: "full".to_owned(), mend: String::new(), kept_in: None, is_new: true };
    let refused =
        |visit| Outcome::Refused { trouble: trouble.clone(), visit, has_draft: true, asked_for: false };
    let is_new = |done: &Done| matches!(done.news.as_slice(), [News::NotOnDisk(t)] if t.is_new);
    assert!(is_new(&session.take_in(refused(None))));
    assert!(!is_new(&session.take_in(refused(None))), "told once");
    assert_eq!(session.unwritten(), Some("full"));
    assert_eq!(session.carry_out(Intent::TryAgain).unwrap().effects, [Effect::CatchUp]);
    let visit = Box::new(session.visit().unwrap().finished_visit());
    session.take_in(refused(Some(visit.clone())));
    assert_eq!(session.carry_out(Intent::TryAgain).unwrap().effects, [Effect::SaveVisit(visit)]);
    assert!(session.take_in(Outcome::Written).said.unwrap().text.contains("nothing was lost"));
    assert_eq!((session.unwritten(), session.trouble()), (None, None));
}

#[test]
fn of_two_corrections_one_is_kept_and_the_other_withdrawn() {
    let mut session = session("2026-05-03");
    let visit = |id: &str, replaces: Option<&str>| {
        let mut visit = Visit::begun(VisitId::new(id), YardId::new("Y"), day("2026-05-01"));
        visit.replaces = replaces.map(VisitId::new);
        visit.entries = vec![Entry { note: id.to_owned(), ..Entry::blank(a1()) }];
        visit
    };
    session.book.visits = vec![visit("a", None), visit("b", Some("a")), visit("c", Some("a"))];
    assert_eq!(session.conflict(), Some(day("2026-05-01")));
    on_a_sound_disk(&mut session, Intent::KeepOne(VisitId::new("b"))).unwrap();
    let standing: Vec<String> =
        session.book().standing_visits(session.today()).iter().map(|v| v.id.as_str().to_owned()).collect();
    assert_eq!((standing, session.conflict()), (vec!["b".to_owned()], None));
    for (id, part) in [("b", "only one of it"), ("a", "only one of it")] {
        let words =
            on_a_sound_disk(&mut session, Intent::KeepOne(VisitId::new(id))).unwrap_err().words().to_owned();
        assert!(words.contains(part), "{words}");
    }
    let words =
        on_a_sound_disk(&mut session, Intent::Withdraw(VisitId::new("a"))).unwrap_err().words().to_owned();
    assert!(words.contains("corrected already"), "{words}");
    // A correction stands on its day, and the book is as on that day but for what it corrects.
    on_a_sound_disk(&mut session, Intent::Correct(VisitId::new("b"))).unwrap();
    assert_eq!((session.today(), entry(&session).note.as_str()), (day("2026-05-01"), "b"));
    on_a_sound_disk(&mut session, Intent::PutAside).unwrap();
    assert_eq!((session.today(), session.visit().is_none()), (day("2026-05-03"), true));
}

#[test]
fn a_queue_is_pinned_and_moved_until_a_visit_begins() {
    let mut session = session("2026-05-03");
    let queue = |session: &Session| -> Vec<String> {
        session.yard_plan_at(0).unwrap().queue.iter().map(|s| s.hive.to_string()).collect()
    };
    let first = queue(&session);
    let last = HiveId::new(first.last().unwrap().as_str());
    on_a_sound_disk(&mut session, Intent::Pin(last.clone())).unwrap();
    assert_eq!(queue(&session)[0], last.to_string());
    on_a_sound_disk(&mut session, Intent::Move { hive: last.clone(), later: true }).unwrap();
    assert_eq!(queue(&session)[1], last.to_string());
    assert!(on_a_sound_disk(&mut session, Intent::Pin(HiveId::new("Z"))).is_err());
    let begin =
        Intent::Begin { yard: YardId::new("Y"), hive: None, weather: Weather::default(), blooms: Vec::new() };
    on_a_sound_disk(&mut session, begin).unwrap();
    assert!(on_a_sound_disk(&mut session, Intent::Move { hive: last, later: false }).is_err());
}

/// A disk may refuse a visit and have it all the same; read from there and saved once more, it is one visit.
#[test]
fn a_visit_that_was_in_its_place_all_the_same_stands_once() {
    let mut session = begun("2026-05-03");
    let visit = session.visit().unwrap().finished_visit();
    let before = session.book().visits.len();
    for _ in 0..2 {
        session.take_in(Outcome::VisitSaved(Box::new(visit.clone())));
        assert_eq!(session.book().visits.len(), before + 1);
        assert!(session.book().faults(session.last_day()).is_empty());
    }
}
