//! Do the judges let a plate through that a second, independent reading of the rules would not?
//!
//! Ten thousand random plans are judged and walked over plate by plate. A plan without a stop must be clean to the walker, and
//! every plate that the walker refuses must have a stop of the right sort, not just any.

mod walker;

use std::collections::BTreeMap;
use tranche::{
    judge::{Finding, Severity, judge},
    rotation::{eaten_by, validate},
};
use walker::{
    Wrong,
    plans::{Dice, plan, speaks_of},
    walk,
};

#[test]
fn what_the_judges_pass_is_clean_to_the_walker_and_every_bad_plate_is_stopped() {
    const PLANS: usize = 10_000;
    let (mut passed, mut plates) = (0, 0);
    let mut refused: BTreeMap<&str, usize> = BTreeMap::new();
    let mut gaps = Vec::new();
    for seed in 0..PLANS as u64 {
        let plan = plan(&mut Dice::new(seed));
        validate(&plan).unwrap_or_else(|e| panic!("plan {seed}: {}", e.what));
        let stops: Vec<Finding> = judge(&plan).findings.into_iter().filter(|f| f.severity == Severity::Stop).collect();
        let bad = walk(&plan);
        plates += plan.meals.values().map(|m| m.servings.len()).sum::<usize>();
        if stops.is_empty() && !plan.meals.is_empty() {
            passed += 1;
        }
        for plate in &bad {
            let sort = match plate.wrong {
                Wrong::TooOld => "too old",
                Wrong::MadeTooLate => "made too late",
                Wrong::TooOldForTheVulnerable => "too old for the vulnerable",
                Wrong::BeforeMade => "before it is made",
                Wrong::WarmedTwice => "warmed twice",
                Wrong::PowerCut => "power cut",
                Wrong::StillFrozen => "still frozen",
                Wrong::FrozenTwice => "frozen twice",
                Wrong::Allergen(_) => "allergen",
            };
            *refused.entry(sort).or_default() += 1;
            if !stops.iter().any(|s| speaks_of(&plan, plate, s)) {
                gaps.push(format!("plan {seed}: {plate:?}, stops: {:?}", stops.iter().map(|s| &s.text).collect::<Vec<_>>()));
            }
        }
        // Whose plate it is said to come on holds nothing that bars it.
        for (slot, meal) in &plan.meals {
            for serving in &meal.servings {
                for eater in eaten_by(&plan, serving, &plan.eaters_at(*slot)) {
                    let barred = bad.iter().any(|p| {
                        p.slot == *slot && p.batch == serving.batch && p.eater == eater && matches!(p.wrong, Wrong::Allergen(_))
                    });
                    assert!(!barred, "plan {seed}: eater {} is counted among those who eat what they are allergic to", eater.0);
                }
            }
        }
    }
    println!("{PLANS} plans, {plates} servings, {passed} passed; plates refused: {refused:?}; gaps: {}", gaps.len());
    assert!(gaps.is_empty(), "{} gaps in the judges, the first: {:#?}", gaps.len(), &gaps[..gaps.len().min(5)]);
    // The question is only worth asking if both answers are common.
    assert!(passed > PLANS / 4, "only {passed} plans passed");
    assert!(refused.len() == 9 && refused.values().all(|n| *n > 50), "{refused:?}");
}
