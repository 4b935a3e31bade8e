//! Honey moisture and grades.

use yardwalk::colony::honey::{Grade, grade, index_at_20, moisture};

use super::close;

/// Harmonised methods of the International Honey Commission, table of refractive index at 20 C, as reprinted by an
/// instrument maker: eleven rows.
#[test]
fn moisture_is_that_of_the_harmonised_table() {
    for (index, percent) in [
        (1.5044, 13.0),
        (1.5038, 13.2),
        (1.5018, 14.0),
        (1.4992, 15.0),
        (1.4966, 16.0),
        (1.4956, 16.4),
        (1.4890, 19.0),
        (1.4865, 20.0),
        (1.4840, 21.0),
        (1.4815, 22.0),
        (1.4805, 22.4),
    ] {
        close(moisture(index).unwrap(), percent, 0.05);
    }
}

/// From memory of the same table, not opened.
#[test]
fn moisture_rows_from_memory() {
    for (index, percent) in [(1.4940, 17.0), (1.4915, 18.0), (1.4900, 18.6)] {
        close(moisture(index).unwrap(), percent, 0.05);
    }
}

/// The correction, 0.00023 a degree, from memory of AOAC 969.38B and IHC 2009; the results worked from it: a reading of
/// 1.4900 at 25 C is 1.49115 at 20 C and 18.14 %, at 15 C 19.05 %.
#[test]
fn a_warm_reading_is_corrected_from_memory() {
    close(index_at_20(1.4900, 25.0), 1.491_15, 1e-9);
    close(moisture(index_at_20(1.4900, 25.0)).unwrap(), 18.14, 0.1);
    close(moisture(index_at_20(1.4900, 15.0)).unwrap(), 19.05, 0.1);
}

/// US Standards for Grades of Extracted Honey, 23 May 1985, 50 FR 15861: 18.6 and 20.0 %; EU Directive 2001/110/EC and
/// Codex STAN 12-1981: 20 %.
#[test]
fn grades_end_where_the_standards_say() {
    for (water, expected) in [(18.6, Grade::AOrB), (18.7, Grade::C), (20.0, Grade::C), (20.1, Grade::TooWet)]
    {
        assert_eq!(grade(water), expected, "{water}");
    }
}
