//! Is the best really the best, whatever way its grams come? Every choice for every meal beside every other, all tried through
//! the judges: fresh dishes, second servings, what is left of a dish, components, jars, batches that stand, packs on hand.

use super::{Question, Wishes, board::Board, choice::Route, question::Outcome};
use crate::{
    arrange::{answer::Limits, watch::Gate},
    book::{Book, Dish, Kind},
    judge::Home,
    quantity::{DayNo, Grams, Units},
    rotation::{Eater, EaterId, Edit, Mealtime, MealtimeId, Rotation, ServeFrom, Slot, apply},
};
use std::{collections::BTreeMap, sync::Arc};

/// The same numbers everywhere (splitmix64).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % n
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len() as u64) as usize]
    }
}

fn eater(id: u16, name: &str) -> Eater {
    Eater {
        id: EaterId(id),
        name: name.into(),
        units: Units::ADULT,
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    }
}

fn dish(text: &str) -> Dish {
    let whole =
        format!(r#"({text}, families: ["test"], steps: [(text: "Make it.", minutes: 5, hands: true)], sources: ["practice"])"#);
    ron::from_str(&whole).unwrap_or_else(|e| panic!("{e}\n{whole}"))
}

/// A book of every sort of dish for a little root; figures invented.
fn dishes(dice: &mut Dice) -> Vec<Dish> {
    let profile = |dice: &mut Dice| {
        let texture = dice.pick(&["Crisp", "Stewed", "Creamy", "Charred", "Smooth", "Brothy"]);
        let family = dice.pick(&["Sharp", "Curry", "Mild", "Tomato"]);
        let heat = dice.pick(&["Chilled", "Hot"]);
        format!("profile: (texture: [({texture}, 1.0)], family: [({family}, 1.0)], heat: Some({heat}))")
    };
    let pack = |dice: &mut Dice| {
        dice.pick(&["", r#"companions: [(name: "Cream", per_unit: 20.0)],"#, r#"companions: [(name: "dill", per_unit: 2.0)],"#])
    };
    let mut out = Vec::new();
    for n in 0..2 + dice.below(2) {
        let leftover = dice.pick(&["AsIs", "No", r#"Turned(["soup"])"#]);
        let parts = dice.pick(&[r#""top""#, r#""tip""#, r#""top", "tip""#]);
        let minutes = 20 + 10 * dice.below(3);
        out.push(dish(&format!(
            r#"id: "fresh-{n}", name: "Fresh {n}", parts: [{parts}], {}, {} state: Prepared, grams: (40, 60, {}), yield: 900,
            cooked: true, keeps: 3, leftover: {leftover}, minutes: (10, {minutes})"#,
            profile(dice),
            pack(dice),
            80 + 20 * dice.below(4),
        )));
    }
    out.push(dish(&format!(
        r#"id: "soup", name: "Soup", from: ["fresh-0", "base"], {}, {} state: Cooked, grams: (30, 50, 70), yield: 1000, cooked: true,
        keeps: 2, leftover: No, minutes: (5, 20)"#,
        profile(dice),
        pack(dice),
    )));
    if dice.below(2) == 0 {
        out.push(dish(
            r#"id: "base", name: "Base", role: Component, profile: (), state: Prepared, grams: (0, 0, 0), yield: 700, cooked: true,
            keeps: 3, minutes: (10, 30)"#,
        ));
    }
    if dice.below(2) == 0 {
        out.push(dish(
            r#"id: "pickle", name: "Pickle", role: Bank, parts: ["top"], profile: (texture: [(Crisp, 1.0)]), state: Prepared,
            grams: (20, 40, 60), yield: 1000, cooked: false, keeps: 10, minutes: (10, 40)"#,
        ));
    }
    out
}

struct Case {
    plan: Rotation,
    book: Book,
    wishes: Wishes,
}

fn case(seed: u64) -> Case {
    let dice = &mut Dice(seed);
    let raw = (2 + dice.below(3), 2 + dice.below(3));
    let text = format!(
        r#"(id: "test-root", name: "test root", family: "test", colour: "7A4A78", portioned: Prepared, mass: (1, 20, 40), trim: [],
        parts: [(id: "top", name: "top", share: 500, raw_days: {}, suits: "a"), (id: "tip", name: "tip", share: 500, raw_days: {}, suits: "b")],
        clock_starts: "cut", cooked_days: 3, diet: Vegan, sources: ["practice"])"#,
        raw.0, raw.1
    );
    let kind: Kind = ron::from_str(&text).expect("the kind reads");
    let dishes = dishes(dice);
    let book = Book::of([kind.clone()], dishes.clone());
    let mass = Grams::new(300 + 100 * dice.below(8) as u32).expect("grams");
    let first = jiff::civil::date(2026, 5, 4);
    let mut plan = Rotation::start(Arc::new(kind), mass, first, 4, vec![eater(1, "Ann"), eater(2, "Ben")]);
    plan.mealtimes.insert(0, Mealtime { id: MealtimeId(2), name: "lunch".into(), at: jiff::civil::Time::new(12, 0, 0, 0).ok() });
    let at = |day: i16, mealtime: u8| Slot { day: DayNo(day), mealtime: MealtimeId(mealtime) };
    // Lunch and supper of one day, and one or two suppers later.
    let mut meals = vec![at(1, 2), at(1, 1), at(3, 1)];
    if dice.below(3) == 0 {
        meals[2] = at(4, 1);
        meals.push(at(4, 2));
    }
    // A batch may stand already, with something left in its pot.
    if dice.below(3) == 0 {
        let serve = Edit::Serve { dish: Arc::new(dishes[0].clone()), from: ServeFrom::BestPart, slot: at(1, 2), portion: None };
        if let Ok(done) = apply(&plan, &serve) {
            plan = done.rotation;
            plan.batches.iter_mut().flat_map(|b| &mut b.draws).for_each(|d| d.portion = d.portion.with(d.portion.get() + 100));
            meals.retain(|s| *s != at(1, 2));
        }
    }
    let mut wishes = Wishes { meals: Some(meals), ..Wishes::default() };
    if dice.below(2) == 0 {
        wishes.use_up.insert("cream".into());
    }
    if dice.below(3) == 0 {
        wishes.use_up.insert("dill".into());
    }
    if dice.below(3) == 0 {
        wishes.minutes.insert(DayNo(1), 40 + 10 * dice.below(4) as u32);
    }
    wishes.may_be_alike = dice.below(3) > 0;
    wishes.may_come_again = dice.below(3) == 0;
    Case { plan, book, wishes }
}

/// The least that any arrangement costs, with the choices of one that costs it.
fn best_by_trying(board: &Board) -> Option<(i64, Vec<usize>)> {
    fn go(board: &Board, begun: &mut Vec<usize>, best: &mut Option<(i64, Vec<usize>)>) {
        if begun.len() == board.slots.len() {
            // What cannot be better by likeness alone is not shown to the judges: they only add.
            let least = board.taste(begun).map(|t| 1_000 * t);
            if least.is_some_and(|l| best.as_ref().is_none_or(|(c, _)| l < *c))
                && let Some(cost) = board.cost(begun)
                && best.as_ref().is_none_or(|(c, _)| cost < *c)
            {
                *best = Some((cost, begun.clone()));
            }
            return;
        }
        for &c in &board.of_slot[begun.len()] {
            begun.push(c);
            go(board, begun, best);
            begun.pop();
        }
    }
    let mut best = None;
    go(board, &mut Vec::new(), &mut best);
    best
}

#[test]
fn nothing_costs_less_than_the_best_however_its_grams_come() {
    let home = Home::default();
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for seed in 0..80 {
        let case = case(seed);
        let mut board = Board::new(case.plan.clone(), &case.book, &home, &case.wishes);
        if board.slots.is_empty() || board.of_slot.iter().map(Vec::len).product::<usize>() > 20_000 {
            continue;
        }
        let mut tried = best_by_trying(&board);
        if tried.is_none() {
            board.allow_waste();
            tried = best_by_trying(&board);
        }
        let mut question = Question::new(&case.plan, &case.book, &home, &case.wishes);
        match question.best(Limits::default(), &mut |_| {}) {
            Outcome::Filled(best) => {
                assert!(best.proven && best.bound == best.arrangement.cost.total(), "seed {seed}");
                assert_eq!(Some(best.arrangement.cost.total()), tried.as_ref().map(|t| t.0), "seed {seed}");
                for (c, meal) in best.arrangement.chosen.iter().zip(&best.arrangement.meals) {
                    let route = match board.choices[*c].route {
                        Route::Fresh => "fresh",
                        Route::Component(..) => "component",
                        Route::Of(_) => "of what is left",
                        Route::Again(_) => "again",
                        Route::Batch(_) => "batch",
                    };
                    *seen.entry(route).or_default() += 1;
                    let uses = meal.dish.companions.iter().any(|c| case.wishes.use_up.contains(&c.name.to_lowercase()));
                    *seen.entry("uses a pack up").or_default() += usize::from(uses);
                }
                *seen.entry("put by").or_default() += usize::from(!best.arrangement.put_by.is_empty());
            }
            Outcome::Impossible(why) => {
                assert_eq!(tried, None, "seed {seed}: {}", why.says());
                *seen.entry("impossible").or_default() += 1;
            }
            other => panic!("seed {seed}: {other:?}"),
        }
    }
    println!("{seen:?}");
    for sort in ["fresh", "component", "of what is left", "again", "batch", "put by", "uses a pack up"] {
        assert!(seen.get(sort).is_some_and(|n| *n >= 3), "{sort} is hardly tried: {seen:?}");
    }
}
