//! Until when a dish would keep that a shape asks for: the rules of the keeping judge, asked before anything is made.

use super::{BatchShape, Rotation};
use crate::{
    book::{Dish, Heat, PartId, Role},
    quantity::{DayNo, Days},
};

/// A cooking's clock.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Clock {
    /// When it is made.
    pub made: DayNo,
    /// The last day on which it may be eaten.
    pub last: DayNo,
    /// Parts of the piece that keep until it is made, in the kind's order.
    parts: Vec<PartId>,
    /// Whether what is in it is cooked.
    cooked: bool,
    bank: bool,
    hot: bool,
    /// How often it has been warmed up when it is made.
    reheated: u8,
}

impl Clock {
    /// Whether it may be eaten on `day`: in time, and never warmed up twice.
    pub(super) fn allows(&self, day: DayNo) -> bool {
        let again = u8::from(self.hot && self.cooked && !self.bank && day > self.made);
        (self.made..=self.last).contains(&day) && self.reheated + again <= 1
    }

    /// The parts of the piece that it may be cut from if it is last eaten on `day`: what stays raw must keep until then.
    pub(super) fn parts_until<'c>(&'c self, rotation: &Rotation, day: DayNo) -> impl Iterator<Item = &'c PartId> {
        let raw = !self.cooked && !self.bank;
        let keeps = move |p: &PartId| rotation.kind.part(p).is_none_or(|k| rotation.piece.opened.plus(k.raw_days) >= day);
        self.parts.iter().filter(move |p| !raw || keeps(p)).collect::<Vec<_>>().into_iter()
    }

    /// Why it may not.
    pub(super) fn why_not(&self, rotation: &Rotation, dish: &Dish, day: DayNo) -> String {
        let (made, wanted) = (rotation.day_name(self.made), rotation.day_name(day));
        if day > self.last {
            format!("{} of {made} keeps until {}, not until {wanted}", dish.name, rotation.day_name(self.last))
        } else {
            format!("{} of {made} would be warmed up twice by {wanted}; food is reheated once only", dish.name)
        }
    }
}

/// The clock of `dish` made as `shape` says, of the piece itself or of `sources`; or why it cannot be made then.
pub(super) fn clock_of(rotation: &Rotation, shape: &BatchShape, dish: &Dish, sources: &[&Clock]) -> Result<Clock, String> {
    let kind = &rotation.kind;
    let opened = rotation.piece.opened;
    let made = shape.day.max(opened);
    let bank = dish.role == Role::Bank;
    let hot = dish.profile.heat.is_some_and(|h| h >= Heat::Warm);
    // The vulnerable have one day less on cooked food of animals.
    let tender = kind.animal && rotation.household.eaters.iter().any(|e| !e.care.is_empty());
    let until = |since: DayNo, limit: Days, cooked: bool| {
        let less = i16::from(tender && cooked);
        since.plus(Days(limit.0.saturating_sub(less).max(0)))
    };
    let from_piece = sources.is_empty() || kind.is_cooked_whole();
    let mut parts: Vec<PartId> = kind.parts.iter().map(|p| p.id.clone()).collect();
    let mut cooked = dish.cooked;
    let mut from_raw = false;
    let mut reheated = 0;
    let mut last = DayNo(i16::MAX);
    if from_piece && kind.is_cooked_whole() {
        cooked = true;
        last = last.min(until(opened, kind.cooked_days, true));
        reheated = u8::from(hot && made > opened);
    } else if from_piece {
        from_raw = true;
        let keeps = |p: &PartId| kind.part(p).map_or(opened, |p| opened.plus(p.raw_days));
        parts.retain(|p| keeps(p) >= made);
        let Some(longest) = parts.iter().map(keeps).max() else {
            let days = kind.parts.iter().map(|p| p.raw_days).max().unwrap_or(Days(0));
            let age = made.since(opened);
            return Err(format!("{} keeps {days} raw and would be {age} old on {}", kind.name, rotation.day_name(made)));
        };
        if !dish.cooked && !bank {
            last = last.min(longest);
            if let Some(days) = dish.cut.and_then(|form| kind.cut_days(form)) {
                last = last.min(made.plus(days));
            }
            let own = parts.iter().filter(|p| dish.suits_part(p)).map(keeps).max().unwrap_or(longest);
            last = last.min(own);
        }
    }
    for source in sources {
        if source.cooked || source.bank {
            cooked |= source.cooked;
            last = last.min(source.last);
            if source.cooked && !source.bank {
                reheated = reheated.max(source.reheated + u8::from(hot && made > source.made));
            }
        } else {
            from_raw = true;
            if !dish.cooked && !bank {
                last = last.min(source.last);
            }
        }
        if made > source.last {
            return Err(format!("what it is made from keeps until {}", rotation.day_name(source.last)));
        }
    }
    if dish.cooked && from_raw && !bank {
        last = last.min(until(made, kind.cooked_days, true));
    }
    last = last.min(until(made, dish.keeps, cooked));
    if last < made {
        return Err(format!("{} no longer keeps on {}", kind.name, rotation.day_name(made)));
    }
    if reheated > 1 {
        return Err(format!("{} would be warmed up twice; food is reheated once only", dish.name));
    }
    Ok(Clock { made, last, parts, cooked, bank, hot, reheated })
}
