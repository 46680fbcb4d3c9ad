//! A body that cools, and what is refused.

use std::fmt;

/// The shape of a body whose heat flows in one direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shape {
    /// A wide layer that cools through both faces; measured by half its thickness. Cooled through one face only it is the half
    /// of a slab twice as thick.
    Slab,
    /// A long cylinder, measured by its radius.
    Cylinder,
    /// A sphere, measured by its radius.
    Sphere,
}

impl Shape {
    /// Every one, slowest first.
    pub const ALL: &'static [Shape] = &[Shape::Slab, Shape::Cylinder, Shape::Sphere];

    /// The stable word.
    pub fn word(self) -> &'static str {
        match self {
            Shape::Slab => "slab",
            Shape::Cylinder => "cylinder",
            Shape::Sphere => "sphere",
        }
    }

    /// The shape of this word.
    pub fn named(word: &str) -> Option<Shape> {
        Shape::ALL.iter().copied().find(|s| s.word() == word)
    }

    /// The surface of a body of half thickness 1 over its volume: 1, 2 and 3.
    pub fn surface(self) -> f64 {
        match self {
            Shape::Slab => 1.0,
            Shape::Cylinder => 2.0,
            Shape::Sphere => 3.0,
        }
    }
}

/// Why a body cannot be reckoned with: a figure, and what it may be.
#[derive(Clone, Debug, PartialEq)]
pub struct CoolingError {
    /// What the figure is.
    pub what: &'static str,
    /// The figure.
    pub value: f64,
    /// Least and most that it may be.
    pub range: (f64, f64),
    /// What it counts: "m", "W/(m K)".
    pub unit: &'static str,
}

impl fmt::Display for CoolingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (low, high) = self.range;
        write!(f, "{} is {}; it goes from {} to {} {}", self.what, short(self.value), short(low), short(high), self.unit)
    }
}

impl std::error::Error for CoolingError {}

/// A figure as short as it can be told: nobody reads three hundred digits.
fn short(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-4..1e7).contains(&size) { format!("{value:e}") } else { format!("{value}") }
}

pub(super) fn within(what: &'static str, value: f64, range: (f64, f64), unit: &'static str) -> Result<f64, CoolingError> {
    // Written so that what is no number fails.
    if value >= range.0 && value <= range.1 { Ok(value) } else { Err(CoolingError { what, value, range, unit }) }
}

/// What temperatures may be, in degrees Celsius: absolute zero, and past any oven.
pub(super) const TEMPERATURES: (f64, f64) = (-273.15, 5_000.0);
/// A body of one shape in surroundings that stay as they are, as warm everywhere at the start. SI units, degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Its shape.
    pub shape: Shape,
    /// Half the thickness, or the radius, in metres: a millionth to 100.
    pub half_thickness_m: f64,
    /// Conductivity in W/(m K): 0.001 to 10,000. Watery food about 0.5.
    pub k: f64,
    /// Density in kg/m3: 0.01 to 30,000. Watery food about 1,000.
    pub rho: f64,
    /// Specific heat in J/(kg K): 10 to 100,000. Watery food 3,500 to 4,200.
    pub cp: f64,
    /// Surface coefficient in W/(m2 K), 0 (wrapped in a perfect blanket) to 1e12 (the surface is as cold as what is around).
    pub h: f64,
    /// How warm it is at the start.
    pub start_c: f64,
    /// How warm it is around it.
    pub around_c: f64,
}

impl Body {
    /// The same body, if its figures can be reckoned with; else the first that cannot.
    pub fn checked(self) -> Result<Body, CoolingError> {
        within("the half thickness", self.half_thickness_m, (1e-6, 100.0), "m")?;
        within("the conductivity k", self.k, (1e-3, 1e4), "W/(m K)")?;
        within("the density rho", self.rho, (0.01, 30_000.0), "kg/m3")?;
        within("the specific heat cp", self.cp, (10.0, 1e5), "J/(kg K)")?;
        within("the surface coefficient h", self.h, (0.0, 1e12), "W/(m2 K)")?;
        within("the temperature at the start", self.start_c, TEMPERATURES, "C")?;
        within("the temperature around", self.around_c, TEMPERATURES, "C")?;
        Ok(self)
    }

    /// How hard it is for heat to come to the surface, against leaving it.
    pub fn biot(&self) -> f64 {
        self.h * self.half_thickness_m / self.k
    }

    /// How fast temperatures even out, in m2/s.
    pub fn diffusivity(&self) -> f64 {
        self.k / (self.rho * self.cp)
    }

    /// Seconds in one unit of the Fourier number.
    pub fn seconds_per_fourier(&self) -> f64 {
        self.half_thickness_m * self.half_thickness_m / self.diffusivity()
    }

    /// The share of the difference at the start that is left where the temperature is `c`; nothing where there is no difference.
    pub fn share_left(&self, c: f64) -> Option<f64> {
        let all = self.start_c - self.around_c;
        (all != 0.0).then(|| (c - self.around_c) / all)
    }

    /// Seconds until all of it is at `to_c` if it were stirred without end: the limit of a small Biot number.
    ///
    /// Nothing where it never is.
    pub fn stirred_seconds_to(&self, to_c: f64) -> Option<f64> {
        if to_c == self.start_c {
            return Some(0.0);
        }
        let left = self.share_left(to_c).filter(|s| *s > 0.0 && *s < 1.0)?;
        let per_second = self.shape.surface() * self.h / (self.rho * self.cp * self.half_thickness_m);
        (per_second > 0.0).then(|| -left.ln() / per_second)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_reckoned_with_is_refused_in_one_sentence() {
        let good = Body {
            shape: Shape::Slab,
            half_thickness_m: 0.025,
            k: 0.56,
            rho: 1_030.0,
            cp: 3_900.0,
            h: 10.0,
            start_c: 60.0,
            around_c: 4.0,
        };
        assert_eq!(good.checked(), Ok(good));
        for (wrong, said) in [
            (Body { half_thickness_m: 0.0, ..good }, "the half thickness is 0; it goes from 1e-6 to 100 m"),
            (Body { k: -0.5, ..good }, "the conductivity k is -0.5; it goes from 0.001 to 10000 W/(m K)"),
            (Body { rho: f64::NAN, ..good }, "the density rho is NaN; it goes from 0.01 to 30000 kg/m3"),
            (Body { cp: f64::INFINITY, ..good }, "the specific heat cp is inf; it goes from 10 to 100000 J/(kg K)"),
            (Body { h: -1.0, ..good }, "the surface coefficient h is -1; it goes from 0 to 1e12 W/(m2 K)"),
            (Body { start_c: -300.0, ..good }, "the temperature at the start is -300; it goes from -273.15 to 5000 C"),
            (Body { around_c: 1e300, ..good }, "the temperature around is 1e300; it goes from -273.15 to 5000 C"),
        ] {
            assert_eq!(wrong.checked().unwrap_err().to_string(), said);
        }
    }
}
