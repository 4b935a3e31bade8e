//! The form of each JSON report, as JSON Schema (draft 2020-12), for programs that read them.

use schemars::schema_for;

use super::json;

/// A report that has a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reported {
    /// What `plan --json` prints.
    Plan,
    /// What `load --json` prints.
    Load,
    /// What `hive --json` prints.
    Hive,
    /// What `season --json` prints.
    Season,
    /// What `practice --json` prints.
    Practice,
    /// What `calc --json` prints.
    Calc,
}

impl Reported {
    /// Every one.
    pub const ALL: &'static [Self] =
        &[Self::Plan, Self::Load, Self::Hive, Self::Season, Self::Practice, Self::Calc];

    /// The command that prints it.
    pub fn command(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Load => "load",
            Self::Hive => "hive",
            Self::Season => "season",
            Self::Practice => "practice",
            Self::Calc => "calc",
        }
    }
}

/// The schema of a report, as JSON.
///
/// # Errors
/// None in practice; serde's own are passed on.
pub fn schema(of: Reported) -> Result<String, serde_json::Error> {
    let mut schema = match of {
        Reported::Plan => schema_for!(super::plan::PlanOut<'static>),
        Reported::Load => schema_for!(super::load::LoadOut<'static>),
        Reported::Hive => schema_for!(super::card::CardOut<'static>),
        Reported::Season => schema_for!(super::season::SeasonOut<'static>),
        Reported::Practice => schema_for!(super::practice::PracticeOut),
        Reported::Calc => schema_for!(super::calc::CalcOut),
    };
    schema.insert("title".to_owned(), format!("yardwalk {} --json", of.command()).into());
    json::text(&schema)
}
