//! What each eater of a plan would complain of as sameness, reckoned from the plates without the judges.

use tranche::{
    book::{Dish, Family, Heat, Profile, Role, Texture},
    judge::{Code, likeness},
    rotation::{BatchId, EaterId, Rotation, Slot, eaten_by},
};

/// One complaint of one eater.
#[derive(Clone, Debug)]
pub struct Trouble {
    pub code: Code,
    pub eater: EaterId,
    pub earlier: Slot,
    pub later: Slot,
    /// What it is about: the dishes from the first to the last, or what runs.
    pub about: String,
    /// At or over the line of a warning.
    pub grave: bool,
}

impl Trouble {
    /// Whether it is the same trouble of the same eater, whenever.
    pub fn same_cause(&self, other: &Trouble) -> bool {
        (self.code, self.eater, self.grave, &self.about) == (other.code, other.eater, other.grave, &other.about)
    }
}

struct Plate<'r> {
    slot: Slot,
    batch: BatchId,
    dish: &'r Dish,
    profile: Profile,
}

/// 2^-((gap - 1) / 1.5), neighbours and meals of one day in full.
fn fading(gap: i16) -> f64 {
    2f64.powf(-(f64::from(gap.max(1)) - 1.0) / 1.5)
}

fn plates_of(plan: &Rotation, eater: EaterId) -> Vec<Plate<'_>> {
    let mut out = Vec::new();
    for slot in plan.slots() {
        let present = plan.eaters_at(slot);
        let mut best: Option<(bool, u32, Plate<'_>)> = None;
        for serving in &plan.meal(slot).servings {
            let Some(dish) = plan.dish_of(serving.batch) else { continue };
            if !eaten_by(plan, serving, &present).contains(&eater) {
                continue;
            }
            let (main, grams) = (dish.role != Role::Bank, serving.portion.get());
            if best.as_ref().is_none_or(|(m, g, _)| (main, grams) > (*m, *g)) {
                let mut profile = dish.profile.clone();
                if let Some(protein) = serving.twin_of(eater, dish).and_then(|t| t.protein) {
                    profile.protein = Some(protein);
                }
                best = Some((main, grams, Plate { slot, batch: serving.batch, dish, profile }));
            }
        }
        out.extend(best.map(|b| b.2));
    }
    out
}

/// All complaints of all eaters.
pub fn sameness(plan: &Rotation) -> Vec<Trouble> {
    let mut out = Vec::new();
    for eater in plan.household.eaters.iter().map(|e| e.id) {
        let plates = plates_of(plan, eater);
        for (i, later) in plates.iter().enumerate() {
            let gap = |p: &Plate<'_>| later.slot.day.since(p.slot.day).0;
            let felt = |p: &Plate<'_>| likeness(&p.profile, &later.profile).whole.map_or(0.0, |s| s * fading(gap(p)));
            // The worst earlier one, the nearer on a tie.
            let mut worst: Option<(f64, &Plate<'_>)> = None;
            for p in plates[..i].iter().rev() {
                if worst.is_none_or(|(w, _)| felt(p) > w + 1e-12) {
                    worst = Some((felt(p), p));
                }
            }
            let worst = worst.filter(|(w, _)| *w >= 0.42 - 1e-9);
            if let Some((w, p)) = worst {
                let about = format!("{}>{}", p.dish.id, later.dish.id);
                out.push(Trouble {
                    code: Code::TooAlike,
                    eater,
                    earlier: p.slot,
                    later: later.slot,
                    about,
                    grave: w >= 0.60 - 1e-9,
                });
            }
            let again = plates[..i].iter().rev().find(|p| p.dish.id == later.dish.id && p.batch != later.batch && gap(p) <= 14);
            if let Some(p) = again.filter(|p| worst.is_none_or(|(_, w)| w.slot != p.slot)) {
                let about = later.dish.id.to_string();
                out.push(Trouble { code: Code::SameDish, eater, earlier: p.slot, later: later.slot, about, grave: false });
            }
        }
        runs(&plates, eater, &mut out);
    }
    out
}

fn runs(plates: &[Plate<'_>], eater: EaterId, out: &mut Vec<Trouble>) {
    let soft = [Texture::Stewed, Texture::Creamy, Texture::Smooth, Texture::Set];
    let mut ask = |code: Code, what: String, grade: &dyn Fn(&Profile) -> f64| {
        for (i, later) in plates.iter().enumerate() {
            let own = grade(&later.profile);
            let before: Vec<&Plate<'_>> = plates[..i].iter().filter(|p| grade(&p.profile) > 0.0).collect();
            let piled: f64 = before.iter().map(|p| grade(&p.profile) * fading(later.slot.day.since(p.slot.day).0)).sum();
            if let (true, Some(last)) = (own > 0.0 && own + piled >= 2.5, before.last()) {
                let about = format!("{what} until {}", later.dish.id);
                out.push(Trouble { code, eater, earlier: last.slot, later: later.slot, about, grave: true });
            }
        }
    };
    for t in Texture::ALL {
        ask(Code::RunTexture, format!("{t:?}"), &|p| p.texture.iter().filter(|g| g.0 == *t).map(|g| g.1).fold(0.0, f64::max));
    }
    for f in Family::ALL {
        ask(Code::RunFamily, format!("{f:?}"), &|p| p.family.iter().filter(|g| g.0 == *f).map(|g| g.1).fold(0.0, f64::max));
    }
    ask(Code::RunHotSoft, "hot and soft".into(), &|p| {
        let hot = p.heat.is_some_and(|h| h == Heat::Warm || h == Heat::Hot);
        if hot { p.texture.iter().filter(|g| soft.contains(&g.0)).map(|g| g.1).fold(0.0, f64::max) } else { 0.0 }
    });
}
