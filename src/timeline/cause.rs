//! Why a day is impossible, in the cook's words.
//!
//! What one task or one dish shows by itself is said at once. Otherwise rules are lifted one after another: a rule without
//! which the day is still impossible had no part in it, and what remains is a set of which each member is needed (the
//! deletion filter: Chinneck & Dravnieks 1991).

use super::{
    engine::{Manner, Outcome},
    instance::Instance,
    mirror::Mirror,
    model::Model,
    relax::Rules,
    watch::Watch,
};

/// One thing that makes a day impossible, alone or with others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// Too few cooks.
    Hands,
    /// Too little room in the oven.
    Oven,
    /// Too few rings.
    Ring,
    /// Too little worktop.
    Space,
    /// There is one of each appliance.
    Appliance,
    /// The oven has one temperature at a time.
    Temperature,
    /// A dish may not stand that long.
    Hold,
    /// A longest wait between two steps.
    Wait,
    /// Steps that wait for each other.
    Order,
    /// The sit-down is too early: the day begins at minute 0.
    Early,
}

impl Cause {
    /// As it stands in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Cause::Hands => "hands",
            Cause::Oven => "oven",
            Cause::Ring => "ring",
            Cause::Space => "space",
            Cause::Appliance => "appliance",
            Cause::Temperature => "temperature",
            Cause::Hold => "hold",
            Cause::Wait => "wait",
            Cause::Order => "order",
            Cause::Early => "too-early",
        }
    }
}

/// Why there is no schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Impossible {
    /// What plays a part; without any one of these the day would be possible, as far as that was decided.
    pub causes: Vec<Cause>,
    /// One sentence.
    pub sentence: String,
}

/// Clashes for the question whether a day is possible without a rule.
const EFFORT: u64 = 20_000;
/// Dishes that a sentence names.
const MOST_NAMED: usize = 6;

const RESOURCES: [Cause; 4] = [Cause::Hands, Cause::Oven, Cause::Ring, Cause::Space];

fn capacity_words(instance: &Instance, r: usize) -> String {
    let c = &instance.capacities;
    match r {
        0 => counted(c.cooks, "cook"),
        1 => format!("{} in the oven", counted(c.racks, "rack")),
        2 => counted(c.rings, "ring"),
        _ => format!("{} on the worktop", counted(c.space, "place")),
    }
}

fn counted(n: i64, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// What a single task, dish or circle of lags shows.
pub(super) fn at_once(instance: &Instance, mirror: &Mirror) -> Option<Impossible> {
    let c = &instance.capacities;
    for (t, task) in instance.tasks.iter().enumerate() {
        let needs = [task.hands, task.oven.map_or(0, |o| o.racks), task.rings, task.space];
        for (r, (need, has)) in needs.into_iter().zip([c.cooks, c.racks, c.rings, c.space]).enumerate() {
            if need > has {
                let need = counted(need, ["cook", "rack", "ring", "place"][r]);
                let sentence =
                    format!("{} needs {need} and there is only {}", instance.task_name(t), capacity_words(instance, r));
                let sentence = if has == 0 { sentence.replace("there is only 0", "there are 0") } else { sentence };
                return Some(Impossible { causes: vec![RESOURCES[r]], sentence });
            }
        }
    }
    if let Some(circle) = mirror.circle() {
        let names: Vec<String> = circle.iter().rev().take(MOST_NAMED).map(|&t| instance.task_name(t)).collect();
        let without = Mirror::of(instance, &Rules { windows: false, ..Rules::all(instance.dishes.len()) });
        let (causes, sentence) = if without.circle().is_some() {
            (vec![Cause::Order], format!("{} wait for one another in a circle", names.join(", ")))
        } else {
            (
                vec![Cause::Wait],
                format!("the waits between {} contradict each other: some must be longer than others allow", names.join(", ")),
            )
        };
        return Some(Impossible { causes, sentence });
    }
    // Chains of steps alone, by the lags, back from the sit-down.
    let mut low: Vec<i64> = mirror.jobs.iter().map(|j| i64::from(j.release)).collect();
    for _ in 0..low.len() {
        let mut grew = false;
        for g in &mirror.gaps {
            let pushed = low[g.first] + i64::from(g.by);
            grew |= pushed > low[g.then];
            low[g.then] = low[g.then].max(pushed);
        }
        if !grew {
            break;
        }
    }
    let (t, over) = (0..low.len())
        .map(|t| (t, low[t] - i64::from(mirror.jobs[t].latest)))
        .max_by_key(|&(t, over)| (over, std::cmp::Reverse(t)))?;
    if over > 0 {
        let dish = instance.tasks[t].dish;
        let sentence = format!(
            "{} is served too early, at minute {}: {} would have to start {} before the day begins",
            instance.dish_name(dish),
            instance.dishes[dish].serve,
            instance.task_name(t),
            counted(over, "minute"),
        );
        return Some(Impossible { causes: vec![Cause::Early], sentence });
    }
    None
}

/// Lifts rules until each that is left is needed.
pub(super) fn search(instance: &Instance, watch: &mut Watch<'_>) -> Impossible {
    let mut rules = Rules::all(instance.dishes.len());
    type Lift = Box<dyn Fn(&mut Rules)>;
    let mut lifts: Vec<(Cause, Option<usize>, Lift)> = Vec::new();
    for r in [3, 2, 1] {
        lifts.push((RESOURCES[r], None, Box::new(move |rules| rules.resources[r] = false)));
    }
    lifts.push((Cause::Appliance, None, Box::new(|rules| rules.appliances = false)));
    lifts.push((Cause::Wait, None, Box::new(|rules| rules.windows = false)));
    lifts.push((Cause::Early, None, Box::new(|rules| rules.beginning = false)));
    lifts.push((Cause::Hands, None, Box::new(|rules| rules.resources[0] = false)));
    lifts.push((Cause::Temperature, None, Box::new(|rules| rules.temperature = false)));
    for d in (0..instance.dishes.len()).filter(|&d| instance.dishes[d].hold_max.is_some()) {
        lifts.push((Cause::Hold, Some(d), Box::new(move |rules| rules.holds[d] = false)));
    }
    let mut causes = Vec::new();
    let mut held = Vec::new();
    for (cause, dish, lift) in lifts {
        let mut without = rules.clone();
        lift(&mut without);
        if is_impossible(instance, &without, watch) {
            rules = without;
        } else {
            causes.push(cause);
            held.extend(dish);
        }
    }
    causes.sort_unstable();
    causes.dedup();
    let sentence = sentence(instance, &causes, &held);
    Impossible { causes, sentence }
}

fn is_impossible(instance: &Instance, rules: &Rules, watch: &mut Watch<'_>) -> bool {
    let mirror = Mirror::of(instance, rules);
    let Some(mut model) = Model::of(&mirror) else { return true };
    watch.search(&mut model, &[], EFFORT, Manner::Both) == Outcome::Refuted
}

fn sentence(instance: &Instance, causes: &[Cause], held: &[usize]) -> String {
    let mut with: Vec<String> = Vec::new();
    let mut held_words: Vec<String> = Vec::new();
    for cause in causes {
        match cause {
            Cause::Hands => with.push(capacity_words(instance, 0)),
            Cause::Oven => with.push(capacity_words(instance, 1)),
            Cause::Ring => with.push(capacity_words(instance, 2)),
            Cause::Space => with.push(capacity_words(instance, 3)),
            Cause::Appliance => with.push("one appliance of each kind".into()),
            Cause::Temperature => with.push("one temperature at a time in the oven".into()),
            Cause::Wait => with.push("the longest waits between the steps".into()),
            Cause::Order => with.push("the order of the steps".into()),
            Cause::Early => with.push("so early a sit-down".into()),
            Cause::Hold => {
                held_words.extend(held.iter().take(MOST_NAMED).map(|&d| {
                    let minutes = counted(instance.dishes[d].hold_max.unwrap_or(0), "minute");
                    format!("{} may stand at most {minutes}", instance.dish_name(d))
                }));
                if held.len() > MOST_NAMED {
                    held_words.push(format!("{} more dishes may not stand longer", held.len() - MOST_NAMED));
                }
            }
        }
    }
    match (with.is_empty(), held_words.is_empty()) {
        (true, true) => "the steps cannot be brought into any order".into(),
        (false, true) => format!("there is no schedule with {}", with.join(" and ")),
        (true, false) => format!("there is no schedule: {}", held_words.join(" and ")),
        (false, false) => format!("there is no schedule with {}: {}", with.join(" and "), held_words.join(" and ")),
    }
}
