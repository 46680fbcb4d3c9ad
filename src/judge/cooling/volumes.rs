//! The same body cut into small volumes and marched through time: for faces that differ and surroundings that change.
//!
//! Finite volumes, so that what leaves one volume enters the next and no heat is lost on the way; smaller towards a face that
//! cools, where the temperature bends most. In time TR-BDF2 (Bank et al. 1985): a trapezium followed by a backward difference
//! of second order, stable for the sudden cold of a bath, with steps as long as the error allows (Hosea and Shampine 1996).

use super::body::{Body, Shape};
use std::f64::consts::{FRAC_PI_2, PI, SQRT_2};

/// How a face gives off heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// W/(m2 K); 0 lets nothing through.
    pub h: f64,
}

impl Face {
    /// A face that lets nothing through; also the middle of what is the same on both sides.
    pub const SHUT: Face = Face { h: 0.0 };
}

/// Volumes across the half thickness where nothing else is asked for: 1e-4 of the difference and better.
const FINE: usize = 80;
/// The error that one step may make, as a share of the difference that is left.
const STEP_ERROR: f64 = 1e-5;
/// The first part of TR-BDF2's step, and the weights of its three slopes.
const GAMMA: f64 = 2.0 - SQRT_2;
const D: f64 = GAMMA / 2.0;
const W: f64 = SQRT_2 / 4.0;

/// A body in small volumes along the one direction in which its heat flows, with a temperature each.
///
/// Good for Biot numbers from 1e-9: below, the rounding of the temperatures themselves outweighs what leaves the surface in a
/// step. [`Body::stirred_seconds_to`] and the series have no such end.
#[derive(Clone, Debug, PartialEq)]
pub struct Volumes {
    /// J/K of each, by the area of the outer face (a slab), by 2 pi of arc (a cylinder), by 4 pi (a sphere).
    heat_capacity: Vec<f64>,
    /// W/K from each to the next, in the same measure.
    conductance: Vec<f64>,
    /// Where each has its temperature, in m from the inner face.
    place: Vec<f64>,
    /// Area, and distance over k from the face to the nearest temperature: inner, outer.
    faces: [(f64, f64); 2],
    /// W/K through the inner and the outer face as they are now.
    open: [f64; 2],
    temperature: Vec<f64>,
    around: f64,
    seconds: f64,
    lost: f64,
    /// The step that the error allowed last; 0 where it is to be found anew.
    step: f64,
    step_error: f64,
    /// What temperatures are measured against: the largest difference that has been met.
    span: f64,
    work: Work,
}

/// Room for one step, kept so that none is asked for again.
#[derive(Clone, Debug, Default, PartialEq)]
struct Work {
    mid: Vec<f64>,
    end: Vec<f64>,
    flow: [Vec<f64>; 3],
    right: Vec<f64>,
    upper: Vec<f64>,
    error: Vec<f64>,
}

impl Volumes {
    /// A checked body, cut from its middle to its surface; the middle is [`Face::SHUT`].
    pub fn of(body: &Body) -> Volumes {
        let edges = (0..=FINE).map(|i| body.half_thickness_m * (FRAC_PI_2 * i as f64 / FINE as f64).sin());
        let mut volumes = Volumes::cut(body.shape, &edges.collect::<Vec<_>>(), body.k, body.rho * body.cp, body.start_c);
        volumes.surround(body.around_c, Face::SHUT, Face { h: body.h });
        volumes
    }

    /// A layer of this thickness in `count` volumes, its two faces apart.
    pub fn layer(thickness_m: f64, count: usize, k: f64, rho_cp: f64, start_c: f64) -> Volumes {
        let count = count.max(2);
        let edge = |i: usize| thickness_m * 0.5 * (1.0 - (PI * i as f64 / count as f64).cos());
        Volumes::cut(Shape::Slab, &(0..=count).map(edge).collect::<Vec<_>>(), k, rho_cp, start_c)
    }

    /// Half of what is the same on both sides, in `count` volumes from its middle to its surface.
    pub fn half(shape: Shape, half_thickness_m: f64, count: usize, k: f64, rho_cp: f64, start_c: f64) -> Volumes {
        let count = count.max(2);
        let edge = |i: usize| half_thickness_m * (FRAC_PI_2 * i as f64 / count as f64).sin();
        Volumes::cut(shape, &(0..=count).map(edge).collect::<Vec<_>>(), k, rho_cp, start_c)
    }

    fn cut(shape: Shape, edges: &[f64], k: f64, rho_cp: f64, start_c: f64) -> Volumes {
        let power = shape.surface() as i32;
        let area = |x: f64| x.powi(power - 1);
        let place: Vec<f64> = edges.windows(2).map(|e| 0.5 * (e[0] + e[1])).collect();
        let heat_capacity = edges.windows(2).map(|e| rho_cp * (e[1].powi(power) - e[0].powi(power)) / f64::from(power));
        let inner = place.windows(2).zip(&edges[1..]);
        let (first, last) = (place.first().copied().unwrap_or(0.0), place.last().copied().unwrap_or(0.0));
        let end = edges.last().copied().unwrap_or(0.0);
        Volumes {
            heat_capacity: heat_capacity.collect(),
            conductance: inner.map(|(p, &edge)| k * area(edge) / (p[1] - p[0])).collect(),
            faces: [(area(0.0), first / k), (area(end), (end - last) / k)],
            open: [0.0; 2],
            temperature: vec![start_c; place.len()],
            place,
            around: start_c,
            seconds: 0.0,
            lost: 0.0,
            step: 0.0,
            step_error: STEP_ERROR,
            span: 0.0,
            work: Work::default(),
        }
    }

    /// Lets a step err by this share of the difference, in place of 1e-5.
    #[must_use]
    pub fn rougher(mut self, step_error: f64) -> Volumes {
        self.step_error = step_error;
        self
    }

    /// Puts it into other surroundings from now on: one temperature, a coefficient for each face.
    pub fn surround(&mut self, around_c: f64, inner: Face, outer: Face) {
        self.around = around_c;
        for (open, (face, (area, way))) in self.open.iter_mut().zip([inner, outer].into_iter().zip(self.faces)) {
            *open = if face.h > 0.0 { area / (1.0 / face.h + way) } else { 0.0 };
        }
        self.step = 0.0;
        let far = self.temperature.iter().map(|t| (t - around_c).abs()).fold(0.0, f64::max);
        self.span = self.span.max(far);
    }

    /// Seconds since the start.
    pub fn seconds(&self) -> f64 {
        self.seconds
    }

    /// The temperature of each volume, from the inner face.
    pub fn temperatures(&self) -> &[f64] {
        &self.temperature
    }

    /// The temperature at the inner face where that is the middle of what is the same on both sides: a parabola through the
    /// two volumes beside it.
    pub fn middle(&self) -> f64 {
        match (&self.place[..], &self.temperature[..]) {
            ([a, b, ..], [s, t, ..]) => s + (s - t) * a * a / (b * b - a * a),
            (_, [only, ..]) => *only,
            _ => self.around,
        }
    }

    /// The temperature of all of it, stirred.
    pub fn mean(&self) -> f64 {
        let whole: f64 = self.heat_capacity.iter().sum();
        self.temperature.iter().zip(&self.heat_capacity).map(|(t, c)| t * c).sum::<f64>() / whole
    }

    /// Heat held above 0 C, in J by the measure of the volumes (m2 of a slab's face, ...).
    pub fn heat(&self) -> f64 {
        self.temperature.iter().zip(&self.heat_capacity).map(|(t, c)| t * c).sum()
    }

    /// Heat that has left through the faces, in the same measure.
    pub fn heat_lost(&self) -> f64 {
        self.lost
    }

    /// Marches on by so many seconds.
    pub fn advance(&mut self, seconds: f64) {
        self.march(seconds, |_, _| false);
    }

    /// Marches until `done` says so of a step's ends (seconds and the slope and height of the middle), or the time is up.
    fn march(&mut self, seconds: f64, mut done: impl FnMut(Moment, Moment) -> bool) {
        if self.open == [0.0; 2] || self.span == 0.0 {
            self.seconds += seconds.max(0.0);
            return;
        }
        let end = self.seconds + seconds;
        let mut before = self.moment();
        while self.seconds < end {
            let left = end - self.seconds;
            if self.step == 0.0 {
                // The time in which the volume at a face would follow what is around it.
                let edges = [0, self.temperature.len() - 1].map(|i| (self.heat_capacity[i], self.total(i)));
                self.step = edges.iter().map(|(c, g)| 0.1 * c / g).fold(f64::MAX, f64::min);
            }
            // A last crumb of a step would be nothing but rounding.
            let (step, whole) = if self.step >= left * (1.0 - 1e-9) { (left, true) } else { (self.step, false) };
            let error = self.try_step(step);
            let next = (0.9 * error.powf(-1.0 / 3.0)).clamp(0.2, 3.0);
            if error > 1.0 {
                self.step = step * next;
                continue;
            }
            // A step cut short by the end says nothing against longer ones.
            self.step = if whole { self.step.max(step * next) } else { step * next };
            self.seconds = if whole { end } else { self.seconds + step };
            let now = self.moment();
            if done(before, now) {
                return;
            }
            before = now;
        }
    }

    /// W/K from a volume to all that is beside it.
    fn total(&self, i: usize) -> f64 {
        let last = self.temperature.len() - 1;
        let mut sum = if i > 0 { self.conductance[i - 1] } else { self.open[0] };
        sum += if i < last { self.conductance[i] } else { 0.0 };
        sum + if i == last { self.open[1] } else { 0.0 }
    }

    fn moment(&self) -> Moment {
        // The middle's own slope, by the same parabola.
        let slope = |i: usize| {
            let t = &self.temperature;
            let from_inner =
                if i > 0 { self.conductance[i - 1] * (t[i - 1] - t[i]) } else { self.open[0] * (self.around - t[i]) };
            let from_outer = match self.conductance.get(i) {
                Some(g) => g * (t[i + 1] - t[i]),
                None => self.open[1] * (self.around - t[i]),
            };
            (from_inner + from_outer) / self.heat_capacity[i]
        };
        let slope = match &self.place[..] {
            [a, b, ..] => {
                let (s, t) = (slope(0), slope(1));
                s + (s - t) * a * a / (b * b - a * a)
            }
            _ => slope(0),
        };
        Moment { seconds: self.seconds, middle: self.middle(), slope }
    }

    /// One step; taken where its error, by what is allowed, comes to 1 or less. The error is given back.
    fn try_step(&mut self, step: f64) -> f64 {
        let mut work = std::mem::take(&mut self.work);
        let n = self.temperature.len();
        for room in [&mut work.mid, &mut work.end, &mut work.right, &mut work.upper, &mut work.error] {
            room.resize(n, 0.0);
        }
        work.flow.iter_mut().for_each(|f| f.resize(n, 0.0));
        self.outflow(&self.temperature, &mut work.flow[0]);
        for i in 0..n {
            work.right[i] = self.heat_capacity[i] * self.temperature[i] - D * step * work.flow[0][i];
        }
        self.solve(step, true, &work.right, &mut work.upper, &mut work.mid);
        self.outflow(&work.mid, &mut work.flow[1]);
        for i in 0..n {
            work.right[i] = self.heat_capacity[i] * self.temperature[i] - step * W * (work.flow[0][i] + work.flow[1][i]);
        }
        self.solve(step, true, &work.right, &mut work.upper, &mut work.end);
        self.outflow(&work.end, &mut work.flow[2]);
        for i in 0..n {
            let [a, b, c] = [work.flow[0][i], work.flow[1][i], work.flow[2][i]];
            work.right[i] = -step * ((4.0 * W - 1.0) / 3.0 * a - b / 3.0 + 2.0 * D / 3.0 * c);
        }
        self.solve(step, false, &work.right, &mut work.upper, &mut work.error);
        // Measured against what is left of the difference, so that the last degrees are as sure as the first.
        let left = self.temperature.iter().fold(0.0, |most: f64, t| most.max((t - self.around).abs()));
        let error =
            work.error.iter().fold(0.0, |most: f64, e| most.max(e.abs())) / (self.step_error * left.max(1e-4 * self.span));
        if error <= 1.0 {
            let out = |t: &[f64]| self.open[0] * (t[0] - self.around) + self.open[1] * (t[n - 1] - self.around);
            self.lost += step * (W * (out(&self.temperature) + out(&work.mid)) + D * out(&work.end));
            std::mem::swap(&mut self.temperature, &mut work.end);
        }
        self.work = work;
        error.max(1e-12)
    }

    /// What flows out of each volume at these temperatures, in W.
    fn outflow(&self, t: &[f64], flow: &mut [f64]) {
        let last = t.len() - 1;
        flow.fill(0.0);
        for (i, g) in self.conductance.iter().enumerate() {
            let q = g * (t[i] - t[i + 1]);
            flow[i] += q;
            flow[i + 1] -= q;
        }
        flow[0] += self.open[0] * (t[0] - self.around);
        flow[last] += self.open[1] * (t[last] - self.around);
    }

    /// Solves (M + d dt K) x = right by elimination; what is around feeds the faces where `fed`.
    ///
    /// Each pivot is kept as what a volume holds and loses beyond its link to the next, so that nothing is ever subtracted:
    /// a link a million times stronger than the rest costs no figures.
    fn solve(&self, step: f64, fed: bool, right: &[f64], upper: &mut [f64], x: &mut [f64]) {
        let last = right.len() - 1;
        let s = D * step;
        let feed = if fed { s * self.around } else { 0.0 };
        let (mut own, mut r) = (self.heat_capacity[0] + s * self.open[0], right[0] + feed * self.open[0]);
        for i in 0..=last {
            if i == last {
                own += s * self.open[1];
                r += feed * self.open[1];
            }
            let link = if i < last { s * self.conductance[i] } else { 0.0 };
            let pivot = own + link;
            (upper[i], x[i]) = (link / pivot, r / pivot);
            if i < last {
                own = self.heat_capacity[i + 1] + upper[i] * own;
                r = right[i + 1] + upper[i] * r;
            }
        }
        for i in (0..last).rev() {
            x[i] += upper[i] * x[i + 1];
        }
    }
}

/// The middle at one instant.
#[derive(Clone, Copy, Debug)]
struct Moment {
    seconds: f64,
    middle: f64,
    slope: f64,
}

/// When the middle passes `c` between two moments, on the cubic through both heights and slopes.
fn crossing(a: Moment, b: Moment, c: f64) -> f64 {
    let width = b.seconds - a.seconds;
    let height = |s: f64| {
        let (t, u) = (s, 1.0 - s);
        u * u * (1.0 + 2.0 * t) * a.middle + t * t * (3.0 - 2.0 * t) * b.middle + width * t * u * (u * a.slope - t * b.slope)
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if (height(mid) - c > 0.0) == (a.middle - c > 0.0) { low = mid } else { high = mid }
    }
    a.seconds + width * 0.5 * (low + high)
}

/// How warm the middle of a checked body is after so many seconds, by volumes.
pub fn centre_c_by_volumes(body: &Body, seconds: f64) -> f64 {
    centres_c_by_volumes(body, &[seconds])[0]
}

/// The same at many times, in any order, in one march.
pub fn centres_c_by_volumes(body: &Body, seconds: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..seconds.len()).collect();
    order.sort_by(|a, b| seconds[*a].total_cmp(&seconds[*b]));
    let mut volumes = Volumes::of(body);
    let mut out = vec![body.start_c; seconds.len()];
    for i in order {
        volumes.advance(seconds[i] - volumes.seconds());
        out[i] = volumes.middle();
    }
    out
}

/// Seconds until the middle of a checked body is at `to_c`, by volumes: 0 where it starts there, nothing where it never is.
pub fn seconds_to_by_volumes(body: &Body, to_c: f64) -> Option<f64> {
    seconds_to_each_by_volumes(body, &[to_c])[0]
}

/// The same for many temperatures, in any order, in one march.
pub fn seconds_to_each_by_volumes(body: &Body, to_c: &[f64]) -> Vec<Option<f64>> {
    let mut out: Vec<Option<f64>> = to_c.iter().map(|c| (*c == body.start_c).then_some(0.0)).collect();
    if body.h <= 0.0 {
        return out;
    }
    // What is reached, the first to be reached first.
    let mut wanted: Vec<(f64, usize)> = to_c
        .iter()
        .enumerate()
        .filter_map(|(i, c)| body.share_left(*c).filter(|s| *s > 0.0 && *s < 1.0).map(|left| (left, i)))
        .collect();
    wanted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let Some((last, _)) = wanted.last() else { return out };
    // Slower than stirred, and slower than with a surface as cold as what is around: both together, with room to spare.
    let enough = (2.0 - last.ln()) * body.seconds_per_fourier() * (1.0 + 1.0 / body.biot());
    let mut next = wanted.into_iter().peekable();
    Volumes::of(body).march(enough, |a, b| {
        while let Some((_, i)) = next.peek().filter(|(_, i)| (a.middle - to_c[*i]) * (b.middle - to_c[*i]) <= 0.0) {
            out[*i] = Some(crossing(a, b, to_c[*i]));
            next.next();
        }
        next.peek().is_none()
    });
    out
}
