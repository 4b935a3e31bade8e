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

/// Writes what is told to a file, at its end.
fn log_to(path: &std::path::Path) -> Result<(), yardwalk::store::StoreError> {
    let file = yardwalk::store::log_file(path)?;
    let to_file = tracing_subscriber::fmt().with_ansi(false).with_max_level(tracing::Level::DEBUG);
    to_file.with_writer(std::sync::Mutex::new(file)).init();
    Ok(())
}

/// Prints the help or the version that was asked for, or what is wrong with the arguments.
fn told(asked: &clap::Error) -> ExitCode {
    match asked.print() {
        Err(err) if err.kind() != std::io::ErrorKind::BrokenPipe => {
            let _ = writeln!(std::io::stderr(), "yardwalk: {err}");
            ExitCode::from(1)
        }
        Ok(()) | Err(_) => ExitCode::from(u8::try_from(asked.exit_code()).unwrap_or(2)),
    }
}

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(asked) => return told(&asked),
    };
    let variable = |name: &str| std::env::var(name).ok();
    let surroundings = Surroundings {
        clock,
        offset,
        seed: seed(),
        data: yardwalk::store::data_folder().ok(),
        config: yardwalk::store::config_folder(),
        cache: yardwalk::store::cache_folder(),
        is_terminal: std::io::stdout().is_terminal() && std::io::stdin().is_terminal(),
        wear: yardwalk::tui::Wear {
            depth: yardwalk::tui::Depth::of_environment(&variable),
            theme: None,
            letters_only: yardwalk::tui::has_letters_only(&variable),
            is_dark: yardwalk::tui::is_dark(&variable),
        },
        locale: ["LC_ALL", "LC_NUMERIC", "LANG"]
            .into_iter()
            .filter_map(variable)
            .find(|value| !value.is_empty())
            .unwrap_or_default(),
    };
    if let Some(path) = &args.log
        && let Err(err) = log_to(path)
    {
        let _ = writeln!(std::io::stderr(), "yardwalk: {err}\n  to mend: {}", err.hint());
        return ExitCode::from(1);
    }
    tracing::info!(version = env!("CARGO_PKG_VERSION"), "started");
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
            tracing::error!("ended with an error");
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
