//! What the judges say.

use crate::rotation::{BatchId, EaterId, FindingKey, Rotation, Slot};
use serde::Serialize;

/// How grave a finding is. `Stop` is unsafe, an allergy or impossible; the others are matters of taste and thrift.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Unsafe, an allergy, or impossible.
    Stop,
    /// The household would complain, or food would be lost.
    Warn,
    /// Worth a look.
    Caution,
    /// Good to know.
    Note,
}

impl Severity {
    /// The word for a person: "Stop", "Warning", "Caution", "Note".
    pub fn word(self) -> &'static str {
        match self {
            Severity::Stop => "Stop",
            Severity::Warn => "Warning",
            Severity::Caution => "Caution",
            Severity::Note => "Note",
        }
    }
}

macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $text:literal),+ $(,)?) => {
        /// What a finding is about; the text is stable in `--json`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code { $($(#[$doc])* $name),+ }

        impl Code {
            /// The stable text.
            pub fn as_str(self) -> &'static str {
                match self { $(Code::$name => $text),+ }
            }
        }
    };
}

codes! {
    /// Raw too long after the clock started.
    RawTooOld = "keeping-raw",
    /// A cut form kept too long before it was made or eaten.
    CutTooOld = "keeping-cut",
    /// Eaten too long after cooking or making.
    CookedTooOld = "keeping-cooked",
    /// A meal on the last day that its food may be eaten.
    LastDay = "keeping-last-day",
    /// Served before it is made.
    BeforeMade = "keeping-order",
    /// Reheated more than once.
    Reheated = "keeping-reheated",
    /// A vulnerable eater's shorter limit is passed, but the dish is boiled through.
    BoiledThrough = "keeping-boiled-through",
    /// Food that lay in the fridge through a long power cut.
    PowerCut = "keeping-power-cut",
    /// Something is used while it is frozen, or frozen again once it has thawed.
    Frozen = "keeping-frozen",
    /// Something lies in the freezer for longer than it keeps its quality there.
    FrozenLong = "keeping-freezer-quality",
    /// Whether what is kept back warm will be cold in time.
    Cooling = "cooling",
    /// More of a part is allotted than there is.
    OverAllotted = "balance-over",
    /// Something of the piece has no home.
    Unallocated = "balance-left",
    /// Something of a batch has no meal.
    Unserved = "balance-unserved",
    /// A serving below or above what the dish is good for.
    ServingSize = "balance-serving",
    /// Two meals are too alike.
    TooAlike = "likeness",
    /// A meal has too little described to be judged.
    NotDescribed = "likeness-unknown",
    /// The same texture runs on.
    RunTexture = "run-texture",
    /// The same seasoning family runs on.
    RunFamily = "run-family",
    /// Hot and soft runs on.
    RunHotSoft = "run-hot-soft",
    /// The same dish comes back within 14 days as a fresh batch.
    SameDish = "same-dish",
    /// A dish that somebody did not want again, or not soon.
    Unwelcome = "unwelcome",
    /// An allergen on its eater's plate.
    Allergy = "allergy",
    /// Somebody present has nothing they eat.
    NothingToEat = "diet",
    /// Somebody dislikes a form.
    Dislike = "dislike",
    /// A caution that a dish carries.
    DishCaution = "dish-caution",
    /// Something in a dish that an eater never eats, by faith or vow.
    Barred = "barred",
    /// Something in a dish that one who must be taken care of had better not eat.
    Care = "care",
    /// A caution that the piece carries.
    PieceCaution = "piece-caution",
    /// A word of caution of the kitchen that neither dish nor piece says.
    Advice = "advice",
    /// An opened pack is used after its time.
    CompanionTooOld = "companion-keeping",
    /// An opened pack is not used up.
    CompanionLeft = "companion-left",
    /// Several opened packs are not used up.
    CompanionWaste = "companion-waste",
    /// A dish is fed a part it does not suit.
    WrongPart = "part",
    /// The only raw dish stands last.
    RawLast = "order-raw-last",
    /// Cold plates running in the season of frost.
    ColdInFrost = "season-cold",
    /// The oven lit in the season of heat.
    OvenInHeat = "season-oven",
}

/// One thing that the program has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How grave.
    pub severity: Severity,
    /// About what.
    pub code: Code,
    /// The meal it is about, where it is about one.
    pub meal: Option<Slot>,
    /// The earlier meal it compares with.
    pub other: Option<Slot>,
    /// The batch it is about.
    pub batch: Option<BatchId>,
    /// Whom it concerns, where it is not everybody.
    pub eater: Option<EaterId>,
    /// Everybody who feels it, for matters of taste; empty for all others.
    pub felt_by: Vec<EaterId>,
    /// One sentence in a cook's words.
    pub text: String,
    /// Its name for overruling.
    pub key: FindingKey,
    /// The cook's reason, if it is overruled; such a finding speaks no more.
    pub overruled: Option<String>,
}

impl Finding {
    /// A finding; `about` tells it from others of its code (dish ids, eater, part), and stays equal while its cause does.
    pub fn new(severity: Severity, code: Code, about: impl AsRef<str>, text: impl Into<String>) -> Finding {
        let key = FindingKey(format!("{}/{}", code.as_str(), about.as_ref()));
        Finding {
            severity,
            code,
            meal: None,
            other: None,
            batch: None,
            eater: None,
            felt_by: Vec::new(),
            text: text.into(),
            key,
            overruled: None,
        }
    }

    /// The same, about a meal.
    #[must_use]
    pub fn at(mut self, slot: Slot) -> Finding {
        self.meal = Some(slot);
        self
    }

    /// The same, compared with an earlier meal.
    #[must_use]
    pub fn beside(mut self, slot: Slot) -> Finding {
        self.other = Some(slot);
        self
    }

    /// The same, about a batch.
    #[must_use]
    pub fn of(mut self, batch: BatchId) -> Finding {
        self.batch = Some(batch);
        self
    }

    /// The same, for one eater.
    #[must_use]
    pub fn for_eater(mut self, eater: EaterId) -> Finding {
        self.eater = Some(eater);
        self
    }

    /// The same, felt by these and no others.
    #[must_use]
    pub fn felt(mut self, eaters: &[EaterId]) -> Finding {
        self.felt_by = eaters.to_vec();
        self
    }

    /// Whether the cook may overrule it: warnings and cautions of taste, never a stop.
    pub fn may_overrule(&self) -> bool {
        matches!(self.severity, Severity::Warn | Severity::Caution)
    }

    /// Whether it still speaks.
    pub fn speaks(&self) -> bool {
        self.overruled.is_none()
    }
}

/// Marks what is overruled and sorts: what speaks first, worst first, then by time.
pub(super) fn settle(findings: &mut [Finding], rotation: &Rotation) {
    for f in findings.iter_mut().filter(|f| f.may_overrule()) {
        f.overruled = rotation.overruled.iter().find(|o| o.finding == f.key).map(|o| o.reason.clone());
    }
    findings.sort_by_cached_key(|f| (!f.speaks(), f.severity, f.meal.map(|s| rotation.time_rank(s)), f.code, f.key.clone()));
}
