//! The five worked weeks, built in code from the shipped book: what `tests/data` holds as files.
//!
//! The figures are invented at the bench for this project. Every piece carries the grams that were weighed for it.
#![allow(dead_code)]

use jiff::civil::{Date, Time, date};
use std::sync::Arc;
use tranche::{
    book::{Allergen, Book, Care, Diet, Dish, DishId, Kind, KindId, PartId},
    quantity::{DayNo, Grams, Portion, Units},
    rotation::{
        Batch, BatchId, Draw, Eater, EaterId, FindingKey, Household, Meal, Mealtime, MealtimeId, Overruled, Piece, Rotation,
        Serving, Slot, Source, TwinServing,
    },
};

/// Supper and lunch, by their numbers in every file.
pub const SUPPER: MealtimeId = MealtimeId(1);
/// See [`SUPPER`].
pub const LUNCH: MealtimeId = MealtimeId(2);

/// Supper on this day.
pub fn supper(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: SUPPER }
}

/// Lunch on this day.
pub fn lunch(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: LUNCH }
}

/// Somebody at the table.
pub fn eater(id: u16, name: &str, hundredths: u32) -> Eater {
    Eater {
        id: EaterId(id),
        name: name.into(),
        units: Units::from_hundredths(hundredths).expect("a portion unit"),
        guest: false,
        allergies: vec![],
        diet: Diet::Everything,
        dislikes: vec![],
        care: vec![],
    }
}

/// A plan under construction.
pub struct Week {
    /// The shipped book.
    pub book: Book,
    /// The plan.
    pub plan: Rotation,
}

impl Week {
    /// An empty window around a weighed piece: its trim lines and parts in the kind's order.
    pub fn of(title: &str, kind: &str, first: Date, days: u16, eaters: Vec<Eater>, trim: &[u32], parts: &[u32]) -> Week {
        let book = Book::shipped().expect("the shipped book reads");
        let kind: Arc<Kind> = book.kind(&KindId::new(kind).expect("a slug")).expect("a shipped kind").clone();
        let mass: u32 = trim.iter().chain(parts).sum();
        let mut plan = Rotation::start(kind.clone(), Grams::clamped(mass), first, days, vec![]);
        plan.title = title.into();
        plan.household = Household { eaters };
        let lunch_at = Time::new(12, 30, 0, 0).ok();
        plan.mealtimes = vec![
            Mealtime { id: LUNCH, name: "lunch".into(), at: lunch_at },
            Mealtime { id: SUPPER, name: "supper".into(), at: Time::new(18, 30, 0, 0).ok() },
        ];
        let mut piece = Piece::guessed(&kind, Grams::clamped(mass), DayNo::FIRST);
        for (line, &grams) in piece.trim.iter_mut().zip(trim) {
            line.grams = Grams::clamped(grams);
        }
        piece.trim_weighed = true;
        for (part, &grams) in piece.parts.iter_mut().zip(parts) {
            part.usable = part.usable.with(grams);
            part.weighed = true;
        }
        plan.piece = piece;
        Week { book, plan }
    }

    /// When people sit down to supper, where it is not half past six; lunch where it is not half past twelve.
    #[must_use]
    pub fn sitting(mut self, slot: MealtimeId, hour: i8, minute: i8) -> Week {
        let at = Time::new(hour, minute, 0, 0).ok();
        self.plan.mealtimes.iter_mut().filter(|m| m.id == slot).for_each(|m| m.at = at);
        self
    }

    /// A dish of the book, copied into the plan.
    pub fn dish(&mut self, id: &str) -> Arc<Dish> {
        let id = DishId::new(id).expect("a slug");
        let dish = self.book.dish(&id).unwrap_or_else(|| panic!("{id} is not in the book")).clone();
        self.plan.dishes.insert(id, dish.clone());
        dish
    }

    /// Makes a dish on a day from parts of the piece.
    pub fn make(&mut self, day: i16, dish: &str, parts: &[(&str, u32)]) -> BatchId {
        let dish = self.dish(dish);
        let state = self.plan.kind.portioned;
        let draws = parts
            .iter()
            .map(|&(part, grams)| Draw {
                from: Source::Part(PartId::new(part).expect("a slug")),
                portion: Portion::of(state, grams),
                cut_on: None,
            })
            .collect();
        self.push(day, &dish, draws)
    }

    /// Makes a dish on a day from cooked grams of another batch.
    pub fn make_from(&mut self, day: i16, dish: &str, batch: BatchId, cooked: u32) -> BatchId {
        let dish = self.dish(dish);
        let portion = Portion::Cooked(Grams::clamped(cooked));
        self.push(day, &dish, vec![Draw { from: Source::Batch(batch), portion, cut_on: None }])
    }

    fn push(&mut self, day: i16, dish: &Dish, draws: Vec<Draw>) -> BatchId {
        let id = self.plan.next_batch_id();
        self.plan.batches.push(Batch { id, dish: dish.id.clone(), day: DayNo(day), draws });
        id
    }

    /// Serves grams of a batch at a meal.
    pub fn serve(&mut self, slot: Slot, batch: BatchId, grams: u32) -> &mut Serving {
        let portion = self.plan.batch(batch).expect("a batch of this plan").pool().with(grams);
        let meal = self.plan.meals.entry(slot).or_default();
        meal.servings.push(Serving { batch, portion, eaters: vec![], twins: vec![] });
        meal.servings.last_mut().expect("just pushed")
    }

    /// Makes and serves all of it at one meal.
    pub fn cook(&mut self, slot: Slot, dish: &str, parts: &[(&str, u32)]) -> BatchId {
        let batch = self.make(slot.day.0, dish, parts);
        self.serve(slot, batch, parts.iter().map(|p| p.1).sum());
        batch
    }

    /// Gives an eater the twin of what was served last at the meal.
    pub fn twin(&mut self, slot: Slot, eater: u16, twin: &str) {
        let meal = self.plan.meals.get_mut(&slot).expect("a meal");
        let serving = meal.servings.last_mut().expect("a serving");
        serving.twins.push(TwinServing { eater: EaterId(eater), twin: twin.into() });
    }

    /// Says who sits down.
    pub fn present(&mut self, slot: Slot, eaters: &[u16]) {
        let meal: &mut Meal = self.plan.meals.entry(slot).or_default();
        meal.present = Some(eaters.iter().map(|&e| EaterId(e)).collect());
    }
}

fn cabbage(title: &str) -> Week {
    let mut kim = eater(3, "Kim", 60);
    kim.allergies = vec![Allergen::Nuts];
    kim.dislikes = vec!["raw onion".into()];
    let eaters = vec![eater(1, "Asta", 100), eater(2, "Bo", 100), kim];
    Week::of(title, "red-cabbage", date(2026, 12, 7), 4, eaters, &[90, 210], &[300, 800, 400]).sitting(SUPPER, 18, 50)
}

/// Red cabbage, mended; `pancakes`: with Thursday's supper.
fn red_cabbage(title: &str, pancakes: bool) -> Rotation {
    let mut w = cabbage(title);
    w.cook(supper(1), "sharp-slaw-pear-mustard", &[("heart", 260)]);
    let pickle = w.make(1, "quick-vinegar-pickle", &[("heart", 140)]);
    w.cook(supper(2), "charred-wedges-cumin-yoghurt", &[("middle", 520)]);
    let rolls = w.make(3, "leaf-rolls-beef-rice-tomato", &[("outer", 300)]);
    w.serve(supper(3), rolls, 250);
    w.serve(lunch(4), rolls, 50);
    w.present(lunch(4), &[2]);
    // Bo has the same roll twice running and does not mind.
    let rolls_again = "likeness/leaf-rolls-beef-rice-tomato>leaf-rolls-beef-rice-tomato/2";
    w.plan.overruled.push(Overruled { finding: FindingKey(rolls_again.into()), reason: "Bo asked for the sixth roll".into() });
    if pancakes {
        w.cook(supper(4), "crisp-shred-pancakes-ginger-soy", &[("middle", 280)]);
        w.serve(supper(4), pickle, 104);
    }
    w.plan
}

pub fn red_cabbage_mended() -> Rotation {
    red_cabbage("Red cabbage in four days", true)
}

/// Thursday's supper still open: 280 g of the middle is free, and the pickle stands in its jar.
pub fn red_cabbage_open() -> Rotation {
    red_cabbage("Red cabbage, Thursday open", false)
}

pub fn red_cabbage_unhappy() -> Rotation {
    let mut w = cabbage("Red cabbage, first draft");
    w.cook(supper(1), "apple-clove-braise-sausage", &[("heart", 400)]);
    w.cook(supper(2), "apple-clove-braise-meatballs", &[("middle", 540)]);
    w.cook(supper(3), "sweet-sour-rolls-raisins", &[("outer", 300)]);
    let slaw = w.cook(supper(4), "slaw-with-ham", &[("middle", 260)]);
    let batch = w.plan.batches.iter_mut().find(|b| b.id == slaw).expect("just made");
    batch.draws[0].cut_on = Some(DayNo(1));
    w.plan
}

fn salmon_side(title: &str, days: u16) -> Week {
    let mut gro = eater(4, "Gro", 100);
    gro.diet = Diet::Vegetarian;
    let eaters = vec![eater(1, "Dag", 100), eater(2, "Eva", 100), eater(3, "Fia", 120), gro];
    Week::of(title, "salmon-side", date(2026, 12, 11), days, eaters, &[70, 70], &[480, 380, 400]).sitting(SUPPER, 18, 45)
}

/// The side of salmon as planned, with 28 g of belly still without a meal.
pub fn salmon_mended() -> Rotation {
    salmon(352)
}

/// The same with the 28 g folded into the curry.
pub fn salmon_folded() -> Rotation {
    salmon(380)
}

fn salmon(curry: u32) -> Rotation {
    let mut w = salmon_side("Side of salmon in three days", 3);
    w.cook(supper(1), "seared-loin-lemon-potatoes", &[("loin", 480)]);
    w.twin(supper(1), 4, "seared halloumi");
    w.cook(supper(2), "coconut-lime-curry", &[("belly", curry)]);
    w.twin(supper(2), 4, "tofu in the same base");
    let tail = w.make(2, "poached-tail", &[("tail", 400)]);
    let flaked = w.make_from(3, "cold-flaked-cucumber-dill", tail, 320);
    w.serve(lunch(3), flaked, 320);
    w.twin(lunch(3), 4, "lentils with egg");
    w.plan
}

pub fn salmon_unhappy() -> Rotation {
    let mut w = salmon_side("Side of salmon, first draft", 4);
    let fillet = w.make(1, "baked-fillet-lemon-dill", &[("loin", 480), ("belly", 140)]);
    w.serve(supper(1), fillet, 320);
    w.cook(supper(2), "paper-baked-lemon-dill", &[("belly", 240), ("tail", 80)]);
    w.cook(supper(3), "baked-tail-lemon-dill", &[("tail", 320)]);
    let flakes = w.make_from(4, "cold-flakes-of-baked-fillet", fillet, 255);
    w.serve(supper(4), flakes, 255);
    w.plan
}

/// Guests on Sunday: Leo, two more adults, a toddler.
pub const FEAST: &[u16] = &[1, 2, 3, 4, 5, 6, 7, 8];

fn roast_turkey(title: &str, days: u16) -> Week {
    let mut jon = eater(3, "Jon", 120);
    jon.allergies = vec![Allergen::Sesame];
    let mut grandmother = eater(4, "Grandmother", 80);
    grandmother.care = vec![Care::Elderly];
    let guest = |mut e: Eater| {
        e.guest = true;
        e
    };
    let mut leo = guest(eater(5, "Leo", 100));
    leo.allergies = vec![Allergen::Wheat, Allergen::OtherGluten];
    let mut toddler = guest(eater(8, "Toddler", 40));
    toddler.care = vec![Care::UnderFive];
    let eaters = vec![
        eater(1, "Hal", 100),
        eater(2, "Ida", 100),
        jon,
        grandmother,
        leo,
        guest(eater(6, "Mona", 100)),
        guest(eater(7, "Nora", 100)),
        toddler,
    ];
    Week::of(title, "roast-turkey", date(2026, 12, 27), days, eaters, &[1_250, 1_750], &[1_150, 700, 150]).sitting(LUNCH, 14, 0)
}

pub fn turkey_mended() -> Rotation {
    turkey(588, 300, 170)
}

/// The guests took 82 g more of the breast on Sunday; Wednesday has what is left.
pub fn turkey_after_bigger_feast() -> Rotation {
    turkey(670, 300, 160)
}

fn turkey(breast: u32, thigh: u32, broth: u32) -> Rotation {
    let mut w = roast_turkey("Turkey after the feast", 4);
    w.cook(lunch(1), "plain-roast-gravy", &[("breast", breast), ("thigh", thigh)]);
    w.present(lunch(1), FEAST);
    w.cook(supper(2), "cold-shredded-lime-mint-noodles", &[("breast", 320)]);
    w.cook(supper(3), "thigh-potato-hash-egg", &[("thigh", 400)]);
    w.cook(supper(4), "barley-leek-broth", &[("breast", broth), ("pickings", 150)]);
    w.plan
}

pub fn turkey_unhappy() -> Rotation {
    let mut w = roast_turkey("Turkey, first draft", 5);
    w.cook(lunch(1), "plain-roast-gravy", &[("breast", 588), ("thigh", 300)]);
    w.present(lunch(1), FEAST);
    w.cook(supper(2), "warmed-slices-gravy", &[("breast", 280)]);
    w.cook(supper(3), "white-stew-rice", &[("breast", 256)]);
    w.cook(supper(4), "leek-mushroom-pie", &[("thigh", 170), ("pickings", 150)]);
    w.cook(supper(5), "coconut-turkey-curry", &[("thigh", 230), ("breast", 26)]);
    w.plan
}

fn tomato_glut(title: &str) -> Week {
    let mut nils = eater(2, "Nils", 100);
    nils.allergies = vec![Allergen::Milk];
    let mut pia = eater(4, "Pia", 60);
    pia.dislikes = vec!["raw tomato".into()];
    let eaters = vec![eater(1, "Mia", 100), nils, eater(3, "Ola", 60), pia];
    Week::of(title, "tomatoes", date(2026, 8, 22), 5, eaters, &[270, 120, 90], &[1_530, 2_280, 1_710]).sitting(SUPPER, 18, 40)
}

pub fn tomatoes_mended() -> Rotation {
    let mut w = tomato_glut("Tomato glut in five days");
    let base = w.make(1, "roast-sauce-base", &[("split", 1_530)]);
    let pasta = w.make_from(1, "pasta-roast-sauce-olives", base, 420);
    w.serve(supper(1), pasta, 420);
    w.make(1, "slow-dried-halves", &[("ripe", 1_000)]);
    w.cook(lunch(2), "torn-bread-raw-tomato-salad", &[("ripe", 480)]);
    w.twin(lunch(2), 4, "softened tomato on toast");
    w.cook(supper(3), "chilled-blended-tomato-cucumber", &[("ripe", 800)]);
    let eggs = w.make_from(4, "eggs-baked-in-sauce", base, 420);
    w.serve(supper(4), eggs, 420);
    w.cook(supper(5), "crumbed-fried-turning-slices", &[("turning", 448)]);
    w.make(5, "turning-tomato-chutney", &[("turning", 1_262)]);
    w.plan
}

pub fn tomatoes_unhappy() -> Rotation {
    let mut w = tomato_glut("Tomato glut, first draft");
    w.cook(supper(1), "pasta-simmered-tomato", &[("ripe", 768)]);
    w.cook(lunch(2), "smooth-tomato-soup", &[("ripe", 704)]);
    w.cook(supper(3), "tomato-pasta-bake", &[("ripe", 768)]);
    w.cook(supper(4), "pasta-simmered-tomato", &[("turning", 768)]);
    w.plan
}

fn celeriac_head(title: &str) -> Week {
    let eaters = vec![eater(1, "Rut", 100), eater(2, "Sam", 100)];
    Week::of(title, "celeriac", date(2026, 11, 2), 5, eaters, &[325], &[600, 375])
}

pub fn celeriac_mended() -> Rotation {
    let mut w = celeriac_head("Celeriac, one of two away on Wednesday");
    w.cook(supper(1), "mustard-matchsticks", &[("outside", 180)]);
    w.cook(supper(2), "miso-roast-slices-mushrooms", &[("centre", 400)]);
    w.cook(supper(3), "grated-fried-cakes-herring", &[("outside", 150)]);
    w.present(supper(3), &[1]);
    w.cook(supper(4), "cream-bake-beans", &[("centre", 200), ("outside", 45)]);
    w.plan
}

pub fn celeriac_unhappy() -> Rotation {
    let mut w = celeriac_head("Celeriac, first draft");
    w.cook(supper(1), "root-mash-sausage", &[("outside", 360)]);
    w.cook(supper(2), "root-cream-soup", &[("centre", 280)]);
    w.cook(supper(3), "root-smoked-fish-chowder", &[("centre", 110)]);
    w.present(supper(3), &[1]);
    w.cook(supper(4), "cream-bake-beans", &[("centre", 210), ("outside", 15)]);
    w.plan
}

/// Every file under `tests/data` with what it holds, and the demo.
pub fn files() -> Vec<(&'static str, Rotation)> {
    vec![
        ("assets/demo.rotation.ron", red_cabbage_mended()),
        ("tests/data/red-cabbage-mended.rotation.ron", red_cabbage_mended()),
        ("tests/data/red-cabbage-open.rotation.ron", red_cabbage_open()),
        ("tests/data/red-cabbage-unhappy.rotation.ron", red_cabbage_unhappy()),
        ("tests/data/salmon-mended.rotation.ron", salmon_mended()),
        ("tests/data/salmon-folded.rotation.ron", salmon_folded()),
        ("tests/data/salmon-unhappy.rotation.ron", salmon_unhappy()),
        ("tests/data/turkey-mended.rotation.ron", turkey_mended()),
        ("tests/data/turkey-bigger-feast.rotation.ron", turkey_after_bigger_feast()),
        ("tests/data/turkey-unhappy.rotation.ron", turkey_unhappy()),
        ("tests/data/tomatoes-mended.rotation.ron", tomatoes_mended()),
        ("tests/data/tomatoes-unhappy.rotation.ron", tomatoes_unhappy()),
        ("tests/data/celeriac-mended.rotation.ron", celeriac_mended()),
        ("tests/data/celeriac-unhappy.rotation.ron", celeriac_unhappy()),
    ]
}
