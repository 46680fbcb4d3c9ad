//! Is what is left of a session arranged anew, may a step be moved by hand, and what may be done ahead?

#[path = "kitchen/session.rs"]
mod session;
#[path = "kitchen/sheet.rs"]
mod sheet;
#[path = "support/weeks.rs"]
mod weeks;

use session::{at, cook, dish, line, plan_of, sheet_of};
use tranche::{
    book::Book,
    quantity::DayNo,
    rotation::{Kitchen, MealtimeId, Rotation, Slot},
    runsheet::{LineKind, Progress, Proof, RunSheet, Running, clock, prep_ahead, replan},
};
use weeks::{done, week};

// ---- from the middle of it ------------------------------------------------------------------------------------------------

fn rolls() -> (Rotation, RunSheet) {
    let plan = week("red-cabbage-mended");
    let sheet = sheet_of(&plan, 3);
    (plan, sheet)
}

/// Everything that the sheet has done by `now`, and what takes hands and runs.
fn on_time(sheet: &RunSheet, now: i64) -> Progress {
    let lines = || sheet.lines.iter().filter(|l| l.kind != LineKind::WashUp);
    Progress {
        now,
        done: lines().filter(|l| l.to <= now).map(|l| l.id).collect(),
        running: lines().filter(|l| l.from < now && l.to > now && l.hands).map(|l| Running { line: l.id, late: 0 }).collect(),
        ..Progress::default()
    }
}

#[test]
fn a_session_on_time_stays_as_it_is() {
    let (plan, sheet) = rolls();
    for now in [at(17, 5), at(17, 30), at(18, 0), at(18, 39)] {
        let new = replan(&sheet, &on_time(&sheet, now), &mut ()).unwrap();
        assert_eq!(new.slips, [], "{}", clock(now));
        assert_eq!(new.sheet.meals, sheet.meals);
        sheet::check(&plan, &new.sheet, at(6, 0)).unwrap_or_else(|e| panic!("{}: {e}", clock(now)));
        for l in sheet.lines.iter().filter(|l| l.to <= now && l.kind != LineKind::WashUp) {
            let same = new.sheet.lines.iter().find(|n| n.id == l.id).unwrap();
            assert_eq!(
                (same.from, same.to, &same.place, same.cook),
                (l.from, l.to, &l.place, l.cook),
                "what is done is done: {}",
                l.what
            );
        }
    }
}

#[test]
fn eight_minutes_on_the_long_chain_are_eight_minutes_at_the_table() {
    let (plan, sheet) = rolls();
    let bake = line(&sheet, "Bake until");
    let now = bake.from + 10;
    let mut progress = on_time(&sheet, now);
    progress.running.push(Running { line: bake.id, late: 8 });
    let new = replan(&sheet, &progress, &mut ()).unwrap();
    assert_eq!(new.slips.len(), 1, "{:?}", new.slips);
    assert_eq!((new.slips[0].was, new.slips[0].is), (at(18, 50), at(18, 58)));
    assert!(new.earliest && new.says.iter().any(|s| s.contains("18:58")), "{:?}", new.says);
    sheet::check(&plan, &new.sheet, at(6, 0)).unwrap();
    assert_eq!(new.sheet.lines.iter().find(|l| l.id == bake.id).unwrap().to, bake.to + 8);
    // And from there once more.
    let later = replan(&new.sheet, &on_time(&new.sheet, at(18, 50)), &mut ()).unwrap();
    assert_eq!(later.slips, []);
}

#[test]
fn a_delay_off_the_long_chain_costs_nothing() {
    let (plan, sheet) = rolls();
    let rice = line(&sheet, "Half-cook the rice");
    let mut progress = on_time(&sheet, rice.from + 2);
    progress.running.push(Running { line: rice.id, late: 1 });
    let new = replan(&sheet, &progress, &mut ()).unwrap();
    assert!(new.slips.iter().all(|s| s.is - s.was <= 1), "{:?}", new.slips);
    sheet::check(&plan, &new.sheet, at(6, 0)).unwrap();
}

#[test]
fn a_later_start_slips_the_table_minute_for_minute_and_a_slow_cook_slips_it_too() {
    let (plan, sheet) = rolls();
    let late = Progress { now: sheet.summary.start, not_before: Some(sheet.summary.start + 15), ..Progress::default() };
    let new = replan(&sheet, &late, &mut ()).unwrap();
    assert_eq!(new.slips.iter().map(|s| s.is - s.was).collect::<Vec<_>>(), [15], "{:?}", new.slips);
    sheet::check(&plan, &new.sheet, at(6, 0)).unwrap();
    let slow = Progress { now: sheet.summary.start, pace: Some(50), ..Progress::default() };
    let new = replan(&sheet, &slow, &mut ()).unwrap();
    let slip = new.slips.first().map_or(0, |s| s.is - s.was);
    assert!((10..=60).contains(&slip), "hands at half pace slip the table by {slip}");
    sheet::check(&plan, &new.sheet, at(6, 0)).unwrap();
}

#[test]
fn what_is_forgotten_is_put_behind_and_what_stood_too_long_is_said() {
    let (_, sheet) = rolls();
    let boxed = sheet.lines.iter().find(|l| l.kind == LineKind::Box).unwrap();
    let now = boxed.to + 60;
    let mut progress = on_time(&sheet, now);
    progress.done.retain(|id| *id != boxed.id);
    let new = replan(&sheet, &progress, &mut ()).unwrap();
    assert!(new.says.iter().any(|s| s.contains("Past its time") && s.contains("fridge")), "{:?}", new.says);
    assert_eq!(new.sheet.lines.iter().find(|l| l.id == boxed.id).unwrap().from, now);
    let nonsense = replan(&sheet, &Progress { done: vec![9_999], ..progress }, &mut ());
    assert!(nonsense.is_err());
}

#[test]
fn lunch_slips_alone_where_supper_can_be_kept() {
    let plan = week("red-cabbage-mended");
    let sheet = sheet_of(&plan, 4);
    let late = Progress { now: sheet.summary.start, not_before: Some(sheet.summary.start + 10), ..Progress::default() };
    let new = replan(&sheet, &late, &mut ()).unwrap();
    assert_eq!(new.slips.iter().map(|s| (s.what.as_str(), s.is - s.was)).collect::<Vec<_>>(), [("Thursday lunch", 10)]);
}

// ---- by hand --------------------------------------------------------------------------------------------------------------

#[test]
fn a_step_may_stand_anywhere_within_its_slack_and_nowhere_beyond() {
    let mut wide = 0;
    for (name, day) in [("red-cabbage-mended", 3), ("salmon-mended", 2), ("tomatoes-mended", 1), ("celeriac-mended", 2)] {
        let plan = week(name);
        let sheet = sheet_of(&plan, day);
        for l in sheet.lines.iter().filter(|l| sheet.can_move(l.id)) {
            let (early, late) = sheet.slack(l.id);
            assert!(early <= l.from && l.from <= late, "{name}: {} from {early} to {late}", l.what);
            wide += usize::from(early < late);
            for to in [early, i64::midpoint(early, l.from), late] {
                let moved = sheet.with_moved(l.id, to).unwrap_or_else(|e| panic!("{name}: {e}"));
                let new = moved.lines.iter().find(|n| n.id == l.id && n.kind == l.kind).unwrap();
                assert_eq!((new.from, new.minutes()), (to, l.minutes()), "{}", l.what);
                for other in moved.lines.iter().filter(|o| o.id != l.id && o.kind != LineKind::WashUp) {
                    let old = sheet.lines.iter().find(|o| o.id == other.id && o.kind == other.kind).unwrap();
                    assert_eq!((other.from, other.to), (old.from, old.to), "{} held, {} moved", other.what, l.what);
                }
                sheet::check(&plan, &moved, at(6, 0)).unwrap_or_else(|e| panic!("{name}, {} at {}: {e}", l.what, clock(to)));
                assert_eq!(moved.proof, if to == l.from { moved.proof } else { Proof::ByHand });
            }
            for beyond in [early - 1, late + 1] {
                let why = sheet.with_moved(l.id, beyond).expect_err("beyond its slack");
                assert!(why.contains(&clock(l.from)) && why.contains(": "), "{why}");
            }
        }
        let table = sheet.lines.iter().find(|l| l.kind == LineKind::ServeUp).unwrap();
        assert!(sheet.with_moved(table.id, table.from - 5).is_err(), "the table holds");
    }
    assert!(wide >= 8, "{wide} steps have any slack");
}

#[test]
fn a_sheet_that_was_moved_by_hand_is_arranged_anew_as_well() {
    let (plan, sheet) = rolls();
    let l = sheet.lines.iter().find(|l| sheet.can_move(l.id) && sheet.slack(l.id).0 < l.from).expect("one has slack");
    let moved = sheet.with_moved(l.id, sheet.slack(l.id).0).unwrap();
    let new = replan(&moved, &on_time(&moved, at(17, 30)), &mut ()).unwrap();
    assert_eq!(new.slips, []);
    sheet::check(&plan, &new.sheet, at(6, 0)).unwrap();
}

// ---- ahead of the day -----------------------------------------------------------------------------------------------------

#[test]
fn what_may_be_done_the_day_before_is_proposed_with_what_it_saves_and_costs() {
    let mut proposed = 0;
    for name in ["red-cabbage-mended", "salmon-mended", "turkey-mended", "tomatoes-mended", "celeriac-mended"] {
        let plan = week(name);
        for day in plan.day_numbers() {
            for p in prep_ahead(&plan, day, &mut ()) {
                println!("{name}, {}: {}", plan.day_name(day), p.says());
                assert!(p.saves_hands > 0 || p.saves_oven > 0 || p.later_start > 0, "{p:?}");
                assert!(!p.words.is_empty() && !p.cost.is_empty());
                if let Some(edit) = &p.edit {
                    let moved = done(&plan, std::slice::from_ref(edit));
                    assert_eq!(
                        sheet_of(&moved, day.0).summary.start - sheet_of(&plan, day.0).summary.start,
                        p.later_start,
                        "{}",
                        p.words
                    );
                }
                proposed += 1;
            }
        }
    }
    assert!(proposed >= 2, "{proposed}");
}

#[test]
fn half_of_a_roast_and_a_dough_may_be_made_on_an_earlier_day() {
    let book = Book::shipped().unwrap();
    let mut plan = plan_of(&book, "red-cabbage", 4, Kitchen::default());
    let evening = |day: i16| Slot { day: DayNo(day), mealtime: MealtimeId(1) };
    cook(&mut plan, &dish(&book, "charred-wedges-cumin-yoghurt"), 1, Some(evening(1)), 600);
    cook(&mut plan, &dish(&book, "cabbage-slabs-sesame-lemon"), 3, Some(evening(3)), 600);
    let roast = prep_ahead(&plan, DayNo(3), &mut ());
    let roast = roast.iter().find(|p| p.words.starts_with("Roast the")).expect("both are roasted");
    println!("{}", roast.says());
    assert!(roast.saves_oven > 0 && roast.on == DayNo(1) && roast.cost.contains("warmed once"), "{roast:?}");
    let mut plan = plan_of(&book, "roast-pork-shoulder", 4, Kitchen::default());
    cook(&mut plan, &dish(&book, "sour-cabbage-dumplings-broth"), 2, Some(evening(2)), 300);
    let dough = prep_ahead(&plan, DayNo(2), &mut ());
    let dough = dough.iter().find(|p| p.words.contains("dough")).expect("the dough may lie over night");
    println!("{}", dough.says());
    assert!(dough.later_start > 0 && dough.on == DayNo(1) && !dough.cost.is_empty(), "{dough:?}");
}
