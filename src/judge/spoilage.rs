//! Temperature and clocks: how much faster food goes off where it is warmer than it should be.
//!
//! Growth and spoilage are published as rates that rise with temperature. Over a history of temperatures the rates add up,
//! and what is used of a limit is the sum of hours times rate. Here they only ever **shorten** a published limit: a colder
//! fridge, a shorter wait buys nothing. Models of quality say nothing of germs that make ill; for a safe limit the strictest
//! model holds.

use crate::quantity::Days;

/// How a rate rises with the temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Growth {
    /// `sqrt(rate) = b (T - t_min)`: Ratkowsky et al. 1982, J. Bacteriol. 149:1-5. Nothing grows at `t_min` and below.
    SquareRoot {
        /// In degrees Celsius.
        t_min: f64,
    },
    /// `rate = exp(slope T)`.
    Exponential {
        /// By a degree Celsius.
        slope: f64,
    },
    /// `rate = exp(-energy / (R T))`, T in kelvin.
    Arrhenius {
        /// Activation energy in kJ/mol.
        energy: f64,
    },
}

/// A published model of how fast something goes off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Model {
    /// What grows or goes off.
    pub name: &'static str,
    /// How.
    pub growth: Growth,
    /// The temperatures for which it was made, in degrees Celsius. Outside them the nearer end is taken.
    pub range: (f64, f64),
    /// Where it stands.
    pub source: &'static str,
}

/// Fresh fish from temperate waters: rate relative to ice `(1 + 0.1 T)^2`.
pub const FRESH_FISH: Model = Model {
    name: "fresh fish",
    growth: Growth::SquareRoot { t_min: -10.0 },
    range: (0.0, 15.0),
    source: "Olley and Ratkowsky 1973; Ratkowsky et al. 1982; Dalgaard 2002; the range from memory",
};

/// Pseudomonas, which spoils chilled fish, meat and poultry.
pub const PSEUDOMONAS: Model = Model {
    name: "Pseudomonas",
    growth: Growth::SquareRoot { t_min: -7.6 },
    range: (0.0, 30.0),
    source: "Neumeyer, Ross and McMeekin 1997; the range from memory",
};

/// Listeria monocytogenes, which grows in the fridge and makes ill.
pub const LISTERIA: Model = Model {
    name: "Listeria",
    growth: Growth::SquareRoot { t_min: -1.18 },
    range: (3.0, 35.0),
    source: "FDA/FSIS 2003 and FAO/WHO 2004 Listeria risk assessments (t_min from memory); \
             range of Tienungoon et al. 2000, Appl. Environ. Microbiol. 66:4979",
};

/// Cooked and brined shrimp in a modified atmosphere.
pub const BRINED_SHRIMP: Model = Model {
    name: "brined shrimp",
    growth: Growth::Exponential { slope: 0.15 },
    range: (0.0, 25.0),
    source: "Dalgaard and Jorgensen 2000",
};

/// Fresh fish from tropical waters.
pub const TROPICAL_FISH: Model = Model {
    name: "tropical fish",
    growth: Growth::Exponential { slope: 0.12 },
    range: (0.0, 30.0),
    source: "Dalgaard 2002, from memory",
};

/// The models that may shorten a safe limit; at every temperature the strictest holds.
const STRICT: [Model; 2] = [LISTERIA, PSEUDOMONAS];

/// What published limits are meant for: a fridge at 5 °C (FDA Food Code 2022, 3-501.16: 41 °F) or colder.
pub const SAFE_FRIDGE_C: f64 = 5.0;

const GAS_CONSTANT: f64 = 8.314_462_618e-3;
const KELVIN: f64 = 273.15;

impl Model {
    fn rate(&self, c: f64) -> f64 {
        let c = c.clamp(self.range.0, self.range.1);
        match self.growth {
            Growth::SquareRoot { t_min } => (c - t_min).max(0.0).powi(2),
            Growth::Exponential { slope } => (slope * c).exp(),
            Growth::Arrhenius { energy } => (-energy / (GAS_CONSTANT * (c + KELVIN))).exp(),
        }
    }

    /// How many times as fast it goes at `c` as at `reference_c`.
    pub fn relative_rate(&self, c: f64, reference_c: f64) -> f64 {
        self.rate(c) / self.rate(reference_c)
    }

    /// How long it lasts at `c` if it lasts `life` at `reference_c`, in the same measure of time. A figure of quality: for a
    /// safe limit see [`shorten`].
    pub fn life_at(&self, life: f64, reference_c: f64, c: f64) -> f64 {
        life / self.relative_rate(c, reference_c)
    }

    /// The share of a `life` at `reference_c` that a history uses up; 1 and more: it is over.
    pub fn share_used(&self, life: f64, reference_c: f64, history: &[Spell]) -> f64 {
        history.iter().map(|s| s.hours * self.relative_rate(s.c, reference_c)).sum::<f64>() / life
    }
}

/// Some hours at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// How many hours.
    pub hours: f64,
    /// In degrees Celsius.
    pub c: f64,
}

/// How many times as fast a safe limit runs at `c` as in a fridge that is as it should be; never less than 1.
///
/// At 8 °C it is 2.2 times (Listeria), at 10 °C 3.3 times.
pub fn safe_rate(c: f64) -> f64 {
    // What is no temperature is no reason to trust a limit: taken as a warm room.
    let c = if c.is_finite() { c } else { 35.0 };
    STRICT.iter().map(|m| m.relative_rate(c, SAFE_FRIDGE_C)).fold(1.0, f64::max)
}

/// A published limit under a history of temperatures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shortened {
    /// What is left of the limit, in whole days; never more than it was.
    pub limit: Days,
    /// The share of the published limit that the history has used up; 1 and more: it is over.
    pub used: f64,
}

/// Shortens a safe limit of whole days, published for a fridge at 5 °C or colder, by what it really was like.
///
/// The history tells the days from the start of the clock on, in order; after it all is as it should be. The new limit is the
/// largest whole number of days whose hours, each times [`safe_rate`], stay within the published hours. A limit of no day
/// stays one: what is eaten on the day itself is no matter of the fridge.
pub fn shorten(limit: Days, history: &[Spell]) -> Shortened {
    let whole = 24.0 * f64::from(limit.0.max(0));
    let spells: Vec<Spell> = history.iter().copied().filter(|s| s.hours > 0.0).collect();
    let all: f64 = spells.iter().map(|s| s.hours * safe_rate(s.c)).sum();
    let used = if whole > 0.0 { all / whole } else { 0.0 };
    let fits = |days: i16| {
        let mut left = 24.0 * f64::from(days);
        let mut sum = 0.0;
        for spell in &spells {
            let hours = spell.hours.min(left);
            sum += hours * safe_rate(spell.c);
            left -= hours;
        }
        // Rounding is not to cost a day.
        sum + left <= whole * (1.0 + 1e-9)
    };
    // What fits for many days fits for fewer: the last that fits is found by halving.
    let (mut low, mut high) = (0, limit.0.max(0));
    while low < high {
        let mid = low + (high - low + 1) / 2;
        if fits(mid) { low = mid } else { high = mid - 1 }
    }
    Shortened { limit: Days(low.min(limit.0)), used }
}

/// A cupboard that has lost its power.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unpowered {
    /// A fridge, its door kept shut.
    Fridge,
    /// A full freezer, its door kept shut.
    FullFreezer,
    /// A freezer half full.
    HalfFreezer,
}

impl Unpowered {
    /// Hours for which what is in it stays safe: 4, 48 and 24 (US FoodSafety.gov, Food Safety During Power Outage; FDA; from
    /// memory).
    pub fn safe_hours(self) -> f64 {
        match self {
            Unpowered::Fridge => 4.0,
            Unpowered::FullFreezer => 48.0,
            Unpowered::HalfFreezer => 24.0,
        }
    }

    /// Whether what is in it is still safe after so many hours.
    pub fn is_safe(self, hours: f64) -> bool {
        hours <= self.safe_hours()
    }
}

/// How fast a shut fridge without power takes on the warmth of the room: two thirds of the difference in 12 hours (our
/// estimate, no source; it leaves a fridge of 4 °C at 8.5 °C after the 4 hours of the published rule).
const WARMING_HOURS: f64 = 12.0;
/// Pieces into which an hour without power is cut.
const PIECES: u32 = 4;

/// How warm it gets in a shut fridge without power, for so many hours in a room of `room_c`; at most ten days of them.
pub fn unpowered_fridge(fridge_c: f64, room_c: f64, hours: f64) -> Vec<Spell> {
    let hours = hours.clamp(0.0, 240.0);
    let count = (hours * f64::from(PIECES)).ceil().max(1.0);
    let piece = hours / count;
    (0..count as u32)
        .map(|i| {
            let middle = (f64::from(i) + 0.5) * piece;
            Spell { hours: piece, c: room_c + (fridge_c - room_c) * (-middle / WARMING_HOURS).exp() }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn spell(days: f64, c: f64) -> Spell {
        Spell { hours: 24.0 * days, c }
    }

    fn near(a: f64, b: f64, by: f64) {
        assert!((a - b).abs() <= by, "{a} against {b}");
    }

    /// RRS = (1 + 0.1 T)^2, Dalgaard 2002 after Olley and Ratkowsky 1973.
    #[test]
    fn fish_spoils_as_published() {
        let table = [(0, 1.0), (1, 1.21), (2, 1.44), (3, 1.69), (4, 1.96), (5, 2.25), (6, 2.56), (7, 2.89), (8, 3.24), (10, 4.0)];
        for (c, rate) in table {
            near(FRESH_FISH.relative_rate(f64::from(c), 0.0), rate, 1e-12);
        }
        for (c, days) in [(2.0, 9.72222), (4.0, 7.14286), (5.0, 6.22222)] {
            near(FRESH_FISH.life_at(14.0, 0.0, c), days, 1e-5);
        }
    }

    /// Worked examples of the seafood spoilage model documentation of the Technical University of Denmark: what keeps 21 days
    /// at 5 C keeps 47.2 at 0 C (square root, Tmin -10), 46.4 (Arrhenius, 100 kJ/mol).
    #[test]
    fn the_worked_examples_are_met() {
        near(FRESH_FISH.life_at(21.0, 5.0, 0.0), 47.2, 0.06);
        let arrhenius = Model { growth: Growth::Arrhenius { energy: 100.0 }, ..FRESH_FISH };
        near(arrhenius.life_at(21.0, 5.0, 0.0), 46.4, 0.1);
        // Smoked salmon, Dalgaard, Murillo and Jorgensen 2004: 8.9 days at 5 C, then at 15 C, lasts 20 days in all; the other
        // way about 24 are predicted and 25 were observed.
        let (warm, cold) = (spell(8.9, 15.0), spell(8.9, 5.0));
        let life = 24.0 * (8.9 * FRESH_FISH.relative_rate(5.0, 0.0) + 11.1 * FRESH_FISH.relative_rate(15.0, 0.0));
        near(FRESH_FISH.share_used(life, 0.0, &[cold, spell(11.1, 15.0)]), 1.0, 1e-9);
        let left = 1.0 - FRESH_FISH.share_used(life, 0.0, &[warm]);
        near(8.9 + FRESH_FISH.life_at(left * life / 24.0, 0.0, 5.0), 24.0, 0.2);
    }

    #[test]
    fn the_rates_relative_to_five_degrees_are_those_published() {
        // FDA/FSIS 2003 and FAO/WHO 2004: EGR(T) = EGR(5) ((T + 1.18) / 6.18)^2.
        near(LISTERIA.relative_rate(4.0, 5.0), 0.702559, 1e-6);
        near(LISTERIA.relative_rate(10.0, 5.0), 3.2727, 1e-4);
        // Neumeyer, Ross and McMeekin 1997, Tmin -7.6.
        for (c, rate) in [(0.0, 0.36382), (2.0, 0.580499), (8.0, 1.53288), (10.0, 1.95112)] {
            near(PSEUDOMONAS.relative_rate(c, 5.0), rate, 1e-5);
        }
        // Dalgaard and Jorgensen 2000: 4 to 6 days at 25 C against 201 at 5 C is what a slope of 0.15 gives, nearly enough.
        let shrimp = BRINED_SHRIMP.life_at(201.0, 5.0, 25.0);
        assert!((4.0..=10.1).contains(&shrimp), "{shrimp}");
        near(TROPICAL_FISH.relative_rate(10.0, 0.0), 1.2_f64.exp(), 1e-12);
    }

    #[test]
    fn a_warm_fridge_shortens_and_a_cold_one_does_nothing() {
        let stays = |c: f64| vec![spell(40.0, c)];
        for (limit, c, left) in [
            (3, 5.0, 3),
            (3, 0.0, 3),
            (3, 6.0, 2),
            (3, 8.0, 1),
            (4, 7.0, 2),
            (3, 10.0, 0),
            (1, 8.0, 0),
            (0, 20.0, 0),
            (10, 6.0, 7),
        ] {
            assert_eq!(shorten(Days(limit), &stays(c)).limit, Days(left), "{limit} days at {c}");
        }
        assert_eq!(shorten(Days(-1), &stays(8.0)).limit, Days(-1));
        let half = shorten(Days(4), &[spell(2.0, 5.0)]);
        assert_eq!((half.limit, half.used), (Days(4), 0.5));
        // One warm day of three costs one: 24 x 2.2 and 24 are 77 hours of 72.
        assert_eq!(shorten(Days(3), &[spell(1.0, 8.0)]).limit, Days(1));
        assert_eq!(shorten(Days(3), &[Spell { hours: f64::NAN, c: f64::NAN }]).limit, Days(3));
    }

    #[test]
    fn a_power_cut_is_safe_for_its_published_hours() {
        for (store, safe) in [(Unpowered::Fridge, 4.0), (Unpowered::FullFreezer, 48.0), (Unpowered::HalfFreezer, 24.0)] {
            assert!(store.is_safe(safe) && !store.is_safe(safe + 0.01));
        }
        let cut = unpowered_fridge(4.0, 20.0, 4.0);
        near(cut.iter().map(|s| s.hours).sum(), 4.0, 1e-9);
        assert!(cut.windows(2).all(|w| w[0].c < w[1].c) && cut.iter().all(|s| (4.0..9.0).contains(&s.c)));
        assert!(unpowered_fridge(4.0, 20.0, 0.0).iter().all(|s| s.hours == 0.0));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn no_history_lengthens_a_limit_and_a_warmer_one_shortens_it_more(
            limit in 0..40_i16, spells in prop::collection::vec((0.0..200.0_f64, -10.0..40.0_f64), 0..6), more in 0.0..10.0_f64,
        ) {
            let history: Vec<Spell> = spells.iter().map(|&(hours, c)| Spell { hours, c }).collect();
            let warmer: Vec<Spell> = history.iter().map(|s| Spell { c: s.c + more, ..*s }).collect();
            let (here, there) = (shorten(Days(limit), &history), shorten(Days(limit), &warmer));
            prop_assert!(here.limit <= Days(limit) && here.limit >= Days(0));
            prop_assert!(there.limit <= here.limit && there.used >= here.used);
        }
    }
}
