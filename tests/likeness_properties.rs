//! Do likeness and the counting of meals keep the properties that their formulas promise, whatever the dishes?

use proptest::prelude::*;
use tranche::{
    book::{Colour, Family, Form, Graded, Heat, Method, Profile, Protein, Starch, Taste, Texture},
    judge::{
        LINE_CAUTION, LINE_WARN, Verdict, Weights, counted_likeness, effective_number, gower_combine, hill_number, likeness,
        likeness_with, rao, soft_jaccard,
    },
};

fn set<T: Copy + std::fmt::Debug + 'static>(all: &'static [T]) -> impl Strategy<Value = Vec<Graded<T>>> {
    prop::sample::subsequence(all, 0..=3).prop_flat_map(|values| {
        let n = values.len();
        let grades = prop::collection::vec(prop_oneof![Just(1.0), Just(0.5), 0.01f64..=1.0], n);
        (Just(values), grades).prop_map(|(values, grades)| values.into_iter().zip(grades).map(|(v, g)| Graded(v, g)).collect())
    })
}

fn one<T: Copy + std::fmt::Debug + 'static>(all: &'static [T]) -> impl Strategy<Value = Option<T>> {
    prop::option::of(prop::sample::select(all))
}

fn profile() -> impl Strategy<Value = Profile> {
    let taste = prop::option::of(prop::array::uniform6(0u8..=3))
        .prop_map(|t| t.map(|[sweet, sour, bitter, umami, hot, rich]| Taste { sweet, sour, bitter, umami, hot, rich }));
    let sets = (set(Texture::ALL), set(Family::ALL), set(Method::ALL), set(Colour::ALL));
    let ones = (one(Heat::ALL), one(Form::ALL), one(Starch::ALL), one(Protein::ALL));
    (sets, ones, taste).prop_map(|((texture, family, method, colour), (heat, form, starch, protein), taste)| Profile {
        texture,
        family,
        taste,
        method,
        heat,
        form,
        colour,
        starch,
        protein,
    })
}

/// A symmetric matrix of likenesses with 1 on the diagonal, and shares above 0.
fn meals(most: usize) -> impl Strategy<Value = (Vec<f64>, Vec<Vec<f64>>)> {
    (1..=most).prop_flat_map(|n| {
        let shares = prop::collection::vec(0.01f64..1.0, n);
        let upper = prop::collection::vec(prop_oneof![Just(0.0), Just(1.0), 0.0f64..=1.0], n * n);
        (shares, upper).prop_map(move |(p, upper)| {
            let z = (0..n).map(|i| (0..n).map(|j| if i == j { 1.0 } else { upper[i.min(j) * n + i.max(j)] }).collect()).collect();
            (p, z)
        })
    })
}

const ORDERS: [f64; 6] = [0.0, 0.5, 1.0, 2.0, 5.0, f64::INFINITY];

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

proptest! {
    #[test]
    fn likeness_is_the_same_from_both_sides_and_within_bounds(a in profile(), b in profile()) {
        let (ab, ba) = (likeness(&a, &b), likeness(&b, &a));
        prop_assert_eq!(ab.whole, ba.whole);
        if let Some(s) = ab.whole {
            prop_assert!((0.0..=1.0).contains(&s));
        } else {
            prop_assert!(ab.shares.is_empty());
        }
    }

    #[test]
    fn a_dish_is_wholly_like_itself(a in profile()) {
        if let Some(s) = likeness(&a, &a).whole {
            prop_assert!((s - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn shares_add_up_to_the_whole_and_come_largest_first(a in profile(), b in profile()) {
        let l = likeness(&a, &b);
        let sum: f64 = l.shares.iter().map(|s| s.share).sum();
        prop_assert!((sum - l.whole.unwrap_or(0.0)).abs() < 1e-12);
        prop_assert!(l.shares.windows(2).all(|two| two[0].share >= two[1].share));
        prop_assert!(l.shares.iter().all(|s| !s.words.is_empty() && (0.0..=1.0).contains(&s.alike)));
    }

    #[test]
    fn weights_may_be_scaled_freely(a in profile(), b in profile(), factor in 0.01f64..100.0) {
        let scaled = Weights(Weights::default().0.map(|w| w * factor));
        let (plain, scaled) = (likeness(&a, &b).whole, likeness_with(&scaled, &a, &b).whole);
        prop_assert_eq!(plain.is_some(), scaled.is_some());
        if let (Some(x), Some(y)) = (plain, scaled) {
            prop_assert!(close(x, y));
        }
    }

    #[test]
    fn more_likeness_on_one_axis_never_lowers_the_whole(
        axes in prop::collection::vec((prop::option::of(0.0f64..=1.0), 0.0f64..1.0), 1..12),
        which in any::<prop::sample::Index>(),
        more in 0.0f64..=1.0,
    ) {
        let (mut alike, weights): (Vec<_>, Vec<_>) = axes.into_iter().unzip();
        let before = gower_combine(&alike, &weights).whole;
        let i = which.index(alike.len());
        if let (Some(s), Some(before)) = (alike[i], before) {
            alike[i] = Some(s.max(more));
            let after = gower_combine(&alike, &weights).whole.expect("still known");
            prop_assert!(after >= before - 1e-12);
        }
    }

    #[test]
    fn a_mend_of_one_axis_changes_the_whole_by_its_own_weight(a in profile(), b in profile(), heat in prop::sample::select(Heat::ALL)) {
        // The method's arithmetic: replacing the value of axis k changes S by w_k (s' - s) / sum w.
        prop_assume!(a.heat.is_some() && b.heat.is_some());
        let other = Profile { heat: Some(heat), ..b.clone() };
        let (before, after) = (likeness(&a, &b), likeness(&a, &other));
        let share = |l: &tranche::judge::Likeness| {
            l.shares.iter().find(|s| s.axis == tranche::judge::Axis::Heat).map_or(0.0, |s| s.share)
        };
        let moved = after.whole.expect("heat is known") - before.whole.expect("heat is known");
        prop_assert!((moved - (share(&after) - share(&before))).abs() < 1e-12);
    }

    #[test]
    fn a_blank_axis_is_neither_likeness_nor_difference(a in profile(), b in profile()) {
        let blank = Profile { texture: vec![], ..a.clone() };
        let l = likeness(&blank, &b);
        prop_assert!(l.shares.iter().all(|s| s.axis != tranche::judge::Axis::Texture));
        let none = Profile { starch: Some(Starch::None), protein: Some(Protein::None), ..Profile::default() };
        prop_assert_eq!(likeness(&none, &none).whole, None, "what both lack is no likeness");
    }

    #[test]
    fn graded_sets_without_partial_likeness_are_least_over_most(a in set(Texture::ALL), b in set(Texture::ALL)) {
        let grade = |s: &[Graded<Texture>], t: Texture| s.iter().find(|g| g.0 == t).map_or(0.0, |g| g.1);
        let least: f64 = Texture::ALL.iter().map(|t| grade(&a, *t).min(grade(&b, *t))).sum();
        let most: f64 = Texture::ALL.iter().map(|t| grade(&a, *t).max(grade(&b, *t))).sum();
        let got = soft_jaccard(&a, &b, |x, y| if x == y { 1.0 } else { 0.0 });
        match got {
            Some(s) => prop_assert!(close(s, least / most)),
            None => prop_assert_eq!(most, 0.0),
        }
    }

    #[test]
    fn meals_feel_like_one_at_least_and_never_like_more_than_there_are((p, z) in meals(8)) {
        for q in ORDERS {
            let d = effective_number(&p, &z, q);
            prop_assert!((1.0 - 1e-9..=p.len() as f64 + 1e-9).contains(&d), "order {}: {}", q, d);
        }
    }

    #[test]
    fn diversity_never_rises_with_the_order_and_runs_through_one((p, z) in meals(7)) {
        let d: Vec<f64> = ORDERS.iter().map(|q| effective_number(&p, &z, *q)).collect();
        prop_assert!(d.windows(2).all(|two| two[1] <= two[0] + 1e-9), "{:?}", d);
        let at_one = effective_number(&p, &z, 1.0);
        for q in [1.0 - 1e-5, 1.0 + 1e-5, 1.0 - 1e-7, 1.0 + 1e-8] {
            prop_assert!((effective_number(&p, &z, q) - at_one).abs() < 1e-3);
        }
    }

    #[test]
    fn more_likeness_never_gives_more_different_meals((p, mut z) in meals(7), pick in any::<(prop::sample::Index, prop::sample::Index)>(), more in 0.0f64..=1.0) {
        let before: Vec<f64> = ORDERS.iter().map(|q| effective_number(&p, &z, *q)).collect();
        let (i, j) = (pick.0.index(p.len()), pick.1.index(p.len()));
        let raised = z[i][j].max(more);
        (z[i][j], z[j][i]) = (raised, raised);
        for (q, before) in ORDERS.iter().zip(before) {
            prop_assert!(effective_number(&p, &z, *q) <= before + 1e-9);
        }
    }

    #[test]
    fn order_and_absent_meals_change_nothing((p, z) in meals(6), at in any::<prop::sample::Index>()) {
        let n = p.len();
        let back = |i: usize| n - 1 - i;
        let (rp, rz): (Vec<f64>, Vec<Vec<f64>>) =
            (0..n).map(|i| (p[back(i)], (0..n).map(|j| z[back(i)][back(j)]).collect())).unzip();
        // One more meal of no share, like everything there is.
        let place = at.index(n + 1);
        let (mut ap, mut az) = (p.clone(), z.clone());
        ap.insert(place, 0.0);
        for row in &mut az {
            row.insert(place, 0.9);
        }
        az.insert(place, vec![0.9; n + 1]);
        az[place][place] = 1.0;
        for q in ORDERS {
            let d = effective_number(&p, &z, q);
            prop_assert!(close(d, effective_number(&rp, &rz, q)));
            prop_assert!(close(d, effective_number(&ap, &az, q)));
        }
    }

    #[test]
    fn splitting_a_meal_into_two_of_the_same_changes_nothing((p, z) in meals(6), which in any::<prop::sample::Index>(), part in 0.05f64..0.95) {
        let i = which.index(p.len());
        let (mut sp, mut sz) = (p.clone(), z.clone());
        sp[i] = p[i] * part;
        sp.push(p[i] * (1.0 - part));
        let mut row = z[i].clone();
        row.push(1.0);
        for (r, alike) in sz.iter_mut().zip(&z[i]) {
            r.push(*alike);
        }
        sz.push(row);
        for q in ORDERS {
            prop_assert!(close(effective_number(&p, &z, q), effective_number(&sp, &sz, q)));
        }
    }

    #[test]
    fn copies_that_are_mutually_unlike_multiply((p, z) in meals(4), copies in 1usize..5) {
        let n = p.len();
        let cp: Vec<f64> = (0..n * copies).map(|i| p[i % n]).collect();
        let cz: Vec<Vec<f64>> = (0..n * copies)
            .map(|i| (0..n * copies).map(|j| if i / n == j / n { z[i % n][j % n] } else { 0.0 }).collect())
            .collect();
        for q in ORDERS {
            prop_assert!(close(effective_number(&p, &z, q) * copies as f64, effective_number(&cp, &cz, q)));
        }
    }

    #[test]
    fn nothing_alike_gives_hill_and_everything_alike_gives_one(p in prop::collection::vec(0.01f64..1.0, 1..8)) {
        let n = p.len();
        let unlike: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect();
        for q in ORDERS {
            prop_assert!(close(effective_number(&p, &unlike, q), hill_number(&p, q)));
            prop_assert!(close(effective_number(&p, &vec![vec![1.0; n]; n], q), 1.0));
        }
        prop_assert!(close(hill_number(&p, 0.0), n as f64));
        let total: f64 = p.iter().sum();
        let simpson: f64 = p.iter().map(|s| (s / total).powi(2)).sum();
        prop_assert!(close(hill_number(&p, 2.0), 1.0 / simpson));
    }

    #[test]
    fn equal_meals_of_one_common_likeness_follow_the_closed_form(n in 1usize..9, z in 0.0f64..=1.0) {
        let p = vec![1.0; n];
        let m: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| if i == j { 1.0 } else { z }).collect()).collect();
        for q in ORDERS {
            prop_assert!(close(effective_number(&p, &m, q), n as f64 / (1.0 + (n as f64 - 1.0) * z)));
        }
    }

    #[test]
    fn order_two_is_the_inverse_of_what_quadratic_entropy_leaves((p, z) in meals(7)) {
        let d: Vec<Vec<f64>> = z.iter().map(|row| row.iter().map(|s| 1.0 - s).collect()).collect();
        prop_assert!(close(effective_number(&p, &z, 2.0), 1.0 / (1.0 - rao(&p, &d))));
    }

    #[test]
    fn what_counts_starts_above_what_unrelated_dinners_share(s in 0.0f64..=1.0) {
        let z = counted_likeness(s);
        prop_assert!((0.0..=1.0).contains(&z) && z <= s);
        prop_assert_eq!(z > 0.0, s > 0.20);
    }
}

#[test]
fn a_line_is_on_the_side_of_the_warning() {
    assert_eq!(Verdict::of(Some(LINE_WARN)), Verdict::Warn);
    assert_eq!(Verdict::of(Some(LINE_WARN - 1e-6)), Verdict::Caution);
    assert_eq!(Verdict::of(Some(LINE_CAUTION)), Verdict::Caution);
    assert_eq!(Verdict::of(Some(LINE_CAUTION - 1e-6)), Verdict::Fine);
    assert_eq!(Verdict::of(None), Verdict::Unknown);
}

#[test]
fn very_high_orders_do_not_drown() {
    let z = vec![vec![1.0, 0.1], vec![0.1, 1.0]];
    let far = effective_number(&[1.0, 1.0], &z, 1e6);
    assert!((far - effective_number(&[1.0, 1.0], &z, f64::INFINITY)).abs() < 1e-3, "{far}");
}

#[test]
fn words_are_a_cooks() {
    let a: Profile = ron::from_str(
        "(texture: [(Stewed, 1.0)], family: [(Sharp, 1.0)], method: [(Braise, 1.0)], heat: Some(Hot), form: Some(Soup),
          colour: [(Purple, 1.0)], starch: Some(Rice), protein: Some(None), taste: Some((sour: 2, rich: 1)))",
    )
    .expect("a profile");
    let b: Profile = ron::from_str(
        "(texture: [(Creamy, 1.0)], family: [(Sharp, 1.0)], method: [(Braise, 1.0)], heat: Some(Hot), form: Some(Soup),
          colour: [(Purple, 1.0), (Green, 0.5)], starch: Some(Rice), protein: Some(Egg), taste: Some((sour: 3)))",
    )
    .expect("a profile");
    let said: Vec<(String, bool)> = likeness(&a, &b).shares.into_iter().map(|s| (s.words, s.shared)).collect();
    for expected in [
        ("stewed beside creamy", false),
        ("both sharp in flavour", true),
        ("both braised", true),
        ("both hot", true),
        ("both soups", true),
        ("both purple", true),
        ("both with rice", true),
        ("no protein beside egg", false),
        ("both taste sour", false),
    ] {
        assert!(said.contains(&(expected.0.to_string(), expected.1)), "{expected:?} in {said:?}");
    }
}
