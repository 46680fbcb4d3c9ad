//! The lists of a kind as they are being written: what comes of it, what a cup weighs, how long it keeps, what stands in.

use super::figure::{days, grams, minutes_by, or_nothing, shown, some_amount, store_days, thousandths};
use crate::{
    book::{CupMass, CutForm, CutKeeping, FormYield, KindId, KindPart, Method, PartId, StandIn, WholeKeeping},
    quantity::{Density, Portion, State},
};
use serde::{Deserialize, Serialize};

/// A share that is lost, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct TrimDraft {
    pub name: String,
    pub share: String,
}

impl TrimDraft {
    pub fn blank() -> TrimDraft {
        TrimDraft { name: String::new(), share: String::new() }
    }
}

/// A part as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct PartDraft {
    pub name: String,
    pub share: String,
    pub raw_days: String,
    pub nice: String,
    pub suits: String,
    /// One whole of it and its grams: both empty where it comes in none.
    pub unit: [String; 2],
    /// What it is called in files, for a part that was there before.
    pub id: Option<PartId>,
}

impl PartDraft {
    pub fn blank() -> PartDraft {
        PartDraft {
            name: String::new(),
            share: String::new(),
            raw_days: "3".into(),
            nice: String::new(),
            suits: String::new(),
            unit: Default::default(),
            id: None,
        }
    }

    pub fn of(part: &KindPart) -> PartDraft {
        PartDraft {
            name: part.name.clone(),
            share: part.share.get().to_string(),
            raw_days: part.raw_days.0.to_string(),
            nice: shown(part.nice_days.map(|d| d.0)),
            suits: part.suits.clone(),
            unit: part.unit.as_ref().map_or_else(Default::default, |(word, mass)| [word.clone(), mass.get().to_string()]),
            id: Some(part.id.clone()),
        }
    }

    /// Whether nothing is said of whole units.
    pub fn has_no_unit(&self) -> bool {
        self.unit.iter().all(|t| t.trim().is_empty())
    }

    /// The part, where every figure can be read; its grams are counted in `state`.
    pub fn part(&self, taken: &[KindPart], state: State) -> Option<KindPart> {
        let id = match &self.id {
            Some(id) => id.clone(),
            None => PartId::new(&super::fresh_id(&self.name, |id| taken.iter().any(|p| p.id.as_str() == id)))?,
        };
        let [word, mass] = &self.unit;
        let unit = if self.has_no_unit() { None } else { Some((word.trim().into(), Portion::of(state, grams(mass).ok()?))) };
        Some(KindPart {
            id,
            name: self.name.trim().into(),
            share: thousandths(&self.share).ok()?,
            raw_days: days(&self.raw_days).ok()?,
            nice_days: or_nothing(&self.nice, days).ok()?,
            suits: self.suits.trim().into(),
            unit,
        })
    }
}

/// What comes of it by one method, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct YieldDraft {
    pub method: Method,
    pub share: String,
    pub source: String,
}

impl YieldDraft {
    pub fn blank(method: Method) -> YieldDraft {
        YieldDraft { method, share: String::new(), source: "my own".into() }
    }

    pub fn of(y: &FormYield) -> YieldDraft {
        YieldDraft { method: y.method, share: y.share.get().to_string(), source: y.source.clone() }
    }

    pub fn form_yield(&self) -> Option<FormYield> {
        let share = thousandths(&self.share).ok()?;
        Some(FormYield { method: self.method, share, source: self.source.trim().into() })
    }
}

/// What a cup of one cut form weighs, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct CupDraft {
    pub form: CutForm,
    pub grams: String,
    pub source: String,
}

impl CupDraft {
    pub fn blank(form: CutForm) -> CupDraft {
        CupDraft { form, grams: String::new(), source: "my own".into() }
    }

    pub fn of(c: &CupMass) -> CupDraft {
        CupDraft { form: c.form, grams: c.grams.0.to_string(), source: c.source.clone() }
    }

    pub fn cup(&self) -> Option<CupMass> {
        let grams = Density(some_amount(&self.grams).ok()?);
        Some(CupMass { form: self.form, grams, source: self.source.trim().into() })
    }
}

/// How long one cut form keeps raw, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct CutDraft {
    pub form: CutForm,
    pub days: String,
}

impl CutDraft {
    pub fn blank(form: CutForm) -> CutDraft {
        CutDraft { form, days: "1".into() }
    }

    pub fn of(c: &CutKeeping) -> CutDraft {
        CutDraft { form: c.form, days: c.days.0.to_string() }
    }

    pub fn cut(&self) -> Option<CutKeeping> {
        Some(CutKeeping { form: self.form, days: days(&self.days).ok()? })
    }
}

/// How long the unopened piece keeps in one place, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct WholeDraft {
    pub place: String,
    /// Least, most.
    pub days: [String; 2],
    pub source: String,
}

impl WholeDraft {
    pub fn blank() -> WholeDraft {
        WholeDraft { place: String::new(), days: Default::default(), source: "my own".into() }
    }

    pub fn of(w: &WholeKeeping) -> WholeDraft {
        WholeDraft { place: w.place.clone(), days: [w.days.0.to_string(), w.days.1.to_string()], source: w.source.clone() }
    }

    pub fn whole(&self) -> Option<WholeKeeping> {
        let [least, most] = &self.days;
        let days = (store_days(least).ok()?, store_days(most).ok()?);
        Some(WholeKeeping { place: self.place.trim().into(), days, source: self.source.trim().into() })
    }
}

/// A kind that stands in, as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct StandInDraft {
    pub kind: KindId,
    /// Minutes more or less, by method.
    pub minutes: Vec<(Method, String)>,
}

impl StandInDraft {
    pub fn blank(kind: KindId) -> StandInDraft {
        StandInDraft { kind, minutes: Vec::new() }
    }

    pub fn of(s: &StandIn) -> StandInDraft {
        StandInDraft { kind: s.kind.clone(), minutes: s.minutes.iter().map(|(m, by)| (*m, by.to_string())).collect() }
    }

    pub fn stand_in(&self) -> Option<StandIn> {
        let minutes = self.minutes.iter().map(|(m, by)| minutes_by(by).ok().map(|by| (*m, by))).collect::<Option<_>>()?;
        Some(StandIn { kind: self.kind.clone(), minutes })
    }
}
