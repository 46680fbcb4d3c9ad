//! Whole grams that know what state they were weighed in.
//!
//! ```
//! use tranche::quantity::{AsBought, Grams, Prepared};
//! let bought = Grams::<AsBought>::new(1_800)?;
//! let trim = Grams::<AsBought>::new(300)?;
//! assert_eq!(bought.minus(trim)?.get(), 1_500);
//! # Ok::<(), tranche::quantity::QuantityError>(())
//! ```
//!
//! Grams of different states do not add, by the compiler's word:
//!
//! ```compile_fail
//! use tranche::quantity::{AsBought, Cooked, Grams};
//! let bought = Grams::<AsBought>::new(1_800).unwrap();
//! let cooked = Grams::<Cooked>::new(364).unwrap();
//! let _ = bought.plus(cooked);
//! ```

use super::{PerMille, System, write_grams};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::{fmt, marker::PhantomData};

/// The most that any one gram figure may be: 200 kg, far above any household piece (house limit, common practice).
///
/// It keeps every sum of up to 21,000 figures inside a `u32`.
pub const MAX_GRAMS: u32 = 200_000;

/// What a gram figure was weighed as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum State {
    /// As it came from the shop or the garden, nothing cut away.
    AsBought,
    /// Raw and trimmed: what the knife leaves.
    Prepared,
    /// After its first full cooking.
    Cooked,
}

impl State {
    /// The word for a person: "as bought", "prepared", "cooked".
    pub fn word(self) -> &'static str {
        match self {
            State::AsBought => "as bought",
            State::Prepared => "prepared",
            State::Cooked => "cooked",
        }
    }
}

/// Marks a state at compile time; implemented by [`AsBought`], [`Prepared`] and [`Cooked`] alone.
pub trait GramState: Copy + Clone + fmt::Debug + PartialEq + Eq + Ord + 'static {
    /// The same state as a value.
    const STATE: State;
}

macro_rules! gram_state {
    ($name:ident, $doc:literal) => {
        #[doc = $doc]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name;
        impl GramState for $name {
            const STATE: State = State::$name;
        }
    };
}
gram_state!(AsBought, "Marker: as it came, nothing cut away.");
gram_state!(Prepared, "Marker: raw and trimmed.");
gram_state!(Cooked, "Marker: after its first full cooking.");

/// Why a quantity could not be made or reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// Over [`MAX_GRAMS`].
    #[error("{grams}\u{a0}g is more than the {} that a figure may be", write_grams(MAX_GRAMS, System::Metric))]
    TooMany {
        /// What was asked for.
        grams: u64,
    },
    /// A difference below nothing.
    #[error("{} cannot be taken from {}", write_grams(*less, System::Metric), write_grams(*from, System::Metric))]
    BelowNothing {
        /// What there was.
        from: u32,
        /// What was to be taken away.
        less: u32,
    },
    /// Grams of two states were to be added or taken apart.
    #[error("{left} grams and {right} grams do not add", left = left.word(), right = right.word())]
    StatesDiffer {
        /// The state on the left.
        left: State,
        /// The state on the right.
        right: State,
    },
}

/// Whole grams in the state `S`, from 0 to [`MAX_GRAMS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Grams<S: GramState>(u32, PhantomData<S>);

impl<S: GramState> Grams<S> {
    /// Nothing at all.
    pub const ZERO: Self = Self(0, PhantomData);

    /// `grams` in this state; refused over [`MAX_GRAMS`].
    pub fn new(grams: u32) -> Result<Self, QuantityError> {
        if grams > MAX_GRAMS {
            return Err(QuantityError::TooMany { grams: u64::from(grams) });
        }
        Ok(Self(grams, PhantomData))
    }

    /// `grams`, cut to [`MAX_GRAMS`]: for figures reckoned from others that were checked before.
    pub fn clamped(grams: u32) -> Self {
        Self(grams.min(MAX_GRAMS), PhantomData)
    }

    /// The bare number of grams.
    pub fn get(self) -> u32 {
        self.0
    }

    /// Whether there is nothing.
    pub fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// The sum; refused over [`MAX_GRAMS`].
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        Self::new(self.0.saturating_add(other.0))
    }

    /// The difference; refused below nothing.
    pub fn minus(self, other: Self) -> Result<Self, QuantityError> {
        match self.0.checked_sub(other.0) {
            Some(rest) => Ok(Self(rest, PhantomData)),
            None => Err(QuantityError::BelowNothing { from: self.0, less: other.0 }),
        }
    }

    /// `share` of these grams in another state, the broken gram left off: a plan never promises a gram that is not there.
    pub fn yielding<T: GramState>(self, share: PerMille) -> Grams<T> {
        Grams::clamped((u64::from(self.0) * u64::from(share.get()) / 1_000) as u32)
    }
}

impl<S: GramState> Serialize for Grams<S> {
    fn serialize<Z: Serializer>(&self, out: Z) -> Result<Z::Ok, Z::Error> {
        out.serialize_u32(self.0)
    }
}

impl<'de, S: GramState> Deserialize<'de> for Grams<S> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let grams = i64::deserialize(from)?;
        let fit = u32::try_from(grams).ok().and_then(|g| Self::new(g).ok());
        fit.ok_or_else(|| {
            de::Error::custom(format!("{grams} is not a number of grams: write a whole number from 0 to {MAX_GRAMS}"))
        })
    }
}

/// Grams whose state is known from the data: what the bench carries from the block to a meal.
///
/// Portions of a raw piece are `Prepared`; portions of a bird roasted whole, and of a component cooked ahead, are `Cooked`.
/// Two portions add only where their states agree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Portion {
    /// Raw, trimmed grams.
    Prepared(Grams<Prepared>),
    /// Cooked grams.
    Cooked(Grams<Cooked>),
}

impl Portion {
    /// `grams` in `state`, cut to [`MAX_GRAMS`]. `AsBought` counts as prepared: the bench only ever moves trimmed grams.
    pub fn of(state: State, grams: u32) -> Self {
        match state {
            State::Cooked => Portion::Cooked(Grams::clamped(grams)),
            State::AsBought | State::Prepared => Portion::Prepared(Grams::clamped(grams)),
        }
    }

    /// The bare number of grams.
    pub fn get(self) -> u32 {
        match self {
            Portion::Prepared(g) => g.get(),
            Portion::Cooked(g) => g.get(),
        }
    }

    /// The state these grams are in.
    pub fn state(self) -> State {
        match self {
            Portion::Prepared(_) => State::Prepared,
            Portion::Cooked(_) => State::Cooked,
        }
    }

    /// Whether there is nothing.
    pub fn is_zero(self) -> bool {
        self.get() == 0
    }

    /// The same state with another number of grams, cut to [`MAX_GRAMS`].
    pub fn with(self, grams: u32) -> Self {
        Self::of(self.state(), grams)
    }

    /// The sum of two portions of one state.
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        match (self, other) {
            (Portion::Prepared(a), Portion::Prepared(b)) => a.plus(b).map(Portion::Prepared),
            (Portion::Cooked(a), Portion::Cooked(b)) => a.plus(b).map(Portion::Cooked),
            _ => Err(QuantityError::StatesDiffer { left: self.state(), right: other.state() }),
        }
    }

    /// The difference of two portions of one state; refused below nothing.
    pub fn minus(self, other: Self) -> Result<Self, QuantityError> {
        match (self, other) {
            (Portion::Prepared(a), Portion::Prepared(b)) => a.minus(b).map(Portion::Prepared),
            (Portion::Cooked(a), Portion::Cooked(b)) => a.minus(b).map(Portion::Cooked),
            _ => Err(QuantityError::StatesDiffer { left: self.state(), right: other.state() }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_gram_is_left_on_the_tray() {
        let split = Grams::<Prepared>::clamped(1_530);
        let sauce: Grams<Cooked> = split.yielding(PerMille::new(550).unwrap());
        assert_eq!(sauce.get(), 841);
    }

    #[test]
    fn states_do_not_add() {
        let a = Portion::of(State::Prepared, 10);
        let b = Portion::of(State::Cooked, 10);
        assert_eq!(a.plus(b), Err(QuantityError::StatesDiffer { left: State::Prepared, right: State::Cooked }));
    }

    #[test]
    fn a_negative_or_huge_figure_is_refused_in_words() {
        for text in ["-5", "200001", "99999999999"] {
            let said = ron::from_str::<Grams<AsBought>>(text).unwrap_err().to_string();
            assert!(said.contains("whole number from 0 to 200000"), "{said}");
        }
    }
}
