//! What this kitchen has, `kitchen.ron` beside `household.ron`: every fresh rotation begins with it.

use super::{
    Aside, Places, StoreError,
    aside::{read_checked, write_small},
    limits,
    parse::{Reader, from_ron},
};
use crate::rotation::Equipment;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EquipmentFile {
    version: u32,
    equipment: Equipment,
}

const READERS: &[(u32, Reader<EquipmentFile>)] = &[(1, from_ron)];

fn path(places: &Places) -> PathBuf {
    places.data.join("kitchen.ron")
}

/// What the kitchen was said to have last, if anything; a note if its file is broken.
pub fn load_equipment(places: &Places) -> (Option<Equipment>, Option<Aside>) {
    let (file, aside) = read_checked(&path(places), "a kitchen file", READERS, |file| limits::equipment(&file.equipment));
    (file.map(|file| file.equipment), aside)
}

/// Keeps what the kitchen has for the next fresh rotation.
pub fn save_equipment(places: &Places, equipment: &Equipment) -> Result<(), StoreError> {
    write_small(&path(places), &EquipmentFile { version: 1, equipment: equipment.clone() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rotation::{CoolTo, FoodBox, Kitchen};

    #[test]
    fn a_kept_kitchen_is_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let places = Places::under(folder.path());
        assert_eq!(load_equipment(&places), (None, None));
        let equipment = Equipment {
            kitchen: Kitchen { cooks: 2, rings: 4, fan: true, pace: 80, ..Kitchen::default() },
            fridge_runs_at: Some(6.5),
            freezer: true,
            boxes: vec![FoodBox { name: "flat box".into(), size_mm: (200, 150, 50), metal: true, count: 3 }],
            cooling: Some(CoolTo { to_c: 5.0, within: 120 }),
        };
        for has in [equipment, Equipment::default()] {
            save_equipment(&places, &has).unwrap();
            assert_eq!(load_equipment(&places), (Some(has), None));
        }
    }

    #[test]
    fn a_broken_kitchen_is_told_with_its_line_and_put_aside() {
        let folder = tempfile::tempdir().unwrap();
        let places = Places::under(folder.path());
        std::fs::create_dir_all(&places.data).unwrap();
        for (body, said) in [
            ("\nkitchen: (cooks: 0)", "0 cooks"),
            ("\nfridge_runs_at: Some(90.0)", "90 °C"),
            ("\nboxes: [(name: \"a\\u{1b}[2J\", size_mm: (200, 150, 50), count: 1)]", "control character"),
            ("\nfreeser: true", "did you mean \"freezer\""),
        ] {
            std::fs::write(path(&places), format!("(version: 1, equipment: ({body}))")).unwrap();
            let (none, aside) = load_equipment(&places);
            let aside = aside.expect("it is told");
            assert!(none.is_none() && aside.kept.is_some());
            assert!(aside.to_string().contains(said), "{aside}");
        }
    }
}
