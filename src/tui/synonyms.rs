//! Words for one thing: the finder finds it by any of them.

/// Each row: words a keeper may use for the same matter.
const SAME: &[&[&str]] = &[
    &["mite", "varroa", "wash", "sugar roll", "board", "treat"],
    &["oxalic", "formic", "thymol", "amitraz", "acid", "strip", "treat", "medicate"],
    &["swarm", "queen cell", "split", "divide"],
    &["dead", "died", "loss", "perish", "empty stand", "deadout"],
    &["feed", "fed", "syrup", "sugar", "fondant", "candy", "feeder"],
    &["weather", "temperature", "wind", "rain", "bloom", "forage"],
    &["dark", "night", "light", "color", "colour", "theme", "contrast"],
    &["metric", "units", "pounds", "kilogram", "celsius", "fahrenheit"],
    &["honey", "super", "harvest", "extract", "pull"],
    &["queen", "requeen", "laying", "eggs", "brood"],
    &["box", "hive body", "deep", "medium", "condense", "reverse"],
    &["disease", "foulbrood", "afb", "efb", "inspector", "sick"],
    &["help", "keys", "find", "manual"],
    &["quit", "exit", "leave", "close"],
    &["sting", "allergy", "anaphylaxis", "epinephrine", "burn", "first aid", "safety", "emergency"],
    &["withdraw", "delete", "remove", "strike"],
    &["log", "visit", "history", "record", "diary", "journal"],
    &["load", "truck", "pack", "packing", "gear"],
    &["weeks", "plan", "trips", "schedule", "ahead"],
    &["winter", "ready", "wrap", "insulate", "entrance", "mouse"],
    &["thresholds", "practice", "limit", "options"],
    &["settings", "preferences", "options", "configure"],
    &["heft", "weight", "weigh", "scale", "heavy", "stores"],
    &["mouse", "tap", "click", "touch"],
    &["new hive", "add hives", "nuc", "package", "colony"],
    &["yard", "apiary", "site"],
    &["year", "season", "dates", "calendar"],
    &["worth", "money", "value"],
    &["robbing", "robber", "wasps", "fighting"],
];

/// Whether some words fit what was typed: each word of it stands in them, or a word for the same does.
pub(crate) fn fits(words: &str, typed: &str) -> bool {
    let (words, typed) = (words.to_lowercase(), typed.to_lowercase());
    let by_another_word = |part: &str| {
        // Two letters begin too many words to mean one of them.
        part.len() > 2
            && SAME
                .iter()
                .filter(|row| row.iter().any(|word| word.starts_with(part)))
                .any(|row| row.iter().any(|word| words.contains(word)))
    };
    typed.split_whitespace().all(|part| words.contains(part) || by_another_word(part))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thing_is_found_by_its_other_words_and_not_by_any() {
        assert!(fits("log: washed for mites", "varroa"));
        assert!(fits("look at: Colony dead", "loss"));
        assert!(fits("setting: Units", "metric"));
        assert!(fits("log: fed syrup", "feed"));
        assert!(!fits("log: fed syrup", "varroa"));
        assert!(!fits("card of A1", "xyz"));
        // Too short to mean another word, but what stands there is found.
        assert!(!fits("log: fed syrup", "su") && fits("log: fed syrup", "sy"));
    }
}
