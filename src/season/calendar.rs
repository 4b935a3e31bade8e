//! The calendar of one yard in one year: every date as a window, in order, each explaining itself.

use chrono::NaiveDate;

use super::bloom::{BloomShift, turned};
use super::cause::Cause;
use super::phase::Phase;
use super::shift::{LAW_HOLDS, Shift};
use crate::model::{
    Bloom, DateId, DayOfYear, Flow, Hemisphere, OwnDate, Practice, REFERENCE, Reference, SeenBloom, Sense,
    Yard, days_after,
};

/// Two days and all between.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// First day.
    pub opens: NaiveDate,
    /// Last day.
    pub closes: NaiveDate,
}

impl Window {
    /// Whether a day lies in it.
    pub fn holds(&self, day: NaiveDate) -> bool {
        self.opens <= day && day <= self.closes
    }
}

/// One date of the year, with where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonDate {
    /// Which.
    pub id: DateId,
    /// When.
    pub window: Window,
    /// Where it comes from.
    pub cause: Cause,
}

/// Days from the end of the keeper's own flow within which the honey boxes come off, and entrances are narrowed (common
/// practice, no single source).
const BOXES_OFF_WITHIN: i64 = 14;
const NARROWED_WITHIN: i64 = 7;
/// Days that heavy feeding takes after it: some 4 gallons at a quart a day and their drying.
const FED_WITHIN: i64 = 28;

/// Days in the cluster from which damp is the danger of a winter (our choice).
const LONG_WINTER: i64 = 100;

/// The dates of one yard in one bee year.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// The bee year: see [`bee_year`].
    pub year: i32,
    /// On which side of the equator.
    pub side: Hemisphere,
    /// How far it stands from the reference.
    pub shift: Shift,
    /// How far this year's spring stands from the usual, if a bloom was noted.
    pub bloom: Option<BloomShift>,
    /// The dates, in the order of [`REFERENCE`].
    pub dates: Vec<SeasonDate>,
    /// The flows of nectar, in their order; none where no flow is known here.
    pub flows: Vec<Window>,
}

/// The bee year of a day: the calendar's in the north; from July to June in the south, named by its spring.
pub fn bee_year(day: NaiveDate, side: Hemisphere) -> i32 {
    super::bloom::year_of(day, side)
}

impl Calendar {
    /// The calendar of a yard in the bee year of a day, by the keeper's own dates and the blooms noted there.
    pub fn of(yard: &Yard, practice: &Practice, blooms: &[SeenBloom], day: NaiveDate) -> Self {
        let (side, shift) = (yard.hemisphere(), Shift::of(yard));
        let year = bee_year(day, side);
        let bloom = BloomShift::of(blooms, shift.spring, year, side);
        Self::made(Maker { shift, bloom, practice, year, side }, &yard.flows)
    }

    /// The northern calendar with a shift, nothing of a keeper in it.
    pub fn shifted(shift: Shift, year: i32) -> Self {
        let practice = Practice::default();
        Self::made(Maker { shift, bloom: None, practice: &practice, year, side: Hemisphere::North }, &[])
    }

    fn made(maker: Maker<'_>, flows: &[Flow]) -> Self {
        let mut dates: Vec<SeasonDate> = REFERENCE.iter().map(|r| maker.date(r)).collect();
        let mut known: Vec<Window> = flows.iter().map(|flow| maker.span(flow.opens, flow.closes)).collect();
        known.sort_by_key(|flow| flow.opens);
        // The longest flow is the main one.
        let main = known.iter().max_by_key(|flow| (flow.closes - flow.opens).num_days()).copied();
        if let (Some(window), Some(date)) = (main, dates.iter_mut().find(|d| d.id == DateId::MainFlow)) {
            date.window = window;
            date.cause = Cause::Flows;
        }
        // Where the keeper knows the flow, neither boxes nor entrances are done before it is over.
        if let Some(main) = main {
            let after = |date: &mut SeasonDate, days: i64| {
                let Window { opens, closes } = date.window;
                let over = days_after(main.closes, 1);
                date.window = Window { opens: opens.max(over), closes: closes.max(days_after(over, days)) };
            };
            let is_dated = |d: &&mut SeasonDate| matches!(d.cause, Cause::Reference { .. });
            for date in dates.iter_mut().filter(is_dated) {
                match date.id {
                    DateId::HoneyBoxesOff => after(date, BOXES_OFF_WITHIN),
                    DateId::EntrancesNarrowed => after(date, NARROWED_WITHIN),
                    DateId::FeedingDone => after(date, FED_WITHIN),
                    _ => {}
                }
            }
        }
        // The flow is over when the honey boxes must be off, where autumn comes that early.
        let off = dates.iter().find(|d| d.id == DateId::HoneyBoxesOff).map(|d| d.window.closes);
        let flow = dates.iter_mut().find(|d| d.id == DateId::MainFlow);
        if let (Some(flow), Some(off)) = (flow.filter(|d| matches!(d.cause, Cause::Reference { .. })), off) {
            flow.window.closes = flow.window.closes.min(off).max(flow.window.opens);
        }
        let law = maker.shift.spring.abs() <= LAW_HOLDS && !maker.shift.is_guess();
        if known.is_empty() && (law || maker.practice.date(DateId::MainFlow).is_some()) {
            known.extend(dates.iter().find(|d| d.id == DateId::MainFlow).map(|d| d.window));
        }
        Self {
            year: maker.year,
            side: maker.side,
            shift: maker.shift,
            bloom: maker.bloom,
            dates,
            flows: known,
        }
    }

    /// The window of a date.
    pub fn window(&self, id: DateId) -> Window {
        // Every id has its date, for each is in the reference; the whole bee year stands in otherwise.
        self.dates.iter().find(|d| d.id == id).map_or_else(|| self.whole_year(), |found| found.window)
    }

    /// First day of a date.
    pub fn opens(&self, id: DateId) -> NaiveDate {
        self.window(id).opens
    }

    /// Last day of a date.
    pub fn closes(&self, id: DateId) -> NaiveDate {
        self.window(id).closes
    }

    /// The bee year itself.
    pub fn whole_year(&self) -> Window {
        let day = |month, day| turned(DayOfYear::known(month, day), self.year, self.side);
        Window { opens: day(1, 1), closes: day(12, 31) }
    }

    /// Whether a day belongs to this bee year.
    pub fn holds(&self, day: NaiveDate) -> bool {
        bee_year(day, self.side) == self.year
    }

    /// A date's window with all the days in which it may fall: the window itself where the dates can be relied on.
    pub fn at_widest(&self, id: DateId) -> Window {
        let Window { opens, closes } = self.window(id);
        Window { opens: days_after(opens, -self.shift.doubt), closes: days_after(closes, self.shift.doubt) }
    }

    /// Whether the bees are sure to be in the winter cluster, before this year's spring or after its autumn.
    pub fn is_winter(&self, day: NaiveDate) -> bool {
        let doubt = self.shift.doubt;
        day < days_after(self.opens(DateId::LateWinterHeft), -doubt)
            || day >= days_after(self.opens(DateId::Cluster), doubt)
    }

    /// Days the bees are in the cluster.
    pub fn days_of_cluster(&self) -> i64 {
        let cluster = self.window(DateId::Cluster);
        (cluster.closes - cluster.opens).num_days()
    }

    /// Whether the winter is long enough for damp to be its danger.
    pub fn has_long_winter(&self) -> bool {
        self.days_of_cluster() >= LONG_WINTER
    }

    /// Whether frames may be lifted by the date alone.
    pub fn frames_may_be_lifted(&self, day: NaiveDate) -> bool {
        self.at_widest(DateId::FramesMayBeLifted).holds(day)
    }

    /// What the year is at.
    pub fn phase(&self, day: NaiveDate) -> Phase {
        if self.is_winter(day) {
            Phase::Winter
        } else if day < self.opens(DateId::FramesMayBeLifted) {
            Phase::LateWinter
        } else if day < self.opens(DateId::MainFlow) {
            Phase::Swarming
        } else if day <= self.closes(DateId::MainFlow) {
            Phase::MainFlow
        } else if day < self.opens(DateId::FallFlow) {
            Phase::LateSummer
        } else if day <= self.closes(DateId::FeedingDone) {
            Phase::Fall
        } else {
            Phase::WrapUp
        }
    }
}

/// What a calendar is made from.
#[derive(Debug, Clone)]
struct Maker<'a> {
    shift: Shift,
    bloom: Option<BloomShift>,
    practice: &'a Practice,
    year: i32,
    side: Hemisphere,
}

impl Maker<'_> {
    fn date(&self, reference: &Reference) -> SeasonDate {
        let own = self.practice.date(reference.id);
        let into_next = i32::from(reference.closes < reference.opens);
        let end = |base: DayOfYear, sense, year, own: Option<DayOfYear>, is_flow| {
            let base = turned(base, year, self.side);
            own.map_or_else(|| days_after(base, self.moved(base, sense, is_flow)), |own| self.in_year(own))
        };
        // Of the midsummer dates only the opening of the flow goes with this year's bloom.
        let is_flow = reference.id == DateId::MainFlow;
        let (own_opens, own_closes) = own.map_or((None, None), |o| (o.opens, o.closes));
        let opens = end(reference.opens, reference.opens_sense, self.year, own_opens, is_flow);
        let closes = end(reference.closes, reference.closes_sense, self.year + into_next, own_closes, false);
        // The keeper's own end is the first after its beginning, over the turn of the year where need be.
        let turns = own_closes.is_some() && closes < opens && (own_opens.is_some() || into_next == 1);
        let closes = own_closes.filter(|_| turns).map_or(closes, |own| first_from(own, opens));
        // A deadline of the keeper's own before the usual opening opens on the day itself.
        let opens = if own_closes.is_some() && own_opens.is_none() { opens.min(closes) } else { opens };
        SeasonDate {
            id: reference.id,
            // A season never closes before it opens, however far the place.
            window: Window { opens, closes: closes.max(opens) },
            cause: self.cause(reference, own),
        }
    }

    /// A day of the year in this bee year.
    fn in_year(&self, day: DayOfYear) -> NaiveDate {
        first_from(day, turned(DayOfYear::known(1, 1), self.year, self.side))
    }

    /// From a day of this bee year to the first of another after it.
    fn span(&self, opens: DayOfYear, closes: DayOfYear) -> Window {
        let opens = self.in_year(opens);
        Window { opens, closes: first_from(closes, opens) }
    }

    /// Days by which an end moves: by the place, and in spring by this year's bloom.
    fn moved(&self, base: NaiveDate, sense: Sense, is_flow: bool) -> i64 {
        let usual = days(&self.shift, sense);
        let spring = sense == Sense::Spring || is_flow;
        let bloom = self.bloom.filter(|_| spring);
        // The main bloom is the main flow: it opens on the very day.
        match bloom {
            Some(seen) if is_flow && seen.bloom == Bloom::MainFlow => seen.days,
            Some(seen) => usual + seen.at(days_after(base, usual)),
            None => usual,
        }
    }

    /// Where a date comes from.
    fn cause(&self, reference: &Reference, own: Option<&OwnDate>) -> Cause {
        if let Some(own) = own {
            return Cause::Own { opens: own.opens, closes: own.closes };
        }
        let base = turned(reference.opens, self.year, self.side);
        let usual = days(&self.shift, reference.opens_sense);
        let moved = self.moved(base, reference.opens_sense, reference.id == DateId::MainFlow) - usual;
        Cause::Reference {
            base,
            usual,
            basis: self.shift.basis,
            stays: reference.opens_sense == Sense::Midsummer,
            bloom: self.bloom.filter(|_| moved != 0).map(|bloom| (moved, bloom)),
        }
    }
}

/// The first date of a day of the year on or after another date.
fn first_from(day: DayOfYear, from: NaiveDate) -> NaiveDate {
    use chrono::Datelike;
    let in_year = |step: i32| day.in_year(from.year() + step).filter(|date| *date >= from);
    in_year(0).or_else(|| in_year(1)).unwrap_or(from)
}

fn days(shift: &Shift, sense: Sense) -> i64 {
    match sense {
        Sense::Spring => shift.spring,
        Sense::Midsummer => 0,
        Sense::Autumn => -shift.autumn,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Units;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// The reference dates: common practice, no single source.
    #[test]
    fn without_a_shift_the_dates_are_the_reference() {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        for (id, opens, closes) in [
            (DateId::LateWinterHeft, "2026-03-15", "2026-03-31"),
            (DateId::SwarmSeason, "2026-04-25", "2026-06-25"),
            (DateId::MitesInCheck, "2026-07-15", "2026-08-15"),
            (DateId::FeedingDone, "2026-09-01", "2026-09-30"),
            (DateId::Cluster, "2026-11-10", "2027-03-15"),
        ] {
            assert_eq!(calendar.window(id), Window { opens: day(opens), closes: day(closes) }, "{id:?}");
        }
    }

    #[test]
    fn spring_comes_later_and_autumn_earlier_by_the_shift() {
        let shift = Shift { spring: 12, autumn: 8, ..Shift::none() };
        let calendar = Calendar::shifted(shift, 2026);
        assert_eq!(calendar.opens(DateId::FramesMayBeLifted), day("2026-05-07"));
        assert_eq!(calendar.closes(DateId::FeedingDone), day("2026-09-22"));
        assert_eq!(calendar.window(DateId::MainFlow).opens, day("2026-06-10"));
    }

    #[test]
    fn a_season_never_closes_before_it_opens() {
        for spring in (-200..=200).step_by(7) {
            for autumn in (-200..=200).step_by(7) {
                let calendar = Calendar::shifted(Shift { spring, autumn, ..Shift::none() }, 2026);
                assert!(calendar.dates.iter().all(|d| d.window.opens <= d.window.closes));
            }
        }
    }

    #[test]
    fn every_day_of_the_year_has_its_phase_in_order() {
        let calendar = Calendar::shifted(Shift::none(), 2026);
        let mut words = Vec::new();
        for day in day("2026-01-01").iter_days().take(365) {
            let word = calendar.phase(day).word();
            if words.last() != Some(&word) {
                words.push(word);
            }
        }
        assert_eq!(
            words,
            [
                "winter cluster",
                "late winter",
                "swarm season",
                "main flow",
                "late summer",
                "fall flow and feeding",
                "wrap-up for winter",
                "winter cluster"
            ]
        );
    }

    fn yard(latitude: Option<f64>, freezes: Option<(&str, &str)>) -> Yard {
        Yard {
            name: crate::model::YardId::new("Y"),
            formerly: Vec::new(),
            place: latitude.map(|latitude| crate::model::Place {
                latitude,
                longitude: -86.0,
                elevation: crate::model::Elevation::from_feet(650.0),
            }),
            freezes: freezes.map(|(last, first)| crate::model::FreezeDates {
                last_spring: last.parse().unwrap(),
                first_autumn: first.parse().unwrap(),
            }),
            flows: Vec::new(),
            note: String::new(),
            hives: Vec::new(),
        }
    }

    fn of(yard: &Yard, on: &str) -> Calendar {
        Calendar::of(yard, &Practice::default(), &[], day(on))
    }

    #[test]
    fn south_of_the_equator_the_year_turns_by_half_and_runs_from_july() {
        let yard = yard(Some(-43.0), None);
        let calendar = of(&yard, "2027-02-01");
        assert_eq!(calendar.year, 2026);
        for (id, opens, closes) in [
            (DateId::LateWinterHeft, "2026-09-15", "2026-09-30"),
            (DateId::MainFlow, "2026-12-10", "2027-01-31"),
            (DateId::MitesInCheck, "2027-01-15", "2027-02-15"),
            (DateId::Cluster, "2027-05-10", "2027-09-15"),
        ] {
            assert_eq!(calendar.window(id), Window { opens: day(opens), closes: day(closes) }, "{id:?}");
        }
        assert_eq!(calendar.phase(day("2026-12-24")), Phase::MainFlow);
        assert_eq!(of(&yard, "2026-07-15").phase(day("2026-07-15")), Phase::Winter);
        assert_eq!(of(&yard, "2026-06-15").phase(day("2026-06-15")), Phase::Winter);
    }

    #[test]
    fn own_dates_hold_as_written_at_every_yard() {
        let mut practice = Practice::default();
        let own = |closes: &str| OwnDate {
            date: DateId::HoneyBoxesOff,
            opens: None,
            closes: Some(closes.parse().unwrap()),
        };
        practice.set_date(own("08-20")).unwrap();
        let north = Calendar::of(&yard(Some(46.0), None), &practice, &[], day("2026-08-01"));
        assert_eq!(north.window(DateId::HoneyBoxesOff).closes, day("2026-08-20"));
        assert_eq!(
            north.window(DateId::HoneyBoxesOff).opens,
            day("2026-08-03"),
            "12 days earlier by the place"
        );
        let from = &north.dates.iter().find(|d| d.id == DateId::HoneyBoxesOff).unwrap().from(Units::Metric);
        assert!(from.starts_with("your own date: closes 20 Aug"), "{from}");
        practice.set_date(own("08-05")).unwrap();
        let early = Calendar::of(&yard(Some(43.0), None), &practice, &[], day("2026-08-01"));
        let window = Window { opens: day("2026-08-05"), closes: day("2026-08-05") };
        assert_eq!(early.window(DateId::HoneyBoxesOff), window);
        practice.set_date(own("02-20")).unwrap();
        let south = Calendar::of(&yard(Some(-43.0), None), &practice, &[], day("2027-02-01"));
        assert_eq!(south.window(DateId::HoneyBoxesOff).closes, day("2027-02-20"));
    }

    #[test]
    fn a_bloom_moves_this_years_spring_and_says_so() {
        let bloom = |on: &str, bloom| SeenBloom { on: day(on), bloom };
        let yard = yard(Some(43.0), None);
        let with = |seen: &[SeenBloom]| Calendar::of(&yard, &Practice::default(), seen, day("2026-06-01"));
        let early = with(&[bloom("2026-04-15", Bloom::Dandelion)]);
        assert_eq!(early.opens(DateId::FramesMayBeLifted), day("2026-04-15"));
        assert_eq!(early.closes(DateId::SwarmSeason), day("2026-06-25"));
        assert_eq!(early.opens(DateId::MainFlow), day("2026-06-08"), "10 days fade to 2 by 10 June");
        assert_eq!(early.opens(DateId::MitesInCheck), day("2026-07-15"));
        let from =
            &early.dates.iter().find(|d| d.id == DateId::FramesMayBeLifted).unwrap().from(Units::Metric);
        assert!(from.contains("10 days earlier this year (dandelion on 15 Apr, 10 days early)"), "{from}");
        let flow = with(&[bloom("2026-05-31", Bloom::MainFlow)]);
        assert_eq!(
            flow.window(DateId::MainFlow),
            Window { opens: day("2026-05-31"), closes: day("2026-07-31") }
        );
    }

    proptest::proptest! {
        #[test]
        fn windows_are_in_order_for_any_place_day_and_bloom(
            latitude in -90.0f64..=90.0, longitude in -180.0f64..=180.0, feet in -1000.0f64..19_000.0,
            at in 0i64..3650, bloom_at in 0i64..3650, own in 0u32..14, off in -45i64..=45
        ) {
            let today = days_after(day("2020-01-01"), at);
            let mut practice = Practice::default();
            let date = DateId::ALL[own as usize];
            let closes = DayOfYear::of(days_after(date.reference().closes.in_year(2025).unwrap(), off));
            let _ = practice.set_date(OwnDate { date, opens: None, closes: Some(closes) });
            let blooms = [SeenBloom { on: days_after(day("2020-01-01"), bloom_at), bloom: Bloom::Dandelion }];
            let elevation = crate::model::Elevation::from_feet(feet);
            let yard = Yard { place: Some(crate::model::Place { latitude, longitude, elevation }), ..yard(None, None) };
            let calendar = Calendar::of(&yard, &practice, &blooms, today);
            proptest::prop_assert!(calendar.holds(today));
            for d in &calendar.dates {
                proptest::prop_assert!(d.window.opens <= d.window.closes, "{:?}", d);
                proptest::prop_assert!(calendar.holds(d.window.opens), "{:?}", d);
            }
            // A flow or an end of the keeper's own holds as written.
            let own_ends = [DateId::MainFlow, DateId::HoneyBoxesOff].contains(&date);
            proptest::prop_assert!(own_ends || calendar.closes(DateId::MainFlow) <= calendar.closes(DateId::HoneyBoxesOff).max(calendar.opens(DateId::MainFlow)));
            proptest::prop_assert_eq!(&Calendar::of(&yard, &practice, &blooms, today), &calendar);
        }
    }
}
