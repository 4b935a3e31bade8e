//! What a version is called: in `yard.ron`, and as a file in `former/`.

use std::fmt;
use std::path::Path;

/// A version: how many came before it, what it holds in short, and a number by which it differs from one with the same in it
/// that was made elsewhere. What a hand made has 0 there: two laptops that find it are to take it for one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::store) struct Id {
    pub(super) number: u32,
    pub(super) mark: u32,
    pub(super) apart: u32,
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{:08x}-{:08x}", self.number, self.mark, self.apart)
    }
}

/// A version and those it was made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Made {
    pub(super) id: Id,
    pub(super) of: Vec<Id>,
}

impl Made {
    /// What stands in `yard.ron` of it: `12-3f9a77aa-5d0c91e2 of 11-1b2c3d4e-00000000`.
    pub(super) fn marker(&self) -> String {
        let of: Vec<String> = self.of.iter().map(Id::to_string).collect();
        if of.is_empty() { self.id.to_string() } else { format!("{} of {}", self.id, of.join(" ")) }
    }

    pub(super) fn of_marker(text: &str) -> Option<Self> {
        let (id, of) = text.split_once(" of ").map_or((text, ""), |(id, of)| (id, of));
        let of = of.split_whitespace().map(id_of).collect::<Option<Vec<Id>>>()?;
        Some(Self { id: id_of(id)?, of })
    }

    /// The file it is kept in: its marker with hyphens, the number filled up so that files are sorted by it.
    pub(super) fn file_name(&self) -> String {
        let of: Vec<String> = self.of.iter().map(Id::to_string).collect();
        let of = if of.is_empty() { String::new() } else { format!("-of-{}", of.join("-")) };
        let Id { number, mark, apart } = self.id;
        format!("yard-{number:06}-{mark:08x}-{apart:08x}{of}.ron")
    }

    pub(super) fn of_file(path: &Path) -> Option<Self> {
        let stem = path.file_name()?.to_str()?.strip_suffix(".ron")?.strip_prefix("yard-")?;
        let (id, of) = stem.split_once("-of-").map_or((stem, ""), |(id, of)| (id, of));
        let parts: Vec<&str> = of.split('-').filter(|part| !part.is_empty()).collect();
        let of = parts.chunks(3).map(|id| id_of(&id.join("-"))).collect::<Option<Vec<Id>>>()?;
        Some(Self { id: id_of(id)?, of })
    }
}

fn id_of(text: &str) -> Option<Id> {
    let mut parts = text.split('-');
    let number = parts.next()?.parse().ok()?;
    let mut hex = || u32::from_str_radix(parts.next()?, 16).ok();
    let id = Id { number, mark: hex()?, apart: hex()? };
    parts.next().is_none().then_some(id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_version_is_read_from_its_marker_and_from_the_name_of_its_file() {
        let id = |number, mark, apart| Id { number, mark, apart };
        for of in [vec![], vec![id(0, 0, 0)], vec![id(11, 7, 9), id(3, u32::MAX, 1)]] {
            let made = Made { id: id(12, 0x3f9a_77aa, 5), of };
            assert_eq!(Made::of_marker(&made.marker()), Some(made.clone()));
            assert_eq!(Made::of_file(&Path::new("former").join(made.file_name())), Some(made));
        }
        for other in
            ["yard-000012.ron", "yard.ron", "yard-by-hand.ron", "yard-1-2-3-of-4.ron", "yard-1-x-3.ron"]
        {
            assert_eq!(Made::of_file(Path::new(other)), None, "{other}");
        }
        assert_eq!(Made::of_marker("twelve"), None);
    }
}
