//! `tranche arrange`: the open meals of a rotation filled with the best choice there is.

use super::{
    Answer, EXIT_FAILED, EXIT_GOOD, EXIT_IMPOSSIBLE, Failure, Manner,
    check::{count_words, write_findings},
    home::home,
    json, misused,
    plan::read_plan,
    template::may_write,
    text::{Table, heading, sentence},
};
use crate::{
    arrange::{Arrangement, Best, Binding, Fitting, Impossible, Limits, Outcome, Question, Wishes, what_fits},
    book::{Book, DishId},
    judge::Severity,
    quantity::{DayNo, System, said_in, write_grams},
    rotation::{Rotation, Slot, apply},
    store::save_rotation,
};
use serde_json::{Value, json};
use std::{fmt::Write as _, path::PathBuf};

#[derive(clap::Args)]
pub(super) struct ArrangeTask {
    /// The rotation; "-" is standard input
    file: PathBuf,
    /// Where the filled rotation goes; without it none is written
    #[arg(short, long, value_name = "ROTATION")]
    output: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    force: bool,
    /// How many arrangements to show: the best, and others that really differ from it
    #[arg(long, value_name = "N", default_value_t = 1)]
    top: usize,
    /// A meal to fill, "Thursday supper"; may be given again. Without it every meal that waits for a dish
    #[arg(long = "meal", value_name = "MEAL")]
    meals: Vec<String>,
    /// Minutes of cooking on a day, "Thursday=30"; may be given again
    #[arg(long, value_name = "DAY=MINUTES")]
    minutes: Vec<String>,
    /// A day on which the oven stays cold; may be given again
    #[arg(long, value_name = "DAY")]
    no_oven: Vec<String>,
    /// A dish that is not wanted, by id or name; may be given again
    #[arg(long, value_name = "DISH")]
    without: Vec<String>,
    /// A companion on hand that wants using up; may be given again
    #[arg(long, value_name = "NAME")]
    use_up: Vec<String>,
    /// Let meals be too alike
    #[arg(long)]
    allow_alike: bool,
    /// Let a dish come back within fourteen days
    #[arg(long)]
    allow_repeats: bool,
    /// Rank every dish for one meal instead, all else as it stands
    #[arg(long, value_name = "MEAL", conflicts_with_all = ["output", "meals"])]
    fits: Option<String>,
    /// Leave out what holds the arrangement back
    #[arg(long)]
    no_why: bool,
    /// Judge by the usual patience, without this household's habits and journal
    #[arg(long)]
    usual: bool,
    /// Seconds after which the search ends with what it has; so too that for others and for what holds it back
    #[arg(long, value_name = "SECONDS", default_value_t = 20.0)]
    limit: f64,
    /// Threads for the heaviest steps
    #[arg(long, value_name = "N", default_value_t = 1)]
    threads: usize,
}

pub(super) fn arrange(task: &ArrangeTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    let plan = read_plan(&task.file)?;
    let book = manner.shelf.book()?;
    let home = home(task.usual).0;
    let wishes = wishes(task, &plan, &book)?;
    if let Some(meal) = &task.fits {
        let slot = slot_named(&plan, meal)?;
        return Ok(fits(&plan, &what_fits(&plan, &book, &home, &wishes, slot), slot, manner));
    }
    if let Some(out) = &task.output {
        may_write(out, task.force)?;
    }
    if !(task.limit.is_finite() && task.limit >= 0.0) {
        return Err(misused("--limit: name a number of seconds".into()));
    }
    let limits = Limits { threads: task.threads, seconds: Some(task.limit), cancel: None };
    let mut question = Question::new(&plan, &book, &home, &wishes);
    match question.best(limits, &mut |_| {}) {
        Outcome::NothingOpen => {
            let text = if manner.json {
                json::text(&json!({ "status": "nothing open", "arrangements": [] }))
            } else {
                "No meal waits for a dish.\n".into()
            };
            Ok(Answer { text, code: EXIT_GOOD })
        }
        Outcome::Stopped => {
            let sentence = "nothing was found in the time, and nothing proven: give it more with --limit".into();
            Err(Failure { sentence, code: EXIT_FAILED })
        }
        Outcome::Impossible(why) => Ok(impossible(&why, manner)),
        Outcome::Filled(best) => {
            let others = question.others(&best.arrangement, task.top.saturating_sub(1), limits);
            let binds = if task.no_why { Vec::new() } else { question.binds(&best.arrangement, limits) };
            if let Some(out) = &task.output {
                let done = apply(&plan, &best.arrangement.edit());
                let done = done.map_err(|e| Failure { sentence: e.to_string(), code: EXIT_FAILED })?;
                save_rotation(out, &done.rotation)?;
            }
            let said = Said { best: &best, others: &others, binds: &binds, manner };
            let text = if manner.json { json::text(&said.json()) } else { said.words() };
            Ok(Answer { text, code: EXIT_GOOD })
        }
    }
}

fn wishes(task: &ArrangeTask, plan: &Rotation, book: &Book) -> Result<Wishes, Failure> {
    let mut wishes = Wishes { may_be_alike: task.allow_alike, may_come_again: task.allow_repeats, ..Wishes::default() };
    if !task.meals.is_empty() {
        let meals: Result<Vec<Slot>, Failure> = task.meals.iter().map(|m| slot_named(plan, m)).collect();
        let meals = meals?;
        if let Some(full) = meals.iter().find(|s| !plan.meal(**s).servings.is_empty()) {
            return Err(misused(format!("{} has a dish already: take it off first", plan.slot_name(*full))));
        }
        wishes.meals = Some(meals);
    }
    for given in &task.minutes {
        let parts = given.rsplit_once('=').and_then(|(day, min)| Some((day, min.trim().parse::<u32>().ok()?)));
        let Some((day, minutes)) = parts.filter(|(_, min)| *min <= 1_440) else {
            return Err(misused(format!("--minutes {}: write a day and its minutes, Thursday=30", shown(given))));
        };
        wishes.minutes.insert(day_named(plan, day)?, minutes);
    }
    for day in &task.no_oven {
        wishes.no_oven.insert(day_named(plan, day)?);
    }
    for dish in &task.without {
        wishes.without.insert(dish_named(plan, book, dish)?);
    }
    wishes.use_up = task.use_up.iter().map(|n| n.trim().to_lowercase()).filter(|n| !n.is_empty()).collect();
    Ok(wishes)
}

/// What somebody typed, short and harmless.
fn shown(typed: &str) -> String {
    typed.chars().take(60).flat_map(char::escape_debug).collect()
}

fn day_named(plan: &Rotation, named: &str) -> Result<DayNo, Failure> {
    let wanted = named.trim().to_lowercase();
    let fits = |day: &DayNo| {
        plan.day_name(*day).to_lowercase() == wanted || day.0.to_string() == wanted || plan.date(*day).to_string() == wanted
    };
    plan.day_numbers().find(fits).ok_or_else(|| {
        let days: Vec<String> = plan.day_numbers().map(|d| plan.day_name(d)).collect();
        misused(format!("the plan has no day \"{}\"; it has {}", shown(named), days.join(", ")))
    })
}

fn slot_named(plan: &Rotation, named: &str) -> Result<Slot, Failure> {
    let wanted = named.trim().to_lowercase();
    plan.slots().find(|s| plan.slot_name(*s).to_lowercase() == wanted).ok_or_else(|| {
        let example = plan.slots().next().map(|s| plan.slot_name(s)).unwrap_or_default();
        misused(format!("the plan has no meal \"{}\"; write a day and a mealtime, such as \"{example}\"", shown(named)))
    })
}

fn dish_named(plan: &Rotation, book: &Book, named: &str) -> Result<DishId, Failure> {
    let wanted = named.trim().to_lowercase();
    let known = book.dishes().chain(plan.dishes.values());
    let found = known.into_iter().find(|d| d.id.as_str() == wanted || d.name.to_lowercase() == wanted);
    found.map(|d| d.id.clone()).ok_or_else(|| misused(format!("the book has no dish \"{}\"", shown(named))))
}

fn impossible(why: &Impossible, manner: Manner<'_>) -> Answer {
    let text = if manner.json {
        let wishes: Vec<Value> = why.words.iter().map(|(w, l)| json!({ "wish": w, "loosen": l })).collect();
        json::text(&json!({
            "status": "impossible", "arrangements": [], "reason": why.says(), "wishes": wishes, "smallest": why.smallest,
        }))
    } else {
        let mut out = format!("The meals cannot be filled, proven.\n{}\n", why.says());
        for (wish, loosen) in &why.words {
            let _ = writeln!(out, "    {}: {loosen}", sentence(wish).trim_end_matches('.'));
        }
        out
    };
    Answer { text: said_in(&text, manner.system).into(), code: EXIT_IMPOSSIBLE }
}

fn fits(plan: &Rotation, found: &[Fitting], slot: Slot, manner: Manner<'_>) -> Answer {
    let text = if manner.json {
        let list: Vec<Value> = found
            .iter()
            .map(|f| {
                json!({
                    "dish": f.dish.name, "id": f.dish.id, "fits": f.cost.is_some(), "cost": f.cost.map(|c| c.taste),
                    "most_alike": json::rounded(f.most_alike), "why": f.why,
                })
            })
            .collect();
        json::text(&json!({ "meal": plan.slot_name(slot), "dishes": list }))
    } else {
        let mut out = format!("What fits at {}, the best first\n\n", plan.slot_name(slot));
        let mut table = Table::new(&[]);
        for f in found {
            table.row([if f.cost.is_some() { "fits" } else { "no" }.into(), f.dish.name.clone(), f.why.clone()]);
        }
        table.write(&mut out);
        out
    };
    Answer { text: said_in(&text, manner.system).into(), code: EXIT_GOOD }
}

/// All that is said of a filled plan.
struct Said<'s> {
    best: &'s Best,
    others: &'s [(Arrangement, bool)],
    binds: &'s [Binding],
    manner: Manner<'s>,
}

impl Said<'_> {
    fn words(&self) -> String {
        let best = &self.best.arrangement;
        let mut out = format!("{}\n{}\n", self.best.says(), sentence(&best.costs(None)));
        if self.best.wasteful {
            out += "More than a twentieth of the piece is left over: no arrangement of these meals leaves less.\n";
        }
        self.meals(&mut out, best);
        if !self.binds.is_empty() {
            heading(&mut out, "What holds it back");
            for bind in self.binds {
                let _ = writeln!(out, "{}", sentence(&bind.words));
            }
        }
        for (i, (other, proven)) in self.others.iter().enumerate() {
            heading(&mut out, &format!("Instead ({})", i + 2));
            let claim = if *proven { "" } else { " (the best of its sort so far)" };
            let _ = writeln!(out, "{}{claim}", sentence(&other.costs(Some(best))));
            self.meals(&mut out, other);
        }
        heading(&mut out, "What there is to say");
        let _ = writeln!(out, "{}", sentence(&count_words(&best.judgement.findings)));
        let grave: Vec<_> = best.judgement.findings.iter().filter(|f| f.severity < Severity::Note && f.speaks()).collect();
        if !grave.is_empty() {
            write_findings(
                &mut out,
                &best.plan,
                &grave.into_iter().map(|f| (f, Vec::new())).collect::<Vec<_>>(),
                self.manner.system,
            );
        }
        said_in(&out, self.manner.system).into()
    }

    fn meals(&self, out: &mut String, a: &Arrangement) {
        let mut table = Table::new(&[2]);
        for m in &a.meals {
            let alike = m.most_alike.map(|s| format!("at most {:.0}\u{a0}% alike", 100.0 * s)).unwrap_or_default();
            table.row([
                a.plan.slot_name(m.slot),
                m.dish.name.clone(),
                write_grams(m.portion.get(), System::Metric),
                m.from.clone(),
                alike,
            ]);
        }
        table.write(out);
    }

    fn json(&self) -> Value {
        let all = std::iter::once((&self.best.arrangement, self.best.proven)).chain(self.others.iter().map(|(a, p)| (a, *p)));
        let arrangements: Vec<Value> = all.map(|(a, proven)| self.one(a, proven)).collect();
        let binds: Vec<Value> = self
            .binds
            .iter()
            .map(|b| json!({ "wish": b.words, "gain": b.gain, "feels_like": json::rounded(Some(b.feels_like)) }))
            .collect();
        json!({
            "status": if self.best.proven { "optimal" } else { "feasible" },
            "objective": self.best.arrangement.cost.total(),
            "bound": self.best.bound,
            "says": self.best.says(),
            "wasteful": self.best.wasteful,
            "arrangements": arrangements,
            "binds": binds,
        })
    }

    fn one(&self, a: &Arrangement, proven: bool) -> Value {
        let meals: Vec<Value> = a
            .meals
            .iter()
            .map(|m| {
                json!({
                    "meal": a.plan.slot_name(m.slot), "day": m.slot.day.0, "dish": m.dish.name, "id": m.dish.id,
                    "grams": m.portion.get(), "state": json::state_word(m.portion), "from": m.from,
                    "most_alike": json::rounded(m.most_alike),
                })
            })
            .collect();
        let put_by: Vec<Value> =
            a.put_by.iter().map(|(dish, day, grams)| json!({ "dish": dish.name, "day": day.0, "grams": grams })).collect();
        let beside = (a.chosen_differs(&self.best.arrangement)).then_some(&self.best.arrangement);
        json!({
            "proven": proven,
            "cost": a.cost.total(),
            "taste": a.cost.taste,
            "left_g": a.cost.lost,
            "feels_like": json::rounded(Some(a.feels_like().0)),
            "words": a.costs(beside),
            "meals": meals,
            "put_by": put_by,
            "findings": json::findings(&a.plan, &a.judgement.findings.iter().map(|f| (f, Vec::new())).collect::<Vec<_>>()),
        })
    }
}
