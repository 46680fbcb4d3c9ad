//! Which rules hold.

/// The rules of a day, each of which can be lifted to see whether it is what makes the day impossible.
#[derive(Clone, Debug)]
pub(super) struct Rules {
    /// Cooks, racks, rings, space.
    pub resources: [bool; 4],
    pub appliances: bool,
    pub temperature: bool,
    /// Longest waits between steps.
    pub windows: bool,
    /// Nothing starts before minute 0.
    pub beginning: bool,
    /// By dish: how long it may stand.
    pub holds: Vec<bool>,
}

impl Rules {
    pub fn all(dishes: usize) -> Rules {
        Rules {
            resources: [true; 4],
            appliances: true,
            temperature: true,
            windows: true,
            beginning: true,
            holds: vec![true; dishes],
        }
    }
}
