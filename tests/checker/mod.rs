//! The rules and the cost of an arrangement, reckoned anew from the JSON of the instance alone.
//!
//! Shares nothing with the program: neither its reading nor its sums.

use serde_json::Value;

fn number(v: &Value) -> i64 {
    v.as_i64().unwrap_or_else(|| panic!("{v} is no whole number"))
}

fn rows(v: &Value) -> &Vec<Value> {
    v.as_array().unwrap_or_else(|| panic!("{v} is no list"))
}

/// The cost of `dishes` in the slots of `instance`, or the rule that is broken.
pub fn cost(instance: &Value, dishes: &[usize]) -> Result<i64, String> {
    let known = rows(&instance["dishes"]);
    let slots = rows(&instance["slots"]);
    if slots.len() != dishes.len() {
        return Err(format!("{} slots, {} dishes", slots.len(), dishes.len()));
    }
    let last = number(&instance["last_slot"]);
    let mut minutes = vec![0; rows(&instance["day_minutes"]).len()];
    let (mut least, mut most, mut sum) = (0, 0, 0);
    for (s, &d) in dishes.iter().enumerate() {
        let dish = &known[d];
        if let Some(allowed) = dish["allowed_slots"].as_array()
            && !allowed.iter().any(|a| number(a) == s as i64)
        {
            return Err(format!("rule 1: dish {d} in slot {s}"));
        }
        if s as i64 > last && number(&dish["max_g"]) > 0 {
            return Err(format!("rule 2: dish {d} in slot {s}"));
        }
        minutes[number(&slots[s]["day"]) as usize] += number(&dish["minutes"]);
        least += number(&dish["min_g"]);
        most += number(&dish["max_g"]);
        sum += 1_000 * number(&dish["dislike"]);
        let uses = dishes.iter().filter(|&&e| e == d).count() as i64;
        if uses > number(&dish["max_uses"]) {
            return Err(format!("rule 4: dish {d} {uses} times"));
        }
    }
    for f in rows(&instance["fixed"]) {
        if dishes[number(&f["slot"]) as usize] as i64 != number(&f["dish"]) {
            return Err(format!("rule 3: {f}"));
        }
    }
    for (day, have) in rows(&instance["day_minutes"]).iter().enumerate() {
        if minutes[day] > number(have) {
            return Err(format!("rule 5: day {day}"));
        }
    }
    let edible = number(&instance["edible_g"]);
    if least > edible {
        return Err(format!("rule 6: {least} g of {edible}"));
    }
    for p in 0..dishes.len() {
        for q in p + 1..dishes.len() {
            if let Some(weight) = instance["gap_weight"].get(q - p - 1) {
                let (a, b) = (dishes[p].min(dishes[q]), dishes[p].max(dishes[q]));
                let alike = if a == b { 1_000 } else { number(&instance["similarity_upper"][a][b - a - 1]) };
                sum += number(weight) * alike;
            }
        }
    }
    Ok(sum + 1_000 * number(&instance["waste_cost_per_g"]) * (edible - most).max(0))
}

/// The least cost of all arrangements, by trying every one; none where none keeps the rules. For a few slots only.
pub fn least_of_all(instance: &Value) -> Option<i64> {
    let (m, n) = (rows(&instance["slots"]).len(), rows(&instance["dishes"]).len());
    let mut best: Option<i64> = None;
    let mut dishes = vec![0; m];
    if n == 0 {
        return None;
    }
    loop {
        if let Ok(cost) = cost(instance, &dishes) {
            best = Some(best.map_or(cost, |b| b.min(cost)));
        }
        let Some(s) = (0..m).find(|&s| dishes[s] + 1 < n) else { return best };
        dishes[s] += 1;
        dishes[..s].fill(0);
    }
}
