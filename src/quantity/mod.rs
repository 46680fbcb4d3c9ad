//! Quantities with a meaning: grams in a state, portion units, shares, days.
//!
//! The commonest arithmetic blunder in a kitchen plan is to mix grams as bought, grams trimmed and grams cooked.
//! Here a gram figure always carries its state: [`Grams<S>`] at compile time, [`Portion`] where the state is only
//! known from the data (a share of a raw cabbage against a share of a roasted bird).

mod amount;
mod calendar;
mod day;
mod grams;
mod guess;
mod line;
mod measure;
mod measured;
mod name;
mod reading;
mod scale;
mod temperature;
mod units;
mod writing;

pub use amount::Amount;
pub(crate) use calendar::{date_in_file, time_in_file};
pub use calendar::{read_date, read_time};
pub use day::{DayNo, Days};
pub use grams::{AsBought, Cooked, GramState, Grams, MAX_GRAMS, Portion, Prepared, QuantityError, State};
pub use guess::MassGuess;
pub use line::{Confidence, IngredientLine, MAX_LINE, PackSize, read_line};
pub use measure::{Kitchen, Measure, MeasureSort};
pub use reading::{Density, ReadError, read_grams};
pub use scale::{Scaled, scale, write_amount};
pub use temperature::{FAN_LESS, OvenSetting, Temperature, read_oven};
pub use units::{PerMille, Units};
pub use writing::{GRAMS_PER_OUNCE, System, grouped, said_in, write_grams, write_range, write_units};
