//! How likeness fades with the days between two meals.

/// How much of a likeness is still felt after `gap` days: 1 for neighbouring days, then halved every 1.5 days.
pub fn fading(gap: u16) -> f64 {
    let days = f64::from(gap.max(1)) - 1.0;
    2f64.powf(-days / 1.5)
}
