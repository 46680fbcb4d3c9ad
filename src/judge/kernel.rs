//! How likeness fades with the days between two meals.

/// Days in which lingering likeness halves, after the first. Our own judgement: no paper gives a half-life for whole dinners.
///
/// What papers support is the form. Preference against time since last served rises concavely (Balintfy, Duffy & Sinha 1974,
/// Oper Res 22), satiation is carried from occasion to occasion and runs down (McAlister 1982, J Consum Res 9). Likeness
/// should be clearly present after one day and slight after seven, which allows 1.4 to 2.1; cooks' hand rules lie near 1.
pub const HALF_LIFE_DAYS: f64 = 1.5;

/// The most days that are looked up instead of reckoned.
const TABLE: usize = 64;

/// The fading: 1 for meals of one day or of neighbouring days, then half in every half-life.
#[derive(Clone, Debug, PartialEq)]
pub struct Kernel {
    half_life: f64,
    by_day: [f64; TABLE],
}

impl Kernel {
    /// A kernel that halves in `half_life` days; figures outside 0.1 to 100 are brought into that range, and what is no
    /// number gives [`HALF_LIFE_DAYS`].
    pub fn new(half_life: f64) -> Kernel {
        let half_life = if half_life.is_nan() { HALF_LIFE_DAYS } else { half_life.clamp(0.1, 100.0) };
        let mut by_day = [0.0; TABLE];
        for (day, weight) in by_day.iter_mut().enumerate() {
            *weight = recovery(day as f64, half_life);
        }
        Kernel { half_life, by_day }
    }

    /// The weight of a meal eaten `gap` days before, 0 to 1. Meals of one day count as neighbours.
    pub fn after(&self, gap: i16) -> f64 {
        let gap = gap.unsigned_abs() as usize;
        self.by_day.get(gap).copied().unwrap_or_else(|| recovery(gap as f64, self.half_life))
    }
}

impl Default for Kernel {
    fn default() -> Self {
        Kernel::new(HALF_LIFE_DAYS)
    }
}

/// K(gap) = 2^(-(max(gap, 1) - 1) / half-life), `gap` in days: exponential, the one form without a memory.
pub fn recovery(gap: f64, half_life: f64) -> f64 {
    (-(gap.max(1.0) - 1.0) / half_life).exp2()
}

/// How much of a likeness is still felt after `gap` days with the default half-life.
pub fn fading(gap: u16) -> f64 {
    recovery(f64::from(gap), HALF_LIFE_DAYS)
}

/// How much of one attribute each meal leaves in the mouth: its own grade and what lingers of all earlier ones.
///
/// `meals` are the day and the grade of each, in the order of time (the inventory form of McAlister 1982). Three neighbouring
/// days of grade 1 give 1, 2 and 2.63 with the default half-life.
pub fn inventory(kernel: &Kernel, meals: &[(i16, f64)]) -> Vec<f64> {
    let lingering = |i: usize| -> f64 {
        let (day, _) = meals[i];
        meals[..i].iter().map(|(earlier, grade)| grade * kernel.after(day.saturating_sub(*earlier))).sum()
    };
    meals.iter().enumerate().map(|(i, (_, grade))| grade + lingering(i)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_weigh_in_full_and_a_week_hardly() {
        let k = Kernel::default();
        assert_eq!((k.after(0), k.after(1)), (1.0, 1.0));
        assert!((k.after(2) - 0.63).abs() < 0.005 && (k.after(3) - 0.40).abs() < 0.005 && (k.after(7) - 0.0625).abs() < 1e-12);
        assert!(k.after(100) < 1e-12);
    }

    #[test]
    fn a_setting_that_is_no_number_still_gives_a_fading() {
        for wrong in [f64::NAN, -1.0, 0.0, f64::INFINITY] {
            let k = Kernel::new(wrong);
            assert!((0.0..=1.0).contains(&k.after(3)), "{wrong}");
        }
    }

    #[test]
    fn a_rest_between_keeps_three_below_the_line() {
        let k = Kernel::default();
        let reached = |days: [i16; 3]| inventory(&k, &days.map(|d| (d, 1.0)))[2];
        assert!(reached([1, 2, 3]) >= 2.5);
        assert!(reached([1, 2, 4]) < 2.5 && reached([1, 3, 4]) < 2.5);
    }
}
