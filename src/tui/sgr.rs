//! Colors for terminals that know sixteen: `38;5;n` becomes `3n` or `9n`, which all of them know.
//!
//! The backend writes the sixteen as the first of the 256. A terminal that knows no 256 takes the 5 of that for blinking.

use std::io::{self, Write};

/// The longest sequence that is held back; a longer one is none that sets colors.
const LONGEST: usize = 64;

/// Hands on what is written, with the colors of SGR sequences (ECMA-48, 8.3.117) written anew.
#[derive(Debug)]
pub(super) struct SixteenColors<W> {
    to: W,
    is_on: bool,
    /// A sequence that has begun.
    held: Vec<u8>,
}

impl<W: Write> SixteenColors<W> {
    /// Hands on to `to`; unchanged unless `is_on`.
    pub(super) fn new(to: W, is_on: bool) -> Self {
        Self { to, is_on, held: Vec::new() }
    }

    fn take(&mut self, byte: u8, out: &mut Vec<u8>) {
        match (self.held.as_slice(), byte) {
            ([], 0x1b) | ([0x1b], b'[') => self.held.push(byte),
            ([], _) => out.push(byte),
            ([0x1b, b'[', rest @ ..], b'0'..=b'9' | b';') if rest.len() < LONGEST => self.held.push(byte),
            ([0x1b, b'[', rest @ ..], b'm') => {
                out.extend_from_slice(b"\x1b[");
                out.extend_from_slice(in_sixteen(&String::from_utf8_lossy(rest)).as_bytes());
                out.push(b'm');
                self.held.clear();
            }
            _ => {
                out.append(&mut self.held);
                out.push(byte);
            }
        }
    }
}

/// The parameters of an SGR sequence with each of the sixteen colors in its short form.
fn in_sixteen(parameters: &str) -> String {
    let mut rest = parameters.split(';');
    let mut out: Vec<String> = Vec::new();
    while let Some(first) = rest.next() {
        let mut after = rest.clone();
        let color = match (first, after.next(), after.next().map(str::parse::<u16>)) {
            ("38", Some("5"), Some(Ok(n))) if n < 16 => Some((n, 30, 90)),
            ("48", Some("5"), Some(Ok(n))) if n < 16 => Some((n, 40, 100)),
            _ => None,
        };
        if let Some((n, dim, bright)) = color {
            rest = after;
            out.push(if n < 8 { dim + n } else { bright + n - 8 }.to_string());
        } else {
            out.push(first.to_owned());
        }
    }
    out.join(";")
}

impl<W: Write> Write for SixteenColors<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if !self.is_on {
            return self.to.write(bytes);
        }
        let mut out = Vec::with_capacity(bytes.len());
        for byte in bytes {
            self.take(*byte, &mut out);
        }
        self.to.write_all(&out)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn through(is_on: bool, parts: &[&str]) -> String {
        let mut to = SixteenColors::new(Vec::new(), is_on);
        for part in parts {
            to.write_all(part.as_bytes()).unwrap();
        }
        String::from_utf8(to.to).unwrap()
    }

    #[test]
    fn the_sixteen_are_written_short_wherever_the_writing_is_cut() {
        let text = "\x1b[1;38;5;9;48;5;0mé\x1b[2J\x1b[38;5;200m\x1b[0m";
        let wanted = "\x1b[1;91;40mé\x1b[2J\x1b[38;5;200m\x1b[0m";
        for at in (0..text.len()).filter(|at| text.is_char_boundary(*at)) {
            let (head, tail) = text.split_at(at);
            assert_eq!(through(true, &[head, tail]), wanted, "cut at {at}");
        }
        assert_eq!(through(false, &[text]), text);
    }
}
