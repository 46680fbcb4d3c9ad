//! Opened packs: what is left of them and until when they keep.

use super::{
    Code, Finding, Severity,
    cold::{Cold, made_at},
    index::Index,
    needs::{CompanionNeed, needs_of},
    sight::Sight,
    words::{against, listed},
};
use crate::{
    book::{CompanionMeasure, Substance, contents_of},
    quantity::{DayNo, grouped, write_units},
    rotation::{Rotation, capital},
};

/// Less than this share of a pack is scraped out, not kept, and not bought for either (house rule).
pub(crate) const SCRAPED: f64 = 0.01;

/// A pack that is opened and not used up.
#[derive(Clone, Debug, PartialEq)]
pub struct PackLeft<'r> {
    /// What it is called.
    pub name: &'r str,
    /// What its amounts are measured in.
    pub measure: CompanionMeasure,
    /// What the pack holds, in `measure`.
    pub pack: f64,
    /// What the pack is called: "carton".
    pub word: &'r str,
    /// What is left of it, in `measure`.
    pub left: f64,
    /// The day it is opened.
    pub opened: DayNo,
    /// The day of the last dish of the plan that takes of it.
    pub last_use: DayNo,
    /// The last day on which the rest may be used.
    pub use_by: DayNo,
}

impl PackLeft<'_> {
    /// What is left as a share of a pack, 0 to 1.
    pub fn share(&self) -> f64 {
        (self.left / self.pack).clamp(0.0, 1.0)
    }

    /// Its part of the name of a finding.
    fn about(&self) -> String {
        format!("{}/{}", self.name, self.measure.sign().trim())
    }

    /// Whether a finding speaks of this rest: of it alone, or of all that would be thrown away.
    pub(super) fn is_told_in(&self, finding: &Finding) -> bool {
        match finding.code {
            Code::CompanionLeft => finding.key.0 == format!("{}/{}", Code::CompanionLeft.as_str(), self.about()),
            Code::CompanionWaste => self.share() >= MUCH_OF_A_PACK,
            _ => false,
        }
    }

    /// "180 ml of the 300 ml carton of cream"; counts and packs of one: "0.5 of the 1 egg".
    pub fn words(&self) -> String {
        let of = if self.word == self.name { String::new() } else { format!(" of {}", self.name) };
        format!("{} of the {} {}{of}", amount(self.left, self.measure), amount(self.pack, self.measure), self.word)
    }
}

/// A rest of at least this share of its pack is food thrown away, and not a scrape (house limit).
const MUCH_OF_A_PACK: f64 = 0.3;
/// So many such rests are said together: five meals of the piece saved, three cartons thrown away (house limit).
const MANY_PACKS: usize = 3;

/// Every pack that the plan opens and does not use up, by name.
pub fn packs_left(rotation: &Rotation) -> Vec<PackLeft<'_>> {
    let index = Index::new(rotation);
    let (needs, cold) = (needs_of(&index), Cold::of(rotation));
    needs.iter().filter_map(|need| open_packs(&index, &cold, need, &mut Vec::new(), &mut Vec::new())).collect()
}

/// An opened pack's time on the shelf of the fridge.
pub(super) struct PackOpen<'a> {
    pub name: &'a str,
    pub word: &'a str,
    pub opened: DayNo,
    /// The last day on which it may be used.
    pub use_by: DayNo,
    /// The day on which it is used up; nothing where something is left of it.
    pub emptied: Option<DayNo>,
}

/// Every pack that the plan opens, by name and in the order of the opening.
pub(super) fn packs_opened<'a>(index: &Index<'a>) -> Vec<PackOpen<'a>> {
    let mut opened = Vec::new();
    let cold = Cold::of(index.rotation);
    for need in needs_of(index) {
        open_packs(index, &cold, &need, &mut Vec::new(), &mut opened);
    }
    opened
}

/// Says which opened packs are used too late (a stop), which are not used up (a note), and, where there are three rests or more
/// of a third of their pack, that they cost what the piece saves (a caution).
///
/// A companion with a pack and a keeping time is opened on the day of the first batch that needs it; when a pack is empty the
/// next one is opened on that day. What a batch needs is told by [`super::companion_needs`].
pub(super) fn of(sight: &Sight) -> Vec<Finding> {
    let Sight { index, cold, .. } = sight;
    let rotation = index.rotation;
    let mut findings = Vec::new();
    let mut left = Vec::new();
    for need in needs_of(index) {
        left.extend(open_packs(index, cold, &need, &mut findings, &mut Vec::new()));
    }
    findings.extend(left.iter().map(|rest| {
        let text = format!(
            "{}: {} of the {} {} is left after {}; eat by {}",
            capital(rest.name),
            amount(rest.left, rest.measure),
            amount(rest.pack, rest.measure),
            rest.word,
            rotation.day_name(rest.last_use),
            rotation.day_name(rest.use_by)
        );
        Finding::new(Severity::Note, Code::CompanionLeft, rest.about(), text)
    }));
    findings.extend(thrown_away(index, &left));
    findings
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
pub(super) fn companions(rotation: &Rotation) -> Vec<Finding> {
    of(&Sight::of(rotation))
}

fn thrown_away(index: &Index, left: &[PackLeft]) -> Option<Finding> {
    let much: Vec<&PackLeft> = left.iter().filter(|p| p.share() >= MUCH_OF_A_PACK).collect();
    if much.len() < MANY_PACKS {
        return None;
    }
    let meals = index.sittings.len();
    let rests: Vec<String> = much.iter().map(|p| p.words()).collect();
    let text = format!(
        "{} of {} eaten, {} opened packs not used up: {}",
        write_units(meals, "meal", "meals"),
        index.rotation.kind.name,
        much.len(),
        listed(&rests)
    );
    Some(Finding::new(Severity::Caution, Code::CompanionWaste, "packs", text))
}

/// Walks over the uses of one companion: what of it is used too late, and what is left in the end.
fn open_packs<'a>(
    index: &Index<'a>,
    cold: &Cold,
    need: &CompanionNeed<'a>,
    findings: &mut Vec<Finding>,
    packs_opened: &mut Vec<PackOpen<'a>>,
) -> Option<PackLeft<'a>> {
    let (Some(pack), Some(published)) = (need.pack, need.opened_days) else { return None };
    let (rotation, name, measure) = (index.rotation, need.name, need.measure);
    let word = need.pack_word.unwrap_or("pack");
    let mut open: Option<(DayNo, f64)> = None;
    // From when on the open one lay in the fridge.
    let mut since = 0;
    let mut last_use = None;
    let lost =
        |since: i64, by: i64| cold.pack_lost(since).filter(|l| l.from < by && spoils_in_the_warmth(name)).map(|lost| lost.cut);
    // What a power cut ends is not eaten after it.
    let use_by = |opened: DayNo, since: i64| {
        let kept = opened.plus(cold.limit(opened, published));
        lost(since, i64::MAX).map_or(kept, |cut| kept.min(cut.from.day.max(opened)))
    };
    for used in &need.uses {
        let Some(made) = index.made(used.batch) else { continue };
        let (today, mut amount) = (used.day, used.amount);
        last_use = Some(today);
        if let Some((opened, left)) = open {
            let age = today.since(opened);
            let keeps = cold.limit(opened, published);
            let warm = if keeps < published { format!(", {}", cold.because()) } else { String::new() };
            let place = || format!("{}, {}: {name} opened {}", index.where_made(made), made.name(), rotation.day_name(opened));
            let cut = lost(since, made_at(made));
            if age > keeps || cut.is_some() {
                let text = match cut.filter(|_| age <= keeps) {
                    Some(cut) => {
                        let when = cut.words(rotation);
                        format!("{} lay in a fridge without power for over 4 hours, {when}; throw it away", place())
                    }
                    None => {
                        let last = rotation.day_name(opened.plus(keeps));
                        format!("{}, {}{warm}; the last day is {last}", place(), against(age, keeps))
                    }
                };
                let about = format!("{name}/{}", made.key());
                let finding = Finding::new(Severity::Stop, Code::CompanionTooOld, about, text).of(made.batch.id);
                findings.push(match index.first_meal(made) {
                    Some(slot) => finding.at(slot),
                    None => finding,
                });
            }
            let taken = amount.min(left);
            amount -= taken;
            open = Some((opened, left - taken));
            if left - taken < pack * SCRAPED
                && let Some(last) = packs_opened.last_mut()
            {
                last.emptied = Some(today);
            }
        }
        if amount >= pack * SCRAPED {
            let packs = (amount / pack - SCRAPED).ceil().max(1.0);
            let left = (packs * pack - amount).max(0.0);
            open = Some((today, left));
            since = made_at(made);
            let use_by = use_by(today, since);
            let emptied = (left < pack * SCRAPED).then_some(today);
            packs_opened.push(PackOpen { name, word, opened: today, use_by, emptied });
        }
        open = open.filter(|(_, left)| *left >= pack * SCRAPED);
    }
    let ((opened, left), last_use) = open.zip(last_use)?;
    let use_by = use_by(opened, since);
    Some(PackLeft { name, measure, pack, word, left, opened, last_use, use_by })
}

/// Whether what is opened is thrown away after four hours without cold: milk and all that is soft of it, meat, fish, shellfish, egg,
/// tofu, and what comes boiled out of a tin. Hard cheese, butter, bread, herbs and preserves keep (US FoodSafety.gov, Food Safety
/// During Power Outage; from memory).
fn spoils_in_the_warmth(name: &str) -> bool {
    const KEEP: &[&str] = &[
        "hard cheese",
        "cheddar",
        "parmesan",
        "pecorino",
        "grana padano",
        "gruyère",
        "gruyere",
        "emmental",
        "gouda",
        "manchego",
        "edam",
        "butter",
        "ghee",
        "anchovies",
        "anchovy",
        "fish sauce",
        "chocolate",
        "pickled herring",
    ];
    const LOST: &[&str] =
        &["tofu", "tempeh", "beans", "chickpeas", "lentils", "coconut milk", "stock", "broth", "hummus", "houmous", "passata"];
    // Buttermilk is milk, whatever its name begins with.
    let lower = name.to_lowercase().replace("buttermilk", "milk");
    let has = |words: &[&str]| words.iter().any(|w| lower.contains(w));
    let animal =
        || contents_of(name).is_some_and(|c| c.substances().iter().any(|s| !matches!(s, Substance::Alcohol | Substance::Honey)));
    (animal() || has(LOST)) && !has(KEEP)
}

/// "50 g"; counts to the half: "2", "1.5".
fn amount(amount: f64, measure: CompanionMeasure) -> String {
    let whole = |n: f64| grouped(n.clamp(0.0, f64::from(u32::MAX)) as u32);
    match measure {
        CompanionMeasure::Count if (amount * 2.0).round() % 2.0 == 1.0 => format!("{}.5", whole((amount * 2.0).round() / 2.0)),
        _ => format!("{}{}", whole(amount.round()), measure.sign()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, dish, pack, raw_dish, said, supper};
    use super::*;
    use crate::book::{Companion, Diet, Dish, Twin};

    fn with(companions: Vec<Companion>, dish: Dish) -> Dish {
        Dish { companions, ..dish }
    }

    #[test]
    fn the_yoghurt_of_the_cabbage_week_leaves_50_g_for_saturday() {
        let yoghurt = |grams| vec![pack("yoghurt", 0.0, grams, 300.0, 5, "pot")];
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), with(yoghurt(40.0), raw_dish("slaw")), "heart", 260);
        plan.cook(supper(2), with(vec![pack("yoghurt", 50.0, 0.0, 300.0, 5, "pot")], dish("wedges")), "middle", 520);
        plan.cook(supper(4), with(yoghurt(80.0), dish("pancakes")), "middle", 280);
        // Tuesday: 50 g for each of 2.6 units is 130 g; 250 g in all.
        let want = ["Note companion-left: Yoghurt: 50 g of the 300 g pot is left after Thursday; eat by Saturday"];
        assert_eq!(said(&companions(&plan.rotation)), want);
    }

    /// The celeriac's cream and parsley, the bake on this day.
    fn celeriac(bake: i16) -> Plan {
        let mut plan = Plan::of("celeriac", &[("centre", 600, 4), ("outside", 375, 4)], 6);
        let rut = plan.eater("Rut", 100);
        plan.eater("Sam", 100);
        let both = |cream: f64, parsley: f64| {
            let cream = pack("cream", cream, 0.0, 300.0, 3, "carton");
            vec![cream, pack("parsley", 0.0, parsley, 30.0, 4, "bunch")]
        };
        plan.cook(supper(2), with(both(50.0, 8.0), dish("slices")), "centre", 400);
        plan.cook(supper(3), with(both(0.0, 7.0), dish("cakes")), "outside", 150);
        plan.present(supper(3), &[rut]);
        plan.cook(supper(bake), with(both(100.0, 10.0), dish("bake")), "centre", 200);
        plan
    }

    #[test]
    fn the_carton_of_cream_is_used_up_and_the_parsley_not_quite() {
        let want = ["Note companion-left: Parsley: 5 g of the 30 g bunch is left after Thursday; eat by Saturday"];
        assert_eq!(said(&companions(&celeriac(4).rotation)), want);
    }

    #[test]
    fn the_bake_may_move_to_friday_but_not_to_saturday() {
        let stops = |bake| {
            let findings = companions(&celeriac(bake).rotation);
            said(&findings).into_iter().filter(|s| s.starts_with("Stop")).collect::<Vec<_>>()
        };
        assert_eq!(stops(5), [""; 0]);
        assert_eq!(
            stops(6),
            ["Stop companion-keeping: Saturday supper, Bake: cream opened Tuesday, 4 days against 3; the last day is Friday"]
        );
    }

    #[test]
    fn a_power_cut_ends_what_is_soft_and_open_and_leaves_what_is_hard() {
        use crate::rotation::{Moment, PowerCut};
        // Opened on Monday, at what hour nobody says, and wanted again on Wednesday.
        let said_of = |name: &str, from: (i16, i8), to: (i16, i8)| {
            let mut plan = Plan::cabbage(4);
            let of = || vec![pack(name, 0.0, 40.0, 100.0, 21, "pack")];
            plan.cook(supper(1), with(of(), dish("a")), "middle", 100);
            plan.cook(supper(3), with(of(), dish("b")), "middle", 100);
            let at = |(day, hour): (i16, i8)| Moment { day: DayNo(day), at: jiff::civil::time(hour, 0, 0, 0) };
            plan.rotation.fridge.cuts = vec![PowerCut { from: at(from), to: at(to) }];
            said(&companions(&plan.rotation))
        };
        let lost = "Stop companion-keeping: Wednesday supper, B: cream opened Monday lay in a fridge without power for over 4 hours, \
                    Tuesday 08:00 to 13:00; throw it away";
        assert_eq!(said_of("cream", (2, 8), (2, 13))[0], lost);
        for name in ["prawns", "cured ham", "white beans", "tofu", "soft cheese", "buttermilk"] {
            assert!(said_of(name, (2, 8), (2, 13))[0].contains("throw it away"), "{name}");
        }
        for name in ["hard cheese", "butter", "parsley", "anchovies", "dark chocolate"] {
            assert!(said_of(name, (2, 8), (2, 13)).iter().all(|s| !s.starts_with("Stop")), "{name}");
        }
        for (from, to) in [((2, 8), (2, 12)), ((0, 8), (0, 13)), ((4, 8), (4, 13))] {
            assert!(said_of("cream", from, to).iter().all(|s| !s.starts_with("Stop")), "{from:?} {to:?}");
        }
    }

    #[test]
    fn a_twins_own_packs_count_for_those_who_get_the_twin() {
        let mut plan = Plan::cabbage(3);
        let gro = plan.eater("Gro", 100);
        let twin = Twin {
            name: "seared halloumi".into(),
            holds_piece: false,
            diet: Diet::Vegetarian,
            allergens: Vec::new(),
            protein: None,
            without_forms: Vec::new(),
            companions: vec![pack("halloumi", 100.0, 0.0, 225.0, 5, "block")],
        };
        let seared = Dish { twins: vec![twin], ..dish("seared") };
        let batch = plan.cook(supper(1), seared, "middle", 400);
        assert_eq!(said(&companions(&plan.rotation)), [""; 0]);
        plan.twin(supper(1), batch, gro, "seared halloumi");
        let want = ["Note companion-left: Halloumi: 125 g of the 225 g block is left after Monday; eat by Saturday"];
        assert_eq!(said(&companions(&plan.rotation)), want);
    }

    #[test]
    fn an_empty_pack_is_followed_by_a_fresh_one_and_a_scrape_is_no_leftover() {
        // Amounts on day 1 and day 6, of packs of 100 that keep 3 days.
        for (first, then, want) in [
            (100.0, 60.0, vec!["Note companion-left: Milk: 40 g of the 100 g carton is left after Saturday; eat by Tuesday 18"]),
            (
                250.0,
                50.0,
                vec![
                    "Stop companion-keeping: Saturday supper, B: milk opened Monday, 5 days against 3; the last day is Thursday",
                ],
            ),
            (299.5, 100.0, vec![]),
            (300.4, 100.4, vec![]),
        ] {
            let mut plan = Plan::cabbage(6);
            let milk = |grams| vec![pack("milk", 0.0, grams, 100.0, 3, "carton")];
            plan.cook(supper(1), with(milk(first), dish("a")), "middle", 100);
            plan.cook(supper(6), with(milk(then), dish("b")), "middle", 100);
            assert_eq!(said(&companions(&plan.rotation)), want, "{first} then {then}");
        }
    }

    #[test]
    fn senseless_packs_are_passed_over() {
        for (amount, size) in
            [(f64::NAN, 100.0), (f64::INFINITY, 100.0), (10.0, 0.0), (10.0, -5.0), (10.0, f64::NAN), (-10.0, 100.0)]
        {
            let mut plan = Plan::cabbage(2);
            plan.cook(supper(1), with(vec![pack("milk", 0.0, amount, size, 3, "carton")], dish("a")), "middle", 100);
            assert_eq!(said(&companions(&plan.rotation)), [""; 0], "{amount} of {size}");
        }
    }

    #[test]
    fn half_an_egg_is_half_an_egg() {
        let egg = Companion { measure: CompanionMeasure::Count, ..pack("egg", 0.0, 0.5, 1.0, 1, "egg") };
        let mut plan = Plan::cabbage(2);
        plan.cook(supper(1), with(vec![egg], dish("a")), "middle", 100);
        let want = ["Note companion-left: Egg: 0.5 of the 1 egg is left after Monday; eat by Tuesday"];
        assert_eq!(said(&companions(&plan.rotation)), want);
    }
}
