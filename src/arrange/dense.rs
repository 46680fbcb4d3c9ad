//! The memory of two dishes, whole: a square of costs for every two slots next to each other.

use super::{
    prices::Prices,
    relaxation::{DayRoom, NEVER, Relaxation, far_pairs},
    table::{DishNo, Table},
    watch::Watch,
};

/// A number that a square may hold: 32 bits where every sum fits, which is twice as fast, 64 where not.
trait Cell: Copy + Ord + Send + Sync + std::ops::Add<Output = Self> {
    /// No way. Sums with it stay above half of it, sums without it below.
    const NEVER: Self;
    fn of(cost: i64) -> Self;
    fn wide(self) -> i64;
}

impl Cell for i32 {
    const NEVER: i32 = 1 << 29;
    fn of(cost: i64) -> i32 {
        i32::try_from(cost).map_or(Self::NEVER, |c| c.min(Self::NEVER))
    }
    fn wide(self) -> i64 {
        if self >= Self::NEVER / 2 { NEVER } else { i64::from(self) }
    }
}

impl Cell for i64 {
    const NEVER: i64 = NEVER;
    fn of(cost: i64) -> i64 {
        cost
    }
    fn wide(self) -> i64 {
        if self >= NEVER / 2 { NEVER } else { self }
    }
}

/// Asked now and then whether the search has to end.
type Stop<'a> = &'a mut dyn FnMut() -> bool;

/// The most 32-bit cells that the squares of one direction may have (house limit: 200 MB).
const MOST_CELLS: usize = 50_000_000;

/// A square of cells, row by row.
struct Square<T> {
    width: usize,
    cells: Vec<T>,
}

impl<T: Cell> Square<T> {
    fn filled(rows: usize, width: usize) -> Square<T> {
        Square { width, cells: vec![T::NEVER; rows * width] }
    }

    fn row(&self, i: usize) -> &[T] {
        &self.cells[i * self.width..(i + 1) * self.width]
    }

    fn turned(&self) -> Square<T> {
        let rows = self.cells.len() / self.width.max(1);
        let mut out = Square::filled(self.width, rows);
        for i in 0..rows {
            for (j, &v) in self.row(i).iter().enumerate() {
                out.cells[j * rows + i] = v;
            }
        }
        out
    }

    fn add(&mut self, other: &Square<T>) {
        for (v, &w) in self.cells.iter_mut().zip(&other.cells) {
            *v = (*v + w).min(T::NEVER);
        }
    }
}

/// See the module.
pub(super) struct Dense {
    /// The dishes of each slot that it knows: all candidates, or a choice of them.
    pub lists: Vec<Vec<DishNo>>,
    far: Vec<Vec<i64>>,
    room: DayRoom,
    threads: usize,
}

/// What a look both ways left over.
pub(super) struct Survivors {
    /// Dishes of slots s-1 and s that an arrangement cheaper than asked may hold; entry 0 is empty.
    pub pairs: Vec<Vec<(DishNo, DishNo)>>,
    /// The lower bound; [`NEVER`] where there is no arrangement at all.
    pub bound: i64,
    /// The same bound if a dish must stand somewhere, for every dish.
    pub through: Vec<i64>,
}

impl Dense {
    pub(super) fn new(table: &Table, lists: Vec<Vec<DishNo>>, threads: usize) -> Dense {
        let far = far_pairs(table, 2, &table.candidates);
        Dense { lists, far, room: DayRoom::new(table), threads }
    }

    /// Whether every sum at these prices stays well inside 32 bits.
    fn is_narrow(&self, table: &Table, prices: &Prices) -> bool {
        let dearest = |s: usize| {
            self.lists[s].iter().map(|&d| prices.of(table, s, d).abs() + self.far[s][usize::from(d)]).max().unwrap_or(0)
        };
        let pairs = table.most_like * (table.weight(1) + table.weight(2));
        (0..table.slots).fold(0_i64, |sum, s| sum.saturating_add(dearest(s) + pairs)) < 1 << 28
    }

    /// Cost of `c` in slot `s` after `b`.
    fn pair(&self, table: &Table, s: usize, b: DishNo, c: DishNo) -> i64 {
        if (b == c && table.dish(c).uses < 2) || !self.room.fits(table, s, &[b, c]) {
            return NEVER;
        }
        table.weight(1) * table.like(b, c)
    }

    fn pairs<T: Cell>(&self, table: &Table, prices: &Prices, s: usize) -> Square<T> {
        let (before, here) = (&self.lists[s - 1], &self.lists[s]);
        let own: Vec<i64> = here.iter().map(|&c| prices.of(table, s, c) + self.far[s][usize::from(c)]).collect();
        let mut out = Square::filled(before.len(), here.len());
        for (i, &b) in before.iter().enumerate() {
            for (j, &c) in here.iter().enumerate() {
                let cost = self.pair(table, s, b, c);
                out.cells[i * here.len() + j] = if cost >= NEVER { T::NEVER } else { T::of(cost + own[j]) };
            }
        }
        out
    }

    /// Row a of slot s-2, column c of slot s.
    fn skips<T: Cell>(&self, table: &Table, s: usize) -> Square<T> {
        let (from, to) = (&self.lists[s - 2], &self.lists[s]);
        let mut out = Square::filled(from.len(), to.len());
        for (i, &a) in from.iter().enumerate() {
            for (j, &c) in to.iter().enumerate() {
                if a != c || table.dish(c).uses > 1 {
                    out.cells[i * to.len() + j] = T::of(table.weight(2) * table.like(a, c));
                }
            }
        }
        out
    }

    /// For every slot: row b, column c: the cheapest way to it that ends with b, c.
    fn go_ahead<T: Cell>(&self, table: &Table, prices: &Prices, stop: Stop<'_>) -> Option<Vec<Square<T>>> {
        let mut ahead = vec![Square::filled(0, 0)];
        for s in 1..table.slots {
            if stop() {
                return None;
            }
            let mut pairs: Square<T> = self.pairs(table, prices, s);
            if s == 1 {
                let width = pairs.width;
                for (i, &b) in self.lists[0].iter().enumerate() {
                    let first = T::of(prices.of(table, 0, b));
                    pairs.cells[i * width..(i + 1) * width].iter_mut().for_each(|v| *v = (*v + first).min(T::NEVER));
                }
            } else {
                pairs.add(&least_sums(&ahead[s - 1].turned(), &self.skips(table, s), self.threads));
            }
            ahead.push(pairs);
        }
        Some(ahead)
    }

    /// For every slot: row c, column b: the cheapest way on from b, c in slots s-1, s.
    fn go_behind<T: Cell>(&self, table: &Table, prices: &Prices, stop: Stop<'_>) -> Option<Vec<Square<T>>> {
        let m = table.slots;
        let mut last: Square<T> = Square::filled(self.lists[m - 1].len(), self.lists[m - 2].len());
        last.cells.fill(T::of(0));
        let mut behind = vec![last];
        for s in (1..m - 1).rev() {
            if stop() {
                return None;
            }
            // To slot s+1: row c, column d.
            let mut on = self.pairs(table, prices, s + 1);
            on.add(&behind[behind.len() - 1].turned());
            behind.push(least_sums(&on, &self.skips(table, s + 1).turned(), self.threads));
        }
        behind.push(Square::filled(0, 0));
        behind.reverse();
        Some(behind)
    }

    /// Looks both ways at `prices` for arrangements cheaper than the best one known. None where the search has to end, or
    /// where the squares would take more room than there is.
    pub(super) fn survivors(&self, table: &Table, prices: &Prices, watch: &mut Watch) -> Option<Survivors> {
        let cells: usize = self.lists.windows(2).map(|w| w[0].len() * w[1].len()).sum();
        if self.is_narrow(table, prices) {
            if cells > MOST_CELLS { None } else { self.survivors_in::<i32>(table, prices, watch) }
        } else {
            if cells > MOST_CELLS / 2 { None } else { self.survivors_in::<i64>(table, prices, watch) }
        }
    }

    fn survivors_in<T: Cell>(&self, table: &Table, prices: &Prices, watch: &mut Watch) -> Option<Survivors> {
        let ahead = self.go_ahead::<T>(table, prices, &mut || watch.is_over())?;
        let behind = self.go_behind::<T>(table, prices, &mut || watch.is_over())?;
        let below = watch.below;
        let constant = prices.constant(table);
        let mut out = Survivors { pairs: vec![Vec::new()], bound: NEVER, through: vec![NEVER; table.n()] };
        for s in 1..table.slots {
            let mut pairs = Vec::new();
            let height = behind[s].width;
            for (i, &b) in self.lists[s - 1].iter().enumerate() {
                for ((j, &c), v) in self.lists[s].iter().enumerate().zip(ahead[s].row(i)) {
                    let through = v.wide() + behind[s].cells[j * height + i].wide();
                    if through >= NEVER {
                        continue;
                    }
                    let through = through + constant;
                    out.bound = out.bound.min(through);
                    for d in [b, c] {
                        out.through[usize::from(d)] = out.through[usize::from(d)].min(through);
                    }
                    if through < below {
                        pairs.push((b, c));
                    }
                }
            }
            out.pairs.push(pairs);
        }
        Some(out)
    }

    fn cheapest_in<T: Cell>(&self, table: &Table, prices: &Prices) -> Option<(i64, Vec<DishNo>)> {
        let ahead = self.go_ahead::<T>(table, prices, &mut || false)?;
        let m = table.slots;
        let last = &ahead[m - 1];
        let (at, &value) = last.cells.iter().enumerate().min_by_key(|(i, v)| (**v, *i))?;
        if value.wide() >= NEVER {
            return None;
        }
        let mut places = vec![0; m];
        (places[m - 2], places[m - 1]) = (at / last.width, at % last.width);
        for s in (2..m).rev() {
            let (b, c) = (self.lists[s - 1][places[s - 1]], self.lists[s][places[s]]);
            let own = prices.of(table, s, c) + self.far[s][usize::from(c)] + self.pair(table, s, b, c);
            let want = ahead[s].row(places[s - 1])[places[s]].wide() - own;
            let fits = |i: &usize| {
                let a = self.lists[s - 2][*i];
                (a != c || table.dish(c).uses > 1)
                    && ahead[s - 1].row(*i)[places[s - 1]].wide() + table.weight(2) * table.like(a, c) == want
            };
            places[s - 2] = (0..self.lists[s - 2].len()).find(fits)?;
        }
        Some((value.wide(), places.iter().enumerate().map(|(s, &i)| self.lists[s][i]).collect()))
    }
}

impl Relaxation for Dense {
    fn cheapest(&mut self, table: &Table, prices: &Prices) -> Option<(i64, Vec<DishNo>)> {
        if self.is_narrow(table, prices) {
            self.cheapest_in::<i32>(table, prices)
        } else {
            self.cheapest_in::<i64>(table, prices)
        }
    }
}

/// `out[j][x] = min over i of (first[j][i] + second[i][x])`.
fn least_sums<T: Cell>(first: &Square<T>, second: &Square<T>, threads: usize) -> Square<T> {
    let rows = first.cells.len() / first.width.max(1);
    let width = second.width;
    let mut out = Square::filled(rows, width);
    if out.cells.is_empty() || first.width == 0 {
        return out;
    }
    let share = if threads < 2 || rows * first.width * width < 2_000_000 { rows } else { rows.div_ceil(threads) };
    let fill = |part: &mut [T], from: usize| {
        for (j, into) in part.chunks_mut(width).enumerate() {
            least_row(into, first.row(from + j), second);
        }
    };
    std::thread::scope(|scope| {
        let mut parts = out.cells.chunks_mut(share * width).enumerate();
        let own = parts.next();
        for (t, part) in parts {
            scope.spawn(move || fill(part, t * share));
        }
        if let Some((_, part)) = own {
            fill(part, 0);
        }
    });
    out
}

/// One row of [`least_sums`]; four rows of `second` a time, which keeps the row that is written in the processor.
fn least_row<T: Cell>(into: &mut [T], from: &[T], second: &Square<T>) {
    let possible: Vec<(T, usize)> = from.iter().enumerate().filter(|(_, v)| **v < T::NEVER).map(|(i, &v)| (v, i)).collect();
    let mut fours = possible.chunks_exact(4);
    for four in &mut fours {
        let [a, b, c, d] = [four[0].0, four[1].0, four[2].0, four[3].0];
        let n = into.len();
        let (ra, rb) = (&second.row(four[0].1)[..n], &second.row(four[1].1)[..n]);
        let (rc, rd) = (&second.row(four[2].1)[..n], &second.row(four[3].1)[..n]);
        for x in 0..n {
            let one = (a + ra[x]).min(b + rb[x]);
            let two = (c + rc[x]).min(d + rd[x]);
            into[x] = into[x].min(one.min(two));
        }
    }
    for &(v, i) in fours.remainder() {
        for (out, &w) in into.iter_mut().zip(second.row(i)) {
            *out = (*out).min(v + w);
        }
    }
}
