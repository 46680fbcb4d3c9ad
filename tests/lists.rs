//! Do the lists of the worked weeks come to the figures that the bench reckoned by hand, and close to the gram?

#[path = "support/weeks.rs"]
mod weeks;

use tranche::{
    book::Book,
    judge::ShareUse,
    lists::{
        BoxLabel, Cupboard, Into, KeptFor, OffcutHome, ShoppingLine, ShoppingList, Warming, box_labels, cut_list, prep_list,
        shopping_list,
    },
    quantity::System,
    rotation::Rotation,
};
use weeks::{lunch, supper, week};

const WEEKS: [&str; 12] = [
    "red-cabbage-mended",
    "red-cabbage-open",
    "red-cabbage-unhappy",
    "salmon-mended",
    "salmon-folded",
    "salmon-unhappy",
    "turkey-mended",
    "turkey-bigger-feast",
    "turkey-unhappy",
    "tomatoes-mended",
    "tomatoes-unhappy",
    "celeriac-mended",
];

fn shopping(plan: &Rotation) -> ShoppingList {
    shopping_list(plan, &Cupboard::default(), &Book::shipped().unwrap())
}

fn line<'l>(list: &'l ShoppingList, name: &str) -> &'l ShoppingLine {
    list.lines.iter().find(|l| l.name == name).unwrap_or_else(|| panic!("{name} is not on the list"))
}

/// Each cut: day, part, form, size, grams. In the order of the knife.
fn cuts(plan: &Rotation) -> Vec<(i16, String, &'static str, String, u32)> {
    let list = cut_list(plan);
    let of_day = |d: &tranche::lists::CutDay| {
        let day = d.day.0;
        let cut = |l: &tranche::lists::CutLine| {
            let size = l.size.map_or(String::new(), |s| s.said(System::Metric).replace('\u{a0}', " "));
            (day, l.part.to_string(), l.form.map_or("", |f| f.word()), size, l.portion.get())
        };
        d.lines.iter().map(cut).collect::<Vec<_>>()
    };
    list.days.iter().flat_map(of_day).collect()
}

fn cut(day: i16, part: &str, form: &'static str, size: &str, grams: u32) -> (i16, String, &'static str, String, u32) {
    (day, part.into(), form, size.into(), grams)
}

/// What goes back after each day's cutting: grams, and cut faces of all together.
fn rests(plan: &Rotation) -> Vec<(i16, u32, u32)> {
    let sum =
        |d: &tranche::lists::CutDay| (d.day.0, d.rests.iter().map(|r| r.grams).sum(), d.rests.iter().map(|r| r.faces).sum());
    cut_list(plan).days.iter().map(sum).collect()
}

/// Amounts needed, each with what is bought where that is another.
fn bought(list: &ShoppingList, wanted: &[(&str, f64, f64)]) {
    for &(name, need, get) in wanted {
        let l = line(list, name);
        // The worked weeks were reckoned in whole grams and millilitres.
        assert_eq!((l.need.as_f64().round(), l.bought.as_f64()), (need, get), "{name}");
    }
}

#[test]
fn the_red_cabbage_is_cut_as_the_worked_week_has_it() {
    let plan = week("red-cabbage-mended");
    assert_eq!(
        cuts(&plan),
        [
            cut(1, "heart", "shreds", "2 mm", 260),
            cut(1, "heart", "shreds", "2 mm", 140),
            cut(2, "middle", "wedges", "", 520),
            cut(3, "outer", "leaves", "", 300),
            cut(4, "middle", "shreds", "3 mm", 280),
        ]
    );
    // Left uncut after each day: 1,100, 580, 280, 0; one face throughout, since the leaves come off along their seams.
    assert_eq!(rests(&plan), [(1, 1_100, 1), (2, 580, 1), (3, 280, 1), (4, 0, 0)]);
    let list = cut_list(&plan);
    assert_eq!(list.days[0].lines[1].into, Into::Jar);
    let leaves = &list.days[2].lines[0];
    assert_eq!(leaves.count, Some((6, "leaf".into())));
    let shares: Vec<_> = leaves.shares.iter().map(|s| (s.used, s.grams)).collect();
    assert_eq!(shares, [(ShareUse::Meal(supper(3)), 250), (ShareUse::Meal(lunch(4)), 50)]);
    let trim: Vec<_> = list.trim.iter().map(|t| (t.grams.get(), t.home)).collect();
    assert_eq!(trim, [(90, OffcutHome::Bin), (210, OffcutHome::Bin)]);
    assert_eq!(list.cautions.len(), 1, "the hard head, once");
}

#[test]
fn the_red_cabbage_needs_what_the_worked_week_buys() {
    let list = shopping(&week("red-cabbage-mended"));
    bought(
        &list,
        &[
            ("smoked mackerel", 208.0, 225.0),
            ("rye bread", 156.0, 156.0),
            ("pear", 1.0, 1.0),
            ("mustard", 15.0, 15.0),
            ("vinegar", 140.0, 140.0),
            ("oil", 135.0, 135.0),
            ("yoghurt", 250.0, 300.0),
            ("dill", 20.0, 20.0),
            ("chickpeas", 240.0, 240.0),
            ("cumin", 4.0, 4.0),
            ("garlic", 4.0, 4.0),
            ("beef mince", 250.0, 250.0),
            ("rice", 60.0, 60.0),
            ("onion", 120.0, 120.0),
            ("passata", 400.0, 400.0),
            ("egg", 3.0, 3.0),
            ("flour", 120.0, 120.0),
            ("soy sauce", 25.0, 25.0),
            ("ginger", 20.0, 20.0),
            ("spring onion", 60.0, 60.0),
            ("sugar", 30.0, 30.0),
            ("salt", 11.0, 11.0),
        ],
    );
    // 2.6 flatbreads are eaten and three are bought.
    assert_eq!(line(&list, "flatbreads").bought.as_f64(), 3.0);
    assert_eq!(line(&list, "smoked mackerel").left.as_f64(), 17.0);
    let yoghurt = line(&list, "yoghurt");
    assert_eq!(yoghurt.uses.iter().map(|u| u.amount.as_f64().round()).collect::<Vec<_>>(), [40.0, 130.0, 80.0]);
    assert_eq!((yoghurt.left.as_f64(), yoghurt.opened.map(|o| (o.on.0, o.use_by.0))), (50.0, Some((1, 6))));
    assert!(line(&list, "dill").left.is_zero() && line(&list, "passata").left.is_zero());
    let allergens: Vec<_> = list.allergens.iter().map(|a| a.word()).collect();
    // The week names seven; the book's vinegar adds sulphite.
    assert_eq!(allergens, ["wheat", "barley, rye or oats", "egg", "fish", "soya", "milk", "mustard", "sulphite"]);
}

#[test]
fn the_sixth_roll_is_labelled_as_the_run_sheet_says() {
    let plan = week("red-cabbage-mended");
    let labels = box_labels(&plan);
    let roll: Vec<&BoxLabel> = labels.iter().filter(|l| l.what.contains("rolls")).collect();
    let [roll] = roll.as_slice() else { panic!("one box of rolls, not {}", roll.len()) };
    assert_eq!((roll.grams.get(), roll.since.0, roll.eat_by.0, roll.warming), (50, 3, 4, Warming::Once));
    assert_eq!(roll.kept_for, KeptFor::Meal { slot: lunch(4), eaters: vec!["Bo".into()] });
}

#[test]
fn the_salmon_is_cut_from_its_ends_and_the_raw_rest_keeps_a_day() {
    let plan = week("salmon-mended");
    assert_eq!(
        cuts(&plan),
        [
            cut(1, "loin", "slices", "", 480),
            // The worked run sheet takes the tail block first; the face that Friday left on the belly makes it the handier start.
            cut(2, "belly", "cubes", "3 cm", 352),
            cut(2, "tail", "whole", "", 400),
        ]
    );
    assert_eq!(rests(&plan)[0], (1, 780, 1));
    assert_eq!(rests(&plan)[1].1, 28);
    let labels = box_labels(&plan);
    let tail = labels.iter().find(|l| l.what.contains("Tail")).unwrap();
    // "salmon, Sat, eat by Mon"
    assert_eq!((tail.grams.get(), tail.since.0, tail.eat_by.0), (320, 2, 4));
}

#[test]
fn the_salmon_needs_what_the_worked_week_buys() {
    let list = shopping(&week("salmon-mended"));
    bought(
        &list,
        &[
            ("halloumi", 100.0, 225.0),
            ("potatoes", 840.0, 840.0),
            ("green beans", 378.0, 378.0),
            ("lemon", 2.0, 2.0),
            ("dill", 25.0, 25.0),
            ("tofu", 140.0, 280.0),
            ("coconut milk", 400.0, 400.0),
            ("rice", 315.0, 315.0),
            ("onion", 150.0, 150.0),
            ("greens", 250.0, 250.0),
            ("ginger", 20.0, 20.0),
            ("garlic", 3.0, 3.0),
            ("lime", 2.0, 2.0),
            ("lentils", 210.0, 210.0),
            ("egg", 2.0, 2.0),
            ("cucumber", 400.0, 400.0),
            ("vinegar", 60.0, 60.0),
            ("sugar", 10.0, 10.0),
            ("crispbread", 8.0, 8.0),
        ],
    );
    assert_eq!(line(&list, "halloumi").left.as_f64(), 125.0);
    assert_eq!(line(&list, "tofu").left.as_f64(), 140.0);
    let piece = list.piece.as_ref().unwrap();
    // Bought on the day of the first cut, as raw fish keeps a day.
    assert_eq!((piece.mass.get(), piece.errand.trip.0), (1_400, 1));
}

#[test]
fn the_turkey_comes_apart_as_the_worked_week_has_it() {
    let plan = week("turkey-mended");
    let list = cut_list(&plan);
    let parts: Vec<_> = list.parts.iter().map(|p| (p.usable.get(), p.cut, p.left)).collect();
    assert_eq!(parts, [(1_150, 1_078, 72), (700, 700, 0), (150, 150, 0)]);
    // Into three shallow boxes on Sunday: breast 562, thigh 400, pickings 150; Grandmother's last day is Tuesday.
    let boxes: Vec<_> =
        box_labels(&plan).into_iter().map(|l| (l.grams.get(), l.eat_by.0, l.tender.map(|t| (t.0.0, t.1.concat())))).collect();
    let grandmother = Some((3, "Grandmother".to_string()));
    assert_eq!(boxes, [(562, 4, grandmother.clone()), (400, 4, grandmother.clone()), (150, 4, grandmother)]);
    let homes: Vec<_> = list.trim.iter().map(|t| (t.grams.get(), t.home)).collect();
    assert_eq!(homes, [(1_250, OffcutHome::Gone), (1_750, OffcutHome::Stock)]);
}

#[test]
fn the_turkey_needs_what_the_worked_week_buys() {
    let list = shopping(&week("turkey-mended"));
    bought(
        &list,
        &[
            // The bench rounds Sunday's 1,480 g to 1,500; the book knows no bag of potatoes to round to.
            ("potatoes", 2_080.0, 2_080.0),
            ("green beans", 740.0, 740.0),
            ("cornflour", 20.0, 20.0),
            ("carrots", 300.0, 300.0),
            ("mint", 25.0, 25.0),
            ("lime", 3.0, 3.0),
            ("glass noodles", 200.0, 200.0),
            ("sunflower seed", 40.0, 40.0),
            ("egg", 4.0, 4.0),
            ("chutney", 80.0, 80.0),
            ("leeks", 300.0, 300.0),
            ("barley", 200.0, 200.0),
            ("oil", 130.0, 130.0),
        ],
    );
    let allergens: Vec<_> = list.allergens.iter().map(|a| a.word()).collect();
    assert_eq!(allergens, ["barley, rye or oats", "egg"]);
}

#[test]
fn the_tomatoes_are_cut_and_put_up_as_the_worked_week_has_it() {
    let plan = week("tomatoes-mended");
    assert_eq!(
        cuts(&plan),
        [
            cut(1, "split", "halves", "", 1_530),
            cut(1, "ripe", "halves", "", 1_000),
            cut(2, "ripe", "pieces", "", 480),
            cut(3, "ripe", "pieces", "", 800),
            cut(5, "turning", "slices", "1 cm", 448),
            cut(5, "turning", "pieces", "", 1_262),
        ]
    );
    assert_eq!(rests(&plan).iter().map(|r| r.1).collect::<Vec<_>>(), [2_990, 2_510, 1_710, 0]);
    let labels: Vec<_> = box_labels(&plan).into_iter().map(|l| (l.grams.get(), l.since.0, l.eat_by.since(l.since).0)).collect();
    // The tub for Tuesday keeps 3 days, the dried halves 7, the chutney for months.
    assert_eq!(labels[..2], [(420, 1, 3), (200, 1, 7)]);
    assert!(labels[2].0 == 757 && labels[2].2 >= 60, "{:?}", labels[2]);
}

#[test]
fn the_tomatoes_need_what_the_worked_week_buys() {
    let list = shopping(&week("tomatoes-mended"));
    bought(
        &list,
        &[
            ("spaghetti", 320.0, 320.0),
            ("olives", 60.0, 60.0),
            ("bread", 256.0, 256.0),
            ("capers", 20.0, 20.0),
            ("basil", 30.0, 30.0),
            ("cucumber", 300.0, 300.0),
            ("egg", 11.0, 11.0),
            ("flatbreads", 4.0, 4.0),
            ("breadcrumbs", 100.0, 100.0),
            ("white beans", 480.0, 480.0),
            ("loose parsley", 20.0, 20.0),
            ("garlic", 4.0, 4.0),
            ("oil", 235.0, 235.0),
            ("vinegar", 345.0, 345.0),
            ("sugar", 250.0, 250.0),
            ("onion", 300.0, 300.0),
        ],
    );
    let basil: Vec<_> = line(&list, "basil").uses.iter().map(|u| u.amount.as_f64().round()).collect();
    assert_eq!(basil, [18.0, 12.0]);
    assert_eq!(line(&list, "white beans").packs.as_ref().map(|p| p.count), Some(2));
}

#[test]
fn the_celeriac_is_cut_and_stocked_as_the_worked_week_has_it() {
    let plan = week("celeriac-mended");
    assert_eq!(rests(&plan).iter().map(|r| r.1).collect::<Vec<_>>(), [795, 395, 245, 0]);
    assert!(cuts(&plan).contains(&cut(2, "centre", "slices", "2 cm", 400)));
    let list = shopping(&plan);
    bought(
        &list,
        &[
            ("baked ham", 160.0, 160.0),
            ("bread", 200.0, 200.0),
            ("mustard", 12.0, 12.0),
            ("egg", 2.0, 2.0),
            ("oil", 160.0, 160.0),
            ("miso", 25.0, 25.0),
            ("barley", 140.0, 140.0),
            ("mushrooms", 250.0, 250.0),
            ("cream", 300.0, 300.0),
            ("parsley", 25.0, 30.0),
            ("pickled herring", 120.0, 120.0),
            ("rye bread", 60.0, 60.0),
            ("potatoes", 400.0, 400.0),
            ("white beans", 240.0, 240.0),
            ("vinegar", 25.0, 25.0),
            ("garlic", 2.0, 2.0),
            // The worked week buys 500 g of apples, 100 g of flour, butter, oats and sugar more for Tuesday's crumble, which
            // holds no celeriac and so stands in no rotation.
            ("apples", 100.0, 100.0),
            ("flour", 20.0, 20.0),
        ],
    );
    assert_eq!(line(&list, "parsley").left.as_f64(), 5.0);
}

#[test]
fn in_every_week_the_lists_close() {
    for name in WEEKS {
        let plan = week(name);
        let list = cut_list(&plan);
        for part in &list.parts {
            assert_eq!(part.cut, plan.drawn_from_part(&part.part), "{name}: {}", part.name);
            assert_eq!(i64::from(part.usable.get()), i64::from(part.cut) + part.left, "{name}: {}", part.name);
        }
        let mass: i64 = list.parts.iter().map(|p| i64::from(p.cut) + p.left).sum::<i64>()
            + list.trim.iter().map(|t| i64::from(t.grams.get())).sum::<i64>();
        assert_eq!(mass, i64::from(plan.piece.mass.get()), "{name}");
        for l in shopping(&plan).lines {
            let came = l.in_house.thousandths + l.bought.thousandths + l.short.thousandths;
            assert_eq!(came, l.need.thousandths + l.left.thousandths + l.scraped.thousandths, "{name}: {}", l.name);
        }
        for l in box_labels(&plan) {
            assert!(l.eat_by >= l.since && !l.grams.is_zero(), "{name}: {}", l.what);
        }
        for task in prep_list(&plan).iter().flat_map(|d| &d.tasks) {
            assert_eq!(task.shares.iter().map(|s| s.amount.thousandths).sum::<u64>(), task.amount.thousandths, "{name}");
        }
    }
}

#[test]
fn shreds_that_lie_too_long_are_marked_where_the_judge_stops_them() {
    let plan = week("red-cabbage-unhappy");
    let list = cut_list(&plan);
    let early: Vec<_> = list.days.iter().flat_map(|d| &d.lines).filter(|l| l.too_early).map(|l| l.dish.as_str()).collect();
    assert_eq!(early, ["Plain sharp slaw with ham and bread"]);
    assert!(box_labels(&plan).iter().any(|l| l.holds == tranche::lists::Holds::Cut && l.eat_by.0 == 3));
}
