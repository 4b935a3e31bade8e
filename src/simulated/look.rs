//! What a look at a simulated colony finds, with a reader's error.

use super::colony::{Colony, Nest, SUPER};
use super::figures as f;
use super::queen::Queen;
use super::random::Random;
use super::weather::Weather;
use crate::model::{Entrance, Finding, Mass, Temperature, Value};

/// One reader, whose errors come again with the seed.
#[derive(Debug, Clone)]
pub struct Reader(Random);

impl Reader {
    /// A reader.
    pub fn of(seed: u64) -> Self {
        Self(Random::of(seed))
    }

    /// What is found; none where that cannot be seen.
    #[allow(clippy::too_many_lines, reason = "a table of what each look finds")]
    pub fn look(&mut self, colony: &Colony, finding: Finding, weather: &Weather) -> Option<Value> {
        let is_dead = colony.died().is_some();
        if finding == Finding::Dead {
            return Some(Value::YesNo(is_dead));
        }
        if is_dead {
            return None;
        }
        let random = &mut self.0;
        let mut frames = |n: f64, error: f64| {
            Value::Frames((n.max(0.0) * random.factor(error) * 4.0).round().min(240.0) / 4.0)
        };
        let bees = &colony.bees;
        let of_bees = colony.adults() / f::FRAME_OF_BEES;
        let t = weather.t();
        Some(match finding {
            Finding::Dead | Finding::Fine => return None,
            Finding::Bees | Finding::Seams => frames(of_bees, f::READER.0),
            Finding::Brood => frames(bees.brood_frames(), f::READER.1),
            Finding::Honey => frames(colony.honey() / f::FRAME_OF_HONEY, f::READER.2),
            Finding::Drawn => frames(colony.drawn, 0.0),
            Finding::SpareDrawn => Value::Frames(3.0),
            Finding::Eggs => Value::YesNo(bees.eggs() > 60.0),
            Finding::Larvae => Value::YesNo(bees.open() - bees.eggs() > 60.0),
            Finding::Sealed => Value::YesNo(bees.sealed() > 100.0),
            Finding::QueenSeen => Value::YesNo(colony.queen.lays() && random.happens(0.4)),
            Finding::Cells => Value::Count(match (colony.cells, colony.queen) {
                (Some(days), _) if days >= 1 => 8,
                (_, Queen::Raising { days }) if days > 14 => 3,
                _ => 0,
            }),
            Finding::CellKind => Value::Choice(match (colony.cells, colony.queen) {
                (Some(days), _) if days >= 1 => 1,
                (_, Queen::Raising { days }) if days > 14 => 3,
                _ => 0,
            }),
            Finding::Pattern => Value::Choice(match colony.queen {
                Queen::Gone { days } if days > 30 => 2,
                _ if colony.is_sick() => 1,
                _ => 0,
            }),
            Finding::Mites => {
                let share = random.beta((colony.mite_percent() / 100.0).clamp(0.0002, 0.6), f::JAR);
                Value::Count(u16::try_from(random.count(300, share)).unwrap_or(300))
            }
            Finding::WashBees => Value::Count(300),
            Finding::Weight => {
                let tare = 9.1 * f64::from(colony.nest_boxes) + 6.4 * f64::from(colony.supers) + 7.3;
                let inside =
                    colony.stores.iter().sum::<f64>() + colony.adults() * 0.000_13 + bees.brood() * 0.000_13;
                Value::Mass(Mass::from_kilograms((tare + inside) * random.factor(0.02)))
            }
            Finding::Heft => {
                let kg = colony.honey() + random.normal(0.0, 2.5);
                Value::Choice(usize::from(kg > 6.5) + usize::from(kg > 17.0))
            }
            Finding::SuperFull => {
                let below = f64::from(colony.supers.saturating_sub(1)) * SUPER;
                let boxes = colony.stores.get(1).copied().unwrap_or(0.0);
                Value::Percent((100.0 * (boxes - below) / SUPER).clamp(0.0, 100.0).round())
            }
            Finding::Capped => Value::Percent((100.0 * colony.capped).round()),
            Finding::Moisture => Value::Percent((17.6 + random.normal(0.0, 0.6)).clamp(14.0, 22.0)),
            Finding::Backfill => {
                let free = colony.free_cells();
                Value::Choice(
                    usize::from(free < 6_000.0) + usize::from(free < 1_500.0 && (100.0..260.0).contains(&t)),
                )
            }
            Finding::Flight => Value::Choice(match weather.flight() {
                none if none < 0.05 => 0,
                few if few < 0.3 || of_bees < 2.0 => 1,
                _ => 2,
            }),
            Finding::Pollen => {
                Value::YesNo(weather.flight() > 0.2 && (78.0 + weather.late..290.0).contains(&t))
            }
            Finding::Feeder => Value::Choice(match colony.sugar.first().copied().unwrap_or(0.0) {
                none if none < 0.1 => 0,
                part if part < 2.0 => 1,
                _ => 2,
            }),
            Finding::BottomBox if colony.nest != Nest::Used => {
                Value::Choice(if colony.nest == Nest::Above { 0 } else { 4 })
            }
            Finding::BottomBox => {
                let up = colony.nest_boxes > 1 && t < 150.0 && bees.brood_frames() < 6.5;
                Value::Choice(if up { 0 } else { 3 })
            }
            Finding::Disease => {
                Value::Choice(if colony.mite_percent() > 6.0 && random.happens(0.5) { 4 } else { 0 })
            }
            Finding::Board => {
                Value::Count(u16::try_from(random.count(10_000, colony.mites.all() / 300_000.0)).unwrap_or(0))
            }
            Finding::HighToday => Value::Temperature(Temperature::from_celsius(weather.high)),
            Finding::HighSoon => Value::Temperature(Temperature::from_celsius(weather.high + 1.5)),
            Finding::EntranceClear => Value::YesNo(true),
            Finding::Cracks | Finding::Droppings | Finding::Dying => Value::YesNo(false),
            Finding::Robbing if colony.is_robbed(weather) => {
                Value::Choice(if colony.entrance == Entrance::Small { 1 } else { 2 })
            }
            Finding::Robbing | Finding::Pests | Finding::Cover | Finding::Temper | Finding::CountBy => {
                Value::Choice(0)
            }
        })
    }
}
