//! How a dish eats: nine axes, any of which may be left blank.

use super::axis::{Colour, Family, Form, Heat, Method, Protein, Starch, Texture};
use serde::{Deserialize, Serialize};

/// One value of a graded set: the main one has grade 1, an accent 0.5 (a crumb lid, a leaf of herb).
///
/// In files: `(Crisp, 1.0)`. Grades lie over 0 and at most at 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Graded<T>(pub T, pub f64);

/// The basic tastes of ISO 5492 but salt (nearly every main dish has it), with burn (a trigeminal sensation) and fat; each 0 to 3.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Taste {
    /// Sweet, 0 to 3.
    pub sweet: u8,
    /// Sour, 0 to 3.
    pub sour: u8,
    /// Bitter, 0 to 3.
    pub bitter: u8,
    /// Umami, 0 to 3.
    pub umami: u8,
    /// Burn: chilli, mustard, ginger; 0 to 3.
    pub hot: u8,
    /// Fat; 0 to 3.
    pub rich: u8,
}

impl Taste {
    /// The vector in the order sweet, sour, bitter, umami, hot, rich.
    pub fn vector(&self) -> [f64; 6] {
        [self.sweet, self.sour, self.bitter, self.umami, self.hot, self.rich].map(f64::from)
    }
}

/// How a dish eats. An empty list or `None` means that nobody has said; a blank axis is never read as likeness.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Profile {
    /// Main texture first.
    pub texture: Vec<Graded<Texture>>,
    /// Main seasoning family first.
    pub family: Vec<Graded<Family>>,
    /// Graded tastes.
    pub taste: Option<Taste>,
    /// Main method first.
    pub method: Vec<Graded<Method>>,
    /// How warm it is served.
    pub heat: Option<Heat>,
    /// What it looks like on the table.
    pub form: Option<Form>,
    /// Main colour first.
    pub colour: Vec<Graded<Colour>>,
    /// The starch of its company.
    pub starch: Option<Starch>,
    /// The protein of its company.
    pub protein: Option<Protein>,
}

impl Profile {
    /// The main texture, if any is given.
    pub fn main_texture(&self) -> Option<Texture> {
        main(&self.texture)
    }

    /// The main seasoning family.
    pub fn main_family(&self) -> Option<Family> {
        main(&self.family)
    }

    /// The main method.
    pub fn main_method(&self) -> Option<Method> {
        main(&self.method)
    }

    /// The main colour.
    pub fn main_colour(&self) -> Option<Colour> {
        main(&self.colour)
    }

    /// How strongly this plate is hot and soft at once: the highest grade among its soft textures, if it is served warm or hot.
    pub fn hot_and_soft(&self) -> f64 {
        if self.heat.is_none_or(|h| h < Heat::Warm) {
            return 0.0;
        }
        self.texture.iter().filter(|t| t.0.is_soft()).map(|t| t.1).fold(0.0, f64::max)
    }
}

fn main<T: Copy>(set: &[Graded<T>]) -> Option<T> {
    let mut best: Option<&Graded<T>> = None;
    for g in set {
        if best.is_none_or(|b| g.1 > b.1) {
            best = Some(g);
        }
    }
    best.map(|g| g.0)
}
