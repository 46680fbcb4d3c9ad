//! Small rotations built in code, for the judges' tests.

use crate::{
    book::{
        Allergen, Companion, CompanionMeasure, CutForm, CutKeeping, Diet, Dish, DishId, Kind, KindId, KindPart, PartId, Profile,
        Role,
    },
    quantity::{AsBought, DayNo, Days, Grams, PerMille, Portion, State, Units},
    rotation::{
        Batch, BatchId, Draw, Eater, EaterId, Household, Meal, Mealtime, MealtimeId, PartMass, Piece, Rotation, Serving, Slot,
        Source, TrimLine, TwinServing,
    },
};
use jiff::civil::{Date, date};
use std::sync::Arc;

/// The mealtimes of every plan made here.
pub(crate) const LUNCH: MealtimeId = MealtimeId(1);
/// The later of the two.
pub(crate) const SUPPER: MealtimeId = MealtimeId(2);

/// A Monday.
pub(crate) const MONDAY: Date = date(2025, 11, 10);

pub(crate) fn lunch(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: LUNCH }
}

pub(crate) fn supper(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: SUPPER }
}

pub(crate) fn part_id(text: &str) -> PartId {
    PartId::new(text).unwrap()
}

/// A raw vegetable kind with parts of (id, days raw).
pub(crate) fn kind(id: &str, parts: &[(&str, i16)]) -> Kind {
    Kind {
        id: KindId::new(id).unwrap(),
        name: id.replace('-', " "),
        family: id.into(),
        colour: "705090".into(),
        portioned: State::Prepared,
        mass: (500, 1_500, 6_000),
        trim: Vec::new(),
        parts: parts
            .iter()
            .map(|&(id, days)| KindPart {
                id: part_id(id),
                name: id.replace('-', " "),
                share: PerMille::new((1_000 / parts.len()) as u16).unwrap(),
                raw_days: Days(days),
                nice_days: None,
                suits: "anything".into(),
                unit: None,
            })
            .collect(),
        clock_starts: "cut".into(),
        cooked_days: Days(3),
        cut_forms: Vec::new(),
        whole: Vec::new(),
        cup: None,
        cups: Vec::new(),
        yields: Vec::new(),
        trim_range: None,
        cooked_nice_days: None,
        allergens: Vec::new(),
        diet: Diet::Vegan,
        animal: false,
        stand_ins: Vec::new(),
        hazards: Vec::new(),
        sources: vec!["practice".into()],
    }
}

/// A cooked dish for a meal that keeps 3 days, from any part, of no given amount.
pub(crate) fn dish(id: &str) -> Dish {
    let name: String = id.replace('-', " ");
    Dish {
        id: DishId::new(id).unwrap(),
        name: name[..1].to_uppercase() + &name[1..],
        role: Role::Meal,
        families: Vec::new(),
        parts: Vec::new(),
        from: Vec::new(),
        profile: Profile::default(),
        state: State::Prepared,
        grams: (0, 0, 0),
        cut: None,
        yields: PerMille::ALL,
        cooked: true,
        boiled_through: false,
        keeps: Days(3),
        nice_days: None,
        leftover: Default::default(),
        unit: None,
        companions: Vec::new(),
        allergens: Vec::new(),
        diet: Diet::Vegan,
        forms: Vec::new(),
        twins: Vec::new(),
        cautions: Vec::new(),
        minutes: (20, 40),
        oven: None,
        steps: Vec::new(),
        sources: vec!["practice".into()],
    }
}

/// A raw dressed salad that keeps a day.
pub(crate) fn raw_dish(id: &str) -> Dish {
    Dish { cooked: false, keeps: Days(1), ..dish(id) }
}

/// A cooked component that keeps 3 days.
pub(crate) fn component(id: &str) -> Dish {
    Dish { role: Role::Component, ..dish(id) }
}

/// A raw bank that keeps 10 days: a quick vinegar pickle.
pub(crate) fn bank(id: &str) -> Dish {
    Dish { role: Role::Bank, cooked: false, keeps: Days(10), ..dish(id) }
}

/// A companion by the unit, in packs that keep `days` once opened.
pub(crate) fn pack(name: &str, per_unit: f64, per_batch: f64, pack: f64, days: i16, word: &str) -> Companion {
    Companion {
        name: name.into(),
        per_unit,
        per_batch,
        measure: CompanionMeasure::G,
        pack: Some(pack),
        opened_days: Some(Days(days)),
        pack_word: Some(word.into()),
    }
}

/// A rotation in the making, opened on day 1.
pub(crate) struct Plan {
    pub rotation: Rotation,
}

impl Plan {
    /// A plan from a Monday of `days` days with lunch and supper around parts of (id, grams, days raw) and 300 g of trim; nobody eats yet.
    pub fn of(kind_id: &str, parts: &[(&str, u32, i16)], days: u16) -> Plan {
        let limits: Vec<(&str, i16)> = parts.iter().map(|&(id, _, days)| (id, days)).collect();
        Plan::around(kind(kind_id, &limits), &parts.iter().map(|p| p.1).collect::<Vec<_>>(), days)
    }

    /// The same around a kind of one's own, its parts holding `grams`.
    pub fn around(kind: Kind, grams: &[u32], days: u16) -> Plan {
        let mass = Grams::<AsBought>::new(300 + grams.iter().sum::<u32>()).unwrap();
        let parts = kind.parts.iter().zip(grams);
        let piece = Piece {
            trim: vec![TrimLine { name: "trim".into(), grams: Grams::new(300).unwrap() }],
            parts: parts
                .map(|(p, &g)| PartMass { part: p.id.clone(), usable: Portion::of(kind.portioned, g), weighed: true })
                .collect(),
            ..Piece::guessed(&kind, mass, DayNo::FIRST)
        };
        let mut rotation = Rotation::start(Arc::new(kind), mass, MONDAY, days, Vec::new());
        rotation.piece = piece;
        rotation.mealtimes =
            [(LUNCH, "lunch"), (SUPPER, "supper")].map(|(id, name)| Mealtime { id, name: name.into(), at: None }).to_vec();
        rotation.household = Household::default();
        Plan { rotation }
    }

    /// The red cabbage: outer leaves 300 g, middle 800 g, heart 400 g, raw 5 days, shreds 2; eaten by Asta, Bo and Kim, 2.6 units.
    pub fn cabbage(days: u16) -> Plan {
        let mut kind = kind("red-cabbage", &[("outer", 5), ("middle", 5), ("heart", 5)]);
        kind.cut_forms = vec![CutKeeping { form: CutForm::Shreds, days: Days(2) }];
        let mut plan = Plan::around(kind, &[300, 800, 400], days);
        plan.eater("Asta", 100);
        plan.eater("Bo", 100);
        plan.eater("Kim", 60);
        plan
    }

    /// The roast turkey off the bone: breast 1,150 g, thigh 700 g, pickings 150 g, cooked, 3 days; eaten by Hal and Grandmother, who is elderly.
    pub fn turkey(days: u16) -> Plan {
        let mut kind = kind("turkey", &[("breast", 0), ("thigh", 0), ("pickings", 0)]);
        kind.portioned = State::Cooked;
        kind.clock_starts = "roasted".into();
        kind.animal = true;
        kind.diet = Diet::Everything;
        let mut plan = Plan::around(kind, &[1_150, 700, 150], days);
        plan.rotation.first_day = MONDAY.yesterday().unwrap();
        plan.eater("Hal", 100);
        let granny = plan.eater("Grandmother", 80);
        plan.with_eater(granny, |e| e.care.push(crate::book::Care::Elderly));
        plan
    }

    /// Somebody more at the table, of so many hundredths of an adult.
    pub fn eater(&mut self, name: &str, hundredths: u32) -> EaterId {
        let id = self.rotation.household.next_id();
        self.rotation.household.eaters.push(Eater {
            id,
            name: name.into(),
            units: Units::from_hundredths(hundredths).unwrap(),
            guest: false,
            allergies: Vec::new(),
            diet: Diet::Everything,
            dislikes: Vec::new(),
            care: Vec::new(),
        });
        id
    }

    pub fn with_eater(&mut self, id: EaterId, change: impl FnOnce(&mut Eater)) {
        change(self.rotation.household.eaters.iter_mut().find(|e| e.id == id).unwrap());
    }

    pub fn allergic(&mut self, name: &str, to: Allergen) -> EaterId {
        let id = self.eater(name, 100);
        self.with_eater(id, |e| e.allergies.push(to));
        id
    }

    /// A batch made on `day` from parts of (id, grams).
    pub fn batch(&mut self, day: i16, dish: Dish, draws: &[(&str, u32)]) -> BatchId {
        let state = self.rotation.kind.portioned;
        let draws = draws
            .iter()
            .map(|&(part, grams)| Draw { from: Source::Part(part_id(part)), portion: Portion::of(state, grams), cut_on: None })
            .collect();
        self.put(day, dish, draws)
    }

    /// A batch made on `day` from another batch.
    pub fn batch_from(&mut self, day: i16, dish: Dish, source: BatchId, grams: u32) -> BatchId {
        let draw = Draw { from: Source::Batch(source), portion: Portion::of(State::Cooked, grams), cut_on: None };
        self.put(day, dish, vec![draw])
    }

    fn put(&mut self, day: i16, dish: Dish, draws: Vec<Draw>) -> BatchId {
        let id = self.rotation.next_batch_id();
        self.rotation.batches.push(Batch { id, dish: dish.id.clone(), day: DayNo(day), draws });
        self.rotation.dishes.insert(dish.id.clone(), Arc::new(dish));
        id
    }

    /// One more draw for a batch, from another batch.
    pub fn draw_batch(&mut self, batch: BatchId, source: BatchId, grams: u32) {
        let draw = Draw { from: Source::Batch(source), portion: Portion::of(State::Cooked, grams), cut_on: None };
        self.batch_mut(batch).draws.push(draw);
    }

    pub fn batch_mut(&mut self, id: BatchId) -> &mut Batch {
        self.rotation.batches.iter_mut().find(|b| b.id == id).unwrap()
    }

    /// Says that all a batch draws was cut on `day`.
    pub fn cut_on(&mut self, batch: BatchId, day: i16) {
        self.batch_mut(batch).draws.iter_mut().for_each(|d| d.cut_on = Some(DayNo(day)));
    }

    /// Serves so many grams of a batch to everybody present.
    pub fn serve(&mut self, slot: Slot, batch: BatchId, grams: u32) -> &mut Serving {
        let state = self.batch_mut(batch).state();
        let meal = self.rotation.meals.entry(slot).or_default();
        meal.servings.push(Serving { batch, portion: Portion::of(state, grams), eaters: Vec::new(), twins: Vec::new() });
        meal.servings.last_mut().unwrap()
    }

    /// A batch from one part, all of it eaten at one meal of its day.
    pub fn cook(&mut self, slot: Slot, dish: Dish, part: &str, grams: u32) -> BatchId {
        let batch = self.batch(slot.day.0, dish, &[(part, grams)]);
        self.serve(slot, batch, grams);
        batch
    }

    pub fn twin(&mut self, slot: Slot, batch: BatchId, eater: EaterId, twin: &str) {
        let serving = self.meal_mut(slot).servings.iter_mut().find(|s| s.batch == batch).unwrap();
        serving.twins.push(TwinServing { eater, twin: twin.into() });
    }

    pub fn present(&mut self, slot: Slot, eaters: &[EaterId]) {
        self.meal_mut(slot).present = Some(eaters.to_vec());
    }

    pub fn meal_mut(&mut self, slot: Slot) -> &mut Meal {
        self.rotation.meals.entry(slot).or_default()
    }
}

/// A text with plain spaces, for comparing.
pub(crate) fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// What findings say, as "severity code: text", in their order.
pub(crate) fn said(findings: &[super::Finding]) -> Vec<String> {
    findings.iter().map(|f| plain(&format!("{} {}: {}", f.severity.word(), f.code.as_str(), f.text))).collect()
}
