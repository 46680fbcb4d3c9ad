//! What fits best at one meal, all else as it stands.

use super::{Cost, Wishes, board::Board};
use crate::{
    arrange::watch::Gate,
    book::{Book, Dish},
    judge::Home,
    rotation::{Edit, Rotation, Slot, apply},
};
use std::sync::Arc;

/// One dish for one meal.
#[derive(Clone, Debug)]
pub struct Fitting {
    /// The dish.
    pub dish: Arc<Dish>,
    /// What it costs there; nothing where it cannot stand.
    pub cost: Option<Cost>,
    /// The most that anybody feels of another meal in it, 0 to 1.
    pub most_alike: Option<f64>,
    /// Why it stands where it does: what it is like, what is left over; or what the judges would say.
    pub why: String,
    /// The plan with it, where it can stand.
    pub plan: Option<Rotation>,
}

/// Every dish for one meal, the best first, those that cannot stand last with the reason. What is served there now is taken
/// off first; nothing where that cannot be, or nobody sits down.
pub fn what_fits(plan: &Rotation, book: &Book, home: &Home, wishes: &Wishes, slot: Slot) -> Vec<Fitting> {
    let mut bare = plan.clone();
    for serving in plan.meal(slot).servings.clone() {
        match apply(&bare, &Edit::RemoveServing { slot, batch: serving.batch }) {
            Ok(done) => bare = done.rotation,
            Err(_) => return Vec::new(),
        }
    }
    let wishes = Wishes { meals: Some(vec![slot]), ..wishes.clone() };
    let mut board = Board::new(bare, book, home, &wishes);
    if board.slots.is_empty() {
        return Vec::new();
    }
    // With other meals still open much is left over; that is no reason against a dish.
    board.allow_waste();
    let mut out: Vec<Fitting> = Vec::new();
    for (number, choice) in board.choices.iter().enumerate() {
        let chosen = [number];
        let most_alike = board.tastes.worst(number, choice, &[]);
        let fitting = match (board.cost(&chosen), board.grams(&chosen)) {
            (Some(_), Some(grams)) => {
                let taste = 1_000 * board.taste(&chosen).unwrap_or(0);
                let (lost, _) = board.lost(&grams);
                let minded = 1_000 * choice.own;
                let cost = Cost { taste, minded, waste: 1_000 * super::board::LOST_GRAM * i64::from(lost), lost };
                let why = match most_alike {
                    Some(felt) => format!("at most {:.0}\u{a0}% of another meal is felt in it", 100.0 * felt),
                    None => "nothing else is near".into(),
                };
                Fitting { dish: choice.dish.clone(), cost: Some(cost), most_alike, why, plan: Some(board.laid(&chosen, &grams)) }
            }
            (_, grams) => {
                let troubles = grams.map(|g| board.new_troubles(&board.laid(&chosen, &g))).unwrap_or_default();
                let why = troubles.first().map_or_else(|| "too little of what it is made of is free".into(), |f| f.text.clone());
                Fitting { dish: choice.dish.clone(), cost: None, most_alike, why, plan: None }
            }
        };
        match out.iter_mut().find(|f| f.dish.id == fitting.dish.id) {
            Some(known) if rank(&fitting) < rank(known) => *known = fitting,
            Some(_) => {}
            None => out.push(fitting),
        }
    }
    let barred = board.barred.iter().flatten();
    out.extend(barred.map(|b| Fitting { dish: b.dish.clone(), cost: None, most_alike: None, why: b.why.clone(), plan: None }));
    out.sort_by_key(|f| (rank(f), f.dish.id.clone()));
    out
}

fn rank(f: &Fitting) -> i64 {
    f.cost.map_or(i64::MAX, |c| c.taste)
}
