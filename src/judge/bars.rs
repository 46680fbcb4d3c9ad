//! The clocks as bars: for everything that the plan keeps, in what state and what it lies in, since when, until when it eats well
//! and until when it is safe, and how much of it there is at each moment.

use super::{
    clock::{Clock, clocks},
    cold::{Cold, minute_of},
    companions::packs_opened,
    frost,
    index::{Index, Made},
    keeping::{moment, until},
};
use crate::{
    book::{PartId, Role},
    quantity::{DayNo, Portion, State},
    rotation::{BatchId, Draw, Rotation, Source, capital},
};
use jiff::civil::Time;

/// A day of the plan, with its hour where it is known. In the order of beginnings: a day without an hour stands before its hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edge {
    /// The day.
    pub day: DayNo,
    /// The hour; nothing: some time on that day, so what begins then begins with it and what ends then ends with it.
    pub at: Option<Time>,
}

impl Edge {
    fn of_day(day: DayNo) -> Edge {
        Edge { day, at: None }
    }

    /// Days from the midnight before day 0 as a number to draw with, where something begins here.
    pub fn begins(self) -> f64 {
        f64::from(self.day.0) + self.at.map_or(0.0, share_of_day)
    }

    /// The same where something ends here: with the end of the day where no hour is known.
    pub fn ends(self) -> f64 {
        f64::from(self.day.0) + self.at.map_or(1.0, share_of_day)
    }
}

fn share_of_day(at: Time) -> f64 {
    (f64::from(at.hour()) * 60.0 + f64::from(at.minute())) / 1_440.0
}

/// In what state something is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KeptAs {
    /// A part of the opened piece, uncut.
    Raw,
    /// Cut for a dish that is not made yet.
    RawCut,
    /// A raw dish, dressed.
    Made,
    /// Cooked.
    Cooked,
    /// In a form that outlives the window.
    Banked,
    /// An opened pack of something else.
    Companion,
}

impl KeptAs {
    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            KeptAs::Raw => "raw",
            KeptAs::RawCut => "cut raw",
            KeptAs::Made => "made",
            KeptAs::Cooked => "cooked",
            KeptAs::Banked => "put by",
            KeptAs::Companion => "opened",
        }
    }
}

/// What a bar is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BarOf {
    /// A part of the piece.
    Part(PartId),
    /// What a batch draws from a part, before it is made.
    Draw(BatchId, PartId),
    /// A batch.
    Batch(BatchId),
    /// An opened pack.
    Pack(String),
}

/// One bar. It begins with `from`; up to `nice` it eats well, up to `safe` it may be eaten; nothing of it is left after the last
/// of its `steps` where that is nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct ClockBar {
    /// What it is called.
    pub what: String,
    /// What it is about.
    pub of: BarOf,
    /// Its state.
    pub state: KeptAs,
    /// What it lies in: "wrapped", "box", "jar", "freezer", "opened carton".
    pub container: String,
    /// When its clock started.
    pub from: Edge,
    /// Until when it eats well; the same as `safe` where nothing is known of that.
    pub nice: Edge,
    /// Until when it is safe.
    pub safe: Edge,
    /// Until when it is safe for those who must be taken special care of, where that is sooner.
    pub tender: Option<Edge>,
    /// How much there is from each of these moments on; none for a pack.
    pub steps: Vec<(Edge, Portion)>,
    /// When it lies in the freezer: in on the first day, thawed on the second.
    pub frozen: Option<(DayNo, DayNo)>,
    /// Until when it is as good as fresh there, where it lies in the freezer; safe it is for as long as you like.
    pub frozen_nice: Option<DayNo>,
    /// How often it was warmed up again before it came here.
    pub reheated: u8,
}

impl ClockBar {
    /// How much of it there is at the end of a day; nothing for a pack, and nothing before it begins.
    pub fn held(&self, day: DayNo) -> Option<Portion> {
        self.steps.iter().rev().find(|(edge, _)| edge.day <= day).map(|(_, portion)| *portion)
    }

    /// When nothing is left of it, where the plan uses it up.
    pub fn gone(&self) -> Option<Edge> {
        self.steps.last().filter(|(_, left)| left.is_zero()).map(|(edge, _)| *edge)
    }
}

/// Every clock of the plan as a bar: the parts, what is cut ahead or frozen raw, the batches, the opened packs; each in the order
/// of time.
pub fn clock_bars(rotation: &Rotation) -> Vec<ClockBar> {
    let index = Index::new(rotation);
    let cold = Cold::of(rotation);
    let mut bars = parts(&index, &cold);
    let all = clocks(&index, &cold);
    let mut batches: Vec<usize> = (0..index.batches.len()).collect();
    batches.sort_by_key(|&i| (index.batches[i].batch.day, index.batches[i].batch.id));
    for &place in &batches {
        let made = &index.batches[place];
        bars.extend(draws(&index, &cold, made));
        let (Some(dish), Some(clocks)) = (made.dish, &all[place]) else { continue };
        let stay = frost::of_batch(rotation, made.batch.id);
        let at_end = |clock: Clock| frost::at(clock, stay, stay.map_or(clock.since, |s| s.to));
        let tight = at_end(clocks.tight);
        let state = match () {
            () if made.is_bank() => KeptAs::Banked,
            () if clocks.cooked => KeptAs::Cooked,
            () => KeptAs::Made,
        };
        // What it is made of may eat well for a shorter time than the dish itself.
        let of_kind = rotation.kind.cooked_nice_days.filter(|_| clocks.cooked && !made.is_bank());
        let own = dish.nice_days.map(|n| made.batch.day.plus(n));
        let nice = own.into_iter().chain(of_kind.map(|n| clocks.cooked_on.plus(n))).min();
        let frozen_days = tight.frozen;
        let safe = end_of(rotation, tight);
        bars.push(ClockBar {
            what: dish.name.clone(),
            of: BarOf::Batch(made.batch.id),
            state,
            container: container(made, stay.is_some()).into(),
            from: made_at(made),
            nice: nice.map_or(safe, |n| sooner(n.plus(frozen_days), safe)),
            safe,
            tender: clocks.tender.map(at_end).map(|t| end_of(rotation, t)).filter(|t| t.ends() < safe.ends()),
            steps: steps(&index, made, state),
            frozen: stay.map(|s| (s.from, s.to)),
            frozen_nice: stay.map(|s| s.from.plus(frost::nice_for(rotation, s))),
            reheated: clocks.reheated,
        });
    }
    let packs = packs_opened(&index).into_iter().map(|pack| ClockBar {
        what: capital(pack.name),
        of: BarOf::Pack(pack.name.into()),
        state: KeptAs::Companion,
        container: format!("opened {}", pack.word),
        from: Edge::of_day(pack.opened),
        nice: Edge::of_day(pack.use_by),
        safe: Edge::of_day(pack.use_by),
        tender: None,
        // Nothing of it where it is used up; how much is left is told by the packs left.
        steps: pack.emptied.map(|day| (Edge::of_day(day), Portion::of(State::Prepared, 0))).into_iter().collect(),
        frozen: None,
        frozen_nice: None,
        reheated: 0,
    });
    bars.extend(packs);
    bars
}

/// The last moment of a clock.
fn end_of(rotation: &Rotation, clock: Clock) -> Edge {
    match until(rotation, clock) {
        Some(last) => Edge { day: last.day, at: Some(last.at) },
        None => Edge::of_day(clock.last()),
    }
}

/// The end of a day, unless the other comes before.
fn sooner(day: DayNo, safe: Edge) -> Edge {
    if day < safe.day { Edge::of_day(day) } else { safe }
}

fn made_at(made: &Made) -> Edge {
    let at = made.minute.and_then(moment).map(|m| m.at);
    Edge { day: made.batch.day, at }
}

/// What a batch lies in: a jar, the freezer, a box where something of it is kept for another day, else the pan it comes from.
fn container(made: &Made, frozen: bool) -> &'static str {
    match () {
        () if made.is_bank() => "jar",
        () if frozen => "freezer",
        () => "box",
    }
}

/// The uncut parts, each losing what is cut off it on its day.
fn parts(index: &Index, cold: &Cold) -> Vec<ClockBar> {
    let rotation = index.rotation;
    let kind = &rotation.kind;
    let whole = kind.is_cooked_whole();
    let mut bars = Vec::new();
    for (i, part) in kind.parts.iter().enumerate() {
        let held = rotation.piece.part(&part.id).map_or(0, |p| p.usable.get());
        if held == 0 {
            continue;
        }
        let (limit, reason) = match whole {
            true => (kind.cooked_days, super::clock::Reason::Whole),
            false => (part.raw_days, super::clock::Reason::Raw(i)),
        };
        let clock = cold.since_opening(limit, reason);
        let from = Edge { day: clock.since, at: rotation.storage.opened_at };
        let mut taken: Vec<(Edge, u32)> = Vec::new();
        for made in &index.batches {
            for draw in made.batch.draws.iter().filter(|d| d.from == Source::Part(part.id.clone())) {
                taken.push((cut_at(index, made, draw), draw.portion.get()));
            }
        }
        taken.sort_by_key(|(edge, _)| *edge);
        let safe = end_of(rotation, clock);
        let nice = if whole { kind.cooked_nice_days } else { part.nice_days };
        bars.push(ClockBar {
            what: capital(&part.name),
            of: BarOf::Part(part.id.clone()),
            state: if whole { KeptAs::Cooked } else { KeptAs::Raw },
            container: if whole { "box" } else { "wrapped" }.into(),
            from,
            nice: nice.map_or(safe, |n| sooner(clock.since.plus(n), safe)),
            safe,
            tender: (whole && kind.animal).then(|| end_of(rotation, clock.shortened())).filter(|t| t.ends() < safe.ends()),
            steps: falling(from, Portion::of(kind.portioned, held), taken),
            frozen: None,
            frozen_nice: None,
            reheated: 0,
        });
    }
    bars
}

/// When what a batch draws leaves its part: cut ahead, put into the freezer, or made.
fn cut_at(index: &Index, made: &Made, draw: &Draw) -> Edge {
    let frozen = match &draw.from {
        Source::Part(part) => frost::of_draw(index.rotation, made.batch, part).map(|s| s.from),
        Source::Batch(_) => None,
    };
    match draw.cut_on.filter(|d| *d < made.batch.day).into_iter().chain(frozen).min() {
        Some(day) => Edge::of_day(day),
        None => made_at(made),
    }
}

/// What is cut ahead of its making, or lies frozen until then.
fn draws(index: &Index, cold: &Cold, made: &Made) -> Vec<ClockBar> {
    let rotation = index.rotation;
    let mut bars = Vec::new();
    for draw in &made.batch.draws {
        let Source::Part(part) = &draw.from else { continue };
        let from = cut_at(index, made, draw);
        let Some(place) = rotation.kind.parts.iter().position(|p| p.id == *part) else { continue };
        if from.day >= made.batch.day {
            continue;
        }
        let stay = frost::of_draw(rotation, made.batch, part);
        let raw = cold.since_opening(rotation.kind.parts[place].raw_days, super::clock::Reason::Raw(place));
        let cut = draw.cut_on.zip(made.dish.and_then(|d| Some((d.cut?, rotation.kind.cut_days(d.cut?)?))));
        let cut = cut.map(|(on, (form, days))| cold.clock(on, days, super::clock::Reason::Cut(form)));
        let ends = std::iter::once(raw).chain(cut).map(|clock| {
            let stay = stay.filter(|s| clock.since <= s.from);
            end_of(rotation, frost::thawed_raw(cold, clock, stay))
        });
        let Some(safe) = ends.min_by(|a, b| a.ends().total_cmp(&b.ends())) else { continue };
        bars.push(ClockBar {
            what: format!("{} for {}", rotation.kind.parts[place].name, made.name()),
            of: BarOf::Draw(made.batch.id, part.clone()),
            state: KeptAs::RawCut,
            container: if stay.is_some() { "freezer" } else { "box" }.into(),
            from,
            nice: safe,
            safe,
            tender: None,
            steps: vec![(from, draw.portion), (made_at(made), draw.portion.with(0))],
            frozen: stay.map(|s| (s.from, s.to)),
            frozen_nice: stay.map(|s| s.from.plus(frost::nice_for(rotation, s))),
            reheated: 0,
        });
    }
    bars
}

/// What is left of a batch after each meal and each dish made of it; cooked grams where it is cooked.
fn steps(index: &Index, made: &Made, state: KeptAs) -> Vec<(Edge, Portion)> {
    let Some(dish) = made.dish else { return Vec::new() };
    let cooked = |portion: Portion| match state {
        KeptAs::Cooked => Portion::Cooked(made.batch.cooked(portion, dish)),
        _ => portion,
    };
    let mut taken: Vec<(Edge, u32)> = Vec::new();
    for (place, serving) in &made.servings {
        let slot = index.sittings[*place].slot;
        let at = minute_of(index.rotation, slot).and_then(moment).map(|m| m.at);
        taken.push((Edge { day: slot.day, at }, cooked(serving.portion).get()));
    }
    for &user in &made.users {
        let user = &index.batches[user];
        let drawn = user.batch.draws.iter().filter(|d| d.from == Source::Batch(made.batch.id));
        let drawn = drawn.map(|d| d.portion.get()).fold(0, u32::saturating_add);
        taken.push((made_at(user), drawn));
    }
    taken.sort_by_key(|(edge, _)| *edge);
    let mut steps = falling(made_at(made), cooked(made.batch.pool()), taken);
    // Yields are rounded down meal by meal, so a gram or two of a pot that is eaten up are nobody's.
    if let Some((_, last)) = steps.last_mut()
        && made.served >= made.batch.pool().get()
        && made.dish.is_none_or(|d| d.role != Role::Bank)
    {
        *last = last.with(0);
    }
    steps
}

/// An amount that falls with what is taken off it.
fn falling(from: Edge, whole: Portion, taken: Vec<(Edge, u32)>) -> Vec<(Edge, Portion)> {
    let mut steps = vec![(from, whole)];
    let mut left = whole.get();
    for (edge, grams) in taken {
        left = left.saturating_sub(grams);
        match steps.last_mut() {
            Some((last, portion)) if *last == edge => *portion = whole.with(left),
            _ => steps.push((edge, whole.with(left))),
        }
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, bank, component, dish, lunch, pack, raw_dish, supper};
    use super::*;
    use crate::{
        book::{CutForm, Dish},
        quantity::Days,
        rotation::{Frozen, FrozenStay},
    };
    use proptest::prelude::*;

    fn bar<'b>(bars: &'b [ClockBar], what: &str) -> &'b ClockBar {
        let find = bars.iter().find(|b| b.what == what);
        find.unwrap_or_else(|| panic!("{what} in {:?}", bars.iter().map(|b| &b.what).collect::<Vec<_>>()))
    }

    #[test]
    fn every_state_has_its_bar_with_both_ends() {
        let mut plan = Plan::cabbage(6);
        let slaw = plan.batch(3, Dish { cut: Some(CutForm::Shreds), ..raw_dish("slaw") }, &[("heart", 260)]);
        plan.cut_on(slaw, 2);
        plan.serve(supper(3), slaw, 260);
        plan.batch(1, bank("pickle"), &[("heart", 140)]);
        let nice =
            Dish { nice_days: Some(Days(1)), companions: vec![pack("cream", 0.0, 40.0, 300.0, 3, "carton")], ..dish("stew") };
        let stew = plan.batch(1, nice, &[("middle", 520)]);
        plan.serve(supper(1), stew, 260);
        plan.serve(lunch(3), stew, 260);
        let bars = clock_bars(&plan.rotation);
        let days = |what: &str| {
            let b = bar(&bars, what);
            (b.state, b.container.as_str(), b.from.day.0, b.nice.day.0, b.safe.day.0, b.gone().map(|e| e.day.0))
        };
        assert_eq!(days("Outer"), (KeptAs::Raw, "wrapped", 1, 6, 6, None));
        assert_eq!(days("Heart"), (KeptAs::Raw, "wrapped", 1, 6, 6, Some(2)));
        assert_eq!(days("heart for Slaw"), (KeptAs::RawCut, "box", 2, 4, 4, Some(3)));
        assert_eq!(days("Slaw"), (KeptAs::Made, "box", 3, 4, 4, Some(3)));
        assert_eq!(days("Pickle"), (KeptAs::Banked, "jar", 1, 11, 11, None));
        assert_eq!(days("Stew"), (KeptAs::Cooked, "box", 1, 2, 4, Some(3)));
        assert_eq!(days("Cream"), (KeptAs::Companion, "opened carton", 1, 4, 4, None));
        let stew = bar(&bars, "Stew");
        assert_eq!([1, 2, 3].map(|d| stew.held(DayNo(d)).map(Portion::get)), [Some(260), Some(260), Some(0)]);
        assert_eq!(stew.held(DayNo(0)), None);
    }

    #[test]
    fn hours_stand_at_the_ends_where_they_are_known_and_frost_moves_them() {
        let mut kind = super::super::test_support::kind("salmon", &[("loin", 1)]);
        kind.animal = true;
        let mut plan = Plan::around(kind, &[400], 9);
        plan.eater("Dag", 100);
        plan.rotation.storage.opened_at = Time::new(12, 0, 0, 0).ok();
        plan.rotation.storage.freezer = true;
        let batch = plan.cook(supper(6), dish("seared"), "loin", 300);
        let what = Frozen::Draw(batch, PartId::new("loin").unwrap());
        plan.rotation.storage.frozen = vec![FrozenStay { what, from: DayNo(1), to: DayNo(6) }];
        let bars = clock_bars(&plan.rotation);
        let loin = bar(&bars, "Loin");
        assert_eq!((loin.from.begins(), loin.safe.ends()), (1.5, 2.5));
        assert_eq!(loin.held(DayNo(1)).map(Portion::get), Some(100));
        let frozen = bar(&bars, "loin for Seared");
        assert_eq!((frozen.container.as_str(), frozen.frozen), ("freezer", Some((DayNo(1), DayNo(6)))));
        assert_eq!(frozen.safe, Edge::of_day(DayNo(7)));
        assert_eq!(bar(&bars, "Seared").safe, Edge::of_day(DayNo(9)));
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        /// At the end of every day each gram of the piece is in one bar, or eaten.
        #[test]
        fn every_gram_is_somewhere(
            made in prop::collection::vec((1i16..6, 20u32..120, 0u8..4, 0i16..3, any::<bool>()), 1..7),
        ) {
            let mut plan = Plan::cabbage(8);
            let mut eaten: Vec<(i16, u32)> = Vec::new();
            let mut sauce = None;
            for (i, &(day, grams, sort, wait, cut)) in made.iter().enumerate() {
                let name = format!("d{i}");
                let later = (day + wait).min(8);
                match (sort, sauce) {
                    (0, _) => { plan.batch(day, bank(&name), &[("heart", grams)]); }
                    (1, None) => sauce = Some((plan.batch(day, component(&name), &[("outer", grams)]), day, grams)),
                    (1, Some((source, from, held))) if held >= 10 && day >= from => {
                        let batch = plan.batch_from(day, dish(&name), source, 10);
                        plan.serve(supper(later), batch, 10);
                        eaten.push((later, 10));
                        sauce = None;
                    }
                    _ => {
                        let batch = plan.batch(day, dish(&name), &[("middle", grams)]);
                        if cut && day > 1 {
                            plan.cut_on(batch, day - 1);
                        }
                        plan.serve(supper(later), batch, grams);
                        eaten.push((later, grams));
                    }
                }
            }
            let bars = clock_bars(&plan.rotation);
            let usable = plan.rotation.piece.usable_total(State::Prepared).get();
            for day in 1..=8 {
                let held: u32 = bars.iter().filter(|b| b.state != KeptAs::Companion).filter_map(|b| b.held(DayNo(day))).map(Portion::get).sum();
                let gone: u32 = eaten.iter().filter(|e| e.0 <= day).map(|e| e.1).sum();
                prop_assert_eq!(held + gone, usable, "day {}: {:#?}", day, &bars);
            }
            for b in &bars {
                prop_assert!(b.from.begins() <= b.safe.ends() && b.nice.ends() <= b.safe.ends(), "{:?}", b);
            }
        }
    }
}
