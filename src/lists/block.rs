//! The piece as a block: its parts in a row, what is left of each, and how many cut faces it shows.
//!
//! A cut face dries, browns and lets in what spoils, so the rest of a piece keeps the better the fewer it has and the larger it
//! is. The model is the drawing of the bench: the parts of the kind in a row, each with its grams, grown together with its
//! neighbours. A portion is cut off one end of its part. Where the part hangs together with a neighbour at that end, the cut
//! parts them and leaves a face on both; at an end that is a face already the face only moves; at the outer end of the row the
//! skin is cut away and leaves one face. A part that is taken whole leaves the faces of its neighbours behind.
//!
//! What comes in natural wholes (leaves, florets) comes off along its seams, and a picking of many fruits has no face between
//! them: neither leaves a face.

use crate::{
    book::{Kind, PartId},
    rotation::Rotation,
};

/// Words for what starts the clock of a picking or of what is poured and spooned: things that are no one block.
const LOOSE: &[&str] = &["picked", "sorted", "lifted", "opened"];

/// A part within the block.
#[derive(Clone, Debug, PartialEq)]
struct Segment {
    part: PartId,
    name: String,
    left: u32,
    /// Whether it comes off along its seams.
    seams: bool,
    /// Whether it hangs together with the next part that is there.
    joined: bool,
    /// Whether its lower and its higher end are cut faces.
    faces: [bool; 2],
}

/// Which end of its part a portion is cut from: the one towards the part drawn before it, or towards the one after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum End {
    Low,
    High,
}

/// The piece as it lies on the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    segments: Vec<Segment>,
    loose: bool,
}

/// A piece of the block that still hangs together: what is wrapped and put back as one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// Its parts in the order of the block, with what is left of each.
    pub parts: Vec<(PartId, String, u32)>,
    /// All of it together, in the state the kind is portioned in.
    pub grams: u32,
    /// Its cut faces.
    pub faces: u32,
}

impl Block {
    /// The piece before anything is cut from it; parts that hold nothing are not there.
    pub fn whole(rotation: &Rotation) -> Block {
        let kind = &rotation.kind;
        let loose = is_loose(kind);
        let held = rotation.piece.parts.iter().filter(|p| !p.usable.is_zero());
        let mut segments: Vec<Segment> = held
            .map(|p| {
                let known = kind.part(&p.part);
                Segment {
                    part: p.part.clone(),
                    name: known.map_or_else(|| p.part.to_string(), |k| k.name.clone()),
                    left: p.usable.get(),
                    seams: loose || known.is_some_and(|k| k.unit.is_some()),
                    joined: !loose,
                    faces: [false; 2],
                }
            })
            .collect();
        if let Some(last) = segments.last_mut() {
            last.joined = false;
        }
        Block { segments, loose }
    }

    /// Whether it is a picking of many things and not one block.
    pub fn is_loose(&self) -> bool {
        self.loose
    }

    /// Cuts `grams` off a part, or all that is left of it; gives what came off.
    pub(super) fn cut(&mut self, part: &PartId, end: End, grams: u32) -> u32 {
        let Some(at) = self.segments.iter().position(|s| s.part == *part) else { return 0 };
        let took = grams.min(self.segments[at].left);
        if took == 0 {
            return 0;
        }
        self.segments[at].left -= took;
        let gone = self.segments[at].left == 0;
        let ends: &[End] = match (gone, end) {
            (true, _) => &[End::Low, End::High],
            (false, End::Low) => &[End::Low],
            (false, End::High) => &[End::High],
        };
        for end in ends {
            self.open(at, *end);
        }
        if gone {
            self.segments[at].faces = [false; 2];
        }
        took
    }

    /// Opens one end of a part: a face on it, and one on the neighbour it hung together with.
    fn open(&mut self, at: usize, end: End) {
        let seams = self.segments[at].seams;
        let boundary = match end {
            End::Low => at.checked_sub(1),
            End::High => Some(at),
        };
        if !seams {
            self.segments[at].faces[end as usize] = true;
        }
        let Some(lower) = boundary.filter(|&i| self.segments[i].joined) else { return };
        self.segments[lower].joined = false;
        let (neighbour, side) = match end {
            End::Low => (lower, End::High),
            End::High => (lower + 1, End::Low),
        };
        if !seams && !self.segments[neighbour].seams {
            self.segments[neighbour].faces[side as usize] = true;
        }
    }

    /// What still hangs together, in the order of the row; of a picking each part by itself.
    pub fn rests(&self) -> Vec<Rest> {
        let mut rests: Vec<Rest> = Vec::new();
        let mut hangs = false;
        for s in &self.segments {
            if s.left > 0 {
                let faces = s.faces.iter().filter(|f| **f).count() as u32;
                let part = (s.part.clone(), s.name.clone(), s.left);
                match rests.last_mut().filter(|_| hangs) {
                    Some(rest) => {
                        rest.parts.push(part);
                        rest.grams = rest.grams.saturating_add(s.left);
                        rest.faces += faces;
                    }
                    None => rests.push(Rest { parts: vec![part], grams: s.left, faces }),
                }
            }
            hangs = s.joined && s.left > 0;
        }
        rests
    }

    /// All cut faces together.
    pub fn faces(&self) -> u32 {
        self.segments.iter().filter(|s| s.left > 0).flat_map(|s| s.faces).map(u32::from).sum()
    }

    /// The mass of the largest rest.
    pub fn largest(&self) -> u32 {
        self.rests().iter().map(|r| r.grams).max().unwrap_or(0)
    }

    /// What is left of all parts.
    pub fn left(&self) -> u32 {
        self.segments.iter().map(|s| s.left).fold(0, u32::saturating_add)
    }
}

/// Whether a kind is a picking of many things, or poured (by the word for what starts its clock), or cooked whole and taken apart.
fn is_loose(kind: &Kind) -> bool {
    kind.is_cooked_whole() || LOOSE.contains(&kind.clock_starts.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::test_support::{Plan, part_id};

    fn row() -> Block {
        Block::whole(&Plan::of("fish", &[("loin", 480, 1), ("belly", 380, 1), ("tail", 400, 1)], 3).rotation)
    }

    fn after(cuts: &[(&str, End, u32)]) -> Block {
        let mut block = row();
        cuts.iter().for_each(|(part, end, grams)| _ = block.cut(&part_id(part), *end, *grams));
        block
    }

    #[test]
    fn a_cut_leaves_the_faces_that_a_knife_leaves() {
        use End::{High, Low};
        // Cuts, faces, mass of the largest rest, number of rests.
        for (cuts, want) in [
            (&[][..], (0, 1_260, 1)),
            (&[("loin", Low, 100)], (1, 1_160, 1)),
            (&[("loin", High, 100)], (2, 780, 2)),
            (&[("loin", Low, 480)], (1, 780, 1)),
            (&[("belly", Low, 380)], (2, 480, 2)),
            (&[("belly", High, 80)], (2, 780, 2)),
            (&[("loin", Low, 100), ("loin", Low, 100)], (1, 1_060, 1)),
            (&[("loin", Low, 480), ("belly", Low, 100)], (1, 680, 1)),
            (&[("loin", Low, 480), ("tail", High, 400)], (2, 380, 1)),
            (&[("loin", Low, 999), ("belly", Low, 999), ("tail", Low, 999)], (0, 0, 0)),
        ] {
            let block = after(cuts);
            assert_eq!((block.faces(), block.largest(), block.rests().len()), want, "{cuts:?}");
        }
    }

    #[test]
    fn no_more_comes_off_than_there_is_and_no_gram_is_lost() {
        let mut block = row();
        assert_eq!(block.cut(&part_id("loin"), End::Low, 500), 480);
        assert_eq!(block.cut(&part_id("loin"), End::Low, 10), 0);
        assert_eq!(block.cut(&part_id("none"), End::Low, 10), 0);
        assert_eq!(block.left(), 780);
        assert_eq!(block.rests().iter().map(|r| r.grams).sum::<u32>(), 780);
    }

    #[test]
    fn leaves_and_pickings_come_off_without_a_face() {
        let mut plan = Plan::cabbage(4);
        let kind = std::sync::Arc::make_mut(&mut plan.rotation.kind);
        kind.parts[0].unit = Some(("leaf".into(), crate::quantity::Portion::of(crate::quantity::State::Prepared, 50)));
        let mut head = Block::whole(&plan.rotation);
        head.cut(&part_id("outer"), End::Low, 250);
        assert_eq!((head.faces(), head.rests().len()), (0, 1));
        head.cut(&part_id("outer"), End::Low, 50);
        assert_eq!((head.faces(), head.largest()), (0, 1_200));

        std::sync::Arc::make_mut(&mut plan.rotation.kind).clock_starts = "picked".into();
        let mut picking = Block::whole(&plan.rotation);
        assert!(picking.is_loose());
        picking.cut(&part_id("middle"), End::High, 300);
        assert_eq!((picking.faces(), picking.rests().len()), (0, 3));
    }
}
