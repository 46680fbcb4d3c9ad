//! What two dishes share on one axis, in a cook's words.

use super::Axis;
use crate::book::{Family, Form, Heat, Profile, Protein, Starch, Taste};

/// The words for one axis, and whether the main values are the same.
pub(super) fn describe(axis: Axis, a: &Profile, b: &Profile) -> (String, bool) {
    match axis {
        Axis::Texture => pair(a.main_texture(), b.main_texture(), |t| format!("both {}", t.word()), |t| t.word()),
        Axis::Family => pair(a.main_family(), b.main_family(), both_family, |f| f.word()),
        Axis::Colour => pair(a.main_colour(), b.main_colour(), |c| format!("both {}", c.word()), |c| c.word()),
        Axis::Method => pair(a.main_method(), b.main_method(), |m| format!("both {}", m.word()), |m| m.word()),
        Axis::Form => pair(a.form, b.form, |f| both_form(f).to_string(), |f| f.word()),
        Axis::Heat => pair(a.heat, b.heat, |h| format!("both {}", h.word()), Heat::word),
        Axis::Protein => with_none(a.protein, b.protein, Protein::None, Protein::word),
        Axis::Starch => with_none(a.starch, b.starch, Starch::None, Starch::word),
        Axis::Taste => (tastes(a.taste, b.taste), false),
    }
}

/// What is shared, the largest shares first, as a list for a sentence: up to four, filled up with what is partly alike.
pub(super) fn list(shares: &[super::AxisShare]) -> String {
    let mut chosen: Vec<&super::AxisShare> = shares.iter().filter(|s| s.shared).take(4).collect();
    if chosen.len() < 3 {
        let partly = shares.iter().filter(|s| !s.shared && s.alike >= 0.3 && s.share > 0.0);
        let room = 3 - chosen.len();
        chosen.extend(partly.take(room));
        chosen.sort_by(|x, y| y.share.total_cmp(&x.share).then(x.axis.cmp(&y.axis)));
    }
    chosen.iter().map(|s| s.words.as_str()).collect::<Vec<_>>().join(", ")
}

fn pair<T: Copy + PartialEq>(
    a: Option<T>,
    b: Option<T>,
    both: impl Fn(T) -> String,
    word: impl Fn(T) -> &'static str,
) -> (String, bool) {
    match (a, b) {
        (Some(a), Some(b)) if a == b => (both(a), true),
        (Some(a), Some(b)) => (format!("{} beside {}", word(a), word(b)), false),
        _ => (String::new(), false),
    }
}

/// Company: the same counts as shared, but not where both have none.
fn with_none<T: Copy + PartialEq>(a: Option<T>, b: Option<T>, none: T, word: impl Fn(T) -> &'static str) -> (String, bool) {
    let (words, same) = pair(a, b, |v| format!("both with {}", word(v)), &word);
    (words, same && a != Some(none))
}

fn both_family(family: Family) -> String {
    match family {
        Family::Tomato | Family::Umami | Family::Curry | Family::Mustard | Family::Chilli => {
            format!("both taste of {}", family.word())
        }
        _ => format!("both {} in flavour", family.word()),
    }
}

fn both_form(form: Form) -> &'static str {
    match form {
        Form::Soup => "both soups",
        Form::Bowl => "both in a bowl",
        Form::Salad => "both salads",
        Form::Bake => "both bakes",
        Form::Pie => "both pies",
        Form::Patty => "both patties",
        Form::Wrap => "both wraps",
        Form::Plate => "both on a plate",
        Form::Mash => "both mashes",
        Form::Sandwich => "both sandwiches",
        Form::Skewer => "both on skewers",
        Form::Dip => "both dips",
    }
}

fn tastes(a: Option<Taste>, b: Option<Taste>) -> String {
    let (Some(a), Some(b)) = (a, b) else {
        return String::new();
    };
    const WORDS: [&str; 6] = ["sweet", "sour", "bitter", "savoury", "hot to the tongue", "rich"];
    let strength = a.vector().into_iter().zip(b.vector()).map(|(x, y)| x * y);
    let mut common: Vec<(f64, &str)> = strength.zip(WORDS).filter(|(s, _)| *s > 0.0).collect();
    // Stable, so that equals stay in the order of the vector.
    common.sort_by(|x, y| y.0.total_cmp(&x.0));
    match common.as_slice() {
        [] => "nothing alike in taste".into(),
        [(_, one)] => format!("both taste {one}"),
        [(_, one), (_, two), ..] => format!("both taste {one} and {two}"),
    }
}
