//! Yards and hives of three set-ups brought together: which of one is which of another, and in what order they stand.

use std::collections::BTreeSet;

use super::hive::Hive;
use super::names::{HiveId, YardId};
use super::yard::Yard;

/// What is known by a name, and by those it had before.
pub(super) trait Named {
    /// Its name, and then the former ones.
    fn names(&self) -> Vec<&str>;
}

impl Named for Yard {
    fn names(&self) -> Vec<&str> {
        std::iter::once(&self.name).chain(&self.formerly).map(YardId::as_str).collect()
    }
}

impl Named for Hive {
    fn names(&self) -> Vec<&str> {
        std::iter::once(&self.id).chain(&self.formerly).map(HiveId::as_str).collect()
    }
}

/// One thing as the common version has it, and the two that came of it, with its place in each.
#[derive(Debug)]
pub(super) struct Trio<'a, T> {
    pub(super) base: Option<&'a T>,
    pub(super) one: Option<&'a T>,
    pub(super) other: Option<&'a T>,
    places: [Option<usize>; 3],
}

impl<T: Named> Trio<'_, T> {
    /// A name of it, for words.
    pub(super) fn name(&self) -> String {
        let it = self.one.or(self.other).or(self.base);
        it.and_then(|it| it.names().first().map(|name| (*name).to_owned())).unwrap_or_default()
    }

    fn place(&self, version: usize) -> Option<usize> {
        self.places.get(version).copied().flatten()
    }
}

/// The yards and hives of the three versions, each with its like in the others. A version is 0, 1 or 2: the common one, the
/// first and the second.
#[derive(Debug)]
pub(super) struct Likes<'a> {
    versions: [&'a [Yard]; 3],
    pub(super) yards: Vec<Trio<'a, Yard>>,
    pub(super) hives: Vec<Trio<'a, Hive>>,
}

impl<'a> Likes<'a> {
    pub(super) fn of(versions: [&'a [Yard]; 3]) -> Self {
        let [base, one, other] = versions;
        let hives = versions.map(|yards| yards.iter().flat_map(|yard| &yard.hives).collect::<Vec<&Hive>>());
        let [base_hives, one_hives, other_hives] = &hives;
        Self {
            versions,
            yards: trios(&refs(base), &refs(one), &refs(other)),
            hives: trios(base_hives, one_hives, other_hives),
        }
    }

    fn yards_of(&self, version: usize) -> &'a [Yard] {
        self.versions.get(version).copied().unwrap_or_default()
    }

    fn yard_at(&self, version: usize, place: usize) -> Option<usize> {
        self.yards.iter().position(|yard| yard.place(version) == Some(place))
    }

    /// The yard, by its place among all, in which a hive stands in a version.
    pub(super) fn yard_of(&self, version: usize, hive: &Trio<'_, Hive>) -> Option<usize> {
        let place = hive.place(version)?;
        let mut before = 0;
        let is_there = |yard: &Yard| {
            before += yard.hives.len();
            place < before
        };
        self.yard_at(version, self.yards_of(version).iter().position(is_there)?)
    }

    /// The yards in the order of a version, by their places among all.
    pub(super) fn order_of_yards(&self, version: usize) -> Vec<usize> {
        (0..self.yards_of(version).len()).filter_map(|place| self.yard_at(version, place)).collect()
    }

    /// The hives of a yard in their order in a version, by their places among all.
    pub(super) fn order_of_hives(&self, version: usize, yard: &Trio<'_, Yard>) -> Vec<usize> {
        let Some(at) = yard.place(version) else { return Vec::new() };
        let yards = self.yards_of(version);
        let before: usize = yards.iter().take(at).map(|yard| yard.hives.len()).sum();
        let count = yards.get(at).map_or(0, |yard| yard.hives.len());
        let like = |place: usize| self.hives.iter().position(|hive| hive.place(version) == Some(place));
        (before..before + count).filter_map(like).collect()
    }
}

fn refs<T>(all: &[T]) -> Vec<&T> {
    all.iter().collect()
}

/// Brings together what is the same thing in the three: by its name, else by one that it had before.
fn trios<'a, T: Named>(base: &[&'a T], one: &[&'a T], other: &[&'a T]) -> Vec<Trio<'a, T>> {
    let trio = |base_at: Option<usize>, one_at: Option<usize>, other_at: Option<usize>| Trio {
        base: base_at.and_then(|at| base.get(at)).copied(),
        one: one_at.and_then(|at| one.get(at)).copied(),
        other: other_at.and_then(|at| other.get(at)).copied(),
        places: [base_at, one_at, other_at],
    };
    let (in_one, in_other) = (partners(base, one), partners(base, other));
    // What is new in both under one name is one.
    let new_in = |all: &[&'a T], known: &[Option<usize>]| -> Vec<usize> {
        (0..all.len()).filter(|at| !known.contains(&Some(*at))).collect()
    };
    let (new_in_one, new_in_other) = (new_in(one, &in_one), new_in(other, &in_other));
    let those = |all: &[&'a T], places: &[usize]| -> Vec<&'a T> {
        places.iter().filter_map(|at| all.get(*at)).copied().collect()
    };
    let pairs = partners(&those(one, &new_in_one), &those(other, &new_in_other));
    let known = in_one.into_iter().zip(in_other).enumerate();
    let mut all: Vec<Trio<'a, T>> =
        known.map(|(at, (one_at, other_at))| trio(Some(at), one_at, other_at)).collect();
    for (one_at, pair) in new_in_one.into_iter().zip(pairs) {
        let other_at = pair.and_then(|at| new_in_other.get(at)).copied();
        all.push(trio(None, Some(one_at), other_at));
    }
    for other_at in new_in_other {
        if !all.iter().any(|trio| trio.place(2) == Some(other_at)) {
            all.push(trio(None, None, Some(other_at)));
        }
    }
    all
}

/// For each of the first its like among the second: first by the name of today, then by any.
fn partners<T: Named>(first: &[&T], second: &[&T]) -> Vec<Option<usize>> {
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut found: Vec<Option<usize>> = vec![None; first.len()];
    let by_name = |one: &T, two: &T| one.names().first() == two.names().first();
    let by_former = |one: &T, two: &T| {
        let (ones, twos) = (one.names(), two.names());
        ones.first().is_some_and(|now| twos.contains(now))
            || twos.first().is_some_and(|now| ones.contains(now))
    };
    for is_it in [&by_name as &dyn Fn(&T, &T) -> bool, &by_former] {
        for (thing, place) in first.iter().zip(&mut found).filter(|(_, place)| place.is_none()) {
            let free = second.iter().enumerate().find(|(at, two)| !taken.contains(at) && is_it(thing, two));
            *place = free.map(|(at, _)| at);
            taken.extend(*place);
        }
    }
    found
}

/// What is here in the order of one list; what stands only in the second after whom it follows there.
pub(super) fn in_order(lead: &[usize], second: &[usize], here: &[usize]) -> Vec<usize> {
    let mut order: Vec<usize> = lead.iter().filter(|at| here.contains(at)).copied().collect();
    let mut before = None;
    for at in second.iter().filter(|at| here.contains(at)) {
        if !order.contains(at) {
            let place = before.and_then(|before| order.iter().position(|there| *there == before));
            order.insert(place.map_or(0, |place| place + 1), *at);
        }
        before = Some(*at);
    }
    // Moved here by neither list: at the end, as one puts a hive down.
    let missing: Vec<usize> = here.iter().filter(|at| !order.contains(at)).copied().collect();
    order.extend(missing);
    order
}
