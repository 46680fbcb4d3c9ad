//! Do the program's own formulas of likeness, fading and diversity reproduce published and independently reckoned figures?
//!
//! Each case names its source; fields `published` are compared with the precision they were printed with.

use serde_json::Value;
use std::collections::BTreeMap;
use tranche::{
    book::Graded,
    judge::{
        Kernel, cosine, effective_number, gower_combine, hill_number, inventory,
        learning::{Case, Prior, estimate},
        ordinal, rao, recovery, single, soft_jaccard,
    },
};

const VECTORS: &str = include_str!("published/variety-vectors.json");

fn cases() -> Vec<Value> {
    let all: Value = serde_json::from_str(VECTORS).expect("the vectors are JSON");
    all["cases"].as_array().expect("a list of cases").clone()
}

fn of_kind(kind: &str, least: usize, check: impl Fn(&Value, &Close)) {
    let cases: Vec<Value> = cases().into_iter().filter(|c| c["kind"] == kind).collect();
    assert!(cases.len() >= least, "{kind}: {} cases", cases.len());
    for case in &cases {
        let tolerance = case["tolerance"].as_f64().expect("a tolerance");
        check(case, &Close { id: case["id"].to_string(), tolerance });
    }
}

struct Close {
    id: String,
    tolerance: f64,
}

impl Close {
    fn same(&self, got: f64, expected: &Value) {
        self.within(got, number(expected), self.tolerance);
    }

    fn within(&self, got: f64, expected: f64, tolerance: f64) {
        assert!((got - expected).abs() <= tolerance, "{}: got {got}, expected {expected}", self.id);
    }

    fn same_or_unknown(&self, got: Option<f64>, expected: &Value) {
        match (got, expected.is_null()) {
            (None, true) => {}
            (Some(got), false) => self.same(got, expected),
            (got, _) => panic!("{}: got {got:?}, expected {expected}", self.id),
        }
    }
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap_or_else(|| panic!("{value} is no list")).iter().map(number).collect()
}

fn matrix(value: &Value) -> Vec<Vec<f64>> {
    value.as_array().expect("rows").iter().map(numbers).collect()
}

fn orders(value: &Value) -> Vec<f64> {
    value.as_array().expect("orders").iter().map(|q| if q == "inf" { f64::INFINITY } else { number(q) }).collect()
}

fn identity(a: &str, b: &str) -> f64 {
    f64::from(u8::from(a == b))
}

#[test]
fn gower_matrices_with_blanks_ranges_and_joint_absence() {
    of_kind("gower_matrix", 8, |case, close| {
        let input = &case["input"];
        let columns = input["columns"].as_array().expect("columns");
        let rows = input["rows"].as_array().expect("rows");
        let weights = numbers(&input["weights"]);
        for (i, a) in rows.iter().enumerate() {
            for (j, b) in rows.iter().enumerate() {
                let alike: Vec<Option<f64>> =
                    columns.iter().enumerate().map(|(k, column)| column_likeness(column, rows, k, &a[k], &b[k])).collect();
                let distance = gower_combine(&alike, &weights).whole.map(|s| 1.0 - s);
                close.same_or_unknown(distance, &case["expected"]["distance"][i][j]);
            }
        }
    });
}

fn column_likeness(column: &Value, rows: &[Value], k: usize, a: &Value, b: &Value) -> Option<f64> {
    match column["type"].as_str() {
        Some("number") => {
            let known: Vec<f64> = rows.iter().filter_map(|r| r[k].as_f64()).collect();
            let (least, most) = known.iter().fold((f64::MAX, f64::MIN), |(l, m), v| (l.min(*v), m.max(*v)));
            let range = column["range"].as_f64().unwrap_or(most - least);
            a.as_f64().zip(b.as_f64()).map(|(a, b)| ordinal(a, b, range))
        }
        Some("name") => single(a.as_str(), b.as_str(), None, identity),
        Some("asym") => single(a.as_i64(), b.as_i64(), Some(0), |a, b| f64::from(u8::from(a == b))),
        other => panic!("unknown column type {other:?}"),
    }
}

#[test]
fn gower_combined_from_the_axes_with_the_share_of_each() {
    of_kind("gower_combine", 7, |case, close| {
        let axes = case["input"]["axis_similarity"].as_object().expect("axes");
        let alike: Vec<Option<f64>> = axes.values().map(Value::as_f64).collect();
        let weights: Vec<f64> = axes.keys().map(|k| number(&case["input"]["weights"][k])).collect();
        let got = gower_combine(&alike, &weights);
        close.same_or_unknown(got.whole, &case["expected"]["similarity"]);
        for (key, share) in axes.keys().zip(&got.shares) {
            close.same_or_unknown(*share, &case["expected"]["contribution"][key]);
        }
        if let (Some(printed), Some(whole)) = (case["published"]["distance"].as_f64(), got.whole) {
            close.within(1.0 - whole, printed, number(&case["published"]["precision"]));
        }
    });
}

fn graded(value: &Value) -> Vec<Graded<String>> {
    value.as_object().expect("a set").iter().map(|(name, grade)| Graded(name.clone(), number(grade))).collect()
}

fn borrowed(set: &[Graded<String>]) -> Vec<Graded<&str>> {
    set.iter().map(|g| Graded(g.0.as_str(), g.1)).collect()
}

#[test]
fn graded_sets_with_partial_likeness() {
    of_kind("soft_jaccard", 6, |case, close| {
        let (a, b) = (graded(&case["input"]["a"]), graded(&case["input"]["b"]));
        let mut table: BTreeMap<(String, String), f64> = BTreeMap::new();
        for line in case["input"]["partial"].as_array().into_iter().flatten() {
            let name = |i: usize| line[i].as_str().expect("a name").to_string();
            table.insert((name(0), name(1)), number(&line[2]));
            table.insert((name(1), name(0)), number(&line[2]));
        }
        let partial = |x: &str, y: &str| {
            if x == y { 1.0 } else { table.get(&(x.to_string(), y.to_string())).copied().unwrap_or(0.0) }
        };
        close.same_or_unknown(soft_jaccard(&borrowed(&a), &borrowed(&b), partial), &case["expected"]["similarity"]);
    });
}

#[test]
fn plain_sets_are_the_index_of_jaccard() {
    of_kind("jaccard", 5, |case, close| {
        let set = |key: &str| -> Vec<Graded<&str>> {
            let names = case["input"][key].as_array().expect("a set");
            names.iter().map(|n| Graded(n.as_str().expect("a name"), 1.0)).collect()
        };
        close.same_or_unknown(soft_jaccard(&set("a"), &set("b"), identity), &case["expected"]["similarity"]);
    });
}

#[test]
fn tastes_by_their_cosine() {
    of_kind("cosine", 5, |case, close| {
        let got = cosine(&numbers(&case["input"]["u"]), &numbers(&case["input"]["v"]));
        close.same_or_unknown(got, &case["expected"]["similarity"]);
    });
}

#[test]
fn likeness_fades_by_the_kernel() {
    of_kind("recovery_kernel", 2, |case, close| {
        let half_life = number(&case["input"]["half_life_days"]);
        let kernel = Kernel::new(half_life);
        let expected = case["expected"]["weight"].as_array().expect("weights");
        for (gap, weight) in numbers(&case["input"]["gap_days"]).into_iter().zip(expected) {
            close.same(recovery(gap, half_life), weight);
            if gap.fract() == 0.0 {
                close.same(kernel.after(gap as i16), weight);
            }
        }
    });
}

#[test]
fn an_attribute_piles_up_and_runs_down() {
    of_kind("attribute_inventory", 2, |case, close| {
        let kernel = Kernel::new(number(&case["input"]["half_life_days"]));
        let days = numbers(&case["input"]["days"]).into_iter().map(|d| d as i16);
        let meals: Vec<(i16, f64)> = days.zip(numbers(&case["input"]["grade"])).collect();
        let expected = case["expected"]["inventory"].as_array().expect("an inventory");
        let got = inventory(&kernel, &meals);
        assert_eq!(got.len(), expected.len(), "{}", close.id);
        for (got, expected) in got.into_iter().zip(expected) {
            close.same(got, expected);
        }
    });
}

#[test]
fn diversity_under_a_similarity_matrix() {
    of_kind("similarity_diversity", 14, |case, close| {
        let (p, z) = (numbers(&case["input"]["weights"]), matrix(&case["input"]["similarity"]));
        let diversity = |q: f64| effective_number(&p, &z, q);
        check_orders(case, close, diversity);
    });
}

#[test]
fn hill_numbers_are_diversity_where_nothing_is_alike() {
    of_kind("hill", 7, |case, close| {
        let p = numbers(&case["input"]["counts"]);
        let unlike: Vec<Vec<f64>> = (0..p.len()).map(|i| (0..p.len()).map(|j| f64::from(u8::from(i == j))).collect()).collect();
        check_orders(case, close, |q| hill_number(&p, q));
        check_orders(case, close, |q| effective_number(&p, &unlike, q));
        if let Some(log) = case["published"]["log_of_order_1"].as_f64() {
            close.within(hill_number(&p, 1.0).ln(), log, number(&case["published"]["precision"]));
        }
    });
}

fn check_orders(case: &Value, close: &Close, diversity: impl Fn(f64) -> f64) {
    let expected = case["expected"]["diversity"].as_array().expect("figures");
    for (q, expected) in orders(&case["input"]["orders"]).into_iter().zip(expected) {
        close.same(diversity(q), expected);
    }
    let published = &case["published"];
    if let Some(printed) = published["diversity"].as_array() {
        for (q, printed) in orders(&published["orders"]).into_iter().zip(printed) {
            close.within(diversity(q), number(printed), number(&published["precision"]));
        }
    }
}

#[test]
fn quadratic_entropy_and_its_effective_number() {
    of_kind("rao", 4, |case, close| {
        let (p, d) = (numbers(&case["input"]["weights"]), matrix(&case["input"]["distance"]));
        let q = rao(&p, &d);
        close.same(q, &case["expected"]["rao_q"]);
        close.same(1.0 / (1.0 - q), &case["expected"]["effective_number"]);
        let alike: Vec<Vec<f64>> = d.iter().map(|row| row.iter().map(|d| 1.0 - d).collect()).collect();
        close.same(effective_number(&p, &alike, 2.0), &case["expected"]["effective_number"]);
        if let Some(printed) = case["published"]["rao_q"].as_f64() {
            // The printed figure comes of half the squared distances; ours takes them as they are.
            close.within(q, printed, number(&case["published"]["precision"]));
        }
    });
}

#[test]
fn weights_learned_from_answers() {
    of_kind("map_logit", 4, |case, close| {
        let input = &case["input"];
        let (complaints, weights) = (numbers(&input["complaint"]), numbers(&input["case_weight"]));
        let cases: Vec<Case> = matrix(&input["features"])
            .into_iter()
            .zip(complaints)
            .zip(weights)
            .map(|((features, y), weight)| Case { features, complaint: y == 1.0, weight, biased: true })
            .collect();
        let prior = Prior {
            theta: numbers(&input["prior_theta"]),
            bias: number(&input["prior_bias"]),
            sigma: number(&input["sigma"]),
            sigma_bias: number(&input["sigma_bias"]),
        };
        let got = estimate(&cases, &prior);
        let expected = &case["expected"];
        assert_eq!(got.theta.len(), numbers(&expected["theta"]).len(), "{}", close.id);
        for (got, expected) in got.theta.iter().zip(numbers(&expected["theta"])) {
            close.within(*got, expected, close.tolerance);
        }
        close.same(got.bias, &expected["bias"]);
        close.same(got.objective, &expected["objective"]);
    });
}

#[test]
fn no_case_is_left_unasked() {
    let asked = [
        "gower_matrix",
        "gower_combine",
        "soft_jaccard",
        "jaccard",
        "cosine",
        "recovery_kernel",
        "attribute_inventory",
        "similarity_diversity",
        "hill",
        "rao",
        "map_logit",
    ];
    let all = cases();
    assert_eq!(all.len(), 64);
    assert!(all.iter().all(|c| c["kind"].as_str().is_some_and(|k| asked.contains(&k))));
}
