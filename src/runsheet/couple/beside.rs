//! What a kitchen does beside the recipes of the day: twins in pans of their own, what was made before, the board washed.

use super::{Ctx, HOT_STANDS, blank, paced};
use crate::{
    book::{Heat, StepPlace},
    rotation::capital,
    runsheet::{
        LineCaution, LineKind,
        session::Again,
        words,
        work::{Board, Link, Spot, Why},
    },
};

/// Minutes for washing board, knife, hands and tap after raw food. Common practice, no source.
const WASH: i64 = 3;

impl Ctx<'_, '_> {
    /// Twins, in a pan of their own, begun before meat or fish goes in.
    pub(super) fn twins(&mut self, m: usize) {
        let s = self.session;
        let making = &s.makings[m];
        let Some(sitting) = making.sitting else { return };
        let Some(serve) = self.serve_up[sitting] else { return };
        let steps = &making.dish.steps;
        let flesh = words::RawFlesh::of(making.dish, making.raw_piece);
        let works = self.by_step[m].clone();
        let goes_in =
            (0..steps.len()).find(|&k| steps[k].hands && steps[k].place != StepPlace::Bench && flesh.in_hands(&steps[k].text));
        let apart = (0..steps.len()).find(|&k| words::sets_apart(&steps[k].text));
        let hot = matches!(making.dish.profile.heat, Some(Heat::Hot | Heat::Warm));
        for (twin, eaters) in &making.twins {
            let names: Vec<&str> = eaters.iter().map(|e| s.rotation.household.name(*e)).collect();
            let target = self.p.target(twin.name.clone(), self.ready[sitting], None, Some(sitting));
            let more = eaters.len().saturating_sub(1) as f64;
            let what = if hot {
                format!(
                    "For {}: {}, in a pan of its own with a spoon of its own, before meat or fish goes in",
                    names.join(", "),
                    twin.name
                )
            } else {
                format!("For {}: {}, with a board and spoon of its own", names.join(", "), twin.name)
            };
            let mut begin =
                blank(LineKind::Twin, &making.dish.name, what, paced(if hot { 3.0 } else { 4.0 } + more, s.kitchen.pace), target);
            begin.batch = Some(making.batch.id);
            begin.companions =
                twin.companions.iter().filter_map(|c| making.companions.iter().find(|m| m.0 == c.name).cloned()).collect();
            if hot {
                begin.spot = Spot::Ring;
            }
            let begin = self.p.add(begin);
            if let Some(at) = apart.and_then(|k| works[k]) {
                self.p.link(at, begin, 0, None, Why::Order);
            }
            if let Some(at) = goes_in.and_then(|k| works[k]) {
                self.p.link(begin, at, 0, None, Why::Order);
            }
            let end = if hot {
                let mut cook =
                    blank(LineKind::Twin, &making.dish.name, format!("{} cooks gently", capital(&twin.name)), 8, target);
                (cook.batch, cook.hands, cook.spot) = (Some(making.batch.id), 0, Spot::Ring);
                let cook = self.p.add(cook);
                self.p.link(begin, cook, 0, Some(0), Why::Heat);
                cook
            } else {
                begin
            };
            // Where the meat goes in an hour before the table, the twin waits in its pan.
            self.p.link(end, serve, 0, hot.then_some(HOT_STANDS), Why::Pan);
        }
    }

    /// What was made before and is eaten today.
    pub(super) fn again(&mut self, again: &Again<'_>) {
        let Some(serve) = self.serve_up[again.sitting] else { return };
        let s = self.session;
        let target = self.p.target(again.dish.name.clone(), self.ready[again.sitting], None, Some(again.sitting));
        let name = again.dish.name.to_lowercase();
        let what = if again.warmed {
            format!("Into a pan with a splash of water: {name}")
        } else {
            format!("Out of the fridge: {name}")
        };
        let mut work =
            blank(LineKind::Warm, &again.dish.name, what, paced(if again.warmed { 2.0 } else { 1.0 }, s.kitchen.pace), target);
        work.batch = Some(again.batch.id);
        work.portions = vec![("kept".into(), again.portion)];
        if again.warmed {
            work.spot = Spot::Ring;
        }
        let first = self.p.add(work);
        let today = s.makings.iter().position(|m| m.batch.id == again.batch.id);
        for end in today.map(|m| self.ends[m].clone()).unwrap_or_default() {
            self.p.link(end, first, 0, None, Why::Order);
        }
        if !again.warmed {
            self.p.link(first, serve, 0, Some(30), Why::Fresh);
            return;
        }
        let mut heat = blank(LineKind::Warm, &again.dish.name, format!("Heat it right through: {name}"), 10, target);
        (heat.batch, heat.hands, heat.spot) = (Some(again.batch.id), 0, Spot::Ring);
        heat.cautions = vec![LineCaution::reheat()];
        let heat = self.p.add(heat);
        self.p.link(first, heat, 0, Some(0), Why::Heat);
        self.p.link(heat, serve, 0, Some(HOT_STANDS), Why::Fresh);
    }

    /// Raw food on the board is followed by washing at once, so that nothing clean meets it.
    pub(super) fn boards(&mut self) {
        for w in 0..self.p.works.len() {
            if self.p.works[w].board != (Board::Raw { washed: false }) {
                continue;
            }
            let washes = |l: &&Link| l.before == w && self.p.works[l.after].board == Board::Wash;
            if let Some(wash) = self.p.links.iter().find(washes).map(|l| l.after) {
                self.p.link(w, wash, 0, Some(0), Why::Board);
                continue;
            }
            let of = &self.p.works[w];
            let what = "Wash board, knife, hands and tap after the raw food".to_string();
            let mut wash = blank(LineKind::Wash, &of.dish, what, paced(WASH as f64, self.session.kitchen.pace), of.target);
            (wash.batch, wash.board) = (of.batch, Board::Wash);
            let wash = self.p.add(wash);
            self.p.link(w, wash, 0, Some(0), Why::Board);
        }
    }
}
