//! What the engine knows about a number: a bound of it.

/// A whole number whose value is sought, named by its position among all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Number(pub u32);

/// One statement "this half of a number is at least so much".
///
/// A number x has two halves: x itself and -x. "x is at most 7" is then "-x is at least -7", so that every bound of either
/// side is one sort of statement and every rule is written once (the trick is that of the integer trail in lazy clause
/// generation: Ohrimenko, Stuckey & Codish 2009).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lit {
    /// Twice the number's position, and one more for the half -x.
    pub half: u32,
    pub least: i32,
}

/// A number's own half: its lower bound.
pub const fn lower(x: Number) -> u32 {
    2 * x.0
}

/// The half of the opposite number: its upper bound, negated.
pub const fn upper(x: Number) -> u32 {
    2 * x.0 + 1
}

impl Lit {
    /// True from the start: the number 0 is fixed at 0.
    pub const TRUE: Lit = Lit { half: 0, least: 0 };

    pub const fn at_least(x: Number, least: i32) -> Lit {
        Lit { half: lower(x), least }
    }

    pub const fn at_most(x: Number, most: i32) -> Lit {
        Lit { half: upper(x), least: -most }
    }

    /// The opposite statement: not x >= 5 is x <= 4, which is -x >= -4.
    pub const fn not(self) -> Lit {
        Lit { half: self.half ^ 1, least: 1 - self.least }
    }

    pub const fn number(self) -> Number {
        Number(self.half / 2)
    }
}
