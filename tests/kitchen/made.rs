//! Days made by chance: very small ones of every kind of rule, and kitchens of the size of a feast.

use serde_json::{Value, json};

/// Chance that is the same on every run (splitmix64: Steele, Lea & Flood 2014).
pub struct Dice(pub u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `low` up to and with `high`.
    pub fn roll(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low + 1) as u64) as i64
    }

    pub fn one_in(&mut self, n: i64) -> bool {
        self.roll(1, n) == 1
    }
}

/// A day of a few steps and a dozen minutes, with any rule; some are impossible, a few for every reason.
pub fn tiny(seed: u64) -> Value {
    let mut dice = Dice(seed);
    let dishes = dice.roll(1, 3);
    let steps = dice.roll(dishes, 5);
    let serve = dice.roll(4, 11);
    let dish = |dice: &mut Dice, d: i64| {
        let serve = if dice.one_in(3) { (serve + dice.roll(-3, 3)).max(2) } else { serve };
        let hold = if dice.one_in(2) { json!(dice.roll(0, 4)) } else { Value::Null };
        json!({ "id": format!("dish{d}"), "serve": serve, "hold_max": hold })
    };
    let step = |dice: &mut Dice, t: i64| {
        let oven = dice.one_in(3).then(|| {
            let low = 10 * dice.roll(15, 20);
            json!({ "temp_min": low, "temp_max": low + 10 * dice.roll(0, 3), "racks": dice.roll(1, 2) })
        });
        let appliance = dice.one_in(3).then(|| ["mixer", "blender"][dice.roll(0, 1) as usize]);
        json!({
            "id": format!("step{t}"),
            "dish": if t < dishes { t } else { dice.roll(0, dishes - 1) },
            "minutes": dice.roll(1, 4),
            "hands": dice.roll(0, 1),
            "oven": oven,
            "rings": if dice.one_in(2) { dice.roll(1, 2) } else { 0 },
            "appliance": appliance,
            "space": if dice.one_in(3) { dice.roll(1, 3) } else { 0 },
        })
    };
    let mut lags = Vec::new();
    for before in 0..steps {
        for after in 0..steps {
            let forwards = before < after;
            if before != after && ((forwards && dice.one_in(4)) || (!forwards && dice.one_in(60))) {
                let min = dice.roll(0, 2);
                let max = if dice.one_in(2) { json!(min + dice.roll(0, 3)) } else { Value::Null };
                lags.push(json!({ "before": before, "after": after, "min_lag": min, "max_lag": max }));
            }
        }
    }
    let capacity = |dice: &mut Dice, low: i64, high: i64| if dice.one_in(25) { 0 } else { dice.roll(low, high) };
    json!({
        "name": format!("tiny{seed}"),
        "dishes": (0..dishes).map(|d| dish(&mut dice, d)).collect::<Vec<_>>(),
        "tasks": (0..steps).map(|t| step(&mut dice, t)).collect::<Vec<_>>(),
        "precedence": lags,
        "capacities": {
            "cooks": capacity(&mut dice, 1, 2),
            "racks": capacity(&mut dice, 2, 3),
            "rings": capacity(&mut dice, 2, 3),
            "space": capacity(&mut dice, 3, 4),
        },
    })
}

/// A kitchen's day: `dishes` dishes of two to five steps in a row, as households cook (figures invented).
pub fn feast(seed: u64, dishes: i64, cooks: i64, hold: bool) -> Value {
    let mut dice = Dice(seed);
    let serve = 500 + 70 * dishes;
    let (mut list, mut tasks, mut lags) = (Vec::new(), Vec::new(), Vec::new());
    for d in 0..dishes {
        let hold = if hold && dice.one_in(2) { json!(dice.roll(5, 40)) } else { Value::Null };
        list.push(json!({ "id": format!("dish{d}"), "serve": serve, "hold_max": hold }));
        let steps = dice.roll(2, 5);
        for k in 0..steps {
            let t = tasks.len();
            let cooking = k > 0 && dice.one_in(2);
            let baked = cooking && dice.one_in(3);
            let low = 5 * dice.roll(27, 45);
            tasks.push(json!({
                "id": format!("dish{d}-{k}"),
                "dish": d,
                "minutes": if cooking { dice.roll(10, 60) } else { dice.roll(2, 15) },
                "hands": i64::from(!cooking || (!baked && dice.one_in(3))),
                "oven": baked.then(|| json!({ "temp_min": low, "temp_max": low + 5 * dice.roll(2, 6), "racks": dice.roll(1, 2) })),
                "rings": if cooking && !baked { dice.roll(1, 2) } else { 0 },
                "appliance": (!cooking && dice.one_in(5)).then(|| ["processor", "blender", "mixer"][dice.roll(0, 2) as usize]),
            }));
            if k > 0 {
                let min = 5 * dice.roll(0, 4);
                let max = if dice.one_in(4) { json!(min + 5 * dice.roll(0, 8)) } else { Value::Null };
                lags.push(json!({ "before": t - 1, "after": t, "min_lag": min, "max_lag": max }));
            }
        }
    }
    json!({
        "name": format!("feast{seed}-{dishes}-{cooks}"),
        "dishes": list,
        "tasks": tasks,
        "precedence": lags,
        "capacities": { "cooks": cooks, "racks": dice.roll(2, 3), "rings": dice.roll(2, 4) },
    })
}
