//! A kind as it is being written.

use super::{
    dish_draft::{Checked, lines},
    figure::{days, grams, or_nothing, shown, some_amount, thousandths},
    fresh_kind_id,
    kind_rows::{CupDraft, CutDraft, PartDraft, StandInDraft, TrimDraft, WholeDraft, YieldDraft},
};
use crate::{
    book::{Book, Kind, KindId, KindPart, TrimShare, faults_of_kind},
    quantity::{Days, Density, PerMille},
};
use serde::{Deserialize, Serialize};

/// A kind as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct KindDraft {
    pub name: String,
    pub family: String,
    pub colour: String,
    /// Least, typical, most.
    pub mass: [String; 3],
    pub trim: Vec<TrimDraft>,
    /// All trim together, least and most: both empty where pieces do not differ.
    pub trim_range: [String; 2],
    pub parts: Vec<PartDraft>,
    pub clock_starts: String,
    pub cooked_days: String,
    pub nice: String,
    pub yields: Vec<YieldDraft>,
    pub cut_forms: Vec<CutDraft>,
    pub whole: Vec<WholeDraft>,
    /// Grams in a cup of the commonest cut form; empty where nobody has weighed it.
    pub cup: String,
    pub cups: Vec<CupDraft>,
    pub stand_ins: Vec<StandInDraft>,
    /// One a line.
    pub hazards: String,
    /// One a line.
    pub sources: String,
    pub rest: Kind,
    /// Whether it is to have an id of its own beside the shipped kind that it was made of.
    pub beside: bool,
    /// Whether its id is one of the shipped book.
    pub covers: bool,
    /// Whether it is the cook's own already.
    pub own: bool,
    /// Whether it was begun empty.
    pub fresh: bool,
}

impl KindDraft {
    /// A draft of a kind; `covers`: its id is a shipped one.
    pub fn of(kind: &Kind, own: bool, covers: bool) -> KindDraft {
        let (least, typical, most) = kind.mass;
        KindDraft {
            name: kind.name.clone(),
            family: kind.family.clone(),
            colour: kind.colour.clone(),
            mass: [least, typical, most].map(|g| g.to_string()),
            trim: kind.trim.iter().map(|t| TrimDraft { name: t.name.clone(), share: t.share.get().to_string() }).collect(),
            trim_range: kind.trim_range.map_or_else(Default::default, |(a, b)| [a, b].map(|share| share.get().to_string())),
            parts: kind.parts.iter().map(PartDraft::of).collect(),
            clock_starts: kind.clock_starts.clone(),
            cooked_days: kind.cooked_days.0.to_string(),
            nice: shown(kind.cooked_nice_days.map(|d| d.0)),
            yields: kind.yields.iter().map(YieldDraft::of).collect(),
            cut_forms: kind.cut_forms.iter().map(CutDraft::of).collect(),
            whole: kind.whole.iter().map(WholeDraft::of).collect(),
            cup: shown(kind.cup.map(|c| c.0)),
            cups: kind.cups.iter().map(CupDraft::of).collect(),
            stand_ins: kind.stand_ins.iter().map(StandInDraft::of).collect(),
            hazards: kind.hazards.join("\n"),
            sources: kind.sources.join("\n"),
            rest: kind.clone(),
            beside: false,
            covers,
            own,
            fresh: false,
        }
    }

    /// An empty draft of a kind, of the family of another.
    pub fn blank(like: &Kind) -> KindDraft {
        #[expect(clippy::expect_used, reason = "a constant that is a slug")]
        let id = KindId::new("new").expect("a slug");
        let kind = Kind {
            id,
            name: String::new(),
            family: like.family.clone(),
            colour: "8A7A5A".into(),
            portioned: like.portioned,
            mass: (0, 0, 0),
            trim: Vec::new(),
            trim_range: None,
            parts: Vec::new(),
            clock_starts: "cut".into(),
            cooked_days: Days(2),
            cooked_nice_days: None,
            yields: Vec::new(),
            cut_forms: Vec::new(),
            whole: Vec::new(),
            cup: None,
            cups: Vec::new(),
            allergens: Vec::new(),
            diet: like.diet,
            animal: like.animal,
            stand_ins: Vec::new(),
            hazards: Vec::new(),
            sources: vec!["my own".into()],
        };
        let part = PartDraft { name: "all of it".into(), share: "1000".into(), suits: "anything".into(), ..PartDraft::blank() };
        KindDraft { fresh: true, mass: Default::default(), parts: vec![part], ..KindDraft::of(&kind, false, false) }
    }

    /// Whether it will have an id of its own.
    pub fn stands_alone(&self) -> bool {
        self.fresh || self.beside
    }

    /// What trim and parts make together; what cannot be read counts nothing.
    pub fn sum(&self) -> u32 {
        let shares = self.trim.iter().map(|t| &t.share).chain(self.parts.iter().map(|p| &p.share));
        shares.filter_map(|s| thousandths(s).ok()).map(|s| u32::from(s.get())).sum()
    }

    /// The stretches of the block: names, shares, and whether they are lost.
    pub fn lots(&self) -> Vec<super::kind::Lot> {
        let share = |text: &str| thousandths(text).map_or(0, PerMille::get);
        let parts = self.parts.iter().map(|p| super::kind::Lot { name: p.name.clone(), share: share(&p.share), trim: false });
        let trim = self.trim.iter().map(|t| super::kind::Lot { name: t.name.clone(), share: share(&t.share), trim: true });
        parts.chain(trim).filter(|l| l.share > 0).collect()
    }

    /// The kind, where every figure can be read.
    fn kind(&self, book: &Book) -> Option<Kind> {
        let name = self.name.trim().to_string();
        let id = if self.stands_alone() { fresh_kind_id(&name, book)? } else { self.rest.id.clone() };
        let mut parts: Vec<KindPart> = Vec::new();
        for part in &self.parts {
            parts.push(part.part(&parts, self.rest.portioned)?);
        }
        let mut trim = Vec::new();
        for t in &self.trim {
            trim.push(TrimShare { name: t.name.trim().into(), share: thousandths(&t.share).ok()? });
        }
        let mass = |at: usize| grams(&self.mass[at]).ok();
        Some(Kind {
            id,
            name,
            family: self.family.trim().into(),
            colour: self.colour.trim().trim_start_matches('#').into(),
            mass: (mass(0)?, mass(1)?, mass(2)?),
            trim,
            trim_range: self.trim_range()?,
            parts,
            clock_starts: self.clock_starts.trim().into(),
            cooked_days: days(&self.cooked_days).ok()?,
            cooked_nice_days: or_nothing(&self.nice, days).ok()?,
            yields: self.yields.iter().map(YieldDraft::form_yield).collect::<Option<_>>()?,
            cut_forms: self.cut_forms.iter().map(CutDraft::cut).collect::<Option<_>>()?,
            whole: self.whole.iter().map(WholeDraft::whole).collect::<Option<_>>()?,
            cup: or_nothing(&self.cup, some_amount).ok()?.map(Density),
            cups: self.cups.iter().map(CupDraft::cup).collect::<Option<_>>()?,
            stand_ins: self.stand_ins.iter().map(StandInDraft::stand_in).collect::<Option<_>>()?,
            hazards: lines(&self.hazards),
            sources: lines(&self.sources),
            ..self.rest.clone()
        })
    }

    /// Nothing where it cannot be read, none where pieces do not differ.
    fn trim_range(&self) -> Option<Option<(PerMille, PerMille)>> {
        let [least, most] = &self.trim_range;
        if least.trim().is_empty() && most.trim().is_empty() {
            return Some(None);
        }
        Some(Some((thousandths(least).ok()?, thousandths(most).ok()?)))
    }

    /// The kind and what the book has against it.
    pub fn check(&self, book: &Book) -> Checked<Kind> {
        let entry = self.kind(book);
        let faults = entry.as_ref().map_or_else(Vec::new, |kind| faults_of_kind(book, kind));
        Checked { entry, faults }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_draft_of_every_shipped_kind_is_the_kind_again() {
        let book = Book::shipped().unwrap();
        for kind in book.kinds() {
            let checked = KindDraft::of(kind, false, true).check(&book);
            assert_eq!(checked.entry.as_ref(), Some(&**kind), "{}", kind.id);
            assert_eq!(checked.faults, [], "{}", kind.id);
        }
    }

    #[test]
    fn shares_that_do_not_make_a_thousand_are_a_fault() {
        let book = Book::shipped().unwrap();
        let kind = book.kinds().find(|k| k.id.as_str() == "celeriac").unwrap();
        let mut draft = KindDraft::of(kind, false, true);
        draft.parts[0].share = "400".into();
        assert_eq!(draft.sum(), 1_000 - 462 + 400);
        let faults = draft.check(&book).faults;
        assert!(faults.iter().any(|f| f.what.contains("they must make 1000")), "{faults:?}");
    }

    #[test]
    fn a_blank_kind_is_sound_once_it_has_a_name_and_a_mass() {
        let book = Book::shipped().unwrap();
        let kind = book.kinds().find(|k| k.id.as_str() == "celeriac").unwrap();
        let mut draft = KindDraft::blank(kind);
        assert!(draft.check(&book).sound().is_none());
        draft.name = "Hamburg parsley".into();
        draft.mass = ["100", "300", "900"].map(String::from);
        assert_eq!(draft.check(&book).faults, []);
        assert!(draft.check(&book).sound().is_some_and(|k| k.id.as_str() == "hamburg-parsley"));
    }
}
