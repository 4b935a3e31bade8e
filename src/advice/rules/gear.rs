//! Small gear that more than one rule asks for. What only one asks for stands in its own file. The weights are our
//! estimates.

use super::super::prompt::{Gear, Need};
use crate::colony::stores;

/// A mated queen in her cage.
pub(super) const MATED_QUEEN: Need = Need::Gear(Gear::used("mated queen in a cage", 0.1));

/// A floor and a lid for a new hive.
pub(super) const FLOOR_AND_LID: Need = Need::Gear(Gear::used("floor and lid", stores::FLOOR_AND_LIDS));

/// A cage to find and hold a queen in.
pub(super) const QUEEN_CAGE: Need = Need::Gear(Gear::tool("queen cage", 0.1));

/// What honey is taken with.
pub(super) const HARVEST_KIT: Need = Need::Gear(Gear::tool("brush, clearer boards, covers", 10.0));
