//! What food cools in, and where it stands.
//!
//! The coefficients: still refrigerator air on food 5 to 10 W/(m2 K), forced air 25 and more, a still liquid 50 to 1,000 (all
//! from memory, textbook ranges), radiation in a home fridge about as much again as still air (Laguerre 2010). Ours lie low in
//! those ranges, so that it cools rather sooner than we say.

use super::block::{Faces, Round};
use crate::rotation::FoodBox;

/// A pot, box or tray.
#[derive(Clone, Debug, PartialEq)]
pub struct Vessel {
    /// What one is called: "pot", "shallow box".
    pub one: String,
    /// What several are called.
    pub several: String,
    /// What is seen from above, in metres.
    pub round: Round,
    /// How high it can be filled, in metres.
    pub height_m: f64,
    /// What it is made of.
    pub wall: Wall,
}

/// What a vessel is made of. The heat that a wall holds up is its thickness over its conductivity (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wall {
    /// Holds nothing up.
    Metal,
    /// 5 mm at 1 W/(m K).
    Glass,
    /// 2 mm at 0.2 W/(m K).
    Plastic,
}

impl Wall {
    /// m2 K/W.
    fn resistance(self) -> f64 {
        match self {
            Wall::Metal => 0.0,
            Wall::Glass => 0.005,
            Wall::Plastic => 0.01,
        }
    }
}

impl Vessel {
    fn new(one: &str, several: &str, round: Round, height_m: f64, wall: Wall) -> Vessel {
        Vessel { one: one.into(), several: several.into(), round, height_m, wall }
    }

    /// A pot of this diameter in metres, three quarters as high.
    pub fn pot(diameter_m: f64) -> Vessel {
        Vessel::new("pot", "pots", Round::Circle(diameter_m), 0.75 * diameter_m, Wall::Metal)
    }

    /// A plastic box of 20 by 15 cm, 10 cm high.
    pub fn storage_box() -> Vessel {
        Vessel::new("box", "boxes", Round::Rectangle(0.20, 0.15), 0.10, Wall::Plastic)
    }

    /// A metal tray of 32 by 24 cm, 5 cm high.
    pub fn tray() -> Vessel {
        Vessel::new("tray", "trays", Round::Rectangle(0.32, 0.24), 0.05, Wall::Metal)
    }

    /// The pot of 24 cm, box or tray that every kitchen is taken to have, by its name ([`crate::rotation::USUAL_VESSELS`]).
    pub fn usual(name: &str) -> Option<Vessel> {
        match name {
            "pot" => Some(Vessel::pot(0.24)),
            "box" => Some(Vessel::storage_box()),
            "tray" => Some(Vessel::tray()),
            _ => None,
        }
    }

    /// A box of the household's own.
    pub fn of_box(own: &FoodBox) -> Vessel {
        let metres = |mm: u16| f64::from(mm) / 1_000.0;
        let (length, width, height) = own.size_mm;
        let wall = if own.metal { Wall::Metal } else { Wall::Plastic };
        let several = FoodBox::several(&own.name);
        Vessel::new(&own.name, &several, Round::Rectangle(metres(length), metres(width)), metres(height), wall)
    }

    /// How deep so many cubic metres stand in one of them.
    pub fn depth_m(&self, volume_m3: f64) -> f64 {
        volume_m3 / self.round.area()
    }
}

/// Where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// On a board in the kitchen.
    Counter,
    /// On a wire shelf of a fridge without a fan, with room around it.
    Fridge,
    /// In a fridge whose fan blows on it.
    FanFridge,
    /// In a sink of cold water up to the food's own height, the water changed when it gets warm.
    ColdWater,
    /// The same with ice in it.
    IceWater,
    /// In a freezer. That food gives off more heat as it freezes is left out: it is for the first hour.
    Freezer,
}

/// How warm it is in this kitchen, in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    /// The room, 0 to 45.
    pub room_c: f64,
    /// The fridge, -2 to 15; 5 or below is right.
    pub fridge_c: f64,
    /// Cold water from the tap, 0 to 30.
    pub tap_c: f64,
}

impl Default for Climate {
    /// 20, 4 and 15: a room, a fridge that is as it should be, and tap water in summer.
    fn default() -> Climate {
        Climate { room_c: 20.0, fridge_c: 4.0, tap_c: 15.0 }
    }
}

/// Air under a lid, and the lid, in m2 K/W: as much as a second still layer (our estimate, no source).
const LID: f64 = 0.1;
/// From the food to the wall while it is stirred, in m2 K/W (from memory).
const STIRRED_FILM: f64 = 0.002;

impl Place {
    /// How warm it is there.
    pub fn around_c(self, climate: &Climate) -> f64 {
        match self {
            Place::Counter => climate.room_c,
            Place::Fridge | Place::FanFridge => climate.fridge_c,
            Place::ColdWater => climate.tap_c,
            Place::IceWater => 1.0,
            Place::Freezer => -18.0,
        }
    }

    /// What the faces of a vessel give off there, wall and lid included. In a bath nothing is counted through the top, which
    /// stands in the air of the room.
    pub fn faces(self, vessel: &Vessel, lid: bool, stirred: bool) -> Faces {
        let (bottom, side, top) = match self {
            Place::Counter => (5.0, 10.0, 10.0),
            Place::Fridge | Place::Freezer => (10.0, 10.0, 10.0),
            Place::FanFridge => (25.0, 25.0, 25.0),
            Place::ColdWater => (200.0, 200.0, 0.0),
            Place::IceWater => (300.0, 300.0, 0.0),
        };
        let film = if stirred { STIRRED_FILM } else { 0.0 };
        let through = |h: f64, more: f64| if h > 0.0 { 1.0 / (1.0 / h + more + film) } else { 0.0 };
        let wall = vessel.wall.resistance();
        let cover = if lid { LID + wall } else { 0.0 };
        Faces { bottom: through(bottom, wall), side: through(side, wall), top: through(top, cover) }
    }

    /// Where, as a cook says it: "on the counter".
    pub fn words(self) -> &'static str {
        match self {
            Place::Counter => "on the counter",
            Place::Fridge => "in the fridge",
            Place::FanFridge => "in a fridge with a fan",
            Place::ColdWater => "in cold water",
            Place::IceWater => "in iced water",
            Place::Freezer => "in the freezer",
        }
    }

    /// Whether it can be stirred there without standing by an open door.
    pub fn at_hand(self) -> bool {
        matches!(self, Place::Counter | Place::ColdWater | Place::IceWater)
    }
}
