//! Boxes and drums: a finite body as the product of its directions.
//!
//! In a rectangle or a drum the flow along one direction does not see the other, so in surroundings that stay as they are the
//! share of the difference left at a point is the product of the shares of a layer, another layer, a third (or a cylinder):
//! Carslaw and Jaeger, Conduction of Heat in Solids, on products of solutions. When the surroundings change, the difference
//! that is left is measured anew: what was a product stays one under the new coefficients, and the change of temperature adds
//! a product of its own that begins at 1 everywhere. So a box that goes from a bath into the fridge is a sum of as many
//! products as it has been in places, and that is exact: only each direction by itself is reckoned in small volumes.

use super::{
    body::Shape,
    volumes::{Face, Volumes},
};

/// What is seen from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Round {
    /// A circle of this diameter, in metres.
    Circle(f64),
    /// A rectangle of this length and width, in metres.
    Rectangle(f64, f64),
}

impl Round {
    /// Its area in m2.
    pub fn area(self) -> f64 {
        match self {
            Round::Circle(d) => std::f64::consts::PI * d * d / 4.0,
            Round::Rectangle(a, b) => a * b,
        }
    }

    /// Its rim in m.
    pub fn rim(self) -> f64 {
        match self {
            Round::Circle(d) => std::f64::consts::PI * d,
            Round::Rectangle(a, b) => 2.0 * (a + b),
        }
    }
}

/// What the faces give off, in W/(m2 K).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Faces {
    /// Below.
    pub bottom: f64,
    /// All round.
    pub side: f64,
    /// Above.
    pub top: f64,
}

/// A stay in one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// How long, in seconds.
    pub seconds: f64,
    /// How warm it is around, in degrees Celsius.
    pub around_c: f64,
    /// What the faces give off there.
    pub faces: Faces,
    /// Whether it is stirred all the while: as warm in the middle as at the rim.
    pub stirred: bool,
}

/// One product: a weight, and how much of 1 is left along each direction.
#[derive(Clone, Debug)]
struct Product {
    weight: f64,
    up: Volumes,
    across: Vec<Volumes>,
}

/// A box or drum full of food.
#[derive(Clone, Debug)]
pub struct Block {
    round: Round,
    depth: f64,
    k: f64,
    rho_cp: f64,
    around: f64,
    faces: Faces,
    stirred: bool,
    products: Vec<Product>,
    /// The one temperature while it is stirred.
    even: f64,
}

/// Volumes along a direction: a tenth of a degree and better, which is more than the coefficients are known to.
const COARSE: usize = 32;
/// The error of a step for these.
const ROUGH: f64 = 1e-4;

impl Block {
    /// Food of one temperature, `depth` metres deep; `k` in W/(m K), `rho_cp` in J/(m3 K).
    pub fn new(round: Round, depth: f64, k: f64, rho_cp: f64, start_c: f64) -> Block {
        let faces = Faces { bottom: 0.0, side: 0.0, top: 0.0 };
        Block { round, depth, k, rho_cp, around: start_c, faces, stirred: true, products: Vec::new(), even: start_c }
    }

    /// Brings it to another place; time passes with [`Block::advance`] alone.
    pub fn enter(&mut self, phase: &Phase) {
        if phase.stirred {
            self.even = self.mean();
            self.products.clear();
        } else if self.stirred || self.products.is_empty() {
            self.products = vec![self.fresh(self.even - phase.around_c)];
        } else {
            let change = self.around - phase.around_c;
            if change != 0.0 {
                let fresh = self.fresh(change);
                self.products.push(fresh);
            }
        }
        self.stirred = phase.stirred;
        self.around = phase.around_c;
        self.faces = phase.faces;
        for product in &mut self.products {
            product.up.surround(0.0, Face { h: phase.faces.bottom }, Face { h: phase.faces.top });
            for across in &mut product.across {
                across.surround(0.0, Face::SHUT, Face { h: phase.faces.side });
            }
        }
    }

    fn fresh(&self, weight: f64) -> Product {
        let (k, c) = (self.k, self.rho_cp);
        let half = |shape, half| Volumes::half(shape, half, COARSE, k, c, 1.0).rougher(ROUGH);
        let across = match self.round {
            Round::Circle(d) => vec![half(Shape::Cylinder, d / 2.0)],
            Round::Rectangle(a, b) => vec![half(Shape::Slab, a / 2.0), half(Shape::Slab, b / 2.0)],
        };
        Product { weight, up: Volumes::layer(self.depth, COARSE, k, c, 1.0).rougher(ROUGH), across }
    }

    /// Lets so many seconds pass where it is.
    pub fn advance(&mut self, seconds: f64) {
        if self.stirred {
            let (area, rim) = (self.round.area(), self.round.rim());
            let loss = (self.faces.bottom + self.faces.top) * area + self.faces.side * rim * self.depth;
            let fade = (-loss * seconds / (self.rho_cp * area * self.depth)).exp();
            self.even = self.around + (self.even - self.around) * fade;
            return;
        }
        for product in &mut self.products {
            product.up.advance(seconds);
            product.across.iter_mut().for_each(|a| a.advance(seconds));
        }
    }

    /// Along the upright through the middle, from the bottom: the warmest upright while it cools, the coldest while it warms.
    pub fn upright(&self) -> Vec<f64> {
        if self.stirred {
            return vec![self.even];
        }
        let mut heights = vec![self.around; COARSE];
        for product in &self.products {
            let across: f64 = product.across.iter().map(Volumes::middle).product();
            for (height, left) in heights.iter_mut().zip(product.up.temperatures()) {
                *height += product.weight * across * left;
            }
        }
        heights
    }

    /// The warmest of that upright.
    pub fn warmest(&self) -> f64 {
        self.upright().into_iter().fold(f64::MIN, f64::max)
    }

    /// The temperature of all of it, stirred.
    pub fn mean(&self) -> f64 {
        if self.stirred {
            return self.even;
        }
        let left = |p: &Product| p.weight * p.up.mean() * p.across.iter().map(Volumes::mean).product::<f64>();
        self.around + self.products.iter().map(left).sum::<f64>()
    }
}
