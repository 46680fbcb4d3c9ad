//! Runs: one texture, one seasoning family, or hot-and-soft at meal after meal.

use super::{
    Code, Finding, Severity,
    kernel::{Kernel, inventory},
    plates::{Plate, Plates},
    variety::{Run, RunOf, Whom},
};
use crate::{
    book::{Graded, Profile},
    rotation::{EaterId, Rotation},
};
use std::collections::BTreeMap;

/// What one attribute may reach before it runs on: three neighbouring days give 2.63, three with a rest between give less
/// (our own judgement).
pub(crate) const LINE_RUN: f64 = 2.5;

impl RunOf {
    /// How strongly a plate has it, 0 to 1.
    pub fn grade(self, profile: &Profile) -> f64 {
        match self {
            RunOf::Texture(texture) => grade_of(&profile.texture, texture),
            RunOf::Family(family) => grade_of(&profile.family, family),
            RunOf::HotSoft => profile.hot_and_soft(),
        }
    }

    /// The words before "meal": "stewed", "tomato-flavoured", "hot and soft".
    pub fn words(self) -> String {
        match self {
            RunOf::Texture(texture) => texture.word().into(),
            RunOf::Family(family) => format!("{}-flavoured", family.word()),
            RunOf::HotSoft => "hot and soft".into(),
        }
    }

    fn code(self) -> Code {
        match self {
            RunOf::Texture(_) => Code::RunTexture,
            RunOf::Family(_) => Code::RunFamily,
            RunOf::HotSoft => Code::RunHotSoft,
        }
    }
}

fn grade_of<T: PartialEq>(set: &[Graded<T>], value: T) -> f64 {
    set.iter().filter(|g| g.0 == value).map(|g| g.1).fold(0.0, f64::max)
}

pub(crate) fn attributes(profile: &Profile) -> impl Iterator<Item = RunOf> {
    let textures = profile.texture.iter().map(|t| RunOf::Texture(t.0));
    let families = profile.family.iter().map(|f| RunOf::Family(f.0));
    textures.chain(families).chain((profile.hot_and_soft() > 0.0).then_some(RunOf::HotSoft))
}

/// One run as one list of plates has it.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Found {
    ends: Plate,
    of: RunOf,
    before: Plate,
    /// "third", and whether the meals stand without a break.
    count: usize,
    unbroken: bool,
    days: i16,
    dishes: String,
}

/// Every run, with one finding for each meal at which it is too much.
pub(super) fn runs(rotation: &Rotation, plates: &Plates<'_>, kernel: &Kernel) -> (Vec<Run>, Vec<Finding>) {
    let mut found: BTreeMap<Found, (Vec<EaterId>, f64)> = BTreeMap::new();
    let graded: Vec<_> = plates.kinds.iter().map(|kind| grades(&kind.profile)).collect();
    for (who, list) in &plates.lists {
        for (run, reached) in runs_of(plates, &graded, list, kernel) {
            let (eaters, most) = found.entry(run).or_default();
            eaters.extend(who);
            *most = reached.max(*most);
        }
    }
    let mut runs = Vec::new();
    let mut findings = Vec::new();
    for (run, (mut eaters, reached)) in found {
        eaters.sort_by_key(|e| rotation.household.eaters.iter().position(|h| h.id == *e));
        let whom = Whom::of(plates, run.ends.order, &eaters);
        let (meal, what) = (rotation.slot_name(run.ends.slot), run.of.words());
        let nth = ordinal_word(run.count);
        let text = if run.unbroken {
            format!("{meal} is the {nth} {what} meal running{}", whom.words(rotation))
        } else if run.days <= 1 {
            format!("{meal} is the {nth} {what} meal of the day{}", whom.words(rotation))
        } else {
            format!("{meal} is the {nth} {what} meal in {} days{}", run.days, whom.words(rotation))
        };
        let about = format!("{}/{}{}", run.of.words().replace(' ', "-"), run.dishes, whom.key());
        let finding = Finding::new(Severity::Warn, run.of.code(), about, text);
        let finding = plates.beside(finding.at(run.ends.slot), &run.before);
        findings.push(whom.mark(finding.of(run.ends.batch).felt(&eaters)));
        runs.push(Run { of: run.of, ends: run.ends.slot, eaters, inventory: reached });
    }
    (runs, findings)
}

/// What a dish has, each with how strongly: a value named twice in one profile counts once, at its highest.
fn grades(profile: &Profile) -> Vec<(RunOf, f64)> {
    let mut grades: Vec<(RunOf, f64)> = Vec::new();
    for of in attributes(profile) {
        if grades.iter().all(|(known, _)| *known != of) {
            grades.push((of, of.grade(profile)));
        }
    }
    grades
}

fn runs_of(plates: &Plates<'_>, graded: &[Vec<(RunOf, f64)>], list: &[Plate], kernel: &Kernel) -> Vec<(Found, f64)> {
    let mut having: BTreeMap<RunOf, Vec<(usize, f64)>> = BTreeMap::new();
    for (i, plate) in list.iter().enumerate() {
        for (of, grade) in &graded[plate.kind] {
            having.entry(*of).or_default().push((i, *grade));
        }
    }
    let mut out = Vec::new();
    for (of, places) in having {
        let meals: Vec<(i16, f64)> = places.iter().map(|(i, grade)| (list[*i].slot.day.0, *grade)).collect();
        for (k, reached) in inventory(kernel, &meals).into_iter().enumerate().filter(|(_, reached)| *reached >= LINE_RUN) {
            if let Some(run) = describe(plates, list, of, &places[..=k]).filter(|run| !run.ends.is_past()) {
                out.push((run, reached));
            }
        }
    }
    out
}

/// How the run that ends with the last of `places` is said: unbroken if its last three or more meals follow each other.
fn describe(plates: &Plates<'_>, list: &[Plate], of: RunOf, places: &[(usize, f64)]) -> Option<Found> {
    let (&(last, _), earlier) = places.split_last()?;
    let before = list[earlier.last()?.0];
    let in_a_row = places.iter().rev().zip((0..=last).rev()).take_while(|((place, _), expected)| place == expected).count();
    let ends = list[last];
    // Where other meals stand between, those are counted that still weigh a good half: today's and of the two days before.
    let near = |place: usize| ends.slot.day.since(list[place].slot.day).0 <= 2;
    let nearby = places.iter().rev().take_while(|(place, _)| near(*place)).count();
    let unbroken = in_a_row >= 3;
    let count = if unbroken { in_a_row } else { nearby };
    let counted = &places[places.len() - count..];
    let first = list[counted.first()?.0];
    let dishes: Vec<_> = counted.iter().map(|(place, _)| plates.kinds[list[*place].kind].key()).collect();
    let days = ends.slot.day.since(first.slot.day).0.saturating_add(1);
    Some(Found { ends, of, before, count, unbroken, days, dishes: dishes.join(">") })
}

fn ordinal_word(n: usize) -> String {
    const WORDS: [&str; 10] = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    if let Some(word) = n.checked_sub(1).and_then(|i| WORDS.get(i)) {
        return (*word).into();
    }
    let ending = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}
