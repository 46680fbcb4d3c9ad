//! Does heat leave a body as it is published, do both ways to reckon it agree, and is none lost on the way?

use proptest::prelude::*;
use tranche::judge::cooling::{
    Block, Body, Face, Faces, Phase, Round, Series, Shape, Volumes, centre_c, centre_c_by_volumes, modes, seconds_to,
    seconds_to_by_volumes,
};

fn body(shape: Shape, half_thickness_m: f64, h: f64) -> Body {
    Body { shape, half_thickness_m, k: 0.56, rho: 1_030.0, cp: 3_900.0, h, start_c: 60.0, around_c: 4.0 }
}

/// A body of unit half thickness and diffusivity, falling from 1 to 0: seconds are Fourier numbers, h is the Biot number.
fn unit(shape: Shape, biot: f64) -> Body {
    Body { shape, half_thickness_m: 1.0, k: 1.0, rho: 0.1, cp: 10.0, h: biot, start_c: 1.0, around_c: 0.0 }
}

/// Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1: first root and its weight. The book prints four
/// figures; these are its equations solved to six.
const ONE_TERM: &[(Shape, f64, f64, f64)] = &[
    (Shape::Slab, 0.01, 0.099834, 1.001661),
    (Shape::Slab, 0.02, 0.140952, 1.003310),
    (Shape::Slab, 0.05, 0.221760, 1.008189),
    (Shape::Slab, 0.1, 0.311053, 1.016094),
    (Shape::Slab, 0.3, 0.521791, 1.045047),
    (Shape::Slab, 1.0, 0.860334, 1.119132),
    (Shape::Slab, 1.5, 0.988241, 1.153670),
    (Shape::Slab, 5.0, 1.313838, 1.240249),
    (Shape::Slab, 30.0, 1.520167, 1.271678),
    (Shape::Slab, 50.0, 1.540006, 1.272652),
    (Shape::Slab, 100.0, 1.555245, 1.273088),
    (Shape::Slab, 1e12, std::f64::consts::FRAC_PI_2, 1.273240),
    (Shape::Cylinder, 0.01, 0.141245, 1.002496),
    (Shape::Cylinder, 0.05, 0.314262, 1.012395),
    (Shape::Cylinder, 0.2, 0.616975, 1.048304),
    (Shape::Cylinder, 0.5, 0.940771, 1.114255),
    (Shape::Cylinder, 1.0, 1.255784, 1.207092),
    (Shape::Cylinder, 2.0, 1.599449, 1.338377),
    (Shape::Cylinder, 5.0, 1.989815, 1.502869),
    (Shape::Cylinder, 10.0, 2.179497, 1.567692),
    (Shape::Cylinder, 20.0, 2.288048, 1.591944),
    (Shape::Cylinder, 50.0, 2.357242, 1.600221),
    (Shape::Cylinder, 100.0, 2.380902, 1.601524),
    (Shape::Sphere, 0.1, 0.542281, 1.029798),
    (Shape::Sphere, 0.5, 1.165561, 1.144106),
    (Shape::Sphere, 2.0, 2.028758, 1.479319),
    (Shape::Sphere, 5.0, 2.570432, 1.787001),
    (Shape::Sphere, 10.0, 2.836300, 1.924909),
];

/// The same tables' source for the middle at later times: theta = C1 exp(-zeta1^2 Fo), good beyond Fo 0.2. Heisler's charts
/// (Trans. ASME 69, 1947) draw just this.
#[test]
fn first_roots_and_later_middles_are_those_of_the_table() {
    for &(shape, biot, zeta, weight) in ONE_TERM {
        let first = modes(shape, biot, 1)[0];
        assert!((first.zeta - zeta).abs() < 6e-7 && (first.centre - weight).abs() < 6e-7, "{shape:?} {biot}: {first:?}");
        for fourier in [0.5, 1.0, 2.0] {
            let table = weight * (-zeta * zeta * fourier).exp();
            let (exact, marched) = (centre_c(&unit(shape, biot), fourier), centre_c_by_volumes(&unit(shape, biot), fourier));
            assert!((exact / table - 1.0).abs() < 5e-3, "{shape:?} {biot} {fourier}: {exact} against {table}");
            // Below a thousandth, where Heisler's charts end, what counts is the temperature.
            let allowed = if table > 1e-3 { 5e-3 * table } else { 5e-6 };
            assert!((marched - table).abs() < allowed, "{shape:?} {biot} {fourier}: {marched} against {table}");
        }
    }
}

/// Kitchen cases: k 0.56 W/(m K), 1,030 kg/m3, 3,900 J/(kg K), from 60 C in 4 C. The middle after two hours, the minutes it
/// takes from 57 to 21 C and from 57 to 5 C (the stages of the FDA Food Code 2022, 3-501.14), by the same textbook's series.
const KITCHEN: &[(&str, Shape, f64, f64, f64, f64, f64)] = &[
    ("slab 25 mm, both faces", Shape::Slab, 0.0125, 10.0, 19.270, 102.4, 357.4),
    ("slab 50 mm, both faces", Shape::Slab, 0.025, 10.0, 35.984, 220.1, 766.8),
    ("slab 75 mm, both faces", Shape::Slab, 0.0375, 10.0, 45.359, 354.0, 1_230.2),
    ("slab 100 mm, both faces", Shape::Slab, 0.05, 10.0, 51.226, 504.7, 1_749.1),
    ("slab 100 mm, one face", Shape::Slab, 0.1, 10.0, 59.365, 1_278.7, 4_395.9),
    ("slab 50 mm, fan", Shape::Slab, 0.025, 25.0, 21.458, 107.6, 371.9),
    ("cylinder of 40 mm radius", Shape::Cylinder, 0.04, 10.0, 34.466, 184.1, 634.9),
    ("sphere of 50 mm radius", Shape::Sphere, 0.05, 10.0, 32.311, 156.3, 532.9),
];

#[test]
fn the_kitchen_cases_are_met_both_ways() {
    for &(name, shape, half, h, after_two_hours, to_21, to_5) in KITCHEN {
        let body = body(shape, half, h);
        let minutes = |c: f64| (seconds_to(&body, c).unwrap() - seconds_to(&body, 57.0).unwrap()) / 60.0;
        let marched = |c: f64| (seconds_to_by_volumes(&body, c).unwrap() - seconds_to_by_volumes(&body, 57.0).unwrap()) / 60.0;
        assert!((centre_c(&body, 7_200.0) - after_two_hours).abs() < 6e-4, "{name}: {}", centre_c(&body, 7_200.0));
        assert!((minutes(21.0) - to_21).abs() < 0.06 && (minutes(5.0) - to_5).abs() < 0.06, "{name}: {}", minutes(21.0));
        assert!((centre_c_by_volumes(&body, 7_200.0) - after_two_hours).abs() < 0.01, "{name}");
        assert!((marched(21.0) / to_21 - 1.0).abs() < 1e-3 && (marched(5.0) / to_5 - 1.0).abs() < 1e-3, "{name}");
    }
}

const BIOTS: [f64; 9] = [1e-3, 1e-2, 0.1, 0.7, 3.0, 20.0, 300.0, 1e5, 1e9];

#[test]
fn volumes_and_series_agree_at_all_times_and_biot_numbers() {
    let mut worst = 0.0_f64;
    for &shape in Shape::ALL {
        for biot in BIOTS {
            let (series, mut volumes) = (Series::new(&unit(shape, biot)), Volumes::of(&unit(shape, biot)));
            for fourier in [1e-6, 1e-4, 1e-3, 3e-3, 0.01, 0.02, 0.05, 0.1, 0.3, 1.0, 4.0, 30.0] {
                volumes.advance(fourier - volumes.seconds());
                let off = (volumes.middle() - series.centre_left(fourier)).abs();
                worst = worst.max(off);
                assert!(
                    off < 4e-4,
                    "{shape:?} Bi {biot} Fo {fourier}: {} against {}",
                    volumes.middle(),
                    series.centre_left(fourier)
                );
                if fourier >= 3e-3 {
                    let off = (volumes.mean() - series.heat_left(fourier)).abs();
                    assert!(off < 4e-4, "{shape:?} Bi {biot} Fo {fourier}, all of it: {off}");
                }
            }
        }
    }
    println!("worst difference of the middle: {worst:.2e}");
}

#[test]
fn no_heat_is_lost_in_the_volumes() {
    for &shape in Shape::ALL {
        for biot in BIOTS {
            let mut volumes = Volumes::of(&unit(shape, biot));
            let start = volumes.heat();
            for fourier in [1e-4, 0.01, 0.2, 3.0] {
                volumes.advance(fourier - volumes.seconds());
                let missing = (start - volumes.heat() - volumes.heat_lost()).abs() / start;
                assert!(missing < 1e-10, "{shape:?} Bi {biot} Fo {fourier}: {missing:e} of the heat is missing");
            }
        }
    }
    // Against the series: what has left through the surface is what is no longer there.
    let mut volumes = Volumes::of(&unit(Shape::Cylinder, 2.0));
    volumes.advance(0.2);
    let left = Series::new(&unit(Shape::Cylinder, 2.0)).heat_left(0.2);
    assert!((1.0 - volumes.heat_lost() / 0.5 - left).abs() < 1e-3);
}

#[test]
fn a_small_biot_number_is_stirred_water() {
    for &shape in Shape::ALL {
        let slow = unit(shape, 1e-3);
        for to in [0.9, 0.5, 0.1, 0.01] {
            let (exact, stirred) = (seconds_to(&slow, to).unwrap(), slow.stirred_seconds_to(to).unwrap());
            assert!((exact / stirred - 1.0).abs() < 5e-3, "{shape:?} to {to}: {exact} against {stirred}");
        }
    }
}

#[test]
fn what_is_never_reached_is_nothing() {
    let cooling = body(Shape::Slab, 0.025, 10.0);
    let warming = Body { start_c: 4.0, around_c: 60.0, ..cooling };
    let even = Body { start_c: 4.0, ..cooling };
    let wrapped = Body { h: 0.0, ..cooling };
    for (name, body, to, reached) in [
        ("where it starts", cooling, 60.0, Some(0.0)),
        ("warmer than it starts", cooling, 61.0, None),
        ("as cold as what is around", cooling, 4.0, None),
        ("colder than what is around", cooling, 3.0, None),
        ("warming, colder than it starts", warming, 3.0, None),
        ("warming, as warm as what is around", warming, 60.0, None),
        ("nothing to cool", even, 4.0, Some(0.0)),
        ("nothing to cool it", even, 3.0, None),
        ("wrapped, where it starts", wrapped, 60.0, Some(0.0)),
        ("wrapped", wrapped, 50.0, None),
        ("no number", cooling, f64::NAN, None),
    ] {
        assert_eq!(seconds_to(&body, to), reached, "{name}");
        assert_eq!(seconds_to_by_volumes(&body, to), reached, "{name}, by volumes");
    }
    // Warming is cooling seen in a mirror.
    let (down, up) = (seconds_to(&cooling, 20.0).unwrap(), seconds_to(&warming, 44.0).unwrap());
    assert!((down / up - 1.0).abs() < 1e-12);
    assert_eq!(centre_c(&wrapped, 1e9), 60.0);
    assert_eq!(centre_c_by_volumes(&wrapped, 1e9), 60.0);
    assert!((centre_c(&cooling, 1e9) - 4.0).abs() < 1e-9 && (centre_c_by_volumes(&cooling, 1e9) - 4.0).abs() < 1e-9);
}

#[test]
fn the_furthest_figures_break_nothing() {
    for &shape in Shape::ALL {
        for h in [0.0, 1e-12, 1e-3, 1.0, 1e12] {
            for half in [1e-6, 0.01, 100.0] {
                for k in [1e-3, 1e4] {
                    let body = Body { h, k, ..body(shape, half, h) }.checked().unwrap();
                    for seconds in [0.0, 1e-9, 1.0, 1e9] {
                        let exact = centre_c(&body, seconds);
                        assert!((4.0..=60.0).contains(&exact), "{body:?} {seconds}: {exact}");
                        if h > 0.0 && body.biot() < 1e-9 {
                            continue;
                        }
                        let marched = centre_c_by_volumes(&body, seconds);
                        assert!((exact - marched).abs() < 0.03, "{body:?} {seconds}: {exact} against {marched}");
                    }
                    if let Some(s) = seconds_to(&body, 5.0).filter(|_| body.biot() >= 1e-9) {
                        let marched = seconds_to_by_volumes(&body, 5.0).unwrap();
                        assert!((s / marched - 1.0).abs() < 2e-3, "{body:?}: {s} against {marched}");
                    }
                }
            }
        }
    }
}

fn open(h: f64) -> Faces {
    Faces { bottom: h, side: h, top: h }
}

fn phase(seconds: f64, around_c: f64, faces: Faces) -> Phase {
    Phase { seconds, around_c, faces, stirred: false }
}

/// A box and a drum in surroundings that stay are the textbook's products of series (Incropera and DeWitt, on
/// multidimensional effects).
#[test]
fn a_box_and_a_drum_are_products() {
    let left = |shape, half: f64, s: f64| (centre_c(&body(shape, half, 10.0), s) - 4.0) / 56.0;
    for hours in [0.5, 1.0, 2.0, 5.0] {
        let s = hours * 3_600.0;
        for (round, across) in [
            (Round::Rectangle(0.2, 0.12), left(Shape::Slab, 0.1, s) * left(Shape::Slab, 0.06, s)),
            (Round::Circle(0.22), left(Shape::Cylinder, 0.11, s)),
        ] {
            let mut block = Block::new(round, 0.08, 0.56, 1_030.0 * 3_900.0, 60.0);
            block.enter(&phase(s, 4.0, open(10.0)));
            block.advance(s);
            let want = 4.0 + 56.0 * across * left(Shape::Slab, 0.04, s);
            assert!((block.warmest() - want).abs() < 0.08, "{round:?} after {hours} h: {} against {want}", block.warmest());
        }
    }
}

/// Moving into surroundings of the same sort changes nothing; moving between two is what volumes say of a wide layer.
#[test]
fn a_change_of_place_is_reckoned_as_volumes_reckon_it() {
    let mut block = Block::new(Round::Rectangle(50.0, 50.0), 0.06, 0.56, 1_030.0 * 3_900.0, 75.0);
    let mut layer = Volumes::layer(0.06, 120, 0.56, 1_030.0 * 3_900.0, 75.0);
    for (seconds, around, bottom, top) in [(1_800.0, 20.0, 8.0, 10.0), (2_400.0, 12.0, 300.0, 0.0), (9_000.0, 4.0, 5.0, 10.0)] {
        block.enter(&phase(seconds, around, Faces { bottom, side: 10.0, top }));
        layer.surround(around, Face { h: bottom }, Face { h: top });
        for _ in 0..6 {
            block.advance(seconds / 6.0);
            layer.advance(seconds / 6.0);
            let warmest = layer.temperatures().iter().copied().fold(f64::MIN, f64::max);
            assert!((block.warmest() - warmest).abs() < 0.12, "{} against {warmest}", block.warmest());
            assert!((block.mean() - layer.mean()).abs() < 0.2, "{} against {}", block.mean(), layer.mean());
        }
    }
}

/// A full three-dimensional reckoning, simple and apart from the program's: a box of cells, explicit steps, a bath and then
/// the fridge. Its cells are coarse, so it stands to half a degree.
#[test]
fn a_box_that_goes_from_the_bath_into_the_fridge_agrees_with_cells_in_three_dimensions() {
    const N: usize = 14;
    let (k, rho_cp, size) = (0.56, 1_030.0 * 3_900.0, [0.12, 0.10, 0.06]);
    let d = size.map(|s| s / N as f64);
    let at = |x: usize, y: usize, z: usize| (x * N + y) * N + z;
    let mut cells = vec![70.0; N * N * N];
    let mut block = Block::new(Round::Rectangle(size[0], size[1]), size[2], k, rho_cp, 70.0);
    let phases = [(1_500.0, 10.0, [200.0, 200.0, 0.0]), (5_400.0, 4.0, [6.0, 10.0, 10.0])];
    for (seconds, around, [bottom, side, top]) in phases {
        let steps = (seconds / 4.0) as usize;
        for _ in 0..steps {
            let before = cells.clone();
            for x in 0..N {
                for y in 0..N {
                    for z in 0..N {
                        let here = before[at(x, y, z)];
                        let place = [x, y, z];
                        let mut gain = 0.0;
                        for (axis, &i) in place.iter().enumerate() {
                            for up in [false, true] {
                                let edge = if up { i == N - 1 } else { i == 0 };
                                gain += if edge {
                                    let h = if axis < 2 {
                                        side
                                    } else if up {
                                        top
                                    } else {
                                        bottom
                                    };
                                    if h > 0.0 { (around - here) / (1.0 / h + d[axis] / 2.0 / k) / d[axis] } else { 0.0 }
                                } else {
                                    let mut next = place;
                                    next[axis] = if up { i + 1 } else { i - 1 };
                                    k * (before[at(next[0], next[1], next[2])] - here) / d[axis] / d[axis]
                                };
                            }
                        }
                        cells[at(x, y, z)] = here + gain * 4.0 / rho_cp;
                    }
                }
            }
        }
        block.enter(&phase(seconds, around, Faces { bottom, side, top }));
        block.advance(seconds);
        let warmest = cells.iter().copied().fold(f64::MIN, f64::max);
        let mean = cells.iter().sum::<f64>() / cells.len() as f64;
        assert!((block.warmest() - warmest).abs() < 0.5, "{} against {warmest}", block.warmest());
        assert!((block.mean() - mean).abs() < 0.5, "{} against {mean}", block.mean());
    }
}

#[test]
fn stirring_evens_out_and_then_cools_as_one() {
    let mut block = Block::new(Round::Circle(0.2), 0.1, 0.56, 4e6, 80.0);
    block.enter(&phase(3_600.0, 10.0, open(50.0)));
    block.advance(3_600.0);
    let (mean, warmest) = (block.mean(), block.warmest());
    assert!(warmest > mean + 5.0);
    block.enter(&Phase { stirred: true, ..phase(600.0, 10.0, open(50.0)) });
    assert!((block.warmest() - mean).abs() < 1e-9);
    block.advance(600.0);
    // Surface over volume of the drum: 2 ends and the side.
    let fade: f64 = (-50.0 * (2.0 / 0.1 + 2.0 / 0.1) * 600.0 / 4e6_f64).exp();
    assert!((block.mean() - (10.0 + (mean - 10.0) * fade)).abs() < 1e-9);
    block.enter(&phase(60.0, 4.0, open(10.0)));
    assert!((block.mean() - block.warmest()).abs() < 1e-9);
}

fn shapes() -> impl Strategy<Value = Shape> {
    prop::sample::select(Shape::ALL)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn colder_with_time_with_h_and_with_less_thickness(
        shape in shapes(), half in 0.002..0.2_f64, log_h in -1.0..4.0_f64, hours in 0.01..20.0_f64, more in 1.05..3.0_f64,
    ) {
        let (b, s) = (body(shape, half, 10_f64.powf(log_h)), hours * 3_600.0);
        let here = centre_c(&b, s);
        let (windier, thicker) = (Body { h: b.h * more, ..b }, Body { half_thickness_m: half * more, ..b });
        prop_assert!(centre_c(&b, s * more) <= here + 1e-9);
        prop_assert!(centre_c(&windier, s) <= here + 1e-9);
        prop_assert!(centre_c(&thicker, s) >= here - 1e-9);
        prop_assert!((4.0 - 1e-9..=60.0 + 1e-9).contains(&here));
    }

    #[test]
    fn a_sphere_is_faster_than_a_cylinder_and_that_than_a_slab(half in 0.002..0.2_f64, log_h in -1.0..4.0_f64, to in 4.01..59.9_f64) {
        let time = |shape| seconds_to(&body(shape, half, 10_f64.powf(log_h)), to).unwrap();
        let (slab, cylinder, sphere) = (time(Shape::Slab), time(Shape::Cylinder), time(Shape::Sphere));
        prop_assert!(sphere < cylinder && cylinder < slab, "{} {} {}", sphere, cylinder, slab);
    }

    #[test]
    fn only_the_biot_and_fourier_numbers_count(
        shape in shapes(), log_bi in -3.0..3.0_f64, fourier in 0.01..3.0_f64, scale in 0.1..10.0_f64, k in 0.1..5.0_f64,
    ) {
        let unit = unit(shape, 10_f64.powf(log_bi));
        let other = Body { half_thickness_m: scale, k, rho: 700.0, cp: 2_000.0, h: unit.h * k / scale, ..unit };
        let left = centre_c(&other, fourier * other.seconds_per_fourier());
        prop_assert!((left - centre_c(&unit, fourier)).abs() < 1e-9);
    }

    #[test]
    fn the_time_to_a_temperature_leads_back_to_it(shape in shapes(), log_bi in -3.0..6.0_f64, left in 1e-4..0.9999_f64) {
        let b = unit(shape, 10_f64.powf(log_bi));
        let exact = seconds_to(&b, left).unwrap();
        prop_assert!((centre_c(&b, exact) - left).abs() < 1e-9);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn volumes_find_the_same_times(shape in shapes(), log_bi in -3.0..6.0_f64, left in 0.003..0.99_f64) {
        let b = unit(shape, 10_f64.powf(log_bi));
        let at = seconds_to_by_volumes(&b, left).unwrap();
        prop_assert!((centre_c(&b, at) - left).abs() < 1e-3, "{} at {}", centre_c(&b, at), at);
    }

    #[test]
    fn a_block_only_falls_while_it_is_in_the_cold(depth in 0.01..0.15_f64, width in 0.05..0.3_f64, h in 3.0..200.0_f64) {
        let mut block = Block::new(Round::Rectangle(width, width), depth, 0.5, 3.9e6, 80.0);
        let mut before = 80.0;
        for (minutes, around) in [(30.0, 20.0), (30.0, 10.0), (240.0, 4.0)] {
            block.enter(&phase(minutes * 60.0, around, open(h)));
            for _ in 0..4 {
                block.advance(minutes * 15.0);
                let now = block.warmest();
                prop_assert!(now <= before + 0.02 && now >= around - 0.02, "{} after {}", now, before);
                before = now;
            }
        }
    }
}
