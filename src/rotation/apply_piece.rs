//! Edits of the piece: every weighing re-balances what was only guessed, and the sum always closes.

use super::{
    Piece, PieceEdit, Rotation, Source, TrimLine,
    apply::{Outcome, refuse},
    apply_meal,
    piece::{GIVEN_AWAY, divide},
};
use crate::{
    book::Kind,
    quantity::{Grams, Portion, System, write_grams},
};

/// Where grams go that are neither part nor known trim, once all is weighed.
const UNACCOUNTED: &str = "lost in handling";

pub(super) fn carry_out(r: &mut Rotation, change: &PieceEdit) -> Outcome {
    let say = |grams: u32| write_grams(grams, System::Metric);
    match change {
        PieceEdit::Mass(mass) => {
            if mass.is_zero() {
                return refuse("a piece of 0\u{a0}g cannot be divided: type what it weighs");
            }
            r.piece.mass = *mass;
            reckon(r)?;
            Ok(format!("Weigh the piece: {}", say(mass.get())))
        }
        PieceEdit::Trim(trim) => {
            let given = take_given(&mut r.piece);
            if r.piece.trim.is_empty() {
                r.piece.trim.push(TrimLine { name: "trim".into(), grams: Grams::ZERO });
            }
            let shares: Vec<u32> = r.piece.trim.iter().map(|t| t.grams.get()).collect();
            set_lines(&mut r.piece.trim, &divide(trim.get(), &shares));
            r.piece.trim.extend(given);
            r.piece.trim_weighed = true;
            reckon(r)?;
            Ok(format!("Weigh the trim: {}", say(trim.get())))
        }
        PieceEdit::Part(id, portion) => {
            let Some(name) = r.kind.part(id).map(|p| p.name.clone()) else {
                return refuse(format!("{} has no part called {id}", r.kind.name));
            };
            if portion.state() != r.kind.portioned {
                return refuse(format!("{} is weighed {}", r.kind.name, r.kind.portioned.word()));
            }
            if let Some(part) = r.piece.parts.iter_mut().find(|p| p.part == *id) {
                part.usable = *portion;
                part.weighed = true;
            }
            reckon(r)?;
            Ok(format!("Weigh the {name}: {}", say(portion.get())))
        }
        PieceEdit::GiveAway(id, portion) => give_away(r, id, *portion),
        PieceEdit::Rotten(rotten) => {
            r.piece.rotten = *rotten;
            reckon(r)?;
            Ok(format!("Throw away {} as rotten", say(rotten.get())))
        }
        PieceEdit::Opened(day) => {
            if let Some(first) = r.batches.iter().map(|b| b.day).min()
                && *day > first
            {
                return refuse(format!("something is made of it on {} already: it was opened by then", r.day_name(first)));
            }
            r.piece.opened = *day;
            Ok(format!("Open the piece on {}", r.day_name(*day)))
        }
        PieceEdit::Condition(condition) => {
            r.piece.condition = *condition;
            Ok("Note the condition of the piece".into())
        }
        PieceEdit::Kind(kind) => {
            if !r.batches.is_empty() {
                return refuse(format!(
                    "{} is allotted to meals: take them off first, or lay the shape on another piece",
                    r.kind.name
                ));
            }
            r.piece = Piece::guessed(kind, r.piece.mass, r.piece.opened);
            r.kind = kind.clone();
            Ok(format!("Plan {} instead", r.kind.name))
        }
    }
}

/// Takes grams that nobody has planned off a part, and counts them as a loss of that name.
fn give_away(r: &mut Rotation, id: &crate::book::PartId, portion: Portion) -> Outcome {
    let Some(name) = r.kind.part(id).map(|p| p.name.clone()) else {
        return refuse(format!("{} has no part called {id}", r.kind.name));
    };
    apply_meal::check_free(r, &Source::Part(id.clone()), portion)?;
    let piece = &mut r.piece;
    if let Some(part) = piece.parts.iter_mut().find(|p| p.part == *id) {
        part.usable = part.usable.with(part.usable.get().saturating_sub(portion.get()));
        // What is given was on the scales or in somebody's hands: the rest stays what it is.
        part.weighed = true;
    }
    let old = take_given(piece).map_or(0, |t| t.grams.get());
    let grams = Grams::clamped(old.saturating_add(portion.get()));
    piece.trim.push(TrimLine { name: GIVEN_AWAY.into(), grams });
    Ok(format!("Give {} of the {name} away", write_grams(portion.get(), System::Metric)))
}

/// Takes the line of what was given away out of the losses.
fn take_given(piece: &mut Piece) -> Option<TrimLine> {
    let place = piece.trim.iter().position(|t| t.name == GIVEN_AWAY)?;
    Some(piece.trim.remove(place))
}

fn set_lines(lines: &mut [TrimLine], grams: &[u32]) {
    for (line, g) in lines.iter_mut().zip(grams) {
        line.grams = Grams::clamped(*g);
    }
}

/// Lets everything that was not weighed follow what was, so that the sum closes.
fn reckon(r: &mut Rotation) -> Result<(), super::Refusal> {
    let given = take_given(&mut r.piece);
    let done = reckon_but_for(r, given.as_ref().map_or(0, |t| t.grams.get()));
    r.piece.trim.extend(given);
    done
}

/// The same for a piece of which so many grams are gone for good.
fn reckon_but_for(r: &mut Rotation, given: u32) -> Result<(), super::Refusal> {
    let kind: &Kind = &r.kind;
    let piece = &mut r.piece;
    piece.trim.retain(|t| t.name != UNACCOUNTED);
    let weighed_parts: u32 = piece.parts.iter().filter(|p| p.weighed).map(|p| p.usable.get()).sum();
    let weighed_trim = if piece.trim_weighed { piece.trim_total().get() } else { 0 };
    let fixed = u64::from(piece.rotten.get()) + u64::from(weighed_parts) + u64::from(weighed_trim) + u64::from(given);
    let Some(rest) = u64::from(piece.mass.get()).checked_sub(fixed) else {
        let say = |g: u64| write_grams(g.min(u64::from(u32::MAX)) as u32, System::Metric);
        return refuse(format!(
            "what was weighed makes {} together, more than the {} of the whole piece: weigh that again first",
            say(fixed),
            say(u64::from(piece.mass.get()))
        ));
    };
    let rest = rest as u32;
    let trim_share: u32 = if piece.trim_weighed { 0 } else { kind.trim.iter().map(|t| u32::from(t.share.get())).sum() };
    let part_share = |index: usize| kind.parts.get(index).map_or(0, |p| u32::from(p.share.get()));
    let mut shares = vec![trim_share];
    shares.extend(piece.parts.iter().enumerate().map(|(i, p)| if p.weighed { 0 } else { part_share(i) }));
    if shares.iter().all(|&s| s == 0) {
        // All is weighed: what is over was lost on the way.
        if rest > 0 {
            piece.trim.push(TrimLine { name: UNACCOUNTED.into(), grams: Grams::clamped(rest) });
        }
        return Ok(());
    }
    let split = divide(rest, &shares);
    if !piece.trim_weighed {
        if piece.trim.is_empty() && split[0] > 0 {
            piece.trim.push(TrimLine { name: "trim".into(), grams: Grams::ZERO });
        }
        let names_match = piece.trim.len() == kind.trim.len() && piece.trim.iter().zip(&kind.trim).all(|(a, b)| a.name == b.name);
        let by: Vec<u32> = if names_match {
            kind.trim.iter().map(|t| u32::from(t.share.get())).collect()
        } else {
            piece.trim.iter().map(|t| t.grams.get()).collect()
        };
        let lines = divide(split[0], &by);
        set_lines(&mut piece.trim, &lines);
    }
    for (part, grams) in piece.parts.iter_mut().zip(&split[1..]) {
        if !part.weighed {
            part.usable = Portion::of(kind.portioned, *grams);
        }
    }
    Ok(())
}
