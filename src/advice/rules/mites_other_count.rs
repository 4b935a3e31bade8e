//! `mites.other-count`: a sugar roll or a board, where the keeper will not wash bees in alcohol.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Deed, Due, Urgency};
use crate::model::{Finding, MiteCount, Reply, days_after};

pub(super) const RULE: Rule = Rule {
    id: "mites.other-count",
    name: "another way to count",
    about: "The wash was put off or refused: a sugar roll or a board count instead; a board that is high asks for a wash",
    caution: Some("Powdered sugar is dust: not on wet bees, not into your lungs."),
    source: "a sugar roll finds fewer than alcohol, and boards mislead by colony size: Oliver, and COLOSS BEEBOOK on varroa, \
        read in part; ten a day in summer from memory",
    answer_holds: Holds::Days(21),
    speak,
    ..Rule::PLAIN
};

/// Days a refusal stands for.
const REFUSED: i64 = 45;
/// Days a count or a board stands for.
const FRESH: i64 = 30;
/// Mites a day on the board from which a colony is counted or treated (from memory; guides run from 8 to 16).
const BOARD: u16 = 10;

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    let today = s.today();
    let fresh = |on: chrono::NaiveDate| (0..FRESH).contains(&(today - on).num_days());
    let counted = s.hive.last_wash().filter(|w: &&MiteCount| fresh(w.on));
    let board = s.hive.seen.board.filter(|b| fresh(b.on));
    if counted.is_some() || s.hive.course_on(today).is_some() {
        return None;
    }
    if let Some(board) = board {
        return (board.value.0 >= BOARD).then(|| {
            Prompt::new(
                RULE.id,
                Urgency::Must,
                Due::new(board.on, board.on, days_after(board.on, 7)),
                "Many mites on the board: count or treat",
                format!(
                    "{} a day on {}. From about {BOARD} a day in summer a colony is over the limit (from memory); a board does \
                     not know how many bees stand over it.",
                    board.value.0,
                    s.date(board.on)
                ),
            )
            .how(&["Wash or roll 300 bees to be sure; or treat on this alone, by the label and the weather."])
            .asks(&[Finding::Mites, Finding::WashBees, Finding::CountBy])
            .doing(&[Deed::LiftsFrames, Deed::Washes], 6.0)
        });
    }
    let answer = s.hive.answers.get(super::mites_wash::RULE.id)?;
    let refused = match answer.reply {
        Reply::NotNeeded | Reply::PutOff { .. } => (0..=REFUSED).contains(&(today - answer.on).num_days()),
        Reply::Done => false,
    };
    let season = s.day.calendar.frames_may_be_lifted(today);
    (refused && season && answer.on < today).then(|| {
        Prompt::new(
            RULE.id,
            Urgency::Should,
            Due::new(answer.on, days_after(answer.on, 7), days_after(answer.on, 21)),
            "Count mites another way: sugar or a board",
            "The wash was left out. Without any count, a colony full of mites looks fine for months.",
        )
        .how(&[
            "Sugar roll: half a cup of bees, two spoons of powdered sugar, roll a minute, wait two, shake out, count. Bees live.",
            "It finds fewer than alcohol: read it as at least that many.",
            "Board: greased, three days under the floor; type the mites a day.",
        ])
        .asks(&[Finding::Board, Finding::CountBy, Finding::Mites, Finding::WashBees])
        .doing(&[], 6.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::fold::Answered;
    use crate::model::testing::{day, hive, seen};
    use crate::model::{MitesADay, RuleId};

    #[test]
    fn a_refused_wash_is_followed_by_another_way_and_a_done_one_is_not() {
        for (reply, speaks) in [(Reply::NotNeeded, true), (Reply::Done, false)] {
            let mut state = hive(1);
            state.answers.insert(
                RuleId::new(crate::advice::rules::mites_wash::RULE.id),
                Answered { on: day("2026-05-03"), reply },
            );
            assert_eq!(Case::of(state.clone()).on("2026-05-10").speak(&RULE).is_some(), speaks);
            assert!(Case::of(state).on("2026-06-18").speak(&RULE).is_none(), "a month and a half is over");
        }
    }

    #[test]
    fn a_board_with_ten_a_day_asks_for_a_count() {
        for (mites, speaks) in [(9, false), (10, true)] {
            let mut state = hive(1);
            state.seen.board = seen("2026-07-03", MitesADay(mites));
            assert_eq!(Case::of(state).on("2026-07-03").speak(&RULE).is_some(), speaks, "{mites}");
        }
    }
}
