//! Exact search: one dish for every open meal, as unlike its neighbours as can be, within grams, minutes and uses.
//!
//! [`arrange`] takes an [`Instance`] of whole numbers and gives an [`Answer`]: the best arrangement with the proof that none
//! is better, or that there is none, and why.
//!
//! # How it works
//! 1. **Table** (`table`): dishes that can stand nowhere go, dishes alike in everything become one.
//! 2. **Annealing** (`local`): a good arrangement in milliseconds.
//! 3. **Prices** (`prices`, `tune`): the cost of an arrangement hangs on dishes a few slots apart. If only that counted, a
//!    table over the last few dishes would give the best at once (Bellman's dynamic programming). What else counts, uses and
//!    grams, is put on sale; the cheapest arrangement at any prices is a lower bound (Lagrangian relaxation, Held and Karp
//!    1971; state-space relaxation, Christofides, Mingozzi and Toth 1981).
//! 4. **A look at all** (`dense`): the table for all pairs of dishes, ahead and behind. The cheapest way *through* each pair
//!    is the sum of both; pairs through which nothing is cheaper than the best known are gone for good.
//! 5. **A graph of the rest** (`graph`): small enough to lengthen the memory dish by dish up to the window, and to remember
//!    past it the dishes that the bound would use too often (`memory`; ng-routes, Baldacci, Mingozzi and Roberti 2011).
//!    After each change better prices, and what has become too dear goes (successive sublimation, Ibaraki 1987).
//! 6. **The end** (`labels`): arrangements are grown slot by slot with all they have used, and dropped when what they cost
//!    and what the graph knows of the rest come to no less than the best known, or when another has the same behind it for
//!    less. When none is left, the best known is the best.
//!
//! Open meals of a week, where every slot touches every other, are filled one by one instead (`mesh`), with costs of their own
//! (`costs`) and bounds from parts of the meals (`parts`, laid over each other by `packing`). More of them than can be filled
//! so are bounded by their parts too.
//!
//! All sums are whole numbers, so bounds are exact; nothing depends on the clock but where it cuts the search short.

mod answer;
mod costs;
mod dense;
mod graph;
mod impossible;
mod instance;
mod labels;
mod local;
mod memory;
mod mesh;
mod packing;
mod parts;
mod prices;
mod reason;
mod relaxation;
mod search;
mod solve;
mod swap;
mod table;
mod tune;
mod watch;
mod week;

pub use answer::{Answer, Limits, Progress, Status};
pub use instance::{Dish, Instance, InstanceFault, MAX_DISHES, MAX_FIGURE, MAX_SLOTS, MAX_WASTE};
pub use reason::{Reason, Wish};
pub use solve::arrange;
pub use week::{
    Arrangement, Asked, Best, Binding, Cost, Filled, Fitting, Impossible, News, Outcome, Question, Wishes, open_meals, what_fits,
};
