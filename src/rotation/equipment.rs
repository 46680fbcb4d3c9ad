//! What a kitchen has, whichever piece lies in it: it stays when the plan is eaten up and the next one begins.

use super::{CoolTo, FoodBox, Kitchen, Rotation, fridge, storage};
use serde::{Deserialize, Serialize};

/// Hands, rings and oven, what the fridge runs at, whether there is a freezer, the boxes, and a stricter rule for cooling.
///
/// A plan holds all of it among other things that are its own alone (power cuts, what is frozen, when the piece was opened);
/// this is the part that the household has to say only once.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Equipment {
    /// What a session may use.
    pub kitchen: Kitchen,
    /// What the fridge runs at in degrees Celsius, where somebody has looked; nothing: 5 or colder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fridge_runs_at: Option<f64>,
    /// Whether there is a freezer.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub freezer: bool,
    /// What cooked food is cooled in; none named: the usual.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<FoodBox>,
    /// A rule for cooling that is stricter than the published one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cooling: Option<CoolTo>,
}

impl Equipment {
    /// What the kitchen of a plan has.
    pub fn of(r: &Rotation) -> Equipment {
        Equipment {
            kitchen: r.kitchen,
            fridge_runs_at: r.fridge.runs_at,
            freezer: r.storage.freezer,
            boxes: r.storage.boxes.clone(),
            cooling: r.storage.cooling,
        }
    }

    /// Whether `r` has just this.
    pub fn is_that_of(&self, r: &Rotation) -> bool {
        self.kitchen == r.kitchen
            && self.fridge_runs_at == r.fridge.runs_at
            && self.freezer == r.storage.freezer
            && self.boxes == r.storage.boxes
            && self.cooling == r.storage.cooling
    }

    /// The kitchen of a plan in which nothing is frozen or boxed up yet becomes this one.
    pub fn furnish(&self, fresh: &mut Rotation) {
        fresh.kitchen = self.kitchen;
        fresh.fridge.runs_at = self.fridge_runs_at;
        fresh.storage.freezer = self.freezer;
        fresh.storage.boxes = self.boxes.clone();
        fresh.storage.cooling = self.cooling;
    }

    /// What cannot be, in one sentence.
    pub fn fault(&self) -> Option<String> {
        self.kitchen
            .fault()
            .or_else(|| self.fridge_runs_at.and_then(fridge::degrees_fault))
            .or_else(|| storage::things_fault(&self.boxes, self.cooling))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        judge::test_support::Plan,
        rotation::{Edit, Storage, apply, validate},
    };

    fn furnished() -> Rotation {
        let r = Plan::cabbage(4).rotation;
        let boxes = vec![FoodBox { name: "flat box".into(), size_mm: (200, 150, 50), metal: false, count: 2 }];
        let r = apply(&r, &Edit::SetKitchen(Kitchen { cooks: 2, fan: true, ..r.kitchen })).unwrap().rotation;
        let storage = Storage { freezer: true, boxes, cooling: Some(CoolTo { to_c: 5.0, within: 120 }), ..r.storage.clone() };
        let mut r = apply(&r, &Edit::SetStorage(storage)).unwrap().rotation;
        r.fridge.runs_at = Some(7.0);
        r
    }

    #[test]
    fn a_fresh_plan_gets_the_whole_kitchen_and_nothing_of_the_old_plan() {
        let old = furnished();
        let had = Equipment::of(&old);
        assert!(had.is_that_of(&old) && had.fault().is_none());
        let mut fresh = Plan::cabbage(4).rotation;
        assert!(!had.is_that_of(&fresh));
        let bare = fresh.clone();
        had.furnish(&mut fresh);
        assert!(had.is_that_of(&fresh) && validate(&fresh).is_ok());
        Equipment::default().furnish(&mut fresh);
        assert_eq!(fresh, bare, "nothing else was touched");
    }

    #[test]
    fn what_cannot_be_is_told() {
        let wrong = [
            Equipment { fridge_runs_at: Some(90.0), ..Equipment::default() },
            Equipment { fridge_runs_at: Some(f64::NAN), ..Equipment::default() },
            Equipment { kitchen: Kitchen { cooks: 0, ..Kitchen::default() }, ..Equipment::default() },
            Equipment { cooling: Some(CoolTo { to_c: -300.0, within: 5 }), ..Equipment::default() },
            Equipment {
                boxes: vec![FoodBox { name: String::new(), size_mm: (1, 1, 1), metal: true, count: 0 }],
                ..Equipment::default()
            },
        ];
        for equipment in wrong {
            assert!(equipment.fault().is_some(), "{equipment:?}");
        }
    }
}
