//! Meals that may swap their dishes: lunch and supper of one day at which the same people sit down.

use super::{
    board::Board,
    choice::{Choice, Route},
};
use crate::arrange::watch::Twin;
use std::collections::HashMap;

/// What tells two choices for one meal apart.
#[derive(PartialEq, Eq, Hash)]
enum Way<'c> {
    Fresh,
    Component(&'c str, i16),
    Of(usize),
    Again(usize),
    Batch(u32),
}

impl Way<'_> {
    fn of(choice: &Choice) -> Way<'_> {
        match &choice.route {
            Route::Fresh => Way::Fresh,
            Route::Component(dish, day) => Way::Component(dish.id.as_str(), day.0),
            Route::Of(source) => Way::Of(*source),
            Route::Again(source) => Way::Again(*source),
            Route::Batch(id) => Way::Batch(id.0),
        }
    }
}

/// Every two neighbouring meals of one day, with what becomes of each choice when they swap. Whether nothing costs more or
/// less is for the search to see.
pub(super) fn twins(board: &Board) -> Vec<Twin> {
    let by_way: HashMap<(usize, &str, Way<'_>), usize> =
        board.choices.iter().enumerate().map(|(n, c)| ((c.at, c.dish.id.as_str(), Way::of(c)), n)).collect();
    let neighbours = (1..board.slots.len()).filter(|&s| board.slots[s - 1].day == board.slots[s].day);
    // A meal is the twin of one other only: with three meals on a day the third stays as it is.
    let mut taken = usize::MAX;
    let mut out = Vec::new();
    for second in neighbours {
        let first = second - 1;
        if first == taken {
            continue;
        }
        taken = second;
        let other = |at: usize| match at {
            _ if at == first => second,
            _ if at == second => first,
            _ => at,
        };
        // In the order of meals, so that the image of a source is known before that of what is made of it.
        let mut image: Vec<Option<usize>> = Vec::with_capacity(board.choices.len());
        for choice in &board.choices {
            let way = match &choice.route {
                Route::Of(source) | Route::Again(source) => {
                    // A source that comes later or swaps into the very meal has no image yet, or a wrong one.
                    let source = fresh_image(board, &by_way, *source, &other);
                    source.map(|s| if matches!(choice.route, Route::Of(_)) { Way::Of(s) } else { Way::Again(s) })
                }
                _ => Some(Way::of(choice)),
            };
            let found = way.and_then(|way| by_way.get(&(other(choice.at), choice.dish.id.as_str(), way)).copied());
            image.push(found.filter(|&n| is_alike(choice, &board.choices[n])));
        }
        out.push(Twin { slots: (first, second), image });
    }
    out
}

/// The image of a fresh choice.
fn fresh_image(
    board: &Board,
    by_way: &HashMap<(usize, &str, Way<'_>), usize>,
    source: usize,
    other: &dyn Fn(usize) -> usize,
) -> Option<usize> {
    let choice = &board.choices[source];
    by_way.get(&(other(choice.at), choice.dish.id.as_str(), Way::of(choice))).copied()
}

/// Whether two choices take the same of everything and feed the same people.
fn is_alike(a: &Choice, b: &Choice) -> bool {
    a.want == b.want && a.minutes == b.minutes && a.eaters == b.eaters && a.own == b.own
}
