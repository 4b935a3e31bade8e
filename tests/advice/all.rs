//! Every case has its test: each id stands in the words above a test of its topic.

const TOPICS: &[(&str, u32)] = &[
    ("F", 18),
    ("W", 15),
    ("R", 8),
    ("D", 12),
    ("Q", 15),
    ("M", 11),
    ("T", 21),
    ("H", 12),
    ("E", 8),
    ("P", 9),
    ("S", 8),
    ("C", 10),
    ("L", 10),
];

#[test]
fn every_case_has_its_test() {
    let texts = [
        include_str!("disease.rs"),
        include_str!("entrances.rs"),
        include_str!("food.rs"),
        include_str!("honey.rs"),
        include_str!("mites.rs"),
        include_str!("queens.rs"),
        include_str!("robbing.rs"),
        include_str!("season.rs"),
        include_str!("treatments.rs"),
        include_str!("winter_weight.rs"),
    ];
    let lines = texts.iter().flat_map(|t| t.lines()).filter(|line| line.trim_start().starts_with("///"));
    let words: Vec<&str> = lines.flat_map(|line| line.split(|c: char| !c.is_ascii_alphanumeric())).collect();
    let missing: Vec<String> = TOPICS
        .iter()
        .flat_map(|(topic, last)| (1..=*last).map(move |n| format!("{topic}{n}")))
        .filter(|id| !words.contains(&id.as_str()))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}
