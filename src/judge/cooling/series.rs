//! The exact answer for surroundings that stay as they are: a sum of shapes that each fade at their own pace.
//!
//! Carslaw and Jaeger, Conduction of Heat in Solids; Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, chapter on
//! transient conduction. The share of the difference left in the middle is `sum C exp(-zeta^2 Fo)`, with the roots `zeta` of
//!
//! * slab: `zeta tan zeta = Bi`, `C = 4 sin zeta / (2 zeta + sin 2 zeta)`
//! * long cylinder: `zeta J1(zeta) = Bi J0(zeta)`, `C = 2 J1 / (zeta (J0^2 + J1^2))`
//! * sphere: `1 - zeta cot zeta = Bi`, `C = 4 (sin zeta - zeta cos zeta) / (2 zeta - sin 2 zeta)`
//!
//! and the share left in the whole body the same sum with each `C` times the mean of its shape.

use super::{
    bessel::j0_j1,
    body::{Body, Shape},
};
use std::f64::consts::PI;

/// One fading shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// The root; the shape fades as `exp(-zeta^2 Fo)`.
    pub zeta: f64,
    /// Its weight in the middle.
    pub centre: f64,
    /// Its weight at the surface.
    pub surface: f64,
    /// Its weight in the mean of the whole body.
    pub mean: f64,
}

/// Fourier number below which the middle still knows of nothing: what has left it by then is under 1e-16 of the difference.
/// (A half-infinite body is down by erfc(1 / (2 sqrt Fo)) at depth L, 4e-20 at Fo 0.003; three such fronts meet in a sphere.)
const UNTOUCHED: f64 = 0.003;
/// Modes beyond which nothing is left after [`UNTOUCHED`]: the 40th fades by exp(-(39 pi)^2 0.003), under 1e-19.
const ENOUGH: usize = 40;

/// The first `count` modes of a shape at a Biot number over 0, slowest first.
pub fn modes(shape: Shape, biot: f64, count: usize) -> Vec<Mode> {
    (1..=count).map(|n| mode(shape, biot, n)).collect()
}

fn mode(shape: Shape, biot: f64, n: usize) -> Mode {
    let zeta = root(shape, biot, n);
    let (sine, cosine) = zeta.sin_cos();
    match shape {
        Shape::Slab => {
            let centre = 4.0 * sine / (2.0 * zeta + (2.0 * zeta).sin());
            Mode { zeta, centre, surface: centre * cosine, mean: centre * sine / zeta }
        }
        Shape::Cylinder => {
            let (j0, j1) = j0_j1(zeta);
            let centre = 2.0 * j1 / (zeta * (j0 * j0 + j1 * j1));
            Mode { zeta, centre, surface: centre * j0, mean: centre * 2.0 * j1 / zeta }
        }
        Shape::Sphere => {
            // Both sides lose their figures in a subtraction where zeta is small.
            let (rise, width) = (sine_less(zeta), 2.0 * zeta - (2.0 * zeta).sin());
            let width = if zeta < 0.05 { 8.0 * zeta.powi(3) / 6.0 * (1.0 - zeta * zeta / 5.0) } else { width };
            let centre = 4.0 * rise / width;
            Mode { zeta, centre, surface: centre * sine / zeta, mean: centre * 3.0 * rise / zeta.powi(3) }
        }
    }
}

/// `sin z - z cos z`.
fn sine_less(z: f64) -> f64 {
    if z < 0.05 {
        let s = z * z;
        z * s * (1.0 / 3.0 - s / 30.0 + s * s / 840.0)
    } else {
        z.sin() - z * z.cos()
    }
}

/// The `n`-th root, from 1.
fn root(shape: Shape, biot: f64, n: usize) -> f64 {
    // Divided by 1 + Bi, so that neither a very small nor a very large Biot number drowns the other side.
    let (own, other) = (1.0 / (1.0 + biot), biot / (1.0 + biot));
    let place = n as f64;
    let (low, high) = match shape {
        Shape::Slab => ((place - 1.0) * PI, (place - 0.5) * PI),
        Shape::Cylinder => (j1_zero(n - 1), j0_zero(n)),
        Shape::Sphere => ((place - 1.0) * PI, place * PI),
    };
    // Each changes its sign just once between the ends. The slope comes with the value.
    let value = |z: f64| -> (f64, f64) {
        match shape {
            Shape::Slab => {
                let (s, c) = z.sin_cos();
                (own * z * s - other * c, own * (s + z * c) + other * s)
            }
            Shape::Cylinder => {
                let (j0, j1) = j0_j1(z);
                (own * z * j1 - other * j0, own * z * j0 + other * j1)
            }
            Shape::Sphere => {
                let (s, c) = z.sin_cos();
                (own * sine_less(z) - other * s, own * z * s - other * c)
            }
        }
    };
    // The lumped root is near for a small Biot number; else the middle.
    let guess = if n == 1 { (shape.surface() * biot).sqrt().min(0.8 * high) } else { 0.5 * (low + high) };
    newton((low, high, guess), n.is_multiple_of(2), value)
}

/// Newton's steps, halved back into the bracket whenever one leaves it. Of all three equations the first, the third and so
/// on rise from below 0 at the left end, the others fall; asked of the figures themselves a small Biot number would drown it.
fn newton((mut low, mut high, mut at): (f64, f64, f64), falls: bool, value: impl Fn(f64) -> (f64, f64)) -> f64 {
    for _ in 0..200 {
        let (f, slope) = value(at);
        if f == 0.0 {
            return at;
        }
        if (f > 0.0) == falls {
            low = at
        } else {
            high = at
        }
        let step = at - f / slope;
        let next = if step > low && step < high { step } else { 0.5 * (low + high) };
        if (next - at).abs() <= 1e-15 * at.abs() {
            return next;
        }
        at = next;
    }
    at
}

/// The `n`-th zero of J0: McMahon's expansion (Abramowitz and Stegun 9.5.12), made sharp by Newton.
fn j0_zero(n: usize) -> f64 {
    let b = (n as f64 - 0.25) * PI;
    let mut z = b + 1.0 / (8.0 * b) - 124.0 / (3.0 * (8.0 * b).powi(3));
    for _ in 0..4 {
        let (j0, j1) = j0_j1(z);
        z += j0 / j1;
    }
    z
}

/// The `n`-th zero of J1, 0 being the zeroth.
fn j1_zero(n: usize) -> f64 {
    if n == 0 {
        return 0.0;
    }
    let b = (n as f64 + 0.25) * PI;
    let mut z = b - 3.0 / (8.0 * b) + 36.0 / (3.0 * (8.0 * b).powi(3));
    for _ in 0..4 {
        let (j0, j1) = j0_j1(z);
        z -= j1 / (j0 - j1 / z);
    }
    z
}

/// The series of one body, with its modes found once.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    body: Body,
    /// Nothing where no heat passes the surface.
    modes: Vec<Mode>,
}

impl Series {
    /// The series of a body that was checked. A body that cannot be reckoned with gives figures without meaning, but no panic.
    pub fn new(body: &Body) -> Series {
        let biot = body.biot();
        let modes = if biot > 0.0 && biot.is_finite() { modes(body.shape, biot, ENOUGH) } else { Vec::new() };
        Series { body: *body, modes }
    }

    fn left(&self, fourier: f64, weight: impl Fn(&Mode) -> f64) -> f64 {
        if self.modes.is_empty() {
            return 1.0;
        }
        let mut sum = 0.0;
        for mode in &self.modes {
            let fade = (-mode.zeta * mode.zeta * fourier).exp();
            sum += weight(mode) * fade;
            if fade < 1e-18 {
                break;
            }
        }
        sum
    }

    /// The share of the difference left in the middle.
    pub fn centre_left(&self, fourier: f64) -> f64 {
        if fourier <= UNTOUCHED { 1.0 } else { self.left(fourier, |m| m.centre).clamp(0.0, 1.0) }
    }

    /// The share of the heat that is still to leave. Before Fo 0.003 the sum is cut short, by up to 5e-3 at Fo 0.
    pub fn heat_left(&self, fourier: f64) -> f64 {
        if fourier <= 0.0 { 1.0 } else { self.left(fourier, |m| m.mean).clamp(0.0, 1.0) }
    }

    /// How warm the middle is after so many seconds.
    pub fn centre_c(&self, seconds: f64) -> f64 {
        let b = &self.body;
        b.around_c + (b.start_c - b.around_c) * self.centre_left(seconds / b.seconds_per_fourier())
    }

    /// Seconds until the middle is at `to_c`: 0 where it starts there, nothing where it never is.
    pub fn seconds_to(&self, to_c: f64) -> Option<f64> {
        if to_c == self.body.start_c {
            return Some(0.0);
        }
        let want = self.body.share_left(to_c).filter(|left| *left > 0.0 && *left < 1.0)?;
        let first = self.modes.first()?;
        let pace = first.zeta * first.zeta;
        // The middle only ever falls. By the slowest mode alone it would be there at `late` at the latest, since the first
        // weight is the largest and the others together take from it.
        let (mut low, mut high) = (UNTOUCHED, (first.centre / want).ln() / pace);
        if high <= low || self.centre_left(high) > want {
            high = high.max(low) * 2.0 + 1.0 / pace;
        }
        let mut at = high.max(low);
        for _ in 0..200 {
            let theta = self.centre_left(at);
            if theta > want {
                low = at
            } else {
                high = at
            }
            let slope = -self.left(at, |m| m.centre * m.zeta * m.zeta);
            // In the logarithm the fall is nearly straight.
            let step = at - theta * (theta / want).ln() / slope;
            let next = if step > low && step < high { step } else { 0.5 * (low + high) };
            if (next - at).abs() <= 1e-14 * at {
                at = next;
                break;
            }
            at = next;
        }
        let seconds = at * self.body.seconds_per_fourier();
        // Nothing that an age of the world is too short for.
        seconds.is_finite().then_some(seconds)
    }
}

/// How warm the middle of a body is after so many seconds, by the series.
pub fn centre_c(body: &Body, seconds: f64) -> f64 {
    Series::new(body).centre_c(seconds)
}

/// Seconds until the middle of a body is at `to_c`, by the series: 0 where it starts there, nothing where it never is.
pub fn seconds_to(body: &Body, to_c: f64) -> Option<f64> {
    Series::new(body).seconds_to(to_c)
}
