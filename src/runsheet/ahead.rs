//! Placeholder.
use crate::{rotation::Rotation, timeline::Onlooker, quantity::DayNo};
/// x
#[derive(Clone, Debug)]
pub struct Proposal;
/// x
pub fn prep_ahead(_r: &Rotation, _d: DayNo, _o: &mut dyn Onlooker) -> Vec<Proposal> { Vec::new() }
