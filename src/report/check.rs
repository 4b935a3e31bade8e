//! The check's findings as text.

use std::fmt::Write as _;

use crate::model::{Book, Conflict, Fault, visible};

/// Every fault with its file and how to mend it, or a line that says all is well. `place` names a fault's file.
pub fn check_text(
    book: &Book,
    faults: &[Fault],
    conflicts: &[Conflict<'_>],
    place: impl Fn(&Fault) -> String,
) -> String {
    let hives: usize = book.yards.iter().map(|y| y.hives.len()).sum();
    let mut out = String::new();
    for fault in faults {
        let _ = writeln!(out, "{}: {}\n  to mend: {}", place(fault), fault.what, fault.mend);
    }
    for conflict in conflicts {
        let names: Vec<String> =
            conflict.versions.iter().map(|v| format!("`{}`", visible(v.id.as_str()))).collect();
        let of = visible(conflict.of.as_str());
        let _ = writeln!(
            out,
            "visit `{of}` has {} corrections, {}: the first named holds\n  to mend: in the program, o for the log, then \
             k on the one to keep; the other is withdrawn, its file stays",
            names.len(),
            names.join(" and "),
        );
    }
    let _ = writeln!(
        out,
        "{} yards, {hives} hives, {} visits: {}",
        book.yards.len(),
        book.visits.len(),
        match faults.len() {
            0 => "no fault found".to_owned(),
            1 => "1 fault".to_owned(),
            more => format!("{more} faults"),
        }
    );
    out
}
