//! Mends of what is not cold in time by how it is boxed up: shallower, uncovered, straight into the fridge, in a bath first.

use super::candidate::{Candidate, Sort};
use crate::{
    judge::{
        Finding,
        chilling::spare,
        cooling::{advise, advise_with, boxing_of, question_of, question_of_whole},
    },
    rotation::{Boxing, Edit, KeptBack, Rotation},
};

/// The ways that pass the rule, as something that the plan can say.
pub(super) fn otherwise_boxed(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let asked = match finding.batch {
        Some(id) => question_of(rotation, id).map(|q| (KeptBack::Batch(id), q)),
        None => question_of_whole(rotation).map(|q| (KeptBack::Whole, q)),
    };
    let Some((of, question)) = asked else { return Vec::new() };
    if finding.key.0.ends_with("/rice") {
        let sooner = rotation.storage.boxing(of).map(|b| Boxing { counter: Boxing::usual(of).counter, ..b.clone() });
        return sooner.map(|b| Candidate::new(Sort::Boxes, Edit::BoxUp(b))).into_iter().collect();
    }
    let boxes = spare(rotation);
    let ways = if boxes.is_empty() { advise(&question) } else { advise_with(&question, &boxes) };
    let ways = ways.unwrap_or_default().into_iter().filter_map(|way| {
        let boxing = boxing_of(rotation, of, &way.changed)?;
        // "Divide it between 3 boxes, 3.8 cm deep", without the figures that come of it.
        let (what, _) = way.words.split_once(": ")?;
        Some(Candidate::new(Sort::Boxes, Edit::BoxUp(boxing)).saying(what))
    });
    ways.enumerate().map(|(i, c)| c.further(i)).collect()
}
