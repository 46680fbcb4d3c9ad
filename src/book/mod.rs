//! What the cook's book knows: kinds of pieces, dishes, and how a dish eats.
//!
//! A [`Kind`] says what is in a piece and how long it keeps; a [`Dish`] says what is made of it, how it eats
//! ([`Profile`]) and how long that keeps. The shipped catalogue lies in `assets/book`; [`Book`] holds it, looked up by id.

mod allergen;
mod axis;
mod catalogue;
mod check;
mod coverage;
mod dish;
mod family;
mod fare;
mod ids;
mod kind;
mod profile;
mod shop;
mod substance;

pub use allergen::{Allergen, Diet};
pub use axis::{Colour, Family, Form, Heat, Method, Protein, Starch, Texture};
pub use catalogue::{Book, BookError, Place};
pub(crate) use check::allergens_of;
pub use check::{About, CheckFault, allergens_named_in, check_book, diet_named_in, faults_of_dish, faults_of_kind};
pub use coverage::{FamilyCoverage, coverage, entries_without_source};
pub use dish::{Care, Caution, Companion, CompanionMeasure, Dish, Leftover, Role, Step, StepPlace, Twin};
pub(crate) use family::one_in_file as family_in_file;
pub use family::{family_name, family_now};
pub use fare::{Fare, contents_of, holds_word, is_named};
pub use ids::{DishId, KindId, PartId, is_slug};
pub use kind::{CupMass, CutForm, CutKeeping, FormYield, Kind, KindPart, StandIn, TrimShare, WholeKeeping, minutes_words};
pub use profile::{Graded, Profile, Taste};
pub use shop::{Shop, Stocking, stocking_of};
pub use substance::{Contents, Substance};
