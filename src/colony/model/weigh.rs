//! A finding moves the members: an ensemble adjustment filter (Anderson 2001, Mon. Weather Rev. 129:2884, from memory).
//!
//! Each finding is one number with its error. The members are drawn together about what the error and their own spread
//! make likely, and what goes with it in the ensemble moves along, as far as it is known to depend on it. No draw is made,
//! so the same log gives the same belief.

use chrono::NaiveDate;

use super::belief::Belief;
use super::figures::{DRIFT, FRAME_OF_HONEY, LIFT, READER, SCALE, UNEVEN, drift};
use super::member::Member;
use super::record::Look;
use crate::model::Heft;

/// When each quantity was last looked at: doubt grows from then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Looked {
    pub(super) bees: NaiveDate,
    pub(super) brood: NaiveDate,
    pub(super) mites: NaiveDate,
    pub(super) stores: NaiveDate,
}

impl Looked {
    pub(super) fn at(on: NaiveDate) -> Self {
        Self { bees: on, brood: on, mites: on, stores: on }
    }
}

/// A part of a member that a finding may move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Bees,
    Brood,
    Mites,
    Stores,
    Eggs,
    Life,
    Daughters,
    Flow,
    Eaten,
}

/// Least of a part that has a logarithm worth moving.
const LEAST: f64 = 1e-3;

impl Part {
    fn of(self, member: &Member) -> f64 {
        let (colony, figures) = (&member.colony, &member.figures);
        let (nest, above) = colony.honey();
        let value = match self {
            Self::Bees => colony.adults(),
            Self::Brood => colony.cells(),
            Self::Mites => colony.mites() / colony.adults().max(1.0),
            Self::Stores => nest + above,
            Self::Eggs => figures.most_eggs,
            Self::Life => figures.summer_life,
            Self::Daughters => figures.daughters,
            Self::Flow => figures.flow,
            Self::Eaten => figures.eaten,
        };
        value.max(LEAST).ln()
    }

    fn scale(self, member: &mut Member, by: f64) {
        let (colony, figures) = (&mut member.colony, &mut member.figures);
        match self {
            Self::Bees => colony.scale_bees(by),
            Self::Brood => colony.scale_brood(by),
            Self::Mites => colony.scale_mites(by),
            Self::Stores => colony.scale_stores(by),
            Self::Eggs => figures.most_eggs = (figures.most_eggs * by).clamp(500.0, 2_500.0),
            Self::Life => figures.summer_life = (figures.summer_life * by).clamp(0.5, 2.0),
            Self::Daughters => figures.daughters = (figures.daughters * by).clamp(0.2, 2.0),
            Self::Flow => figures.flow = (figures.flow * by).clamp(0.05, 5.0),
            Self::Eaten => figures.eaten = (figures.eaten * by).clamp(0.4, 2.0),
        }
    }
}

/// How far a finding of each kind moves each part: 1 fully, less where the ensemble is too small to be trusted (a guess).
const BY_BEES: &[(Part, f64)] =
    &[(Part::Bees, 1.0), (Part::Brood, 0.5), (Part::Eggs, 0.3), (Part::Life, 0.3), (Part::Stores, 0.2)];
const BY_BROOD: &[(Part, f64)] = &[(Part::Brood, 1.0), (Part::Bees, 0.3), (Part::Eggs, 0.6)];
const BY_WASH: &[(Part, f64)] = &[(Part::Mites, 1.0), (Part::Daughters, 0.6)];
const BY_STORES: &[(Part, f64)] = &[(Part::Stores, 1.0), (Part::Flow, 0.6), (Part::Eaten, 0.4)];

/// How many standard deviations a finding may lie from what was thought before the belief is widened to take it in.
const SURPRISE: f64 = 2.5;

/// Mean and variance of the members' values.
pub(super) fn mean_variance(values: impl Iterator<Item = f64> + Clone) -> (f64, f64) {
    let n = values.clone().count().max(1) as f64;
    let mean = values.clone().sum::<f64>() / n;
    (mean, values.map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0))
}

fn covariance(a: &[f64], b: &[f64]) -> f64 {
    let mean = |all: &[f64]| mean_variance(all.iter().copied()).0;
    let (mean_a, mean_b) = (mean(a), mean(b));
    let n = (a.len().max(2) - 1) as f64;
    a.iter().zip(b).map(|(x, y)| (x - mean_a) * (y - mean_b)).sum::<f64>() / n
}

/// A finding as a number: what it says, its error as a variance, what a member would show, what it moves.
struct Number {
    says: f64,
    error: f64,
    shows: fn(&Member) -> f64,
    moves: &'static [(Part, f64)],
}

/// A count of frames never says none for sure: a tenth of a frame is the least that is told apart.
fn frames(n: f64) -> f64 {
    n.max(0.1).ln()
}

fn shows_weight(member: &Member) -> f64 {
    member.colony.weighs().max(0.5).ln()
}

impl Look {
    fn number(&self, belief: &Belief) -> Option<Number> {
        let stores = |m: &Member| m.colony.honey().0.max(0.3).ln();
        Some(match *self {
            Self::Bees(n) => Number {
                says: frames(n),
                error: READER.0.powi(2) + (0.15 / n.max(0.5)).powi(2),
                shows: |m| frames(m.colony.frames_of_bees()),
                moves: BY_BEES,
            },
            Self::Brood(n) => Number {
                says: frames(n),
                error: READER.1.powi(2) + (0.2 / n.max(0.3)).powi(2),
                shows: |m| frames(m.colony.frames_of_brood()),
                moves: BY_BROOD,
            },
            Self::Wash(count) => {
                let mites = f64::from(count.mites.min(count.bees)) + 0.5;
                Number {
                    says: (100.0 * mites / (f64::from(count.bees) + 1.0)).ln(),
                    // Counting noise is of what is there: of what was expected, where fewer were found. Else none in the jar would
                    // say less against many than one does.
                    error: 1.0 / mites.max(belief.expects(count.bees)) + UNEVEN,
                    shows: |m| m.colony.mite_percent().max(0.01).ln(),
                    moves: BY_WASH,
                }
            }
            Self::Honey(n) => Number {
                says: (n * FRAME_OF_HONEY).max(0.3).ln(),
                error: READER.2.powi(2) + (0.2 / n.max(0.3)).powi(2),
                shows: stores,
                moves: BY_STORES,
            },
            // The middle of what each lift is said of.
            Self::Heft(heft) => Number {
                says: match heft {
                    Heft::Light => 4.0_f64,
                    Heft::Fair => 11.0,
                    Heft::Heavy => 21.0,
                }
                .ln(),
                error: LIFT.powi(2),
                shows: stores,
                moves: BY_STORES,
            },
            Self::Weight(kg) => {
                let inside = (kg - belief.tare()).max(0.5);
                Number {
                    says: inside.ln(),
                    error: (SCALE / inside.max(1.5)).powi(2),
                    shows: shows_weight,
                    moves: BY_STORES,
                }
            }
            Self::Eggs(_) => return None,
        })
    }
}

impl Belief {
    /// Boxes, floor and lids of the hive, kg (trade figures, from memory: 20 lb a deep, 14 a medium, 16 for floor and lids).
    pub(super) fn tare(&self) -> f64 {
        self.members.first().map_or(0.0, |m| m.colony.boxes_weigh())
    }

    /// Mites that a jar of so many bees would hold by what is thought now.
    fn expects(&self, bees: u16) -> f64 {
        let logs = self.members.iter().map(|m| m.colony.mite_percent().max(0.01).ln());
        f64::from(bees) / 100.0 * mean_variance(logs).0.exp()
    }

    /// Takes in what was seen today.
    pub(super) fn weigh(&mut self, look: &Look) {
        if let Look::Eggs(seen) = look {
            let laying = self.year.day(self.on, 0).laying > 0.2;
            let on = self.on;
            self.members.iter_mut().for_each(|member| member.eggs(*seen, on, laying));
            return;
        }
        let Some(number) = look.number(self) else { return };
        let drift = self.drift_since(look);
        self.adjust(&number, drift);
    }

    /// Doubt that has grown since the quantity was last looked at; from now it grows anew.
    fn drift_since(&mut self, look: &Look) -> f64 {
        let on = self.on;
        let (last, a_day) = match look {
            Look::Bees(_) => (&mut self.looked.bees, DRIFT.bees),
            Look::Brood(_) => (&mut self.looked.brood, DRIFT.brood),
            Look::Wash(_) => (&mut self.looked.mites, DRIFT.mites),
            Look::Honey(_) | Look::Heft(_) | Look::Weight(_) | Look::Eggs(_) => {
                (&mut self.looked.stores, DRIFT.stores)
            }
        };
        drift(a_day, (on - std::mem::replace(last, on)).num_days())
    }

    fn adjust(&mut self, number: &Number, drift: f64) {
        let shown: Vec<f64> = self.members.iter().map(number.shows).collect();
        let (mean, own) = mean_variance(shown.iter().copied());
        let off = number.says - mean;
        // A surprise widens the belief, so that it is taken in.
        let least = (off / SURPRISE).powi(2) - number.error;
        let spread = (own + drift).max(least).max(1e-9);
        let gain = spread / (spread + number.error);
        // What is left of each member's distance from the middle: the filter's share, of the widened spread.
        let left = (number.error / (spread + number.error)).sqrt() * (spread / own.max(1e-9)).sqrt().min(3.0);
        let parts: Vec<(Part, f64)> = number
            .moves
            .iter()
            .map(|(part, reach)| {
                let values: Vec<f64> = self.members.iter().map(|m| part.of(m)).collect();
                let slope = if own > 1e-9 { covariance(&values, &shown) / own } else { 0.0 };
                (*part, slope * reach)
            })
            .collect();
        let first = number.moves.first().map(|(part, _)| *part);
        for (at, member) in self.members.iter_mut().enumerate() {
            let was = shown.get(at).copied().unwrap_or(mean);
            let step = gain * off + (was - mean) * (left - 1.0);
            for (part, slope) in &parts {
                // What was looked at itself moves by its own measure where the ensemble hardly spreads.
                let slope = match part {
                    // A wash speaks for all mites: how many of them are under the caps is known no better in the ensemble, where
                    // members keep time with one another, than it is in the hive.
                    Part::Mites => 1.0,
                    part if Some(*part) == first => slope.max(0.5),
                    _ => *slope,
                };
                part.scale(member, (slope * step).clamp(-3.0, 3.0).exp());
            }
        }
    }

    /// How much each look today would narrow what is thought of the chance to come through the winter: shares of its
    /// variance, 0 to 1, the most telling first. `then` is the same colony left alone until a day of the spring after it.
    pub fn tells(&self, then: &Self) -> Vec<(Tells, f64)> {
        let targets: Vec<f64> = then.members.iter().map(|member| member.fall.chance()).collect();
        let (_, whole) = mean_variance(targets.iter().copied());
        let mut all: Vec<(Tells, f64)> = Tells::ALL
            .iter()
            .filter_map(|tells| {
                let number = tells.like().number(self)?;
                let shown: Vec<f64> = self.members.iter().map(number.shows).collect();
                let (_, own) = mean_variance(shown.iter().copied());
                if own < 1e-9 || whole < 1e-12 {
                    return None;
                }
                let share = covariance(&targets, &shown).powi(2) / (own * whole);
                Some((*tells, share * own / (own + number.error)))
            })
            .collect();
        all.sort_by(|(_, a), (_, b)| b.total_cmp(a));
        all
    }
}

/// A look that would tell more of a colony.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Tells {
    /// A wash of 300 bees.
    Wash,
    /// Frames of bees.
    Bees,
    /// Frames of brood.
    Brood,
    /// Frames of honey.
    Honey,
    /// The scale.
    Weight,
}

impl Tells {
    const ALL: [Self; 5] = [Self::Wash, Self::Bees, Self::Brood, Self::Honey, Self::Weight];

    /// A look of its kind at a middling colony: its error is what counts.
    fn like(self) -> Look {
        match self {
            Self::Wash => Look::Wash(crate::model::MiteCount { on: NaiveDate::MIN, mites: 5, bees: 300 }),
            Self::Bees => Look::Bees(6.0),
            Self::Brood => Look::Brood(4.0),
            Self::Honey => Look::Honey(4.0),
            Self::Weight => Look::Weight(45.0),
        }
    }

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Wash => "an alcohol wash",
            Self::Bees => "counting frames of bees",
            Self::Brood => "counting frames of brood",
            Self::Honey => "counting frames of honey",
            Self::Weight => "weighing it",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colony::model::Forecast;
    use crate::model::{Entry, Finding, Folded, Value};
    use crate::plan::calendar;

    /// The first hive of the sample in August, of which far more mites are expected: whatever the jar shows, what is thought that day is
    /// near it.
    #[test]
    fn a_wash_is_taken_in_whole() {
        let book = crate::store::sample();
        let on: NaiveDate = "2026-08-08".parse().unwrap();
        let folded = Folded::of(&book, on);
        let yard = book.yards.first().unwrap();
        let calendar = calendar(&book, &folded, yard, on);
        let hive = folded.hive(&yard.hives.first().unwrap().id).unwrap();
        let before = Forecast::for_hive(hive, &calendar, on).mites(on).unwrap().middle;
        assert!(before > 4.0, "{before}");
        for mites in [0, 2, 8] {
            let mut washed = hive.clone();
            let mut entry = Entry::blank(hive.id.clone());
            assert!(entry.findings.set(Finding::Mites, Some(Value::Count(mites))));
            washed.apply(&entry, on);
            let then = Forecast::for_hive(&washed, &calendar, on).mites(on).unwrap().middle;
            let jar = 100.0 * (f64::from(mites) + 0.5) / 301.0;
            assert!((then / jar).ln().abs() < 0.8, "{mites} of 300: {then}");
        }
    }
}
