//! Reads the clock, the folders and the arguments; prints errors with their causes; sets the exit code.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;

use clap::Parser;
use yardwalk::cli::{self, Args, Surroundings};

#[allow(clippy::disallowed_methods, reason = "the one place that reads the clock")]
fn clock() -> chrono::NaiveDateTime {
    chrono::Local::now().naive_local()
}

/// The offset of the laptop's clock from UTC at noon of a day.
fn offset(day: chrono::NaiveDate) -> chrono::FixedOffset {
    use chrono::{Local, NaiveTime, Offset, TimeZone, Utc};
    let noon = day.and_time(NaiveTime::MIN) + chrono::TimeDelta::hours(12);
    Local.offset_from_local_datetime(&noon).earliest().map_or_else(|| Utc.fix(), |o| o.fix())
}

/// Differs between starts and machines: the clock's finest figures and the process.
fn seed() -> u16 {
    use chrono::Timelike;
    let mixed = u64::from(clock().nanosecond()).wrapping_mul(0x9E37_79B9) ^ u64::from(std::process::id());
    u16::try_from(mixed % 65_521).unwrap_or(0)
}

fn main() -> ExitCode {
    let args = Args::parse();
    let surroundings = Surroundings {
        clock,
        offset,
        seed: seed(),
        data: yardwalk::store::data_folder().ok(),
        config: yardwalk::store::config_folder(),
        is_terminal: std::io::stdout().is_terminal() && std::io::stdin().is_terminal(),
        no_color: std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty()),
    };
    // Not locked: the screen and the way out at a signal write there too.
    let mut out = std::io::stdout();
    let result = cli::run(&args, &surroundings, &mut out).and_then(|code| {
        out.flush()?;
        Ok(code)
    });
    match result {
        Ok(code) => code,
        // The reader of a pipe has seen enough: that is no error.
        Err(err) if err.is_broken_pipe() => ExitCode::SUCCESS,
        Err(err) => {
            let mut text = format!("yardwalk: {err}");
            let mut cause = std::error::Error::source(&err);
            while let Some(each) = cause {
                text.push_str(": ");
                text.push_str(&each.to_string());
                cause = each.source();
            }
            let hint = err.hint();
            // Whatever an error quotes, it must not move the cursor.
            let text = yardwalk::model::visible(&text);
            let _ = writeln!(std::io::stderr(), "{text}");
            if !hint.is_empty() {
                let _ = writeln!(std::io::stderr(), "  to mend: {hint}");
            }
            ExitCode::from(1)
        }
    }
}
