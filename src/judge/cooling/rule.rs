//! Rules for cooling cooked food: how soon it must be how cold.

/// A stage of a rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    /// How cold the warmest of it must be.
    pub to_c: f64,
    /// Minutes from the start of the rule's clock.
    pub within: f64,
}

/// How soon cooked food must be how cold.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// What it is called.
    pub name: String,
    /// Where it stands, or "the household's own".
    pub source: String,
    /// The clock starts when the warmest of it has come down to this.
    pub from_c: f64,
    /// Its stages, in order.
    pub stages: Vec<Stage>,
}

impl Rule {
    /// From 57 to 21 °C in two hours, and to 5 °C in six in all: FDA Food Code 2022, 3-501.14(A).
    pub fn two_stage() -> Rule {
        Rule {
            name: "two-stage cooling".into(),
            source: "FDA Food Code 2022, 3-501.14".into(),
            from_c: 57.0,
            stages: vec![Stage { to_c: 21.0, within: 120.0 }, Stage { to_c: 5.0, within: 360.0 }],
        }
    }

    /// To 8 °C in 90 minutes from 63 °C, where hot holding ends: common practice in professional kitchens, from memory. The
    /// 63 °C is the legal limit of hot holding (UK Food Standards Agency).
    pub fn ninety_minutes() -> Rule {
        Rule {
            name: "cold in 90 minutes".into(),
            source: "common practice, from memory".into(),
            from_c: 63.0,
            stages: vec![Stage { to_c: 8.0, within: 90.0 }],
        }
    }

    /// A household's own: to `to_c` within so many minutes of coming down to 60 °C.
    pub fn own(to_c: f64, within: f64) -> Rule {
        Rule {
            name: "the household's rule".into(),
            source: "the household's own".into(),
            from_c: 60.0,
            stages: vec![Stage { to_c, within }],
        }
    }

    /// When its last stage ends, in minutes of its clock.
    pub(super) fn end(&self) -> f64 {
        self.stages.iter().map(|s| s.within).fold(0.0, f64::max)
    }

    /// The coldest that it asks for.
    pub(super) fn coldest(&self) -> f64 {
        self.stages.iter().map(|s| s.to_c).fold(f64::MAX, f64::min)
    }
}
