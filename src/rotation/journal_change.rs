//! What can be done to a journal: a meal written down, a word about it, grams, a line struck out.

use super::{EatenMeal, Heard, capital};
use crate::quantity::Portion;
use jiff::civil::Date;

/// One dish at one meal: what a line of the journal is known by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtTable {
    /// The day.
    pub on: Date,
    /// The mealtime, lower case.
    pub mealtime: String,
    /// What the dish is called.
    pub dish: String,
}

impl AtTable {
    /// What `meal` is known by.
    pub fn of(meal: &EatenMeal) -> AtTable {
        AtTable { on: meal.on, mealtime: meal.mealtime.clone(), dish: meal.name.clone() }
    }

    /// Whether `meal` is of this dish at this meal.
    pub fn is(&self, meal: &EatenMeal) -> bool {
        self.on == meal.on && self.mealtime == meal.mealtime && self.dish == meal.name
    }

    /// "Charred wedges, supper of 2026-12-08".
    pub fn words(&self) -> String {
        format!("{}, {} of {}", self.dish, self.mealtime, self.on)
    }
}

/// One change to a journal.
#[derive(Clone, Debug, PartialEq)]
pub enum JournalChange {
    /// Eaten as these lines say; lines that stand for the same dish at the same meal give way.
    Eaten(Vec<EatenMeal>),
    /// What was said of a dish at a meal that is in the journal; nothing: no word. Said of one eater by name, or of all who
    /// ate it. Where one says otherwise than the others, each word has a line of its own.
    Said {
        /// The dish at its meal.
        of: AtTable,
        /// Who said it; nothing: everybody who ate it.
        who: Option<String>,
        /// What was said.
        heard: Option<Heard>,
    },
    /// How much of the piece was thrown away of it.
    Wasted {
        /// The dish at its meal.
        of: AtTable,
        /// How much; nothing: not said.
        wasted: Option<Portion>,
    },
    /// It was not eaten after all.
    Strike(AtTable),
}

/// The journal after a change, with what was done in words; in words, too, why it cannot be done.
///
/// The order of the lines is kept; lines of one dish at one meal stand together, none with nobody who ate it.
pub fn journal_after(meals: &[EatenMeal], change: &JournalChange) -> Result<(Vec<EatenMeal>, String), String> {
    let mut after = meals.to_vec();
    let words = match change {
        JournalChange::Eaten(lines) => {
            let Some(first) = lines.first() else { return Err("Nobody eats of the piece at this meal.".into()) };
            after.retain(|m| !lines.iter().any(|line| AtTable::of(line).is(m)));
            after.extend(lines.iter().cloned());
            format!("Written down: {}", AtTable::of(first).words())
        }
        JournalChange::Said { of, who, heard } => {
            let place = place_of(&after, of)?;
            let lines = take(&mut after, of);
            let said = said(lines, who.as_deref(), *heard);
            let at = place.min(after.len());
            after.splice(at..at, said);
            let whose = who.as_ref().map(|w| format!("{w} says ")).unwrap_or_default();
            let word = heard.map_or("no word", Heard::words);
            capital(&format!("{whose}{word}: {}", of.words()))
        }
        JournalChange::Wasted { of, wasted } => {
            // Where a dish has several lines the first carries what was thrown away of the whole.
            let place = place_of(&after, of)?;
            after.iter_mut().filter(|m| of.is(m)).for_each(|m| m.wasted = None);
            if let Some(line) = after.get_mut(place) {
                line.wasted = *wasted;
            }
            match wasted {
                Some(w) => format!("{} g thrown away: {}", w.get(), of.words()),
                None => format!("Nothing said of waste: {}", of.words()),
            }
        }
        JournalChange::Strike(of) => {
            place_of(&after, of)?;
            take(&mut after, of);
            format!("Struck out: {}", of.words())
        }
    };
    Ok((after, words))
}

fn place_of(meals: &[EatenMeal], of: &AtTable) -> Result<usize, String> {
    meals.iter().position(|m| of.is(m)).ok_or_else(|| format!("{} is not in the journal.", of.words()))
}

fn take(meals: &mut Vec<EatenMeal>, of: &AtTable) -> Vec<EatenMeal> {
    let lines = meals.iter().filter(|m| of.is(m)).cloned().collect();
    meals.retain(|m| !of.is(m));
    lines
}

/// The lines of one dish after a word: eaters with the same word share a line, so that the journal stays short.
fn said(lines: Vec<EatenMeal>, who: Option<&str>, heard: Option<Heard>) -> Vec<EatenMeal> {
    let Some(first) = lines.first().cloned() else { return lines };
    // Grams and waste are of the dish, not of a mouth: the first line carries them all.
    let wasted = lines.iter().find_map(|l| l.wasted);
    let eaten = lines.iter().find_map(|l| l.eaten);
    let line = |eaters: Vec<String>, heard| EatenMeal { eaters, heard, eaten: None, wasted: None, ..first.clone() };
    let everybody = lines.iter().any(|l| l.eaters.is_empty());
    let mut out = match who {
        Some(who) if !everybody => {
            let mut words: Vec<(Option<Heard>, Vec<String>)> = Vec::new();
            for l in &lines {
                for eater in &l.eaters {
                    let word = if same_name(eater, who) { heard } else { l.heard };
                    match words.iter_mut().find(|(w, _)| *w == word) {
                        Some((_, eaters)) => eaters.push(eater.clone()),
                        None => words.push((word, vec![eater.clone()])),
                    }
                }
            }
            words.into_iter().map(|(word, eaters)| line(eaters, word)).collect()
        }
        // Nobody is named in the line: a word of one counts for all.
        _ => vec![line(if everybody { Vec::new() } else { lines.into_iter().flat_map(|l| l.eaters).collect() }, heard)],
    };
    if let Some(head) = out.first_mut() {
        head.eaten = eaten;
        head.wasted = wasted;
    }
    out
}

fn same_name(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// What the lines of one dish say, for one eater or where all say the same: `None` if it is not in the journal or if they
/// differ, `Some(None)` if it was eaten without a word.
pub fn heard_of(meals: &[EatenMeal], of: &AtTable, who: Option<&str>) -> Option<Option<Heard>> {
    let mut lines = meals.iter().filter(|m| of.is(m) && who.is_none_or(|w| m.eaten_by(w)));
    let first = lines.next()?.heard;
    lines.all(|m| m.heard == first).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Profile;
    use jiff::civil::date;

    fn line(day: i8, dish: &str, eaters: &[&str], heard: Option<Heard>) -> EatenMeal {
        EatenMeal {
            on: date(2026, 10, day),
            mealtime: "supper".into(),
            dish: None,
            name: dish.into(),
            profile: Profile::default(),
            eaters: eaters.iter().map(|e| e.to_string()).collect(),
            eaten: None,
            wasted: None,
            heard,
        }
    }

    fn of(line: &EatenMeal) -> AtTable {
        AtTable::of(line)
    }

    #[test]
    fn one_who_says_otherwise_has_a_line_of_their_own_and_joins_the_others_again() {
        let stew = line(3, "Stew", &["Asta", "Bo", "Kim"], None);
        let say = |meals: &[EatenMeal], who: Option<&str>, heard| {
            let change = JournalChange::Said { of: of(&stew), who: who.map(String::from), heard };
            journal_after(meals, &change).expect("it is in the journal").0
        };
        let fine = say(&[line(2, "Pie", &[], None), stew.clone(), line(4, "Soup", &[], None)], None, Some(Heard::Fine));
        assert_eq!(fine.iter().map(|m| m.name.as_str()).collect::<Vec<_>>(), ["Pie", "Stew", "Soup"], "the place is kept");
        let split = say(&fine, Some("bo"), Some(Heard::NotSoon));
        let lines: Vec<_> = split.iter().filter(|m| m.name == "Stew").map(|m| (m.eaters.join("+"), m.heard)).collect();
        assert_eq!(lines, [("Asta+Kim".into(), Some(Heard::Fine)), ("Bo".into(), Some(Heard::NotSoon))]);
        assert_eq!(heard_of(&split, &of(&stew), None), None, "they differ");
        assert_eq!(heard_of(&split, &of(&stew), Some("Bo")), Some(Some(Heard::NotSoon)));
        let again = say(&split, Some("Bo"), Some(Heard::Fine));
        assert_eq!(again.iter().filter(|m| m.name == "Stew").count(), 1, "one word, one line");
        assert_eq!(heard_of(&again, &of(&stew), None), Some(Some(Heard::Fine)));
    }

    #[test]
    fn what_was_eaten_and_wasted_stays_with_the_dish_through_words() {
        let mut stew = line(3, "Stew", &["Asta", "Bo"], None);
        stew.eaten = Some(Portion::of(crate::quantity::State::Prepared, 400));
        let wasted = Some(Portion::of(crate::quantity::State::Prepared, 60));
        let (meals, words) = journal_after(&[stew.clone()], &JournalChange::Wasted { of: of(&stew), wasted }).expect("known");
        assert_eq!(words, "60 g thrown away: Stew, supper of 2026-10-03");
        let change = JournalChange::Said { of: of(&stew), who: Some("Bo".into()), heard: Some(Heard::Again) };
        let (meals, _) = journal_after(&meals, &change).expect("known");
        assert_eq!(meals.iter().filter_map(|m| m.eaten).map(|p| p.get()).sum::<u32>(), 400, "nothing is counted twice");
        assert_eq!(meals.iter().filter_map(|m| m.wasted).map(|p| p.get()).sum::<u32>(), 60);
    }

    #[test]
    fn a_meal_written_twice_stands_once_and_a_stranger_cannot_be_struck() {
        let stew = line(3, "Stew", &["Asta"], Some(Heard::Again));
        let (meals, _) = journal_after(std::slice::from_ref(&stew), &JournalChange::Eaten(vec![stew.clone()])).expect("eaten");
        assert_eq!(meals, std::slice::from_ref(&stew));
        let (none, _) = journal_after(&meals, &JournalChange::Strike(of(&stew))).expect("known");
        assert!(none.is_empty());
        let why = journal_after(&none, &JournalChange::Strike(of(&stew))).expect_err("it is gone");
        assert_eq!(why, "Stew, supper of 2026-10-03 is not in the journal.");
        assert!(journal_after(&none, &JournalChange::Eaten(Vec::new())).is_err());
    }
}
