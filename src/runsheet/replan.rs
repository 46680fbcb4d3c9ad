//! Placeholder.
use super::{Refusal, RunSheet};
use crate::timeline::Onlooker;
/// x
#[derive(Clone, Debug, Default)]
pub struct Progress;
/// x
#[derive(Clone, Debug)]
pub struct Replanned;
/// x
#[derive(Clone, Debug)]
pub struct Running;
/// x
#[derive(Clone, Debug)]
pub struct Slip;
/// x
pub fn replan(_s: &RunSheet, _p: &Progress, _o: &mut dyn Onlooker) -> Result<Replanned, Refusal> { Ok(Replanned) }
