//! The columns of a notebook, by the names keepers give them.

use crate::model::{Finding, Kind, Units};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// The day.
    Day,
    /// The hive.
    Hive,
    /// The yard.
    Yard,
    /// Something found.
    Finding(Finding),
    /// Mites in a hundred bees, where the jar was not written down.
    MitesPercent,
    /// Minutes spent.
    Minutes,
    /// What was done, in the keeper's words.
    Did,
    /// Anything else, in the keeper's words.
    Note,
}

impl Field {
    /// Whether it is something of a visit, and not only who and when.
    pub(super) fn is_of_a_visit(self) -> bool {
        !matches!(self, Self::Day | Self::Hive | Self::Yard)
    }

    /// Its name, for the preview.
    pub fn words(self) -> &'static str {
        match self {
            Self::Day => "day",
            Self::Hive => "hive",
            Self::Yard => "yard",
            Self::Finding(finding) => finding.label(),
            Self::MitesPercent => "mites in a hundred bees, as of 300",
            Self::Minutes => "minutes",
            Self::Did => "what was done",
            Self::Note => "note",
        }
    }
}

/// A column, with the units its head names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Column {
    pub(super) field: Field,
    pub(super) units: Option<Units>,
}

/// Names besides a finding's own, as heads are compared: lower case, words joined by `_`.
const NAMES: &[(&str, Field)] = &[
    ("date", Field::Day),
    ("day", Field::Day),
    ("visited", Field::Day),
    ("visit_date", Field::Day),
    ("inspection_date", Field::Day),
    ("inspected", Field::Day),
    ("datum", Field::Day),
    ("hive", Field::Hive),
    ("hive_id", Field::Hive),
    ("hive_name", Field::Hive),
    ("hive_no", Field::Hive),
    ("colony", Field::Hive),
    ("stand", Field::Hive),
    ("yard", Field::Yard),
    ("apiary", Field::Yard),
    ("site", Field::Yard),
    ("location", Field::Yard),
    ("place", Field::Yard),
    ("note", Field::Note),
    ("notes", Field::Note),
    ("remark", Field::Note),
    ("remarks", Field::Note),
    ("comment", Field::Note),
    ("comments", Field::Note),
    ("did", Field::Did),
    ("done", Field::Did),
    ("action", Field::Did),
    ("actions", Field::Did),
    ("work", Field::Did),
    ("minutes", Field::Minutes),
    ("bees_frames", Field::Finding(Finding::Bees)),
    ("frames_covered", Field::Finding(Finding::Bees)),
    ("brood_frames", Field::Finding(Finding::Brood)),
    ("honey_frames", Field::Finding(Finding::Honey)),
    ("stores_frames", Field::Finding(Finding::Honey)),
    ("mite_count", Field::Finding(Finding::Mites)),
    ("varroa", Field::Finding(Finding::Mites)),
    ("varroa_count", Field::Finding(Finding::Mites)),
    ("bees_in_sample", Field::Finding(Finding::WashBees)),
    ("sample", Field::Finding(Finding::WashBees)),
    ("sample_size", Field::Finding(Finding::WashBees)),
    ("mites_percent", Field::MitesPercent),
    ("mites_pct", Field::MitesPercent),
    ("mite_percent", Field::MitesPercent),
    ("percent", Field::MitesPercent),
    ("infestation", Field::MitesPercent),
    ("weight", Field::Finding(Finding::Weight)),
    ("hive_weight", Field::Finding(Finding::Weight)),
    ("temperament", Field::Finding(Finding::Temper)),
    ("queen_seen", Field::Finding(Finding::QueenSeen)),
    ("eggs_seen", Field::Finding(Finding::Eggs)),
    ("open_brood", Field::Finding(Finding::Larvae)),
    ("capped_brood", Field::Finding(Finding::Sealed)),
    ("swarm_cells", Field::Finding(Finding::Cells)),
    ("natural_drop", Field::Finding(Finding::Board)),
    ("mites_a_day", Field::Finding(Finding::Board)),
];

/// Endings of a head that name a unit.
const UNITS: &[(&str, Units)] = &[
    ("_kg", Units::Metric),
    ("_lb", Units::Us),
    ("_lbs", Units::Us),
    ("_c", Units::Metric),
    ("_f", Units::Us),
];

/// How a head is compared: lower case, words joined by `_`.
fn key(head: &str) -> String {
    let plain: String = head
        .trim()
        .trim_start_matches('\u{feff}')
        .chars()
        .map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '_' })
        .collect();
    let words: Vec<&str> = plain.split('_').filter(|word| !word.is_empty()).collect();
    words.join("_")
}

impl Column {
    /// The column of a head; `None` where it is not read.
    pub(super) fn of(head: &str) -> Option<Self> {
        let key = key(head);
        let named = |name: &str| {
            let own = |f: &&Finding| f.field() == name || self::key(f.label()) == name;
            NAMES
                .iter()
                .find(|(each, _)| *each == name)
                .map(|(_, field)| *field)
                .or_else(|| Finding::ALL.iter().find(own).map(|f| Field::Finding(*f)))
        };
        if let Some(field) = named(&key) {
            return Some(Self { field, units: None });
        }
        let unit = UNITS.iter().find_map(|(end, units)| Some((key.strip_suffix(end)?, *units)));
        if let Some((name, units)) = unit
            && let Some(field) = named(name)
            && matches!(field, Field::Finding(f) if matches!(f.kind(), Kind::Mass | Kind::Temperature))
        {
            return Some(Self { field, units: Some(units) });
        }
        let share = key.strip_suffix("_percent").or_else(|| key.strip_suffix("_pct"))?;
        let field = named(share)?;
        matches!(field, Field::Finding(f) if f.kind() == Kind::Percent).then_some(Self { field, units: None })
    }
}
