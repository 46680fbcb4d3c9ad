//! Why nothing can fill the slots, in words.

use std::fmt;

/// One thing that was asked and might be given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wish {
    /// The minima of all dishes fit into what is on hand.
    Grams,
    /// Free dishes only, after the last slot for the ingredient.
    LastSlot,
    /// The minutes of a day.
    Minutes(usize),
    /// A fixed slot: slot, dish.
    Fixed(usize, usize),
    /// The slots that a dish may fill.
    Allowed(usize),
    /// How often a dish may occur.
    Uses(usize),
}

/// Names up to this many things of one sort; more are counted.
const NAMED: usize = 6;

impl fmt::Display for Wish {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Wish::Grams => write!(f, "the grams on hand"),
            Wish::LastSlot => write!(f, "the last slot for the ingredient"),
            Wish::Minutes(day) => write!(f, "the minutes of day {day}"),
            Wish::Fixed(slot, dish) => write!(f, "dish {dish} fixed in slot {slot}"),
            Wish::Allowed(dish) => write!(f, "the slots allowed to dish {dish}"),
            Wish::Uses(dish) => write!(f, "the uses of dish {dish}"),
        }
    }
}

/// Why there is no arrangement. Slots, days and dishes are numbered as in the instance, from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// A slot that no dish may fill, and what rules out the last of them.
    EmptySlot {
        /// Which slot.
        slot: usize,
        /// The rule that leaves none.
        because: &'static str,
    },
    /// More slots than the dishes that may fill them have uses.
    TooFewUses {
        /// Which slots.
        slots: Vec<usize>,
        /// All uses of all dishes that may stand in them.
        uses: i64,
    },
    /// The least dishes need more than there is.
    TooFewGrams {
        /// What they need.
        least_g: i64,
        /// What there is.
        edible_g: i64,
    },
    /// The quickest dishes need more than the cook has.
    TooFewMinutes {
        /// Which day.
        day: usize,
        /// What they need.
        least: i64,
        /// What the cook has.
        have: i64,
    },
    /// Wishes that cannot all hold; found by search.
    Together {
        /// Which.
        wishes: Vec<Wish>,
        /// Whether each of them is needed: give up any one, and there is an arrangement.
        smallest: bool,
    },
}

/// "1, 2 and 3".
fn list<T: fmt::Display>(items: &[T]) -> String {
    let words: Vec<String> = items.iter().map(T::to_string).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Like [`list`], but long lists of uses or allowed slots only counted.
fn list_wishes(wishes: &[Wish]) -> String {
    let uses = |w: &&Wish| matches!(w, Wish::Uses(_));
    let allowed = |w: &&Wish| matches!(w, Wish::Allowed(_));
    let mut words = Vec::new();
    let (used, kept) = (wishes.iter().filter(uses).count(), wishes.iter().filter(allowed).count());
    for wish in wishes {
        let many = (uses(&wish) && used > NAMED) || (allowed(&wish) && kept > NAMED);
        if !many {
            words.push(wish.to_string());
        }
    }
    if kept > NAMED {
        words.push(format!("the slots allowed to {kept} dishes"));
    }
    if used > NAMED {
        words.push(format!("the uses of {used} dishes"));
    }
    list(&words)
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::EmptySlot { slot, because } => write!(f, "no dish may stand in slot {slot}: {because}"),
            Reason::TooFewUses { slots, uses } => write!(
                f,
                "{} {} {} dishes, and those that may stand there have {uses} uses in all",
                if slots.len() == 1 { "slot" } else { "slots" },
                list(slots),
                if slots.len() == 1 { "needs 1 of the".into() } else { format!("need {}", slots.len()) },
            ),
            Reason::TooFewGrams { least_g, edible_g } => {
                write!(f, "even the dishes that take least need {least_g} g, and there are {edible_g} g")
            }
            Reason::TooFewMinutes { day, least, have } => {
                write!(f, "even the quickest dishes need {least} minutes on day {day}, and there are {have}")
            }
            Reason::Together { wishes, smallest } => {
                write!(f, "these cannot all hold: {}", list_wishes(wishes))?;
                if *smallest { write!(f, "; give up any one of them and the slots can be filled") } else { Ok(()) }
            }
        }
    }
}
