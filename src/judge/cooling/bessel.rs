//! Bessel functions of the first kind, orders 0 and 1, for arguments from 0 up.
//!
//! Abramowitz and Stegun, Handbook of Mathematical Functions: below 25 by recurrence downwards (section 9.12, example 1),
//! from there by Hankel's asymptotic expansion (9.2.5 to 9.2.10). Both are good to about 1e-14.

/// J0 and J1 of `x`. A negative or missing `x` is taken as its size.
pub(super) fn j0_j1(x: f64) -> (f64, f64) {
    let x = x.abs();
    if x < 1e-8 {
        (1.0, x / 2.0)
    } else if x < 25.0 {
        by_recurrence(x)
    } else {
        by_asymptotics(x)
    }
}

/// From an order so high that J is nothing, down to 0: J(n-1) = 2n/x J(n) - J(n+1), made true by 1 = J0 + 2 (J2 + J4 + ...).
fn by_recurrence(x: f64) -> (f64, f64) {
    // For x under 25 an order of 24 + 1.5 x leaves J below 1e-17 of its largest; even, so that the sum closes at J0.
    let start = 2 * ((12.0 + 0.75 * x) as u32) + 2;
    let (mut above, mut here) = (0.0_f64, 1e-30_f64);
    let mut sum = 0.0;
    let mut order = start;
    let mut first = 0.0;
    while order > 0 {
        if order.is_multiple_of(2) {
            sum += 2.0 * here;
        }
        if order == 1 {
            first = here;
        }
        let below = 2.0 * f64::from(order) / x * here - above;
        (above, here) = (here, below);
        order -= 1;
        if here.abs() > 1e200 {
            above *= 1e-200;
            here *= 1e-200;
            sum *= 1e-200;
            first *= 1e-200;
        }
    }
    sum += here;
    (here / sum, first / sum)
}

fn by_asymptotics(x: f64) -> (f64, f64) {
    let scale = (2.0 / (std::f64::consts::PI * x)).sqrt();
    let (sine, cosine) = x.sin_cos();
    let root_half = std::f64::consts::FRAC_1_SQRT_2;
    // cos and sin of x - pi/4, and of x - 3 pi/4.
    let (c0, s0) = (root_half * (cosine + sine), root_half * (sine - cosine));
    let (c1, s1) = (s0, -c0);
    let (p0, q0) = hankel(0.0, x);
    let (p1, q1) = hankel(4.0, x);
    (scale * (p0 * c0 - q0 * s0), scale * (p1 * c1 - q1 * s1))
}

/// P and Q of Hankel's expansion; `mu` is four times the order squared.
fn hankel(mu: f64, x: f64) -> (f64, f64) {
    let (mut p, mut q) = (0.0, 0.0);
    let mut term = 1.0_f64;
    for k in 0..60_u32 {
        match k % 4 {
            0 => p += term,
            1 => q += term,
            2 => p -= term,
            _ => q -= term,
        }
        let odd = f64::from(2 * k + 1);
        let next = term * (mu - odd * odd) / (f64::from(k + 1) * 8.0 * x);
        if next.abs() < 1e-17 || next.abs() > term.abs() {
            break;
        }
        term = next;
    }
    (p, q)
}

#[cfg(test)]
mod tests {
    use super::j0_j1;

    /// Abramowitz and Stegun, table 9.1 (ten figures), and the first zeros of table 9.5.
    #[test]
    fn the_published_tables_are_met() {
        for (x, j0, j1) in [
            (0.0, 1.0, 0.0),
            (0.5, 0.938_469_807_2, 0.242_268_457_7),
            (1.0, 0.765_197_686_6, 0.440_050_585_7),
            (2.0, 0.223_890_779_1, 0.576_724_807_8),
            (5.0, -0.177_596_771_3, -0.327_579_137_6),
            (10.0, -0.245_935_764_5, 0.043_472_746_2),
        ] {
            let (a, b) = j0_j1(x);
            assert!((a - j0).abs() < 6e-11 && (b - j1).abs() < 6e-11, "{x}: {a} {b}");
        }
        for zero in [2.404_825_557_695_773, 5.520_078_110_286_311, 30.634_606_468_431_98] {
            assert!(j0_j1(zero).0.abs() < 1e-13, "J0({zero}) = {}", j0_j1(zero).0);
        }
        for zero in [3.831_705_970_207_512, 7.015_586_669_815_619, 32.189_679_910_974_4] {
            assert!(j0_j1(zero).1.abs() < 1e-13, "J1({zero}) = {}", j0_j1(zero).1);
        }
    }

    #[test]
    fn both_ways_meet_where_one_takes_over() {
        let (a0, a1) = super::by_recurrence(25.0);
        let (b0, b1) = super::by_asymptotics(25.0);
        assert!((a0 - b0).abs() < 1e-14 && (a1 - b1).abs() < 1e-14);
        // J1 is the slope of -J0.
        for x in [0.3, 3.0, 20.0, 24.999, 25.001, 80.0, 4_000.0] {
            let step = 1e-5;
            let slope = (j0_j1(x - step).0 - j0_j1(x + step).0) / (2.0 * step);
            assert!((slope - j0_j1(x).1).abs() < 1e-8, "{x}");
        }
    }
}
