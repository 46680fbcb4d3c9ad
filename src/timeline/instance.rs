//! What is asked: one day's kitchen steps as whole minutes, read from JSON.

use serde::Deserialize;
use thiserror::Error;

/// The most tasks, dishes and precedences of an instance (house limits: a kitchen has a tenth of them).
pub const MAX_TASKS: usize = 500;
/// See [`MAX_TASKS`].
pub const MAX_PRECEDENCES: usize = 20_000;
/// The last minute that can be named, well over nine hundred years (house limit: sums of a few stay within 32 bits).
pub const MAX_MINUTE: i64 = 500_000_000;

/// One day's problem: when to start every task.
///
/// Times are whole minutes from the start of the day. A task that starts at s and lasts p minutes occupies [s, s + p): one
/// that ends at 30 and one that starts at 30 do not overlap. Keys that are not named here are ignored, so that a file may
/// carry its reference answer along.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Instance {
    /// A label.
    #[serde(default)]
    pub name: String,
    /// The dishes; every one has at least one task.
    pub dishes: Vec<Serving>,
    /// The tasks; elsewhere they are named by their position here.
    pub tasks: Vec<Task>,
    /// What must come before what.
    #[serde(default)]
    pub precedence: Vec<Precedence>,
    /// What the kitchen has.
    pub capacities: Capacities,
}

/// A dish and the minute at which it is on the table.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Serving {
    /// Its name.
    #[serde(default)]
    pub id: String,
    /// The minute it is served: its last task ends then or before.
    pub serve: i64,
    /// How many minutes it may stand after its last task; none: as long as one likes.
    #[serde(default)]
    pub hold_max: Option<i64>,
}

/// One step, never interrupted.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Task {
    /// Its name.
    #[serde(default)]
    pub id: String,
    /// The position of its dish.
    pub dish: usize,
    /// How long it takes, 1 or more.
    pub minutes: i64,
    /// The cooks it needs the whole time.
    #[serde(default)]
    pub hands: i64,
    /// The oven, if it needs it.
    #[serde(default)]
    pub oven: Option<Oven>,
    /// The rings it needs.
    #[serde(default)]
    pub rings: i64,
    /// The one appliance that it needs, by name.
    #[serde(default)]
    pub appliance: Option<String>,
    /// The places on the worktop that it needs.
    #[serde(default)]
    pub space: i64,
}

/// A task's need of the oven. Two tasks can share it only at a temperature that suits both.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub struct Oven {
    /// The lowest temperature that does, in degrees Celsius.
    pub temp_min: i64,
    /// The highest.
    pub temp_max: i64,
    /// The racks it takes up, 1 or more.
    pub racks: i64,
}

/// `after` starts at least `min_lag` and at most `max_lag` minutes after `before` ends. Waiting occupies nothing.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub struct Precedence {
    /// The position of the earlier task.
    pub before: usize,
    /// The position of the later one.
    pub after: usize,
    /// The least wait, 0 or more.
    #[serde(default)]
    pub min_lag: i64,
    /// The longest wait, if there is one.
    #[serde(default)]
    pub max_lag: Option<i64>,
}

/// What the kitchen has.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub struct Capacities {
    /// People who cook; anybody may do any task.
    pub cooks: i64,
    /// Racks of the one oven.
    pub racks: i64,
    /// Rings of the hob.
    pub rings: i64,
    /// Places on the worktop.
    #[serde(default)]
    pub space: i64,
}

/// Why an instance cannot be read. An instance that merely has no schedule is no error.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum InstanceError {
    /// No JSON, or not of this form.
    #[error("this is no timeline instance: {0}; compare it with the keys in DEVELOPERS.md")]
    Json(String),
    /// A figure that cannot be.
    #[error("{what} is {is}: {wanted}")]
    Figure {
        /// Whose figure.
        what: String,
        /// The figure.
        is: i64,
        /// What it should be.
        wanted: String,
    },
    /// A dish without a task.
    #[error("{0} has no task: give it one, or take it out")]
    NoTask(String),
    /// More than is taken on.
    #[error("there are {is} {what}; {most} is the most")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// How many.
        is: usize,
        /// The most.
        most: usize,
    },
}

impl Instance {
    /// Reads an instance from JSON and checks its figures.
    ///
    /// # Errors
    /// Text that is not of this form, a position that names nothing, a figure outside its range, more than the house limits.
    pub fn from_json(text: &str) -> Result<Instance, InstanceError> {
        let instance: Instance = serde_json::from_str(text).map_err(|e| InstanceError::Json(e.to_string()))?;
        instance.check()?;
        Ok(instance)
    }

    /// Checks every figure.
    ///
    /// # Errors
    /// The first figure that cannot be.
    pub fn check(&self) -> Result<(), InstanceError> {
        for (what, is, most) in [
            ("tasks", self.tasks.len(), MAX_TASKS),
            ("dishes", self.dishes.len(), MAX_TASKS),
            ("precedences", self.precedence.len(), MAX_PRECEDENCES),
        ] {
            if is > most {
                return Err(InstanceError::TooMany { what, is, most });
            }
        }
        let c = &self.capacities;
        for (what, is) in [("cooks", c.cooks), ("racks", c.racks), ("rings", c.rings), ("space", c.space)] {
            at_least(0, is, || format!("the capacity \"{what}\""))?;
        }
        let mut tasks_of = vec![0; self.dishes.len()];
        for (k, task) in self.tasks.iter().enumerate() {
            let of = |figure: &str| format!("{figure} of {}", self.task_name(k));
            if task.dish >= self.dishes.len() {
                return Err(position(of("the dish"), task.dish, self.dishes.len(), "dishes"));
            }
            tasks_of[task.dish] += 1;
            at_least(1, task.minutes, || of("the minutes"))?;
            at_least(0, task.hands, || of("the hands"))?;
            at_least(0, task.rings, || of("the rings"))?;
            at_least(0, task.space, || of("the space"))?;
            if let Some(oven) = task.oven {
                at_least(1, oven.racks, || of("the racks"))?;
                at_least(oven.temp_min, oven.temp_max, || of("the highest temperature"))?;
            }
        }
        for (k, dish) in self.dishes.iter().enumerate() {
            if dish.serve > MAX_MINUTE {
                let wanted = format!("{MAX_MINUTE} minutes is the most");
                return Err(InstanceError::Figure {
                    what: format!("the serving of {}", self.dish_name(k)),
                    is: dish.serve,
                    wanted,
                });
            }
            at_least(0, dish.hold_max.unwrap_or(0), || format!("the holding of {}", self.dish_name(k)))?;
            if tasks_of[k] == 0 {
                return Err(InstanceError::NoTask(self.dish_name(k)));
            }
        }
        for (k, p) in self.precedence.iter().enumerate() {
            let of = |figure: &str| format!("{figure} of precedence {k}");
            for (side, task) in [("\"before\"", p.before), ("\"after\"", p.after)] {
                if task >= self.tasks.len() {
                    return Err(position(of(side), task, self.tasks.len(), "tasks"));
                }
            }
            at_least(0, p.min_lag, || of("the least lag"))?;
            at_least(p.min_lag, p.max_lag.unwrap_or(p.min_lag), || of("the longest lag"))?;
        }
        Ok(())
    }

    /// A task's name for people.
    #[must_use]
    pub fn task_name(&self, task: usize) -> String {
        named("task", task, self.tasks.get(task).map_or("", |t| &t.id))
    }

    /// A dish's name for people.
    #[must_use]
    pub fn dish_name(&self, dish: usize) -> String {
        named("dish", dish, self.dishes.get(dish).map_or("", |d| &d.id))
    }
}

fn named(what: &str, position: usize, id: &str) -> String {
    let id: String = id.chars().filter(|c| !c.is_control()).take(60).collect();
    if id.is_empty() { format!("{what} {position}") } else { format!("\"{id}\"") }
}

fn at_least(least: i64, is: i64, what: impl Fn() -> String) -> Result<(), InstanceError> {
    if is >= least {
        return Ok(());
    }
    Err(InstanceError::Figure { what: what(), is, wanted: format!("it must be {least} or more") })
}

fn position(what: String, is: usize, count: usize, things: &str) -> InstanceError {
    let wanted = format!("there are {count} {things}, counted from 0");
    InstanceError::Figure { what, is: i64::try_from(is).unwrap_or(i64::MAX), wanted }
}
