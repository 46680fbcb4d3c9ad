//! A small desk that holds a plan and one sheet: no bench, no judges, no files. For looking at sheets and for testing them.

use egui::Context;
use std::sync::Arc;
use tranche::{
    app::{
        action::Action,
        hearth::Hearth,
        sheet::{self, OpenSheet, Sheet},
        view::View,
    },
    book::{Book, Dish, Kind},
    judge::{Balance, DistinctMeals, Judgement, Variety},
    quantity::{Grams, System, Units},
    rotation::{Eater, EaterId, Edit, History, Mealtime, MealtimeId, Rotation, ServeFrom, Slot, apply},
};

/// A plan, its history, and the sheet that is open.
pub struct SheetDesk {
    /// What the household has said.
    pub hearth: Hearth,
    /// The plan with its steps.
    pub history: History,
    /// Kinds and dishes.
    pub book: Arc<Book>,
    /// The measures.
    pub system: System,
    /// The sheet, until it is closed.
    pub open: Option<OpenSheet>,
    /// Everything that the sheet asked for and that is no edit.
    pub asked: Vec<Action>,
    judged: Judgement,
}

impl SheetDesk {
    /// A desk with `rotation` on it and `which` sheet open, on 25 November 2026.
    pub fn new(rotation: Rotation, which: Sheet) -> SheetDesk {
        let history = History::new(rotation);
        let open = OpenSheet::on(which, history.now(), jiff::civil::date(2026, 11, 25));
        SheetDesk {
            history,
            book: Arc::new(book()),
            system: System::Metric,
            open: Some(open),
            asked: Vec::new(),
            judged: silent(),
            hearth: Hearth::default(),
        }
    }

    /// Draws the sheet and does what it asks for, as the real desk does.
    pub fn frame(&mut self, ctx: &Context) {
        let Some(open) = &mut self.open else { return };
        let view = View {
            rotation: self.history.now(),
            revision: self.history.revision(),
            judged: &self.judged,
            mends: &[],
            book: &self.book,
            system: self.system,
            hearth: &self.hearth,
            who: None,
            table: None,
            clocks: &[],
        };
        let mut actions = Vec::new();
        sheet::ui(ctx, &view, open, &mut actions);
        for action in actions {
            ctx.request_repaint();
            let (edit, gesture) = match action {
                Action::Edit(edit) => (edit, None),
                Action::Pull(edit, gesture) => (edit, Some(gesture)),
                Action::Undo => {
                    self.history.undo();
                    continue;
                }
                Action::Redo => {
                    self.history.redo();
                    continue;
                }
                Action::CloseSheet => {
                    self.open = None;
                    self.asked.push(Action::CloseSheet);
                    continue;
                }
                other => {
                    self.asked.push(other);
                    continue;
                }
            };
            // A sheet asks first whether an edit can be done, so a refusal here is a mistake of the sheet.
            let done = apply(self.history.now(), &edit).unwrap_or_else(|refusal| panic!("{edit:?} was refused: {refusal}"));
            self.history.push(done.rotation, done.words, gesture);
        }
    }

    /// The plan.
    pub fn plan(&self) -> &Rotation {
        self.history.now()
    }
}

/// A judgement that says nothing: sheets reckon what they show from the plan itself.
fn silent() -> Judgement {
    let balance = Balance {
        as_bought: 0,
        trim: 0,
        given_away: 0,
        rotten: 0,
        usable: 0,
        allotted: 0,
        banked: 0,
        unallocated: 0,
        parts: Vec::new(),
        stocks: Vec::new(),
    };
    let distinct = DistinctMeals { meals: 0, left_out: 0, feel_like: 0.0 };
    let variety = Variety { pairs: Vec::new(), runs: Vec::new(), distinct, distinct_by_eater: Vec::new() };
    Judgement { balance, keeping: Vec::new(), variety, findings: Vec::new() }
}

fn kind(id: &str, name: &str, family: &str, colour: &str, state: &str, mass: &str, body: &str) -> Kind {
    let text = format!(
        r#"(id: "{id}", name: "{name}", family: "{family}", colour: "{colour}", portioned: {state}, mass: {mass},
            cooked_days: 3, diet: Vegan, sources: ["invented"], {body})"#
    );
    ron::from_str(&text).unwrap_or_else(|e| panic!("{id}: {e}"))
}

/// Five kinds and a handful of dishes; invented figures.
pub fn book() -> Book {
    let cabbage = r#"clock_starts: "cut",
        trim: [(name: "ragged leaves", share: 50), (name: "stump and core", share: 117)],
        parts: [
            (id: "outer", name: "outer leaves", share: 167, raw_days: 5, suits: "rolls, braises"),
            (id: "middle", name: "middle", share: 444, raw_days: 5, suits: "wedges, fried shreds"),
            (id: "heart", name: "heart", share: 222, raw_days: 5, suits: "anything raw"),
        ],
        hazards: [
            "A cold head is hard and rolls: cut a flat face first, lay a damp cloth under the board, work a heavy knife down.",
            "Mould on the outside: cut 2 to 3 cm clear of it. A sour, slimy heart goes out.",
        ]"#;
    let halves = |clock: &str, trim: u16| {
        format!(
            r#"clock_starts: "{clock}", trim: [(name: "skin and bone", share: {trim})],
            parts: [(id: "one", name: "thick end", share: {}, raw_days: 2, suits: "frying"),
                    (id: "other", name: "thin end", share: {}, raw_days: 2, suits: "soup")]"#,
            (1_000 - trim) / 2,
            1_000 - trim - (1_000 - trim) / 2
        )
    };
    let kinds = [
        kind("celeriac", "celeriac", "hard-root", "D9CFA8", "Prepared", "(500, 1200, 2500)", &halves("cut", 260)),
        kind("red-cabbage", "red cabbage", "brassica", "7A4A78", "Prepared", "(600, 1800, 3500)", cabbage),
        kind("roast-turkey", "roast turkey", "poultry", "B9793F", "Cooked", "(3000, 5000, 9000)", &halves("roasted", 600)),
        kind("salmon-side", "side of salmon", "fish", "E08A6B", "Prepared", "(800, 1400, 2200)", &halves("bought", 100)),
        kind("tomatoes", "box of tomatoes", "tomato", "C23B2B", "Prepared", "(2000, 5000, 9000)", &halves("picked", 40)),
    ];
    let dishes = [
        dish("slaw", "Sharp slaw with pear", (70, 100, 130), r#"forms: ["raw onion", "raw cabbage"]"#),
        dish("wedges", "Charred wedges, cumin yoghurt", (180, 200, 250), r#"forms: ["yoghurt"]"#),
        dish("rolls", "Leaf rolls, beef and rice", (80, 200, 250), ""),
    ];
    Book::of(kinds, dishes)
}

fn dish(id: &str, name: &str, grams: (u32, u32, u32), more: &str) -> Dish {
    let text = format!(
        r#"(id: "{id}", name: "{name}", families: ["brassica"], profile: (), state: Prepared, grams: {grams:?},
            yield: 900, cooked: true, keeps: 3, diet: Everything, minutes: (10, 20),
            steps: [(text: "Make it.", minutes: 20, hands: true)], sources: ["invented"], {more})"#
    );
    ron::from_str(&text).unwrap_or_else(|e| panic!("{id}: {e}"))
}

fn eater(id: u16, name: &str, hundredths: u32) -> Eater {
    Eater {
        id: EaterId(id),
        name: name.into(),
        units: Units::from_hundredths(hundredths).expect("in range"),
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    }
}

/// A cabbage of 1,800 g for three eaters over four days with lunch and supper; nothing planned.
pub fn empty_plan() -> Rotation {
    let kinds = book();
    let cabbage = kinds.kinds().find(|k| k.id.as_str() == "red-cabbage").expect("in the book").clone();
    let eaters = vec![eater(1, "Asta", 100), eater(2, "Bo", 100), eater(3, "Kim", 60)];
    let mass = Grams::new(1_800).expect("in range");
    let mut r = Rotation::start(cabbage, mass, jiff::civil::date(2026, 12, 7), 4, eaters);
    let at = jiff::civil::Time::new(12, 30, 0, 0).ok();
    r.mealtimes.insert(0, Mealtime { id: MealtimeId(2), name: "lunch".into(), at });
    r
}

/// The same with Charred wedges on Tuesday supper and slaw on Monday supper.
pub fn plan() -> Rotation {
    let mut r = empty_plan();
    let book = book();
    for (id, day) in [("slaw", 1), ("wedges", 2)] {
        let dish = book.dishes().find(|d| d.id.as_str() == id).expect("in the book").clone();
        let slot = Slot { day: tranche::quantity::DayNo(day), mealtime: MealtimeId(1) };
        let serve = Edit::Serve { dish, from: ServeFrom::BestPart, slot, portion: None };
        r = apply(&r, &serve).expect("there is enough").rotation;
    }
    r
}
