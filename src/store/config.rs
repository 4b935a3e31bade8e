//! The folder of this user's settings: `settings.ron`, which the program writes, `keys.ron` and `themes/*.ron`, which it
//! only reads. Of a file the sound rows hold; what is wrong with the others is told, and their default used.

use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::files::Files;
use super::parse;
use super::rows::sound_rows;
use crate::model::Settings;

/// What the settings' folder holds.
#[derive(Debug, Default)]
pub struct Config {
    /// The settings.
    pub settings: Settings,
    /// Whether there are any yet: without a file of them the look is as the terminal has it.
    pub is_set: bool,
    /// The text of `keys.ron`, with its path.
    pub keys: Option<(PathBuf, String)>,
    /// The themes: name, path and text.
    pub themes: Vec<(String, PathBuf, String)>,
    /// What could not be read.
    pub faults: Vec<StoreError>,
}

/// The folder of settings: `yardwalk` in the platform's configuration folder.
pub fn config_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "yardwalk").map(|dirs| dirs.config_dir().to_owned())
}

/// The folder of what may be thrown away: `yardwalk` in the platform's cache folder.
pub fn cache_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "yardwalk").map(|dirs| dirs.cache_dir().to_owned())
}

/// Reads the settings' folder; a folder that is not there is one with nothing in it.
pub fn read_config(folder: &Path) -> Config {
    let files = Files::default();
    let mut config = Config::default();
    let text_of = |name: &str| -> Option<Result<(PathBuf, String), StoreError>> {
        let path = folder.join(name);
        match files.is_there(&path) {
            Ok(false) => None,
            Ok(true) => Some(files.read_small(&path).map(|text| (path, text))),
            Err(err) => Some(Err(err)),
        }
    };
    match text_of("settings.ron") {
        Some(Ok((path, text))) => {
            let (settings, faults) = sound_rows(&text, &path);
            (config.settings, config.is_set) = (settings, true);
            config.faults.extend(faults);
        }
        Some(Err(err)) => config.faults.push(err),
        None => {}
    }
    match text_of("keys.ron") {
        Some(Ok(keys)) => config.keys = Some(keys),
        Some(Err(err)) => config.faults.push(err),
        None => {}
    }
    match files.list(&folder.join("themes")) {
        Ok(paths) => {
            for path in paths.into_iter().filter(|p| p.extension().is_some_and(|e| e == "ron")) {
                let name = path.file_stem().map(|n| crate::model::visible(&n.to_string_lossy()));
                match (files.read_small(&path), name) {
                    (Ok(text), Some(name)) => config.themes.push((name, path, text)),
                    (Err(err), _) => config.faults.push(err),
                    (Ok(_), None) => {}
                }
            }
        }
        Err(err) => config.faults.push(err),
    }
    config
}

/// Writes the settings.
///
/// # Errors
/// Where the disk refuses, or where the file that is there has a row that cannot be read: it was made by hand, and writing
/// would lose it. The former settings stand.
pub fn write_settings(folder: &Path, settings: &Settings) -> Result<(), StoreError> {
    let path = folder.join("settings.ron");
    let files = Files::default();
    if files.is_there(&path)? {
        parse::from_ron::<Settings>(&files.read_small(&path)?, &path)?;
    }
    let text = parse::to_text(settings, &path)?;
    files.replace(&path, &text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_and_a_fault_is_told_and_the_default_used() {
        let root = tempfile::tempdir().unwrap();
        assert_eq!(read_config(root.path()).settings, Settings::default());
        let settings = Settings { is_night: true, mouse: true, ..Settings::default() };
        write_settings(root.path(), &settings).unwrap();
        let files = Files::default();
        files.write_new(&root.path().join("themes/mine.ron"), "(").unwrap();
        let config = read_config(root.path());
        assert_eq!((config.settings, config.faults.len()), (settings, 0));
        assert_eq!(config.themes[0].0, "mine");
        files.replace(&root.path().join("settings.ron"), "(mouse: true, color: 3)").unwrap();
        let config = read_config(root.path());
        assert_eq!(config.settings, Settings { mouse: true, ..Settings::default() }, "the sound row holds");
        assert!(config.faults[0].to_string().contains("no field `color`"), "{}", config.faults[0]);
        // Made by hand, it is not written over by what the program could read of it.
        assert!(write_settings(root.path(), &config.settings).is_err());
        let kept = files.read_small(&root.path().join("settings.ron")).unwrap();
        assert_eq!(kept, "(mouse: true, color: 3)");
    }
}
