//! Random plans with all that can go wrong with food, and which stop of the judges speaks of which bad plate.

use super::{Plate, Wrong};
use jiff::civil::{date, time};
use std::{collections::BTreeMap, sync::Arc};
use tranche::{
    book::{Allergen, Care, CutForm, CutKeeping, Diet, Dish, DishId, Heat, Kind, KindId, KindPart, PartId, Profile, Role, Twin},
    judge::{Code, Finding},
    quantity::{AsBought, DayNo, Days, Grams, PerMille, Portion, State, Units},
    rotation::{
        Batch, BatchId, Draw, Eater, EaterId, Fridge, Frozen, FrozenStay, Household, Meal, Mealtime, MealtimeId, Moment,
        PartMass, Piece, PowerCut, Rotation, Serving, Slot, Source, Storage, TrimLine, TwinServing,
    },
};

/// SplitMix64 (Steele, Lea and Flood 2014): the same plans on every machine. Every other plan is one that a careful cook might
/// make, so that both answers are common.
pub struct Dice {
    state: u64,
    careful: bool,
}

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice { state: seed, careful: seed % 2 == 1 }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    fn days(&mut self, from: i16, to: i16) -> i16 {
        from + self.below((to - from + 1).max(1) as usize) as i16
    }

    /// Yes in so many of a hundred.
    pub fn in_100(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// The same for what a careful cook seldom does.
    fn slip(&mut self, percent: usize) -> bool {
        let percent = if self.careful { percent / 4 } else { percent };
        self.in_100(percent)
    }

    /// The shortest limit that a plan's kind and dishes have.
    fn least(&self) -> i16 {
        if self.careful { 2 } else { 0 }
    }

    pub fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())].clone()
    }

    fn some<T: Clone>(&mut self, of: &[T], percent: usize) -> Vec<T> {
        of.iter().filter(|_| self.in_100(percent)).cloned().collect()
    }
}

const ALLERGENS: [Allergen; 4] = [Allergen::Milk, Allergen::Celery, Allergen::Fish, Allergen::Mustard];
const SUPPER: MealtimeId = MealtimeId(2);

fn kind(dice: &mut Dice) -> Kind {
    let whole = dice.in_100(20);
    let animal = whole || dice.in_100(30);
    let parts = ["outer", "middle", "heart"].map(|id| KindPart {
        id: PartId::new(id).unwrap(),
        name: id.into(),
        share: PerMille::new(300).unwrap(),
        raw_days: Days(if animal { dice.days(dice.least(), 3) } else { dice.days(2 + dice.least(), 7) }),
        nice_days: None,
        suits: "anything".into(),
        unit: None,
    });
    let cut_forms =
        if dice.in_100(60) { vec![CutKeeping { form: CutForm::Shreds, days: Days(dice.days(dice.least(), 3)) }] } else { vec![] };
    Kind {
        id: KindId::new("piece").unwrap(),
        name: "piece".into(),
        family: "brassica".into(),
        colour: "705090".into(),
        portioned: if whole { State::Cooked } else { State::Prepared },
        mass: (500, 1_500, 6_000),
        trim: vec![],
        trim_range: None,
        parts: parts.into(),
        clock_starts: "cut".into(),
        cooked_days: Days(dice.days(1 + dice.least(), 4)),
        cooked_nice_days: None,
        yields: vec![],
        cut_forms,
        whole: vec![],
        cup: None,
        cups: vec![],
        allergens: dice.some(&ALLERGENS, 8),
        diet: Diet::Vegan,
        animal,
        stand_ins: vec![],
        hazards: vec![],
        sources: vec!["practice".into()],
    }
}

fn a_dish(dice: &mut Dice, number: usize, state: State) -> Dish {
    let role = match dice.below(10) {
        0 | 1 => Role::Component,
        2 => Role::Bank,
        _ => Role::Meal,
    };
    let cooked = dice.in_100(65);
    let twin = |name: &str, dice: &mut Dice| Twin {
        name: name.into(),
        holds_piece: dice.in_100(50),
        diet: Diet::Vegan,
        allergens: dice.some(&ALLERGENS, 10),
        protein: None,
        without_forms: vec![],
        companions: vec![],
    };
    Dish {
        id: DishId::new(&format!("dish-{number}")).unwrap(),
        name: format!("Dish {number}"),
        role,
        families: vec![],
        parts: vec![],
        from: vec![],
        profile: Profile {
            heat: dice.one(&[None, Some(Heat::Chilled), Some(Heat::Warm), Some(Heat::Hot)]),
            ..Profile::default()
        },
        state,
        grams: (0, 0, 0),
        cut: dice.in_100(40).then_some(CutForm::Shreds),
        yields: PerMille::ALL,
        cooked,
        boiled_through: cooked && dice.in_100(20),
        keeps: Days(if role == Role::Bank { dice.days(5, 20) } else { dice.days(dice.least(), 5) }),
        nice_days: None,
        leftover: Default::default(),
        unit: None,
        companions: vec![],
        allergens: dice.some(&ALLERGENS, 8),
        diet: Diet::Vegan,
        forms: vec![],
        twins: if dice.in_100(50) { vec![twin("this", dice), twin("that", dice)] } else { vec![] },
        cautions: vec![],
        minutes: (20, 40),
        oven: None,
        steps: vec![],
        sources: vec!["practice".into()],
    }
}

fn eaters(dice: &mut Dice) -> Vec<Eater> {
    let count = 1 + dice.below(4);
    (0..count)
        .map(|i| Eater {
            id: EaterId(i as u16 + 1),
            name: format!("Eater {i}"),
            units: Units::ADULT,
            guest: i > 0 && dice.in_100(20),
            allergies: if dice.slip(24) { vec![dice.one(&ALLERGENS)] } else { vec![] },
            diet: Diet::Everything,
            dislikes: vec![],
            care: if dice.in_100(20) { vec![dice.one(Care::ALL)] } else { vec![] },
        })
        .collect()
}

/// The batches, each of parts or of batches made before it. A meal or a later batch takes a twelfth, so that there is always enough.
fn batches(dice: &mut Dice, kind: &Kind, dishes: &[Dish], days: i16) -> Vec<Batch> {
    let mut made: Vec<Batch> = Vec::new();
    for number in 0..1 + dice.below(if dice.careful { 4 } else { 7 }) {
        let day = dice.days(1, days.min(if dice.careful { 3 } else { 5 }));
        let sources: Vec<BatchId> = made.iter().filter(|b| b.day <= DayNo(day) && b.pool().get() >= 60).map(|b| b.id).collect();
        let (of_batches, whole) = (!sources.is_empty() && dice.in_100(40), kind.is_cooked_whole());
        let mut draws = Vec::new();
        if !of_batches || (whole && dice.in_100(30)) {
            let parts = 1 + dice.below(2);
            for part in kind.parts.iter().skip(dice.below(2)).take(parts) {
                let early = dice.slip(30).then(|| DayNo(dice.days(1, day)));
                draws.push(Draw {
                    from: Source::Part(part.id.clone()),
                    portion: Portion::of(kind.portioned, 10_000),
                    cut_on: early.filter(|d| *d < DayNo(day)),
                });
            }
        }
        if of_batches {
            let mut from = dice.some(&sources, 40);
            if from.is_empty() {
                from.push(dice.one(&sources));
            }
            draws.extend(from.into_iter().map(|id| {
                let pool = made.iter().find(|b| b.id == id).unwrap().pool().get();
                Draw { from: Source::Batch(id), portion: Portion::of(State::Cooked, pool / 12), cut_on: None }
            }));
        }
        made.push(Batch { id: BatchId(number as u32 + 1), dish: dice.one(dishes).id, day: DayNo(day), draws });
    }
    made
}

fn meals(dice: &mut Dice, plan: &Rotation) -> BTreeMap<Slot, Meal> {
    let mut meals: BTreeMap<Slot, Meal> = BTreeMap::new();
    let everybody: Vec<EaterId> = plan.household.eaters.iter().map(|e| e.id).collect();
    for batch in &plan.batches {
        let dish = &plan.dishes[&batch.dish];
        if dish.role == Role::Component {
            continue;
        }
        for _ in 0..dice.below(4) {
            // Mostly on the day or soon after, seldom before.
            let day = if dice.slip(3) {
                dice.days(1, plan.days as i16)
            } else {
                batch.day.0 + if dice.slip(60) { dice.days(1, 3) } else { dice.days(0, 1) }
            };
            let slot = Slot { day: DayNo(day.clamp(1, plan.days as i16)), mealtime: MealtimeId(1 + dice.below(2) as u8) };
            let meal = meals.entry(slot).or_default();
            if meal.servings.iter().any(|s| s.batch == batch.id) {
                continue;
            }
            let twins = everybody.iter().filter(|_| !dish.twins.is_empty() && dice.in_100(25));
            let twins: Vec<EaterId> = twins.copied().collect();
            let twins = twins.into_iter().map(|eater| TwinServing { eater, twin: dice.one(&dish.twins).name });
            let twins = twins.collect();
            let eaters = if dice.in_100(25) { dice.some(&everybody, 60) } else { vec![] };
            meal.servings.push(Serving {
                batch: batch.id,
                portion: batch.pool().with((batch.pool().get() / 12).max(1)),
                eaters,
                twins,
            });
            if dice.in_100(25) {
                meal.present = Some(dice.some(&everybody, 70));
            }
        }
    }
    meals
}

fn fridge(dice: &mut Dice, days: i16) -> Fridge {
    let runs_at = dice.slip(16).then(|| f64::from(dice.days(3, 9)));
    let mut cuts = Vec::new();
    if dice.slip(12) {
        let day = dice.days(1, days);
        let hours = dice.days(1, 12) as i8;
        cuts.push(PowerCut {
            from: Moment { day: DayNo(day), at: time(8, 0, 0, 0) },
            to: Moment { day: DayNo(day), at: time(8 + hours, 0, 0, 0) },
        });
    }
    Fridge { runs_at, cuts }
}

pub fn plan(dice: &mut Dice) -> Rotation {
    let days = dice.days(3, 8);
    let kind = kind(dice);
    let dishes: Vec<Dish> = (0..6).map(|i| a_dish(dice, i, kind.portioned)).collect();
    let batches = batches(dice, &kind, &dishes, days);
    // Each part holds just what is drawn, so that nothing lies raw past its day but what is planned.
    let drawn = |part: &PartId| {
        let draws = batches.iter().flat_map(|b| &b.draws).filter(|d| d.from == Source::Part(part.clone()));
        draws.map(|d| d.portion.get()).sum::<u32>()
    };
    let parts: Vec<PartMass> = kind
        .parts
        .iter()
        .map(|p| PartMass { part: p.id.clone(), usable: Portion::of(kind.portioned, drawn(&p.id)), weighed: true })
        .collect();
    let mass: u32 = 100 + parts.iter().map(|p| p.usable.get()).sum::<u32>();
    let mass = Grams::<AsBought>::new(mass).unwrap();
    let piece = Piece {
        trim: vec![TrimLine { name: "trim".into(), grams: Grams::new(100).unwrap() }],
        parts,
        ..Piece::guessed(&kind, mass, DayNo(dice.days(-1, 1)))
    };
    let mut plan = Rotation::start(Arc::new(kind), mass, date(2026, 5, 11), days as u16, vec![]);
    plan.piece = piece;
    plan.household = Household { eaters: eaters(dice) };
    plan.mealtimes = vec![
        Mealtime { id: MealtimeId(1), name: "lunch".into(), at: jiff::civil::Time::new(12, 30, 0, 0).ok() },
        Mealtime { id: SUPPER, name: "supper".into(), at: jiff::civil::Time::new(18, 30, 0, 0).ok() },
    ];
    plan.dishes = dishes.into_iter().map(|d| (d.id.clone(), Arc::new(d))).collect();
    plan.batches = batches;
    plan.fridge = fridge(dice, days);
    plan.meals = meals(dice, &plan);
    plan.meals.retain(|_, m| !m.is_blank());
    plan.storage = storage(dice, &plan);
    plan
}

/// In some kitchens a freezer with something in it, and for some pieces the hour of their opening.
fn storage(dice: &mut Dice, plan: &Rotation) -> Storage {
    let opened_at = dice.in_100(25).then(|| time(dice.below(24) as i8, 0, 0, 0));
    let mut storage = Storage { opened_at, freezer: dice.in_100(35), ..Storage::default() };
    if !storage.freezer {
        return storage;
    }
    let day = |d: i16| DayNo(d);
    for batch in &plan.batches {
        if dice.in_100(30) {
            let from = batch.day.0 + dice.days(0, 1);
            storage.frozen.push(FrozenStay { what: Frozen::Batch(batch.id), from: day(from), to: day(from + dice.days(1, 4)) });
        }
        for draw in &batch.draws {
            let Source::Part(part) = &draw.from else { continue };
            let (opened, made) = (plan.piece.opened.0, batch.day.0);
            if !plan.kind.is_cooked_whole() && opened < made && dice.in_100(30) {
                let from = dice.days(opened, made - 1);
                let to = dice.days(from + 1, made);
                storage.frozen.push(FrozenStay { what: Frozen::Draw(batch.id, part.clone()), from: day(from), to: day(to) });
            }
        }
    }
    storage
}

/// A batch and all that it is made of.
fn line_of(plan: &Rotation, batch: BatchId) -> Vec<BatchId> {
    let mut line = vec![batch];
    let mut next = 0;
    while let Some(id) = line.get(next).copied() {
        for draw in plan.batches.iter().filter(|b| b.id == id).flat_map(|b| &b.draws) {
            if let Source::Batch(source) = draw.from
                && !line.contains(&source)
            {
                line.push(source);
            }
        }
        next += 1;
    }
    line
}

/// Whether a stop of the judges speaks of this plate, and of what is wrong with it.
pub fn speaks_of(plan: &Rotation, plate: &Plate, stop: &Finding) -> bool {
    let too_old = [Code::RawTooOld, Code::CutTooOld, Code::CookedTooOld];
    let here = stop.batch == Some(plate.batch) && stop.meal == Some(plate.slot);
    match plate.wrong {
        Wrong::Allergen(allergen) => {
            here && stop.code == Code::Allergy && stop.eater == Some(plate.eater) && stop.text.contains(allergen.word())
        }
        Wrong::BeforeMade => here && stop.code == Code::BeforeMade,
        Wrong::WarmedTwice => here && (stop.code == Code::Reheated || stop.code == Code::PowerCut),
        // Told at the plate, or where it was made, or where what it is made of was made.
        Wrong::TooOld | Wrong::MadeTooLate => {
            let line = line_of(plan, plate.batch);
            (too_old.contains(&stop.code) && stop.batch.is_some_and(|b| line.contains(&b)))
                || (here && stop.code == Code::PowerCut)
        }
        Wrong::TooOldForTheVulnerable => {
            let line = line_of(plan, plate.batch);
            let whole = stop.eater.is_none() || stop.eater == Some(plate.eater);
            (too_old.contains(&stop.code) && whole && stop.batch.is_some_and(|b| line.contains(&b)))
                || (here && stop.code == Code::PowerCut)
        }
        Wrong::PowerCut => here && stop.code == Code::PowerCut,
        Wrong::StillFrozen | Wrong::FrozenTwice => {
            let line = line_of(plan, plate.batch);
            (stop.code == Code::Frozen && stop.batch.is_some_and(|b| line.contains(&b))) || (here && stop.code == Code::PowerCut)
        }
    }
}
