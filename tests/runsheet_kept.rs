//! Does what a cook settled of a day's cooking come back as it was: steps moved by hand, the session as it goes, what is done
//! ahead?

#[path = "kitchen/session.rs"]
mod session;
#[path = "support/weeks.rs"]
mod weeks;

use session::{at, cook, dish, line, plan_of, sheet_of};
use std::{collections::BTreeMap, sync::Arc};
use tranche::{
    book::{Book, Dish, Role},
    lists::Ticks,
    quantity::{DayNo, Portion, State},
    rotation::{Edit, Kitchen, MealtimeId, Rotation, Slot},
    runsheet::{
        KeptChange, KeptCooking, KeptMove, KeptPlan, KeptSession, LineKind, Progress, Proof, RunSheet, Running, prep_ahead,
        replan, run_sheet,
    },
    store::{Places, load_ticks, save_ticks},
};
use weeks::{done, week};

const DAY: DayNo = DayNo(3);

fn rolls() -> (Rotation, RunSheet) {
    let plan = week("red-cabbage-mended");
    let sheet = sheet_of(&plan, DAY.0);
    (plan, sheet)
}

/// Lines with room to the left, each with the minute furthest to the left.
fn early(sheet: &RunSheet) -> Vec<(usize, i64)> {
    let lines = sheet.lines.iter().filter(|l| l.kind != LineKind::WashUp && sheet.can_move(l.id));
    lines
        .map(|l| (l.id, sheet.slack(l.id).0))
        .filter(|(id, first)| sheet.lines.iter().any(|l| l.id == *id && l.from > *first))
        .collect()
}

fn moves_of(sheet: &RunSheet, lines: &[usize]) -> Vec<KeptMove> {
    let moved = sheet.lines.iter().filter(|l| l.kind != LineKind::WashUp && lines.contains(&l.id));
    moved.map(|l| KeptMove { line: sheet.key(l), from: l.from }).collect()
}

/// As a file keeps it and brings it back.
fn kept(plan: &Rotation, change: KeptChange) -> KeptPlan {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let mut cooking = KeptCooking::default();
    cooking.change(plan, change);
    save_ticks(&places, &Ticks::default(), &cooking).unwrap();
    let ((_, back), aside) = load_ticks(&places);
    assert_eq!((&back, aside), (&cooking, None));
    back.of(plan).cloned().unwrap_or_default()
}

fn same(a: &RunSheet, b: &RunSheet) {
    assert_eq!(a.lines, b.lines);
    assert_eq!((&a.meals, &a.summary, a.proof), (&b.meals, &b.summary, b.proof));
}

#[test]
fn moved_steps_come_back_where_they_stood_in_whatever_order_they_were_moved() {
    let (plan, arranged) = rolls();
    let mut moved = arranged.clone();
    let mut hand = Vec::new();
    // Again and again, so that some stand where others stood.
    for _ in 0..3 {
        for (id, first) in early(&moved) {
            if let Ok(new) = moved.with_moved(id, first) {
                moved = new;
                hand.push(id);
            }
        }
    }
    assert!(hand.len() > 3, "{hand:?}");
    let mut moves = moves_of(&moved, &hand);
    moves.reverse();
    let back = kept(&plan, KeptChange::Moves(DAY, moves));
    let (again, lost) = arranged.with_moves(back.moves(DAY));
    assert_eq!(lost, []);
    same(&again, &moved);
    assert_eq!(again.proof, Proof::ByHand);
    same(&arranged.with_moves(&[]).0, &arranged);
}

#[test]
fn a_move_that_no_longer_fits_is_dropped_alone_and_named() {
    let (_, arranged) = rolls();
    let (id, first) = early(&arranged)[0];
    let moved = arranged.with_moved(id, first).unwrap();
    let mut moves = moves_of(&moved, &[id]);
    let gone = KeptMove { line: "cooking|3|step|Leek pie|Slice the leeks|0".into(), from: at(17, 0) };
    let served = arranged.lines.iter().find(|l| l.kind == LineKind::TakeOut || l.kind == LineKind::Step && l.id != id).unwrap();
    let too_late = KeptMove { line: arranged.key(served), from: at(23, 0) };
    // Minutes that no day has, as a file by another hand may hold them.
    let wild = [i64::MIN, i64::MAX, i64::MAX / 2].map(|from| KeptMove { line: moves[0].line.clone(), from });
    moves.extend([gone.clone(), too_late.clone()]);
    moves.extend(wild.clone());
    let (again, lost) = arranged.with_moves(&moves);
    same(&again, &moved);
    let expected: Vec<KeptMove> = [gone.clone(), too_late].into_iter().chain(wild).collect();
    assert_eq!(lost, expected);
    assert_eq!(gone.words(), "Slice the leeks");
}

/// The session at a quarter to six with the bake eight minutes late, arranged anew.
fn going(sheet: &RunSheet) -> (RunSheet, Vec<String>, i64) {
    let bake = line(sheet, "Bake until");
    let now = bake.from + 10;
    let lines = || sheet.lines.iter().filter(|l| l.kind != LineKind::WashUp);
    let progress = Progress {
        now,
        done: lines().filter(|l| l.to <= now).map(|l| l.id).collect(),
        running: vec![Running { line: bake.id, late: 8 }],
        ..Progress::default()
    };
    let new = replan(sheet, &progress, &mut ()).unwrap();
    (new.sheet, new.says, now)
}

#[test]
fn a_session_under_way_comes_back_as_it_was_arranged_last_and_goes_on_the_same() {
    let (plan, arranged) = rolls();
    let (going_on, says, now) = going(&arranged);
    assert_ne!(going_on.meals, arranged.meals);
    let late: BTreeMap<usize, i64> = [(line(&going_on, "Bake until").id, 5)].into();
    let back = kept(&plan, KeptChange::Session(DAY, Some(Box::new(going_on.kept(&late, &says)))));
    let session = back.day(DAY).and_then(|d| d.session.as_ref()).expect("it is kept");
    assert_eq!(session.says, says);
    let resumed = arranged.resumed(session).expect("the day's cooking is the same");
    same(&resumed.sheet, &going_on);
    assert_eq!(resumed.late, late);
    // What comes after is the same, too.
    let done = going_on.lines.iter().filter(|l| l.kind != LineKind::WashUp && l.to <= now + 10).map(|l| l.id).collect();
    let progress = Progress { now: now + 10, done, not_before: Some(now + 25), ..Progress::default() };
    let (a, b) = (replan(&going_on, &progress, &mut ()).unwrap(), replan(&resumed.sheet, &progress, &mut ()).unwrap());
    same(&a.sheet, &b.sheet);
    assert_eq!((a.says, a.slips), (b.says, b.slips));
}

#[test]
fn a_session_of_a_day_that_is_cooked_otherwise_now_is_not_taken_up_but_what_is_late_stays_late() {
    let (plan, arranged) = rolls();
    let bake = line(&arranged, "Bake until");
    let session = arranged.kept(&[(bake.id, 5)].into(), &[]);
    // Another day of the plan is planned anew: nothing changes for this one.
    let other = plan.batches.iter().find(|b| b.day != DAY && plan.servings_of(b.id).iter().all(|(s, _)| s.day != DAY)).unwrap();
    let slot = plan.servings_of(other.id)[0].0;
    let elsewhere = done(&plan, &[Edit::RemoveServing { slot, batch: other.id }]);
    assert!(sheet_of(&elsewhere, DAY.0).resumed(&session).is_some());
    // Supper an hour later: the same steps, so the session goes on with the times that it began with.
    let mut later = plan.clone();
    later.mealtimes.iter_mut().find(|m| m.id == MealtimeId(1)).unwrap().at = jiff::civil::Time::new(19, 30, 0, 0).ok();
    let resumed = sheet_of(&later, DAY.0).resumed(&session).expect("the same steps");
    assert_eq!(resumed.sheet.meals[0].at, arranged.meals[0].at);
    // One more dish: not the same.
    let book = Book::shipped().unwrap();
    let mut more = plan.clone();
    let fits = |d: &&Arc<Dish>| {
        d.role == Role::Meal
            && d.oven.is_none()
            && d.parts.iter().any(|p| plan.kind.part(p).is_some())
            && plan.batches.iter().all(|b| b.day != DAY || b.dish != d.id)
    };
    let another = book.dishes().find(fits).expect("another dish").clone();
    cook(&mut more, &another, DAY.0, Some(Slot { day: DAY, mealtime: MealtimeId(2) }), 100);
    if let Ok(sheet) = run_sheet(&more, DAY, &tranche::runsheet::Wish::default(), &mut ()) {
        assert!(sheet.resumed(&session).is_none());
        assert_eq!(sheet.still_late(&session), [(line(&sheet, "Bake until").id, 5)].into());
    } else {
        panic!("a day with one dish more can be cooked");
    }
}

#[test]
fn hostile_sessions_are_not_taken_up() {
    let (plan, arranged) = rolls();
    let good = arranged.kept(&BTreeMap::new(), &[]);
    assert!(arranged.resumed(&good).is_some());
    let spoilt: [fn(&mut KeptSession); 12] = [
        |s| s.lines[0].from = i64::MIN,
        |s| s.lines[0].to = i64::MAX,
        |s| s.lines[0].to = s.lines[0].from,
        |s| s.lines[0].late = -1,
        |s| s.lines[1] = s.lines[0].clone(),
        |s| s.lines.truncate(3),
        |s| s.lines.iter_mut().for_each(|l| l.seats = vec![200]),
        |s| s.lines.iter_mut().for_each(|l| l.cook = Some(9)),
        |s| s.serves.push(0),
        |s| s.serves[0] = i64::MAX,
        |s| s.meals.clear(),
        |s| s.arranged_at = Some(i64::MIN),
    ];
    for (k, spoil) in spoilt.iter().enumerate() {
        let mut session = good.clone();
        spoil(&mut session);
        assert!(arranged.resumed(&session).is_none(), "{k}");
    }
    // A file of ticks from before there was any of this reads on, and one that is broken is kept beside.
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let mut ticks = Ticks::default();
    ticks.set(&plan, "cooking|3|begun", true);
    save_ticks(&places, &ticks, &KeptCooking::default()).unwrap();
    let file = places.state.join("ticks.ron");
    assert!(!std::fs::read_to_string(&file).unwrap().contains("cooking:"), "older programs read it, too");
    assert_eq!(load_ticks(&places), ((ticks, KeptCooking::default()), None));
    let broken = "(version: 1, ticks: ([]), cooking: ([(\"x\", (days: [(day: 3, moves: [(line: \"a\", from: 1e9)])]))]))";
    std::fs::write(&file, broken).unwrap();
    let (nothing, aside) = load_ticks(&places);
    assert_eq!(nothing, Default::default());
    let beside = aside.expect("it is told").kept.expect("and kept");
    assert_eq!(std::fs::read_to_string(beside).unwrap(), broken);
}

#[test]
fn what_is_done_ahead_is_taken_up_again_and_dropped_only_where_the_plan_no_longer_has_it() {
    let book = Book::shipped().unwrap();
    let evening = |day: i16| Slot { day: DayNo(day), mealtime: MealtimeId(1) };
    let mut roasts = plan_of(&book, "red-cabbage", 4, Kitchen::default());
    cook(&mut roasts, &dish(&book, "charred-wedges-cumin-yoghurt"), 1, Some(evening(1)), 600);
    cook(&mut roasts, &dish(&book, "cabbage-slabs-sesame-lemon"), 3, Some(evening(3)), 600);
    let mut dough = plan_of(&book, "roast-pork-shoulder", 4, Kitchen::default());
    cook(&mut dough, &dish(&book, "sour-cabbage-dumplings-broth"), 2, Some(evening(2)), 300);
    for (plan, day) in [(roasts, DayNo(3)), (dough, DayNo(2))] {
        let found = prep_ahead(&plan, day, &mut ());
        let proposal = found.iter().find(|p| p.ahead.is_some()).expect("one without an edit");
        let taken = proposal.ahead.clone().unwrap();
        let settled = kept(&plan, KeptChange::Ahead(vec![taken.clone()]));
        let back = settled.done_ahead(&plan);
        assert_eq!((&back.taken, back.lost.len()), (&vec![taken.clone()], 0));
        let lines = |plan: &Rotation| [taken.on, day].map(|day| sheet_of(plan, day.0).lines);
        assert_eq!(lines(&back.plan.expect("a kitchen of its own")), lines(&proposal.kitchen_plan));
        assert_ne!(lines(&proposal.kitchen_plan)[1], sheet_of(&plan, day.0).lines);
        // Twice the same is once.
        let twice = KeptPlan { ahead: vec![taken.clone(), taken.clone()], ..KeptPlan::default() }.done_ahead(&plan);
        assert_eq!((twice.taken.len(), twice.lost.len()), (1, 1));
        // It goes by the batch: another amount of it is the same thing.
        let mut less = plan.clone();
        less.batches.iter_mut().find(|b| b.id == taken.batch).unwrap().draws[0].portion = Portion::of(State::Prepared, 250);
        assert_eq!(settled.done_ahead(&less).taken.len(), 1);
        let mut without = plan.clone();
        without.batches.retain(|b| b.id != taken.batch);
        assert_eq!(settled.done_ahead(&without).lost, [taken]);
    }
}

#[test]
fn only_so_much_is_remembered() {
    let book = Book::shipped().unwrap();
    let mut cooking = KeptCooking::default();
    let mut plan = plan_of(&book, "red-cabbage", 2, Default::default());
    for week in 0..60 {
        plan.first_day = plan.first_day.tomorrow().unwrap();
        for k in 0..300 {
            cooking.change(&plan, KeptChange::Left(format!("{week} {k}")));
        }
    }
    let kept = cooking.of(&plan).unwrap();
    assert!(kept.left.len() <= 200 && kept.left.last().unwrap() == "59 299", "the latest stay");
    plan.first_day = jiff::civil::date(2026, 12, 1);
    assert!(cooking.of(&plan).is_none(), "the oldest plan is forgotten");
}
