//! Two set-ups of one book joined: yards, hives and practice as they were changed in two places at once, taken together field by
//! field against the version both began from.

use std::collections::BTreeSet;

use super::book::Book;
use super::hive::Hive;
use super::names::visible;
use super::practice::Practice;
use super::stack::stack_words;
use super::trios::{Likes, Named, Trio, in_order};
use super::units::Units;
use super::yard::Yard;

/// One of the two set-ups that are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// The first.
    One,
    /// The second: it holds where the two differ, until the keeper has chosen.
    Other,
}

/// A place at which the two were changed differently, for the keeper to choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Where: `the note of hive A1`.
    pub at: String,
    /// What the first has there, in words.
    pub one: String,
    /// What the second has there, in words.
    pub other: String,
    /// The one that holds for now.
    pub holds: Side,
}

impl Difference {
    /// Where it is, and what the two have there.
    pub fn sentence(&self) -> String {
        let (holds, else_) = match self.holds {
            Side::One => (&self.one, &self.other),
            Side::Other => (&self.other, &self.one),
        };
        visible(&format!(
            "{} was set up differently in two places: {holds} holds for now, the other is {else_}",
            self.at
        ))
    }

    /// What one of the two has, in words.
    pub fn words(&self, side: Side) -> &str {
        match side {
            Side::One => &self.one,
            Side::Other => &self.other,
        }
    }
}

/// What came of joining two set-ups.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined {
    /// The book, without visits.
    pub book: Book,
    /// Where the two differ, in an order that depends on them alone.
    pub differences: Vec<Difference>,
}

/// Joins two set-ups that were made of the same one; without it, whatever differs is a difference.
///
/// What was changed in one alone is taken from it. `chosen` are the sides chosen for the differences, in their order; those
/// that are not chosen yet are held by the second, or by the one that keeps what the other took out. Two that cannot stand
/// in one book, as when two hives were given the same name, differ as a whole.
pub fn joined(base: Option<&Book>, one: &Book, other: &Book, chosen: &[Side]) -> Joined {
    let mut joining = Joining { units: other.units, chosen, differences: Vec::new() };
    let book = joining.book(base, one, other);
    let faults = book.faults(chrono::NaiveDate::MAX);
    match faults.into_iter().next() {
        None => Joined { book, differences: joining.differences },
        Some(fault) => {
            let mut joining = Joining { differences: Vec::new(), ..joining };
            let at = format!("the whole set-up (joined, {})", fault.what);
            let whole = joining.differs(&at, contents(one), contents(other), Side::Other);
            let book = if whole == Side::One { one.clone() } else { other.clone() };
            Joined { book: Book { visits: Vec::new(), ..book }, differences: joining.differences }
        }
    }
}

/// What a set-up holds, in a few words.
fn contents(book: &Book) -> String {
    let yards: Vec<String> = book
        .yards
        .iter()
        .map(|yard| {
            let hives: Vec<&str> = yard.hives.iter().map(|hive| hive.id.as_str()).collect();
            format!("{} ({})", yard.name, hives.join(", "))
        })
        .collect();
    if yards.is_empty() { "no yard".to_owned() } else { yards.join(", ") }
}

fn plain<T: ToString>(value: &T) -> String {
    value.to_string()
}

fn or_none<T>(value: Option<&T>, words: impl Fn(&T) -> String) -> String {
    value.map_or_else(|| "none".to_owned(), words)
}

fn quoted(text: &String) -> String {
    if text.is_empty() { "none".to_owned() } else { format!("\"{text}\"") }
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "as every value is handed to its words")]
fn yes(is_so: &bool) -> String {
    if *is_so { "yes".to_owned() } else { "no".to_owned() }
}

struct Joining<'a> {
    units: Units,
    chosen: &'a [Side],
    differences: Vec<Difference>,
}

/// Whether something is in the joined book.
enum Presence<T> {
    /// Both have it: what it is there is joined.
    InBoth,
    /// One alone has it, and it stays.
    As(T),
    /// It is not in it.
    Gone,
}

/// A hive that stays: its place among all, that of its yard, and what it is.
struct Kept {
    which: usize,
    yard: usize,
    hive: Hive,
}

/// A value in the common version, where there is one, and in the two that came of it.
type Three<'a, T> = (Option<&'a T>, &'a T, &'a T);

impl Joining<'_> {
    /// Notes a difference, and says which side holds.
    fn differs(&mut self, at: &str, one: String, other: String, unless_chosen: Side) -> Side {
        let holds = self.chosen.get(self.differences.len()).copied().unwrap_or(unless_chosen);
        self.differences.push(Difference { at: at.to_owned(), one, other, holds });
        holds
    }

    /// Which of two values holds.
    fn side<T: PartialEq>(
        &mut self,
        at: &str,
        (base, one, other): Three<'_, T>,
        words: impl Fn(&T) -> String,
    ) -> Side {
        if one == other || base == Some(other) {
            Side::One
        } else if base == Some(one) {
            Side::Other
        } else {
            self.differs(at, words(one), words(other), Side::Other)
        }
    }

    fn pick<T: PartialEq + Clone>(
        &mut self,
        at: &str,
        three: Three<'_, T>,
        words: impl Fn(&T) -> String,
    ) -> T {
        let (_, one, other) = three;
        match self.side(at, three, words) {
            Side::One => one.clone(),
            Side::Other => other.clone(),
        }
    }

    fn book(&mut self, base: Option<&Book>, one: &Book, other: &Book) -> Book {
        let Book { format: _, version: _, id, keeper, units, demo_on, practice, yards, visits: _ } = one;
        let units = self.pick("the units", (base.map(|b| &b.units), units, &other.units), |units| {
            match units {
                Units::Us => "US",
                Units::Metric => "metric",
            }
            .to_owned()
        });
        let keeper = self.pick("the keeper's name", (base.map(|b| &b.keeper), keeper, &other.keeper), quoted);
        let demo = (base.map(|b| &b.demo_on), demo_on, &other.demo_on);
        let demo_on = self.pick("the day of the demonstration", demo, |on| or_none(on.as_ref(), plain));
        let practice = self.practice(base.map(|b| &b.practice), practice, &other.practice);
        let known = base.map_or(&[] as &[Yard], |b| &b.yards);
        let yards = self.yards(known, yards, &other.yards);
        // It is given once, before there is a second laptop.
        let id = id.clone().or_else(|| other.id.clone());
        Book { id, keeper, units, demo_on, practice, yards, ..Book::empty("", units) }
    }

    fn practice(&mut self, base: Option<&Practice>, one: &Practice, other: &Practice) -> Practice {
        let mut joined = one.clone();
        let labels = |p: &Vec<_>| format!("those of {} labels", p.len());
        joined.labels =
            self.pick("what the labels say", (base.map(|b| &b.labels), &one.labels, &other.labels), labels);
        let dates = |p: &Vec<_>| format!("{} of them", p.len());
        joined.dates = self.pick("your own dates", (base.map(|b| &b.dates), &one.dates, &other.dates), dates);
        for threshold in Practice::THRESHOLDS {
            let base = base.map(|b| b.own(threshold.field));
            let (one, other) = (one.own(threshold.field), other.own(threshold.field));
            let units = self.units;
            let at = format!("the threshold '{}'", threshold.words);
            let own = self.pick(&at, (base.as_ref(), &one, &other), |own| {
                own.map_or_else(|| "the default".to_owned(), |own| threshold.words(own, units))
            });
            joined.set(threshold.field, own);
        }
        joined
    }

    fn yards(&mut self, base: &[Yard], one: &[Yard], other: &[Yard]) -> Vec<Yard> {
        let likes = Likes::of([base, one, other]);
        let hives = self.hives(&likes);
        let mut joined: Vec<(usize, Yard)> = Vec::new();
        for (which, trio) in likes.yards.iter().enumerate() {
            let here: Vec<usize> =
                hives.iter().filter(|kept| kept.yard == which).map(|kept| kept.which).collect();
            let yard = match (trio.one, trio.other) {
                (Some(one), Some(other)) => Some(self.yard(trio.base, one, other)),
                (sole, None) | (None, sole) if !here.is_empty() => sole.cloned(),
                _ => match self.presence(trio, "yard", |yard| Yard { hives: Vec::new(), ..yard.clone() }) {
                    Presence::As(yard) => Some(yard),
                    Presence::InBoth | Presence::Gone => None,
                },
            };
            let Some(mut yard) = yard else { continue };
            let orders = [0, 1, 2].map(|version| likes.order_of_hives(version, trio));
            let name = |at: usize| likes.hives.get(at).map(Trio::name).unwrap_or_default();
            let order =
                self.order(&format!("the order of the stands of {}", yard.name), &orders, &here, name);
            let hive = |at: usize| hives.iter().find(|kept| kept.which == at).map(|kept| kept.hive.clone());
            yard.hives = order.into_iter().filter_map(hive).collect();
            joined.push((which, yard));
        }
        let names: BTreeSet<_> = joined.iter().map(|(_, yard)| yard.name.clone()).collect();
        for (_, yard) in &mut joined {
            yard.formerly.retain(|name| !names.contains(name));
        }
        let orders = [0, 1, 2].map(|version| likes.order_of_yards(version));
        let here: Vec<usize> = joined.iter().map(|(which, _)| *which).collect();
        let name = |at: usize| likes.yards.get(at).map(Trio::name).unwrap_or_default();
        let order = self.order("the order of the yards", &orders, &here, name);
        let yard = |at: usize| joined.iter().find(|(which, _)| *which == at).map(|(_, yard)| yard.clone());
        order.into_iter().filter_map(yard).collect()
    }

    /// The hives that stay, each in its yard.
    fn hives(&mut self, likes: &Likes<'_>) -> Vec<Kept> {
        let mut all: Vec<Kept> = Vec::new();
        for (which, trio) in likes.hives.iter().enumerate() {
            let hive = match (self.presence(trio, "hive", Hive::clone), trio.one, trio.other) {
                (Presence::InBoth, Some(one), Some(other)) => self.hive(trio.base, one, other),
                (Presence::As(hive), _, _) => hive,
                _ => continue,
            };
            let [base, one, other] = [0, 1, 2].map(|version| likes.yard_of(version, trio));
            let yard = match (one, other) {
                (Some(one), Some(other)) => {
                    let name = |at: &usize| likes.yards.get(*at).map(Trio::name).unwrap_or_default();
                    self.pick(&format!("the yard of hive {}", hive.id), (base.as_ref(), &one, &other), name)
                }
                (Some(sole), None) | (None, Some(sole)) => sole,
                (None, None) => continue,
            };
            all.push(Kept { which, yard, hive });
        }
        let names: BTreeSet<_> = all.iter().map(|kept| kept.hive.id.clone()).collect();
        for kept in &mut all {
            kept.hive.formerly.retain(|name| !names.contains(name));
        }
        all
    }

    /// The order of what is here: that of the side that changed it.
    fn order(
        &mut self,
        at: &str,
        [base, one, other]: &[Vec<usize>; 3],
        here: &[usize],
        name: impl Fn(usize) -> String,
    ) -> Vec<usize> {
        let in_all = |order: &[usize]| -> Vec<usize> {
            let is_in_all = |at: &&usize| base.contains(at) && one.contains(at) && other.contains(at);
            order.iter().filter(is_in_all).copied().collect()
        };
        let words = |order: &Vec<usize>| order.iter().map(|at| name(*at)).collect::<Vec<_>>().join(", ");
        let (base_order, one_order, other_order) = (in_all(base), in_all(one), in_all(other));
        let leads = self.side(at, (Some(&base_order), &one_order, &other_order), words);
        match leads {
            // Where neither was changed, the second leads: what came to the first follows its neighbor there.
            Side::One if one_order != other_order => in_order(one, other, here),
            Side::One | Side::Other => in_order(other, one, here),
        }
    }

    /// Whether something is in the joined book; `of_it` is as much of it as counts for a change.
    fn presence<T: Named + Clone + PartialEq>(
        &mut self,
        trio: &Trio<'_, T>,
        kind: &str,
        of_it: impl Fn(&T) -> T,
    ) -> Presence<T> {
        let (there, holds) = match (trio.one, trio.other) {
            (None, None) => return Presence::Gone,
            (Some(_), Some(_)) => return Presence::InBoth,
            (Some(there), None) => (there, Side::One),
            (None, Some(there)) => (there, Side::Other),
        };
        match trio.base {
            None => Presence::As(there.clone()),
            Some(base) if of_it(base) == of_it(there) => Presence::Gone,
            Some(_) => {
                let (kept, taken) = ("kept, and changed".to_owned(), "taken out of the book".to_owned());
                let (one, other) = if holds == Side::One { (kept, taken) } else { (taken, kept) };
                match self.differs(&format!("{kind} {}", trio.name()), one, other, holds) {
                    side if side == holds => Presence::As(there.clone()),
                    _ => Presence::Gone,
                }
            }
        }
    }

    fn yard(&mut self, base: Option<&Yard>, one: &Yard, other: &Yard) -> Yard {
        let Yard { name, formerly, place, freezes, flows, note, hives: _ } = one;
        let at = |what: &str| format!("the {what} of yard {name}");
        let three = (base.map(|b| &b.name), name, &other.name);
        let name_now = self.pick(&at("name"), three, plain);
        let mut names = known_as([formerly, &other.formerly], [name, &other.name]);
        names.retain(|name| *name != name_now);
        let units = self.units;
        Yard {
            place: self.pick(&at("place"), (base.map(|b| &b.place), place, &other.place), |place| {
                or_none(place.as_ref(), |place| {
                    let above = units.elevation(place.elevation);
                    format!("{}, {}, {above}", place.latitude, place.longitude)
                })
            }),
            freezes: self.pick(
                &at("freeze dates"),
                (base.map(|b| &b.freezes), freezes, &other.freezes),
                |freezes| {
                    or_none(freezes.as_ref(), |dates| {
                        format!("last {}, first {}", dates.last_spring, dates.first_autumn)
                    })
                },
            ),
            flows: self.pick(&at("flows"), (base.map(|b| &b.flows), flows, &other.flows), |flows| {
                let flows: Vec<String> = flows.iter().map(ToString::to_string).collect();
                if flows.is_empty() { "none".to_owned() } else { flows.join(", ") }
            }),
            note: self.pick(&at("note"), (base.map(|b| &b.note), note, &other.note), quoted),
            formerly: names,
            hives: Vec::new(),
            name: name_now,
        }
    }

    fn hive(&mut self, base: Option<&Hive>, one: &Hive, other: &Hive) -> Hive {
        let Hive {
            id,
            origin,
            since,
            boxes,
            queen,
            entrance,
            upper_entrance,
            feeder,
            mouse_guard,
            left,
            formerly,
            note,
        } = one;
        let at = |what: &str| format!("the {what} of hive {id}");
        let id_now = self.pick(&at("name"), (base.map(|b| &b.id), id, &other.id), plain);
        let mut names = known_as([formerly, &other.formerly], [id, &other.id]);
        names.retain(|name| *name != id_now);
        Hive {
            origin: self.pick(&at("origin"), (base.map(|b| &b.origin), origin, &other.origin), |origin| {
                origin.word().to_owned()
            }),
            since: self.pick(&at("first day"), (base.map(|b| &b.since), since, &other.since), plain),
            boxes: self.pick(&at("boxes"), (base.map(|b| &b.boxes), boxes, &other.boxes), |boxes| {
                stack_words(boxes)
            }),
            queen: self.pick(&at("queen"), (base.map(|b| &b.queen), queen, &other.queen), |queen| {
                let year = queen.year.map(|year| format!(", {year}")).unwrap_or_default();
                format!("{}{year}", queen.status.word())
            }),
            entrance: self.pick(
                &at("entrance"),
                (base.map(|b| &b.entrance), entrance, &other.entrance),
                |entrance| entrance.word().to_owned(),
            ),
            upper_entrance: self.pick(
                &at("upper entrance"),
                (base.map(|b| &b.upper_entrance), upper_entrance, &other.upper_entrance),
                yes,
            ),
            feeder: self.pick(&at("feeder"), (base.map(|b| &b.feeder), feeder, &other.feeder), |feeder| {
                or_none(feeder.as_ref(), |feeder| feeder.word().to_owned())
            }),
            mouse_guard: self.pick(
                &at("mouse guard"),
                (base.map(|b| &b.mouse_guard), mouse_guard, &other.mouse_guard),
                yes,
            ),
            left: self.pick(&at("last day"), (base.map(|b| &b.left), left, &other.left), |left| {
                or_none(left.as_ref(), plain)
            }),
            note: self.pick(&at("note"), (base.map(|b| &b.note), note, &other.note), quoted),
            formerly: names,
            id: id_now,
        }
    }
}

/// All names of one thing in the two set-ups, in the order of the first.
fn known_as<N: Clone + PartialEq>(former: [&Vec<N>; 2], now: [&N; 2]) -> Vec<N> {
    let mut names: Vec<N> = Vec::new();
    for name in former.into_iter().flatten().chain(now) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}

#[cfg(test)]
mod tests;
