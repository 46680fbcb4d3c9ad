//! Likeness over the rotation: neighbouring meals of each eater, runs, and how many meals it feels like.

use super::{
    AxisShare, Code, DistinctMeals, Finding, Home, Severity, Verdict,
    diversity::count_meals,
    kernel::Kernel,
    likeness::{Likeness, Lines, Weights, likeness_with},
    likeness_words,
    plates::{Plate, Plates},
    runs::runs,
    season::season,
    unwelcome::unwelcome,
    words::listed,
};
use crate::rotation::{EaterId, Rotation, Slot};
use std::collections::{BTreeMap, BTreeSet};

/// The same dish that comes back within so many days draws a caution by name, whatever has faded.
///
/// Our own judgement: the same sauce once a week for ten weeks still bored people (Zandstra, de Graaf & van Trijp 2000,
/// Appetite 35).
pub const SAME_DISH_DAYS: i16 = 14;

/// What the household's patience has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Variety {
    /// Every two consecutive meals of one eater; pairs that hold for everybody who eats the later meal stand once, without an eater.
    pub pairs: Vec<Pair>,
    /// Runs of one texture, one family, or hot-and-soft.
    pub runs: Vec<Run>,
    /// For the household: over all meals with the piece, in meals' shares of one each.
    pub distinct: DistinctMeals,
    /// For each eater over the meals that they eat.
    pub distinct_by_eater: Vec<(EaterId, DistinctMeals)>,
}

/// Two consecutive meals of an eater.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The earlier meal.
    pub first: Slot,
    /// The later meal.
    pub second: Slot,
    /// For whom, if not for everybody who eats the later one.
    pub eater: Option<EaterId>,
    /// Likeness of the two dishes, before any fading; nothing where too little is described.
    pub likeness: Option<f64>,
    /// Likeness after the fading with the days between.
    pub felt: Option<f64>,
    /// What the household would say.
    pub verdict: Verdict,
    /// What each axis adds, largest first.
    pub shares: Vec<AxisShare>,
}

/// What runs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RunOf {
    /// One texture.
    Texture(crate::book::Texture),
    /// One seasoning family.
    Family(crate::book::Family),
    /// Hot and soft at once.
    HotSoft,
}

/// A run of one thing over meals of an eater.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What runs.
    pub of: RunOf,
    /// The meal at which it becomes too much.
    pub ends: Slot,
    /// The eaters who feel it.
    pub eaters: Vec<EaterId>,
    /// The inventory it has reached; 2.5 is the line.
    pub inventory: f64,
}

/// How patient a household is: what it minds, and how long it remembers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Patience {
    /// How much each axis weighs.
    pub weights: Weights,
    /// How likeness fades.
    pub kernel: Kernel,
    /// From which likeness on it complains.
    pub lines: Lines,
}

/// Reckons likeness over the rotation.
pub fn variety(rotation: &Rotation) -> (Variety, Vec<Finding>) {
    variety_with(rotation, &Patience::default())
}

/// The same with a household's own patience.
pub fn variety_with(rotation: &Rotation, patience: &Patience) -> (Variety, Vec<Finding>) {
    variety_at_home(rotation, &Home { patience: patience.clone(), ..Home::default() })
}

/// The same with all that is known of a home: what was eaten before counts in likeness, runs and the same dish come back, for
/// each who ate it, and the seasons are minded.
pub fn variety_at_home(rotation: &Rotation, home: &Home) -> (Variety, Vec<Finding>) {
    let patience = &home.patience;
    let plates = Plates::of(rotation, &patience.weights, &home.eaten);
    let pairs = neighbours(rotation, &plates, patience);
    let mut findings = too_alike(rotation, &plates, patience);
    let (runs, more) = runs(rotation, &plates, &patience.kernel);
    findings.extend(more);
    let mut left_out = BTreeSet::new();
    findings.extend(season(rotation, &plates, home.hemisphere));
    findings.extend(unwelcome(rotation, &plates, &home.eaten));
    let mut count = |list: &[Plate]| {
        let list: Vec<Plate> = list.iter().copied().filter(|p| !p.is_past()).collect();
        let list = list.as_slice();
        let (distinct, out) = count_meals(&plates.counts(list), |i, j| plates.likeness(i, j), 1.0);
        left_out.extend(out);
        distinct
    };
    let distinct = count(&plates.meals);
    let mut distinct_by_eater = Vec::new();
    for (who, list) in &plates.lists {
        let figure = count(list);
        distinct_by_eater.extend(who.iter().map(|e| (*e, figure)));
    }
    let place = |id: EaterId| rotation.household.eaters.iter().position(|e| e.id == id);
    distinct_by_eater.sort_by_key(|(id, _)| place(*id));
    findings.extend(not_described(rotation, &plates, &left_out));
    tell_apart(&mut findings);
    (Variety { pairs, runs, distinct, distinct_by_eater }, findings)
}

/// What the whole rotation feels like at another order than the headline's q = 1: 0 counts different things, 2 weighs repeats
/// more.
pub fn feels_like(rotation: &Rotation, q: f64) -> DistinctMeals {
    let plates = Plates::of(rotation, &Weights::default(), &[]);
    count_meals(&plates.counts(&plates.meals), |i, j| plates.likeness(i, j), q).0
}

/// Whom a finding concerns, for its words, its key and its mark.
pub(super) enum Whom {
    /// Everybody who eats the meal; the sentence names nobody.
    Everybody,
    /// These.
    Only(Vec<EaterId>),
}

impl Whom {
    /// Those of the meal at `order` whom it concerns. A meal that one eater of several has alone is named too: the others
    /// should see at once that it is not theirs.
    pub fn of(plates: &Plates<'_>, order: usize, eaters: &[EaterId]) -> Whom {
        let alone = eaters.len() == 1 && plates.eaters() > 1;
        if plates.is_everybody(order, eaters) && !alone { Whom::Everybody } else { Whom::Only(eaters.to_vec()) }
    }

    /// " for Bo and Kim", or nothing.
    pub fn words(&self, rotation: &Rotation) -> String {
        let Whom::Only(eaters) = self else {
            return String::new();
        };
        let names: Vec<&str> = eaters.iter().map(|e| rotation.household.name(*e)).collect();
        if names.is_empty() { String::new() } else { format!(" for {}", listed(&names)) }
    }

    /// "/2+3", or nothing.
    pub fn key(&self) -> String {
        let Whom::Only(eaters) = self else {
            return String::new();
        };
        let mut ids: Vec<u16> = eaters.iter().map(|e| e.0).collect();
        ids.sort_unstable();
        format!("/{}", ids.iter().map(u16::to_string).collect::<Vec<_>>().join("+"))
    }

    /// The finding with its eater, where it is one.
    pub fn mark(&self, finding: Finding) -> Finding {
        match self {
            Whom::Only(eaters) if eaters.len() == 1 => finding.for_eater(eaters[0]),
            _ => finding,
        }
    }
}

fn sort_by_household(rotation: &Rotation, eaters: &mut [EaterId]) {
    eaters.sort_by_key(|id| rotation.household.eaters.iter().position(|e| e.id == *id));
}

fn gap(earlier: &Plate, later: &Plate) -> i16 {
    later.slot.day.since(earlier.slot.day).0
}

/// Every two consecutive plates of each eater.
fn neighbours(rotation: &Rotation, plates: &Plates<'_>, patience: &Patience) -> Vec<Pair> {
    let mut found: BTreeMap<(Plate, Plate), Vec<EaterId>> = BTreeMap::new();
    for (who, list) in &plates.lists {
        for two in list.windows(2).filter(|two| !two[0].is_past()) {
            found.entry((two[1], two[0])).or_default().extend(who);
        }
    }
    let mut pairs = Vec::new();
    // In a long plan the same two dishes meet again and again.
    let mut known: BTreeMap<(usize, usize), Likeness> = BTreeMap::new();
    for ((second, first), mut eaters) in found {
        let alike = known.entry((first.kind, second.kind)).or_insert_with(|| {
            let (a, b) = (&plates.kinds[first.kind], &plates.kinds[second.kind]);
            likeness_with(&patience.weights, &a.profile, &b.profile)
        });
        let felt = alike.whole.map(|s| s * patience.kernel.after(gap(&first, &second)));
        let pair = Pair {
            first: first.slot,
            second: second.slot,
            eater: None,
            likeness: alike.whole,
            felt,
            verdict: patience.lines.verdict(felt),
            shares: alike.shares.clone(),
        };
        if plates.is_everybody(second.order, &eaters) {
            pairs.push(pair);
        } else {
            sort_by_household(rotation, &mut eaters);
            pairs.extend(eaters.into_iter().map(|e| Pair { eater: Some(e), ..pair.clone() }));
        }
    }
    pairs
}

/// For each meal of each eater the worst earlier one, and the same dish come back too soon.
fn too_alike(rotation: &Rotation, plates: &Plates<'_>, patience: &Patience) -> Vec<Finding> {
    let mut alike: BTreeMap<(Plate, Plate, Verdict), Vec<EaterId>> = BTreeMap::new();
    let mut again: BTreeMap<(Plate, Plate), Vec<EaterId>> = BTreeMap::new();
    for (who, list) in &plates.lists {
        for (i, later) in list.iter().enumerate().filter(|(_, later)| !later.is_past()) {
            let worst = worst_partner(plates, patience, later, &list[..i]);
            if let Some((earlier, verdict)) = worst {
                alike.entry((*later, earlier, verdict)).or_default().extend(who);
            }
            let same = list[..i]
                .iter()
                .rev()
                .take_while(|e| gap(e, later) <= SAME_DISH_DAYS)
                .find(|e| e.batch != later.batch && plates.kinds[e.kind].is_same_dish(&plates.kinds[later.kind]));
            if let Some(earlier) = same
                && worst.is_none_or(|(reported, _)| reported != *earlier)
            {
                again.entry((*later, *earlier)).or_default().extend(who);
            }
        }
    }
    let mut findings = Vec::new();
    for ((later, earlier, verdict), mut eaters) in alike {
        sort_by_household(rotation, &mut eaters);
        findings.push(alike_finding(rotation, plates, patience, (&earlier, &later), verdict, &eaters));
    }
    for ((later, earlier), mut eaters) in again {
        sort_by_household(rotation, &mut eaters);
        let whom = Whom::of(plates, later.order, &eaters);
        let dish = &plates.kinds[later.kind];
        let when = match gap(&earlier, &later) {
            0 => "on the same day as".to_string(),
            1 => "a day after".to_string(),
            n => format!("{n} days after"),
        };
        let text = format!(
            "{} is {} again{}, {when} {}",
            rotation.slot_name(later.slot),
            dish.name,
            whom.words(rotation),
            plates.name(rotation, &earlier)
        );
        let finding = Finding::new(Severity::Caution, Code::SameDish, format!("{}{}", dish.key(), whom.key()), text);
        findings.push(whom.mark(plates.beside(finding.at(later.slot), &earlier).of(later.batch).felt(&eaters)));
    }
    findings
}

/// The earlier plate that the later one is felt to be most like, if that is over a line; the nearer one on a tie.
fn worst_partner(plates: &Plates<'_>, patience: &Patience, later: &Plate, earlier: &[Plate]) -> Option<(Plate, Verdict)> {
    let mut worst: Option<(f64, Plate)> = None;
    for plate in earlier.iter().rev() {
        let weight = patience.kernel.after(gap(plate, later));
        // Beyond this even the same dish has faded below the line, and the weights only fall.
        if patience.lines.verdict(Some(weight)) == Verdict::Fine {
            break;
        }
        if let Some(felt) = plates.likeness(plate.kind, later.kind).map(|s| s * weight)
            && worst.is_none_or(|(most, _)| felt > most + 1e-12)
        {
            worst = Some((felt, *plate));
        }
    }
    let (felt, plate) = worst?;
    let verdict = patience.lines.verdict(Some(felt));
    matches!(verdict, Verdict::Warn | Verdict::Caution).then_some((plate, verdict))
}

fn alike_finding(
    rotation: &Rotation,
    plates: &Plates<'_>,
    patience: &Patience,
    (earlier, later): (&Plate, &Plate),
    verdict: Verdict,
    eaters: &[EaterId],
) -> Finding {
    let whom = Whom::of(plates, later.order, eaters);
    let (a, b) = (&plates.kinds[earlier.kind], &plates.kinds[later.kind]);
    let shared = likeness_words::list(&likeness_with(&patience.weights, &a.profile, &b.profile).shares);
    let (severity, how) = match verdict {
        Verdict::Warn => (Severity::Warn, "is too like"),
        _ => (Severity::Caution, "is getting like"),
    };
    let again = if a.is_same_dish(b) { format!("{} again, ", b.name) } else { String::new() };
    let text = format!(
        "{} {how} {}{}: {again}{shared}",
        rotation.slot_name(later.slot),
        plates.name(rotation, earlier),
        whom.words(rotation)
    );
    let about = format!("{}>{}{}", a.key(), b.key(), whom.key());
    let finding = Finding::new(severity, Code::TooAlike, about, text);
    whom.mark(plates.beside(finding.at(later.slot), earlier).of(later.batch).felt(eaters))
}

/// One note for each dish that could not be counted.
fn not_described(rotation: &Rotation, plates: &Plates<'_>, left_out: &BTreeSet<usize>) -> Vec<Finding> {
    let mut said = BTreeSet::new();
    let mut findings = Vec::new();
    for kind in left_out {
        let dish = &plates.kinds[*kind];
        let everywhere = plates.meals.iter().chain(plates.lists.iter().flat_map(|(_, list)| list));
        let first = everywhere.filter(|p| !p.is_past() && plates.kinds[p.kind].is_same_dish(dish)).min();
        if let Some(plate) = first.filter(|_| said.insert(dish.key())) {
            let text = format!(
                "{}: too little is said of how {} eats to compare it with other meals",
                rotation.slot_name(plate.slot),
                dish.name
            );
            let finding = Finding::new(Severity::Note, Code::NotDescribed, dish.key(), text);
            findings.push(finding.at(plate.slot).of(plate.batch));
        }
    }
    findings
}

/// Where one cause comes up twice (the same two dishes in two weeks), the later ones get a number behind their key, so that
/// overruling one leaves the others speaking.
fn tell_apart(findings: &mut [Finding]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for finding in findings {
        let times = seen.entry(finding.key.0.clone()).or_default();
        *times += 1;
        if *times > 1 {
            finding.key.0 = format!("{}#{times}", finding.key.0);
        }
    }
}
