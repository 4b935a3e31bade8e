//! What a change of a visit was, in words: to say what was undone, and where.

use super::open_visit::Change;
use crate::advice::rule_name;
use crate::model::{Entry, Finding, Units};
use crate::wording;

/// A change in words, with the hive it was at: `A1: Eggs yes`.
pub(super) fn words(change: &Change, units: Units) -> String {
    match change {
        Change::Entry { before, after } => differs(after, before, units),
        Change::Weather { .. } => "weather and bloom".to_owned(),
    }
}

/// What one entry says beyond another, in words, and at which hive: the change that is undone or done again.
fn differs(after: &Entry, before: &Entry, units: Units) -> String {
    let words = |entry: &Entry| -> Vec<String> {
        let findings = Finding::ALL.iter().filter_map(|f| {
            let value = entry.findings.get(*f)?;
            Some(format!("{} {}", f.label(), value.words(f.kind(), units)))
        });
        let actions = entry.actions.iter().map(|a| a.words(units));
        let answers = entry.answers.iter().map(|a| format!("the answer to {}", rule_name(&a.rule)));
        let note = (!entry.note.is_empty()).then(|| "the note".to_owned());
        findings.chain(actions).chain(answers).chain(note).collect()
    };
    let (now, then) = (words(after), words(before));
    // More of the same may have been done twice: counted, not only looked for.
    let beyond = |these: &[String], those: &[String]| -> Vec<String> {
        let mut left = those.to_vec();
        let is_new = |word: &&String| match left.iter().position(|w| w == *word) {
            Some(at) => {
                left.remove(at);
                false
            }
            None => true,
        };
        these.iter().filter(is_new).cloned().collect()
    };
    let changed = match beyond(&now, &then) {
        new if new.is_empty() => beyond(&then, &now),
        new => new,
    };
    format!("{}: {}", after.hive, wording::list(&changed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Action, Findings, HiveId};

    #[test]
    fn a_change_says_what_it_put_in_or_took_out_and_where() {
        let blank = Entry::blank(HiveId::new("A1"));
        let eggs = Entry { findings: Findings { eggs: Some(true), ..Findings::default() }, ..blank.clone() };
        let twice = |n| Entry { actions: vec![Action::CallInspector; n], ..eggs.clone() };
        let words = |before: &Entry, after: &Entry| {
            words(&Change::Entry { before: before.clone(), after: after.clone() }, Units::Us)
        };
        assert_eq!(words(&blank, &eggs), "A1: Eggs yes");
        assert_eq!(words(&eggs, &blank), "A1: Eggs yes");
        // The second of two alike is a change too.
        assert_eq!(words(&twice(1), &twice(2)), "A1: called the inspector");
        assert_eq!(words(&twice(2), &Entry { note: "x".to_owned(), ..twice(2) }), "A1: the note");
    }
}
