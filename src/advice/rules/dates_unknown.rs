//! `dates.unknown`: where the law of dates is no guide, a yard's own freeze dates and flow are asked for.

use super::{Holds, Prompt, Rule, Situation};
use crate::advice::prompt::{Due, Offer, Urgency};

pub(super) const RULE: Rule = Rule {
    id: "dates.unknown",
    name: "dates not known",
    about: "A yard far from where the law of dates was drawn, or with no flow known: asked for once",
    caution: None,
    source: "A. D. Hopkins, The Bioclimatic Law, 1918, for eastern North America; three weeks as its reach is our choice",
    answer_holds: Holds::Days(180),
    speak,
    ..Rule::PLAIN
};

fn speak(s: &Situation<'_>) -> Option<Prompt> {
    // Once for the yard: at its first stand.
    if s.day.stands.first().is_some_and(|first| first.id != s.hive.id) {
        return None;
    }
    let calendar = s.day.calendar;
    let no_dates = calendar.shift.is_guess();
    if !no_dates && calendar.knows_its_flow() {
        return None;
    }
    let (title, why) = if no_dates {
        let asks = calendar.shift.asks.clone().unwrap_or_default();
        (
            "The dates of this yard are not known here",
            format!("{asks} Until then the bees and the thermometer decide."),
        )
    } else {
        (
            "When nectar flows at this yard is not known",
            "Its freeze dates are there, but the flow of the reference is too far off to be a guide."
                .to_owned(),
        )
    };
    let year = calendar.whole_year();
    Some(
        Prompt::new(RULE.id, Urgency::Should, Due::new(year.opens, year.opens, year.closes), title, why)
            .how(&[
                "In the roster, on the yard: its average last freeze of spring and first freeze of fall.",
                "There too the first and last day of each flow; in the practice any date of your own.",
            ])
            .offer(Offer::noted("noted: will be given in the roster")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advice::rules::testing::Case;
    use crate::model::testing::hive;

    #[test]
    fn it_speaks_at_the_first_stand_of_a_yard_whose_dates_are_a_guess() {
        let first = hive(1);
        let mut second = hive(1);
        second.id = crate::model::HiveId::new("T2");
        let told = |case: Case| case.speak(&RULE).map(|p| p.title);
        assert!(told(Case::of(first.clone()).guessed()).is_some_and(|t| t.contains("not known here")));
        assert_eq!(told(Case::of(second).beside(vec![first.clone()]).guessed()), None);
        assert_eq!(told(Case::of(first)), None);
    }
}
