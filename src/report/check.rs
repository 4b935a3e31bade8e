//! The check's findings as text.

use std::fmt::Write as _;

use crate::model::{Book, Conflict, Fault, visible};
use crate::wording;

/// Every fault with its file and how to mend it, or a line that says all is well. `place` names a fault's file, `unread` is
/// how many files could not be read at all.
pub fn check_text(
    book: &Book,
    faults: &[Fault],
    conflicts: &[Conflict<'_>],
    unread: usize,
    place: impl Fn(&Fault) -> String,
) -> String {
    let hives: usize = book.yards.iter().map(|y| y.hives.len()).sum();
    let mut out = String::new();
    for fault in faults {
        let _ =
            writeln!(out, "{}: {}\n  to mend: {}", place(fault), visible(&fault.what), visible(&fault.mend));
    }
    for conflict in conflicts {
        let names: Vec<String> =
            conflict.versions.iter().map(|v| format!("`{}`", visible(v.id.as_str()))).collect();
        let of = visible(conflict.of.as_str());
        let _ = writeln!(
            out,
            "visit `{of}` has {} corrections, {}: the first named holds\n  to mend: in the program, v for the log, then \
             z on the one to keep; the other is withdrawn, its file stays",
            names.len(),
            names.join(" and "),
        );
    }
    let _ = writeln!(
        out,
        "{}, {}, {}: {}",
        wording::count(book.yards.len(), "yard"),
        wording::count(hives, "hive"),
        wording::count(book.visits.len(), "visit"),
        match faults.len() + conflicts.len() + unread {
            0 => "no fault found".to_owned(),
            found => wording::count(found, "fault"),
        }
    );
    out
}
