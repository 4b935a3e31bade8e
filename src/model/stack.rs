//! A stack of boxes in words, and words read as a stack.

use super::hive::{Depth, HiveBox, Role};

/// The stack in words, bottom to top: `2 deep + 1 medium super`. Read again it gives the same boxes.
pub fn stack_words(boxes: &[HiveBox]) -> String {
    let mut parts: Vec<(String, Role, usize)> = Vec::new();
    for each in boxes {
        match parts.last_mut() {
            Some((words, role, count)) if *words == each.words() && *role == each.role => *count += 1,
            _ => parts.push((each.words(), each.role, 1)),
        }
    }
    parts
        .iter()
        .map(|(words, role, count)| match role {
            Role::Nest => format!("{count} {words}"),
            Role::Super => format!("{count} {words} super{}", if *count == 1 { "" } else { "s" }),
        })
        .collect::<Vec<_>>()
        .join(" + ")
}

/// Boxes from words such as `2 deep nest; 1 8-frame medium super`, bottom to top.
///
/// # Errors
/// Which part is no box, and how one is written.
pub fn stack_from(text: &str) -> Result<Vec<HiveBox>, String> {
    let mut found = Vec::new();
    for part in text.split([';', '+', ',']).map(str::trim).filter(|p| !p.is_empty()) {
        let refuse = || {
            format!(
                "`{part}` is no box: write a depth and nest or super, such as `2 deep nest` or `8-frame medium super`"
            )
        };
        let (mut count, mut frames, mut depth, mut role) = (1_usize, 10_u8, None, Role::Nest);
        for token in part.split_whitespace() {
            let token = token.to_ascii_lowercase();
            if let Ok(n) = token.parse::<usize>() {
                count = n;
            } else if let Some(n) = token.strip_suffix("-frame").and_then(|n| n.parse().ok()) {
                frames = n;
            } else if let Some(d) = Depth::ALL.iter().find(|d| token.trim_end_matches('s') == d.word()) {
                depth = Some(*d);
            } else {
                role = match token.trim_end_matches('s') {
                    "nest" | "brood" => Role::Nest,
                    "super" | "honey" => Role::Super,
                    _ => return Err(refuse()),
                };
            }
        }
        let depth = depth.ok_or_else(refuse)?;
        if !(1..=12).contains(&count) {
            return Err(format!("`{part}`: 1 to 12 boxes"));
        }
        found.extend(std::iter::repeat_n(HiveBox::new(depth, frames, role), count));
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_as_the_boxes_they_were_made_of() {
        let make = |depth, frames, role| HiveBox::new(depth, frames, role);
        for boxes in [
            vec![make(Depth::Deep, 10, Role::Nest)],
            vec![
                make(Depth::Deep, 10, Role::Nest),
                make(Depth::Deep, 10, Role::Nest),
                make(Depth::Medium, 8, Role::Super),
                make(Depth::Shallow, 10, Role::Super),
                make(Depth::Shallow, 10, Role::Super),
            ],
            vec![make(Depth::Medium, 5, Role::Nest), make(Depth::Deep, 5, Role::Nest)],
        ] {
            assert_eq!(stack_from(&stack_words(&boxes)).unwrap(), boxes, "{}", stack_words(&boxes));
        }
        assert!(stack_from("2 tall").unwrap_err().contains("`2 tall` is no box"));
    }
}
