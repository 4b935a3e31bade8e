//! Queen marks by the year.

use yardwalk::model::Mark;

/// Six associations' pages agree: 2011 white, 2020 blue, 2021 white; the later years by the same five-year round.
#[test]
fn the_mark_of_a_year_is_the_international_one() {
    for (year, mark) in [
        (2011, Mark::White),
        (2020, Mark::Blue),
        (2021, Mark::White),
        (2026, Mark::White),
        (2027, Mark::Yellow),
        (2028, Mark::Red),
        (2029, Mark::Green),
        (2030, Mark::Blue),
    ] {
        assert_eq!(Mark::of_year(year), mark, "{year}");
    }
}
