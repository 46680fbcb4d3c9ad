//! Finding good prices: a walk along subgradients.

use super::{
    prices::Prices,
    relaxation::{DayRoom, Relaxation},
    table::{DishNo, Table},
    watch::Watch,
};

/// How a walk goes.
pub(super) struct Walk {
    /// The most steps.
    pub steps: usize,
    /// First length of a step, as a share of the way to the best arrangement known.
    pub stride: f64,
    /// After so many steps without a gain the stride is halved.
    pub patience: usize,
    /// Where the stride falls below this the walk ends.
    pub least_stride: f64,
}

/// What a walk found.
pub(super) struct Tuned {
    /// The best bound; none if there is no arrangement at all.
    pub bound: Option<i64>,
    pub prices: Prices,
    /// How many steps were taken.
    pub steps: usize,
    /// The last arrangements met on the way.
    pub ways: Vec<Vec<DishNo>>,
}

/// How many arrangements are kept of a walk.
const WAYS: usize = 40;

/// Walks from `start` to better prices for `relaxation`, with the best cost known as the goal. Each arrangement met on the
/// way that keeps all rules is shown to `watch`.
pub(super) fn tune(table: &Table, relaxation: &mut impl Relaxation, start: &Prices, walk: &Walk, watch: &mut Watch) -> Tuned {
    let shape = Shape::new(table);
    let mut at = shape.spread(table, start);
    let mut best = Tuned { bound: None, prices: start.clone(), steps: 0, ways: Vec::new() };
    let mut heading = vec![0.0; at.len()];
    let (mut stride, mut idle) = (walk.stride, 0);
    for step in 0..walk.steps {
        best.steps = step + 1;
        let prices = shape.prices(table, &at);
        let Some((value, path)) = relaxation.cheapest(table, &prices) else { return best };
        let bound = value + prices.constant(table);
        if best.bound.is_none_or(|b| bound > b) {
            let gain = best.bound.map_or(i64::MAX, |b| bound - b);
            best.bound = Some(bound);
            best.prices = prices;
            if gain > 10 {
                idle = 0;
            }
        } else {
            idle += 1;
        }
        if let Some(cost) = table.cost(&path) {
            watch.found(cost, &path);
        }
        if watch.is_over() {
            return best;
        }
        let target = watch.below;
        if best.bound.is_some_and(|b| b >= target) {
            return best;
        }
        if idle >= walk.patience {
            idle = 0;
            stride *= 0.5;
            at = shape.spread(table, &best.prices);
            heading.fill(0.0);
            if stride < walk.least_stride {
                return best;
            }
        }
        let slope = shape.slope(table, &path, &at);
        if best.ways.len() == WAYS {
            best.ways.remove(0);
        }
        best.ways.push(path);
        // Camerini, Fratta and Maffioli (1975), from memory: never turn back sharply on the last heading.
        let dot: f64 = slope.iter().zip(&heading).map(|(a, b)| a * b).sum();
        let len: f64 = heading.iter().map(|a| a * a).sum();
        let keep = if dot < 0.0 { -1.5 * dot / len } else { 0.0 };
        for (h, s) in heading.iter_mut().zip(&slope) {
            *h = s + keep * *h;
        }
        let len: f64 = heading.iter().map(|a| a * a).sum();
        if len <= 0.0 {
            return best;
        }
        let way = stride * ((target - bound) as f64).max(1.0) / len;
        for ((x, h), top) in at.iter_mut().zip(&heading).zip(&shape.top) {
            *x = (*x + way * h).clamp(0.0, *top);
        }
    }
    best
}

/// The prices as a row of numbers of like size: uses, then grams (least, most) in meals, then minutes in meals.
struct Shape {
    grams: f64,
    minutes: f64,
    /// Days that the memory does not keep.
    long_days: Vec<usize>,
    top: Vec<f64>,
}

impl Shape {
    fn new(table: &Table) -> Shape {
        let n = table.n().max(1) as f64;
        let grams = (table.dishes.iter().map(|d| d.max_g as f64).sum::<f64>() / n).max(1.0);
        let minutes = (table.dishes.iter().map(|d| d.minutes as f64).sum::<f64>() / n).max(1.0);
        let long = |day: &usize| table.day.iter().filter(|d| *d == day).count() > 2;
        let long_days: Vec<usize> =
            if DayRoom::new(table).longest() > 2 { (0..table.day_minutes.len()).filter(long).collect() } else { Vec::new() };
        let dear = 1e12;
        let mut top = vec![dear; table.n()];
        top.push((1e15 / (table.edible_g as f64).max(1.0) * grams).min(dear));
        top.push((table.waste as f64 * grams).min(1e15));
        top.extend(long_days.iter().map(|&d| (1e15 / (table.day_minutes[d] as f64).max(1.0) * minutes).min(dear)));
        Shape { grams, minutes, long_days, top }
    }

    fn spread(&self, table: &Table, prices: &Prices) -> Vec<f64> {
        let mut at: Vec<f64> = prices.uses.iter().map(|&p| p as f64).collect();
        at.push(prices.least as f64 * self.grams);
        at.push(prices.most as f64 * self.grams);
        at.extend(self.long_days.iter().map(|&d| prices.minutes[d] as f64 * self.minutes));
        debug_assert_eq!(at.len(), table.n() + 2 + self.long_days.len());
        at
    }

    fn prices(&self, table: &Table, at: &[f64]) -> Prices {
        let n = table.n();
        let mut prices = Prices::none(table);
        for (p, x) in prices.uses.iter_mut().zip(at) {
            *p = x.round() as i64;
        }
        prices.least = (at[n] / self.grams).round() as i64;
        prices.most = ((at[n + 1] / self.grams).round() as i64).min(table.waste);
        for (&d, x) in self.long_days.iter().zip(&at[n + 2..]) {
            prices.minutes[d] = (x / self.minutes).round() as i64;
        }
        prices
    }

    /// How much each rule is broken by `path`, in the same row; 0 where a price of 0 cannot fall.
    fn slope(&self, table: &Table, path: &[DishNo], at: &[f64]) -> Vec<f64> {
        let n = table.n();
        let mut slope = vec![0.0; at.len()];
        let (mut least, mut most) = (0, 0);
        let mut minutes = vec![0; table.day_minutes.len()];
        for (d, dish) in table.dishes.iter().enumerate() {
            slope[d] = -f64::from(dish.uses);
        }
        for (s, &d) in path.iter().enumerate() {
            let dish = table.dish(d);
            slope[usize::from(d)] += 1.0;
            least += dish.min_g;
            most += dish.max_g;
            minutes[table.day[s]] += dish.minutes;
        }
        slope[n] = (least - table.edible_g) as f64 / self.grams;
        slope[n + 1] = (table.edible_g - most) as f64 / self.grams;
        for (i, &d) in self.long_days.iter().enumerate() {
            slope[n + 2 + i] = (minutes[d] - table.day_minutes[d]) as f64 / self.minutes;
        }
        for (i, v) in slope.iter_mut().enumerate() {
            if (at[i] <= 0.0 && *v < 0.0) || (at[i] >= self.top[i] && *v > 0.0) {
                *v = 0.0;
            }
        }
        slope
    }
}
