//! What the person has set: look, measures, size.

use super::{
    Aside, Places, StoreError,
    aside::{read_small, write_small},
    parse::{Reader, from_ron},
};
use crate::quantity::System;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// Which look the window has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Look {
    /// Light or dark, as the desktop says.
    #[default]
    System,
    /// Always light.
    Light,
    /// Always dark.
    Dark,
    /// High contrast, light or dark as the desktop says.
    HighContrast,
    /// High contrast, black on white.
    HighContrastLight,
    /// High contrast, white on black.
    HighContrastDark,
}

/// How large everything is drawn, in per cent, 50 to 200.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Scale(u16);

impl Scale {
    /// The smallest and the largest, in per cent (WCAG 2.2, 1.4.4 asks for 200).
    pub const RANGE: std::ops::RangeInclusive<u16> = 50..=200;

    /// `percent`, brought into [`Scale::RANGE`].
    pub fn of(percent: u16) -> Scale {
        Scale(percent.clamp(*Scale::RANGE.start(), *Scale::RANGE.end()))
    }

    /// In per cent.
    pub fn percent(self) -> u16 {
        Scale::of(self.0).0
    }
}

impl Default for Scale {
    fn default() -> Scale {
        Scale(100)
    }
}

/// The settings, kept in the config folder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// The look.
    pub look: Look,
    /// Which measures are shown.
    pub units: System,
    /// How large everything is.
    pub scale: Scale,
    /// Whether nothing glides.
    pub reduce_motion: bool,
    /// Whether files are asked for in the window itself, never by the desktop's dialogs.
    pub built_in_dialogs: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SettingsFile {
    version: u32,
    #[serde(default)]
    look: Look,
    #[serde(default)]
    units: System,
    #[serde(default)]
    scale: Scale,
    #[serde(default)]
    reduce_motion: bool,
    #[serde(default)]
    built_in_dialogs: bool,
}

const READERS: &[(u32, Reader<SettingsFile>)] = &[(1, from_ron)];

impl Settings {
    /// The settings as they were saved, or the defaults with a note of why.
    pub fn load(places: &Places) -> (Settings, Option<Aside>) {
        let (file, aside) = read_small(&Settings::path(places), "a settings file", READERS);
        let settings = file.map(|f| Settings {
            look: f.look,
            units: f.units,
            scale: Scale::of(f.scale.0),
            reduce_motion: f.reduce_motion,
            built_in_dialogs: f.built_in_dialogs,
        });
        (settings.unwrap_or_default(), aside)
    }

    /// Saves them.
    pub fn save(&self, places: &Places) -> Result<(), StoreError> {
        let Settings { look, units, scale, reduce_motion, built_in_dialogs } = *self;
        let file = SettingsFile { version: 1, look, units, scale, reduce_motion, built_in_dialogs };
        write_small(&Settings::path(places), &file)
    }

    fn path(places: &Places) -> PathBuf {
        places.config.join("settings.ron")
    }
}
