//! Signs for terminals whose font has letters and little else: lines, bars and dots in ASCII.

use ratatui::buffer::Buffer;

/// The sign of ASCII that stands for one that is drawn; `None` for a letter, which stays as it is.
fn plain(sign: char) -> Option<char> {
    Some(match sign {
        '─' | '━' | '╌' | '┄' | '╶' | '╴' | '▁' | '▔' | '–' | '—' => '-',
        '│' | '┃' | '╎' | '┆' | '┊' | '▏' | '▎' | '▍' | '▕' => '|',
        '┌' | '┐' | '└' | '┘' | '├' | '┤' | '┬' | '┴' | '┼' | '╭' | '╮' | '╰' | '╯' => {
            '+'
        }
        '█' | '▇' | '▆' | '▅' | '▄' | '▃' | '▂' | '▉' | '▊' | '▋' | '▌' | '▐' | '■' => {
            '#'
        }
        '▓' => '%',
        '▒' => '=',
        '░' => ':',
        '●' | '□' | '°' => 'o',
        '○' => 'c',
        '▲' | '↑' => '^',
        '▼' | '↓' => 'v',
        '▶' | '→' | '›' => '>',
        '◀' | '←' | '‹' => '<',
        '×' | '✓' => 'x',
        '⠀' => ' ',
        '·' | '•' | '…' | '⠁'..='⣿' => '.',
        _ => return None,
    })
}

/// Draws with ASCII what was drawn with other signs. What the keeper wrote stays as it is.
pub(crate) fn in_letters(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        let mut signs = cell.symbol().chars();
        if let (Some(sign), None) = (signs.next(), signs.next())
            && let Some(plain) = plain(sign)
        {
            cell.set_char(plain);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_that_mean_different_things_stay_apart_and_names_stay_as_they_are() {
        for group in [["■", "▒", "□"], ["▓", "█", "░"], ["●", "○", "│"]] {
            let plain: Vec<_> =
                group.iter().map(|sign| plain(sign.chars().next().unwrap()).unwrap()).collect();
            assert!(plain[0] != plain[1] && plain[1] != plain[2] && plain[0] != plain[2], "{plain:?}");
        }
        let mut buffer = Buffer::with_lines(["Märta · 5 █▌─│ ⠤"]);
        in_letters(&mut buffer);
        let line: String = buffer.content.iter().map(ratatui::buffer::Cell::symbol).collect();
        assert_eq!(line, "Märta . 5 ##-| .");
    }
}
