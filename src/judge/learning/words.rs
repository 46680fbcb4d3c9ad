//! What may be said of what was learned: little, and never in per cent.

use super::{Learned, Standing};
use crate::judge::Axis;

/// A weight that has moved by no more than this may be chance. Our own judgement: in simulation single weights hardly resolve
/// within thirty answers.
const WORTH_SAYING: f64 = 0.5;

impl Learned {
    /// What may be told the household, the plainest first: "colour counts a little more for you". Nothing where nothing has
    /// moved far enough, or where the usual weights stay.
    pub fn says(&self) -> Vec<String> {
        if self.standing != Standing::Learned {
            return Vec::new();
        }
        let (axes, patience) = self.moved();
        let mut moved: Vec<(f64, Axis)> = axes.into_iter().zip(Axis::ALL).filter(|(by, _)| by.abs() > WORTH_SAYING).collect();
        moved.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()).then(a.1.cmp(&b.1)));
        let mut out: Vec<String> = moved
            .into_iter()
            .map(|(by, axis)| format!("{} counts a little {} for you", axis.word(), if by > 0.0 { "more" } else { "less" }))
            .collect();
        if patience > WORTH_SAYING {
            out.push("you bear a little more likeness than most".into());
        } else if patience < -WORTH_SAYING {
            out.push("likeness is too much for you a little sooner than for most".into());
        }
        out
    }

    /// One sentence on whether the answers are used.
    pub fn standing_words(&self) -> &'static str {
        match self.standing {
            Standing::NothingSaid => "Nobody has said yet which meals were too alike, so the usual weights stand.",
            Standing::Kept => "The answers do not yet foretell each other better than the usual weights do, so those stay.",
            Standing::Learned => "The weights follow what you said of meals.",
        }
    }
}
