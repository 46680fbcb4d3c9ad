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
    /// The same for the vulnerable, who have one day less on cooked food of animals.
    tender: DayNo,
    /// Whether it is boiled through, which lets the vulnerable eat it on the day itself.
    boiled: bool,
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
        let in_time = (self.made..=self.last).contains(&day);
        in_time && (day <= self.tender || (self.boiled && day == self.made)) && self.reheated + again <= 1
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
        } else if day > self.tender {
            let until = rotation.day_name(self.tender);
            format!("{} of {made} keeps until {until} for those who need care, not until {wanted}", dish.name)
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
    let less = i16::from(kind.animal && rotation.household.eaters.iter().any(|e| !e.guest && !e.care.is_empty()));
    let (mut last, mut tender) = (DayNo(i16::MAX), DayNo(i16::MAX));
    let mut ends = |since: DayNo, limit: Days, cooked: bool| {
        last = last.min(since.plus(limit));
        tender = tender.min(since.plus(Days(if cooked { limit.0.saturating_sub(less).max(0) } else { limit.0 })));
    };
    let from_piece = sources.is_empty() || kind.is_cooked_whole();
    let mut parts: Vec<PartId> = kind.parts.iter().map(|p| p.id.clone()).collect();
    let mut cooked = dish.cooked;
    let mut from_raw = false;
    let mut reheated = 0;
    if from_piece && kind.is_cooked_whole() {
        cooked = true;
        ends(opened, kind.cooked_days, true);
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
            if let Some(days) = dish.cut.and_then(|form| kind.cut_days(form)) {
                ends(made, days, false);
            }
            let own = parts.iter().filter(|p| dish.suits_part(p)).map(keeps).max().unwrap_or(longest);
            ends(own, Days(0), false);
        }
    }
    let mut gentle = DayNo(i16::MAX);
    for source in sources {
        if source.cooked || source.bank {
            cooked |= source.cooked;
            // What is first cooked out of the vinegar keeps no longer than any cooked food.
            from_raw |= !source.cooked;
            ends(source.last, Days(0), false);
            gentle = gentle.min(source.tender);
            if source.cooked && !source.bank {
                reheated = reheated.max(source.reheated + u8::from(hot && made > source.made));
            }
        } else {
            from_raw = true;
            if !dish.cooked && !bank {
                ends(source.last, Days(0), false);
            }
        }
        if made > source.last {
            return Err(format!("what it is made from keeps until {}", rotation.day_name(source.last)));
        }
    }
    if dish.cooked && from_raw && !bank {
        ends(made, kind.cooked_days, true);
    }
    ends(made, dish.keeps_safely(), cooked);
    let tender = tender.min(gentle);
    let boiled = dish.boiled_through;
    if last < made {
        return Err(format!("{} no longer keeps on {}", kind.name, rotation.day_name(made)));
    }
    if reheated > 1 {
        return Err(format!("{} would be warmed up twice; food is reheated once only", dish.name));
    }
    Ok(Clock { made, last, tender, boiled, parts, cooked, bank, hot, reheated })
}
