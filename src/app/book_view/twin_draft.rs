//! The twins and cautions of a dish, as they are being written.

use super::{company_draft::CompanionDraft, dish_draft::lines};
use crate::book::{Allergen, Care, Caution, Diet, Protein, Twin};
use serde::{Deserialize, Serialize};

/// A twin as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct TwinDraft {
    pub name: String,
    pub holds_piece: bool,
    pub diet: Diet,
    pub allergens: Vec<Allergen>,
    pub protein: Option<Protein>,
    /// Forms that it goes without.
    pub without: Vec<String>,
    pub companions: Vec<CompanionDraft>,
}

impl TwinDraft {
    /// A twin of which nothing is said yet.
    pub fn blank() -> TwinDraft {
        TwinDraft {
            name: String::new(),
            holds_piece: true,
            diet: Diet::Vegetarian,
            allergens: Vec::new(),
            protein: None,
            without: Vec::new(),
            companions: Vec::new(),
        }
    }

    pub fn of(twin: &Twin) -> TwinDraft {
        TwinDraft {
            name: twin.name.clone(),
            holds_piece: twin.holds_piece,
            diet: twin.diet,
            allergens: twin.allergens.clone(),
            protein: twin.protein,
            without: twin.without_forms.clone(),
            companions: twin.companions.iter().map(CompanionDraft::of).collect(),
        }
    }

    /// The twin, where every figure can be read.
    pub fn twin(&self) -> Option<Twin> {
        Some(Twin {
            name: self.name.trim().into(),
            holds_piece: self.holds_piece,
            diet: self.diet,
            allergens: self.allergens.clone(),
            protein: self.protein,
            without_forms: self.without.clone(),
            companions: self.companions.iter().map(CompanionDraft::companion).collect::<Option<_>>()?,
        })
    }

    /// The forms that it can go without: those of the dish, and those that it says it goes without already.
    pub fn forms<'a>(&'a self, of_dish: &'a str) -> Vec<String> {
        let mut forms = lines(of_dish);
        forms.extend(self.without.iter().filter(|w| !lines(of_dish).contains(w)).cloned());
        forms
    }
}

/// A caution as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct CautionDraft {
    pub for_whom: Vec<Care>,
    pub text: String,
    pub source: String,
}

impl CautionDraft {
    /// A caution for everybody that says nothing yet.
    pub fn blank() -> CautionDraft {
        CautionDraft { for_whom: Vec::new(), text: String::new(), source: "my own".into() }
    }

    pub fn of(c: &Caution) -> CautionDraft {
        CautionDraft { for_whom: c.for_whom.clone(), text: c.text.clone(), source: c.source.clone() }
    }

    pub fn caution(&self) -> Caution {
        Caution { for_whom: self.for_whom.clone(), text: self.text.trim().into(), source: self.source.trim().into() }
    }
}
