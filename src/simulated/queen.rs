//! The queen of a simulated colony, and what becomes of her.

use super::figures as f;
use super::random::Random;

/// The queen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Queen {
    /// She lays, so many eggs on her best day; born so many days ago.
    Laying { most: f64, age: u32 },
    /// Bees raise one, or a virgin is out: so many days until she lays, if she comes home.
    Raising { days: u32 },
    /// In her cage: so many days until she lays, if she is taken.
    Caged { days: u32 },
    /// Laying drones, or none, for so many days.
    Gone { days: u32 },
}

/// What happened to her in a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Turn {
    Nothing,
    /// She failed, and they raise another.
    Superseded,
    /// She is gone for good.
    Lost,
}

/// Days from young larvae to eggs: 16 from the egg less four, and two weeks (Winston 1987).
pub(super) const RAISED_IN: u32 = 26;
/// Days from a sealed cell to eggs.
pub(super) const FROM_CELL: u32 = 18;

impl Queen {
    pub(super) fn young(random: &mut Random) -> Self {
        Self::Laying { most: random.normal(f::MOST_EGGS.0, f::MOST_EGGS.1).max(900.0), age: 0 }
    }

    /// Eggs on her best day, less as she grows old.
    pub(super) fn most(self) -> f64 {
        match self {
            Self::Laying { most, age } => {
                // BEEPOP's run of a queen's age, about: 5 % less a year at first, more later (DeGrandi-Hoffman et al. 1989).
                let years = f64::from(age) / 365.0;
                most * (1.0 - 0.05 * years - 0.05 * (years - 1.0).max(0.0).powi(2)).max(0.4)
            }
            Self::Raising { .. } | Self::Caged { .. } | Self::Gone { .. } => 0.0,
        }
    }

    pub(super) fn lays(self) -> bool {
        matches!(self, Self::Laying { .. })
    }

    /// A day. `has_young` is whether there are larvae to raise another from, `drones_fly` whether she can mate.
    pub(super) fn day(&mut self, has_young: bool, drones_fly: bool, random: &mut Random) -> Turn {
        match self {
            Self::Laying { age, .. } => {
                *age += 1;
                let summer = usize::try_from(*age / 365).unwrap_or(0).min(f::QUEEN_FAILS.len() - 1);
                let a_day = f::QUEEN_FAILS.get(summer).copied().unwrap_or(0.3) / 365.0;
                if !random.happens(a_day) {
                    return Turn::Nothing;
                }
                if has_young && drones_fly && random.happens(f::REPLACED) {
                    *self = Self::Raising { days: RAISED_IN };
                    Turn::Superseded
                } else {
                    *self = Self::Gone { days: 0 };
                    Turn::Lost
                }
            }
            Self::Raising { days } => {
                *days = days.saturating_sub(1);
                if *days > 0 {
                    return Turn::Nothing;
                }
                *self = if drones_fly && random.happens(f::MATES) {
                    Self::young(random)
                } else {
                    Self::Gone { days: RAISED_IN }
                };
                Turn::Nothing
            }
            Self::Caged { days } => {
                *days = days.saturating_sub(1);
                if *days == 0 {
                    *self =
                        if random.happens(f::TAKEN) { Self::young(random) } else { Self::Gone { days: 8 } };
                }
                Turn::Nothing
            }
            Self::Gone { days } => {
                *days += 1;
                Turn::Nothing
            }
        }
    }
}
