//! How long does one frame of the bench take, all but the GPU driver?
//!
//! `cargo bench -p tranche-window-tests --bench frame`. Goals for the demo: under 3 ms (median), under 8 ms (slowest). A
//! frame here is what the processor does for it: input, the whole of the desk, layout, what a screen reader is told, and
//! the triangles. Nothing is uploaded or drawn. No test waits on these figures: they hang on the machine.

#[path = "../../bench/month.rs"]
mod month;

use divan::Bencher;
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, ViewportId, pos2, vec2};
use std::{
    cell::RefCell,
    fmt,
    path::Path,
    sync::Arc,
    time::{Duration, Instant},
};
use tranche::{app::Desk, book::Book, rotation::Rotation, store::rotation_from_text};

/// The demo, as the program ships it.
const DEMO: &str = include_str!("../../../assets/demo.rotation.ron");
/// The window's own size when it opens.
const SIZE: Pos2 = pos2(1440.0, 900.0);

fn main() {
    divan::main();
}

/// What is on the desk, and whether a screen reader listens.
#[derive(Clone, Copy)]
struct Case {
    plan: &'static str,
    reader: bool,
}

impl fmt::Display for Case {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {}", self.plan, if self.reader { "read aloud" } else { "silent" })
    }
}

const DEMOS: [Case; 2] = [Case { plan: "demo", reader: false }, Case { plan: "demo", reader: true }];
const ALL: [Case; 4] = [DEMOS[0], DEMOS[1], Case { plan: "month", reader: false }, Case { plan: "month", reader: true }];

/// A desk without a window.
struct Stage {
    ctx: Context,
    desk: Desk,
    time: f64,
    /// What a screen reader was told last: names and where they stand.
    names: Vec<(String, Rect)>,
    restful: bool,
}

impl Stage {
    /// The desk at rest: fonts loaded, nothing gliding, the demo's mends found. Those of the month are sought for half a
    /// minute on the worker; its frames are measured meanwhile.
    fn settled(case: Case) -> Stage {
        let book = Book::shipped().expect("the shipped book reads");
        let plan: Rotation = match case.plan {
            "demo" => rotation_from_text(Path::new("demo"), DEMO).expect("the demo reads"),
            _ => month::month(&book).0,
        };
        let ctx = Context::default();
        let mut desk = Desk::new(plan, Arc::new(book));
        desk.dress(&ctx);
        ctx.enable_accesskit();
        let mut stage = Stage { ctx, desk, time: 0.0, names: Vec::new(), restful: false };
        stage.rest();
        if !case.reader {
            stage.ctx.disable_accesskit();
            stage.frame(Vec::new());
        }
        stage
    }

    /// Frames until nobody asks for another, and none is asked for in a second of quiet either.
    fn rest(&mut self) {
        let start = Instant::now();
        let mut quiet = Instant::now();
        while quiet.elapsed() < Duration::from_secs(1) {
            assert!(start.elapsed() < Duration::from_secs(60), "the window never comes to rest");
            if !self.restful || self.ctx.has_requested_repaint() {
                quiet = Instant::now();
                self.frame(Vec::new());
            }
            std::thread::sleep(Duration::from_millis(2));
        }
    }

    /// One frame with these events, tessellated; how many meshes there are.
    fn frame(&mut self, events: Vec<Event>) -> usize {
        self.time += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_max(Pos2::ZERO, SIZE)),
            time: Some(self.time),
            events,
            focused: true,
            ..RawInput::default()
        };
        let mut output = self.ctx.run_ui(input, |ui| self.desk.ui(ui));
        output.textures_delta.clear();
        self.restful = output.viewport_output.get(&ViewportId::ROOT).is_some_and(|v| v.repaint_delay == Duration::MAX);
        if let Some(update) = output.platform_output.accesskit_update.take() {
            let named = update.nodes.iter().filter_map(|(_, node)| Some((node.label()?.to_string(), node.bounds()?)));
            let rect =
                |b: egui::accesskit::Rect| Rect::from_min_max(pos2(b.x0 as f32, b.y0 as f32), pos2(b.x1 as f32, b.y1 as f32));
            self.names = named.map(|(name, bounds)| (name, rect(bounds))).collect();
        }
        self.ctx.tessellate(output.shapes, output.pixels_per_point).len()
    }

    /// Where something stands, by the beginning of its name.
    fn find(&self, name: &str) -> Pos2 {
        let found = self.names.iter().find(|(n, _)| n.starts_with(name));
        found.unwrap_or_else(|| panic!("nothing is called {name}: {:#?}", self.names)).1.center()
    }

    fn press(&mut self, at: Pos2) {
        self.frame(vec![Event::PointerMoved(at)]);
        self.frame(vec![button(at, true)]);
    }

    /// Lets go where nothing takes it.
    fn let_go(&mut self) {
        let nowhere = pos2(4.0, 4.0);
        self.frame(vec![Event::PointerMoved(nowhere)]);
        self.frame(vec![button(nowhere, false)]);
        self.frame(Vec::new());
    }
}

fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

/// The goal's own figure: nothing happens, and everything is drawn once more.
#[divan::bench(args = ALL, sample_count = 1000, sample_size = 1)]
fn at_rest(bencher: Bencher, case: Case) {
    let mut stage = Stage::settled(case);
    bencher.bench_local(|| stage.frame(Vec::new()));
}

/// The frame in which a share is taken in hand: what a drop would come to is reckoned for the cells, as far as the frame's
/// own budget goes.
#[divan::bench(args = DEMOS, sample_count = 300, sample_size = 1)]
fn a_drag_begins(bencher: Bencher, case: Case) {
    let stage = Stage::settled(case);
    // Another one each time: what is known of a share stays known while the plan does.
    let shares =
        ["middle, Tuesday supper", "outer leaves, Wednesday supper", "tight heart, Monday supper"].map(|n| stage.find(n));
    let stage = RefCell::new(stage);
    let mut turns = shares.into_iter().cycle();
    let ready = || {
        let mut stage = stage.borrow_mut();
        stage.let_go();
        let at = turns.next().expect("a cycle has no end");
        stage.press(at);
        vec![Event::PointerMoved(at + vec2(24.0, 4.0))]
    };
    bencher.with_inputs(ready).bench_local_values(|events| stage.borrow_mut().frame(events));
    assert!(stage.borrow().desk.carry().is_some(), "nothing is in the hand");
}

/// Something is carried from cell to cell.
#[divan::bench(args = DEMOS, sample_count = 1000, sample_size = 1)]
fn mid_drag(bencher: Bencher, case: Case) {
    let mut stage = Stage::settled(case);
    let cells = ["Monday lunch", "Tuesday lunch", "Wednesday supper", "Thursday supper"].map(|n| stage.find(n));
    let share = stage.find("middle, Tuesday supper");
    stage.press(share);
    for cell in cells {
        stage.frame(vec![Event::PointerMoved(cell)]);
    }
    let mut turns = cells.into_iter().cycle();
    bencher.bench_local(|| stage.frame(turns.next().map(Event::PointerMoved).into_iter().collect()));
    assert!(stage.desk.carry().is_some(), "nothing is in the hand");
}

/// The edge of a share is pulled to and fro: every frame changes the plan, judges it anew and looks for mends beside.
#[divan::bench(args = DEMOS, sample_count = 1000, sample_size = 1)]
fn an_edge_is_pulled(bencher: Bencher, case: Case) {
    let mut stage = Stage::settled(case);
    let edge = stage.find("edge of middle, Tuesday supper");
    stage.press(edge);
    let before = stage.desk.history().revision();
    let mut turns = (1..=8).chain((1..=8).rev()).cycle();
    bencher.bench_local(|| {
        let by = -12.0 * turns.next().unwrap_or(1) as f32;
        stage.frame(vec![Event::PointerMoved(edge + vec2(by, 0.0))])
    });
    assert!(stage.desk.history().revision() > before, "no edit was made");
}
