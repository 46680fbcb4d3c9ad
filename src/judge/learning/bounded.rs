//! The lowest point of a paraboloid of which some coordinates may not sink below nothing.

/// The lowest point of `1/2 d' H d + g' d` around `z` (`d` the way from there) with the first `bounded` coordinates at 0 or
/// more. `H` is symmetric and positive definite, `z` within the bounds.
///
/// Coordinates at their bound are held there; the rest goes to its lowest point, or as far as the first that meets its bound;
/// one that would rather leave its bound is let go (the active set method for convex paraboloids, Nocedal & Wright 2006,
/// Numerical Optimization, section 16.5).
pub(super) fn least_of_square(hessian: &[Vec<f64>], gradient: &[f64], z: &[f64], bounded: usize) -> Vec<f64> {
    let n = z.len();
    let mut at = z.to_vec();
    let mut held: Vec<bool> = (0..n).map(|i| i < bounded && at[i] <= 0.0).collect();
    let slope_at = |point: &[f64], i: usize| -> f64 {
        gradient[i] + hessian[i].iter().zip(point.iter().zip(z)).map(|(h, (p, from))| h * (p - from)).sum::<f64>()
    };
    // Each pass holds one more or lets one go; a cycle can only come of rounding, and ends at a point as good.
    for _ in 0..20 * (n + 2) {
        let free: Vec<usize> = (0..n).filter(|i| !held[*i]).collect();
        let slopes: Vec<f64> = free.iter().map(|i| -slope_at(&at, *i)).collect();
        let way = solve(hessian, &free, &slopes);
        let mut share = 1.0;
        let mut meets = None;
        for (&i, step) in free.iter().zip(&way) {
            if i < bounded && at[i] + step < 0.0 {
                let until = at[i] / -step;
                if until < share {
                    (share, meets) = (until, Some(i));
                }
            }
        }
        for (&i, step) in free.iter().zip(&way) {
            at[i] += share * step;
        }
        if let Some(i) = meets {
            at[i] = 0.0;
            held[i] = true;
            continue;
        }
        let scale = gradient.iter().fold(1.0, |most: f64, g| most.max(g.abs()));
        let eager = (0..n).filter(|i| held[*i]).map(|i| (slope_at(&at, i), i)).min_by(|a, b| a.0.total_cmp(&b.0));
        match eager {
            Some((slope, i)) if slope < -1e-12 * scale => held[i] = false,
            _ => break,
        }
    }
    at
}

/// Solves `H x = right` on the coordinates `free`, by Cholesky's method.
fn solve(hessian: &[Vec<f64>], free: &[usize], right: &[f64]) -> Vec<f64> {
    let n = free.len();
    let mut lower = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            let rest = hessian[free[i]][free[j]] - known;
            // Rounding may bring a tiny pivot to nothing; the step is then cut short by whoever asks.
            lower[i][j] = if i == j { rest.max(f64::MIN_POSITIVE).sqrt() } else { rest / lower[j][j] };
        }
    }
    let mut x = right.to_vec();
    for i in 0..n {
        let known: f64 = (0..i).map(|k| lower[i][k] * x[k]).sum();
        x[i] = (x[i] - known) / lower[i][i];
    }
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|k| lower[k][i] * x[k]).sum();
        x[i] = (x[i] - known) / lower[i][i];
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_free_paraboloid_ends_at_its_lowest_point() {
        // 2 x + y = 1, x + 3 y = 2: x = 0.2, y = 0.6.
        let at = least_of_square(&[vec![2.0, 1.0], vec![1.0, 3.0]], &[-1.0, -2.0], &[0.0, 0.0], 2);
        assert!((at[0] - 0.2).abs() < 1e-12 && (at[1] - 0.6).abs() < 1e-12, "{at:?}");
    }

    #[test]
    fn a_coordinate_stops_at_its_bound_and_the_rest_goes_on() {
        let at = least_of_square(&[vec![2.0, 1.0], vec![1.0, 3.0]], &[2.0, -3.0], &[1.0, 0.0], 1);
        // Free it would end at x = -1.8 + 1: held at 0, y follows from 3 y = 3 + 1 (the way from x = 1 to 0).
        assert_eq!(at[0], 0.0);
        assert!((at[1] - 4.0 / 3.0).abs() < 1e-12, "{at:?}");
    }

    #[test]
    fn a_coordinate_at_its_bound_is_let_go_where_it_would_rather_rise() {
        let at = least_of_square(&[vec![1.0, 0.0], vec![0.0, 1.0]], &[-0.5, 0.5], &[0.0, 0.0], 2);
        assert_eq!(at, [0.5, 0.0]);
    }
}
