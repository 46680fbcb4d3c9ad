//! The template file, `NAME.template.ron`.

use super::{
    Fingerprint, StoreError,
    atomic::write_whole,
    format::{keep_original, locate, write_ron},
    limits,
    parse::{Reader, Sort, from_ron, read_versioned},
    read::read_text,
};
use crate::rotation::{BatchShape, MadeFrom, Mealtime, SlotShape, Template};
use serde::{Deserialize, Serialize};
use std::path::Path;

/// What the name of a template file ends in.
pub const TEMPLATE_SUFFIX: &str = ".template.ron";

const VERSION: u32 = 1;
const READERS: &[(u32, Reader<TemplateFile>)] = &[(1, from_ron)];

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TemplateFile {
    version: u32,
    name: String,
    made_from: MadeFrom,
    days: u16,
    mealtimes: Vec<Mealtime>,
    batches: Vec<BatchShape>,
    slots: Vec<SlotShape>,
}

/// Reads a template file.
pub fn read_template(path: &Path) -> Result<Template, StoreError> {
    let (text, _) = read_text(path)?;
    let (file, _) = read_versioned(path, &text, Sort::Shape, READERS)?;
    let TemplateFile { name, made_from, days, mealtimes, batches, slots, .. } = file;
    let template = Template { name, made_from, days, mealtimes, batches, slots };
    limits::template(&template).and_then(|()| template.check()).map_err(|e| locate(path, &text, &e))?;
    Ok(template)
}

/// A template as the text of its file.
pub fn template_to_text(template: &Template) -> String {
    let Template { name, made_from, days, mealtimes, batches, slots } = template.clone();
    write_ron(&TemplateFile { version: VERSION, name, made_from, days, mealtimes, batches, slots })
}

/// Writes a template to `path`, whole or not at all.
pub fn save_template(path: &Path, template: &Template) -> Result<Fingerprint, StoreError> {
    if let Err(e) = limits::template(template).and_then(|()| template.check()) {
        return Err(StoreError::Invalid { path: path.into(), line: None, what: e.what });
    }
    keep_original(path, VERSION)?;
    write_whole(path, template_to_text(template).as_bytes())
}
