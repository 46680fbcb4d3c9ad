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
mod ids;
mod kind;
mod profile;
mod shop;

pub use allergen::{Allergen, Diet};
pub use axis::{Colour, Family, Form, Heat, Method, Protein, Starch, Texture};
pub use catalogue::{Book, BookError, Place};
pub(crate) use check::allergens_of;
pub use check::{About, CheckFault, allergens_named_in, check_book, faults_of_dish, faults_of_kind};
pub use coverage::{FamilyCoverage, coverage, entries_without_source};
pub use dish::{Care, Caution, Companion, CompanionMeasure, Dish, Leftover, Role, Step, StepPlace, Twin};
pub use ids::{DishId, KindId, PartId, is_slug};
pub use kind::{CupMass, CutForm, CutKeeping, FormYield, Kind, KindPart, StandIn, TrimShare, WholeKeeping, family_name};
pub use profile::{Graded, Profile, Taste};
pub use shop::{Shop, Stocking, stocking_of};
