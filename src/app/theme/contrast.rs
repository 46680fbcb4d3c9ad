//! How far apart two colours are to the eye.
//!
//! Contrast is the ratio WCAG 2.2 defines from relative luminance: 1 for two equal colours, 21 for
//! black on white. The guidelines ask 4.5 of text (success criterion 1.4.3) and 3 of any edge or
//! drawing that carries meaning (1.4.11).

use egui::Color32;

/// The least contrast text may have with what it stands on (WCAG 2.2, 1.4.3).
pub const TEXT: f32 = 4.5;

/// The least contrast an edge or drawing that means something may have (WCAG 2.2, 1.4.11).
pub const EDGE: f32 = 3.0;

/// Relative luminance of an opaque colour: 0 for black, 1 for white.
///
/// The formula, its weights and the knee at 0.04045 are those of WCAG 2.2, "relative luminance".
pub fn relative_luminance(colour: Color32) -> f32 {
    let linear = |channel: u8| {
        let c = f32::from(channel) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
}

/// Contrast ratio of two opaque colours, 1 to 21, whichever is the lighter.
pub fn contrast(one: Color32, other: Color32) -> f32 {
    let (a, b) = (relative_luminance(one), relative_luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The colour `share` of the way from `from` to `to`, where 0 is `from` and 1 is `to`.
///
/// Mixed channel by channel as the screen stores them, which is what paint laid thinly on paper
/// looks like.
pub fn mix(from: Color32, to: Color32, share: f32) -> Color32 {
    let share = share.clamp(0.0, 1.0);
    let channel = |a: u8, b: u8| {
        let (a, b) = (f32::from(a), f32::from(b));
        // Between two bytes and rounded, so it is a byte again.
        (a + (b - a) * share).round() as u8
    };
    Color32::from_rgb(channel(from.r(), to.r()), channel(from.g(), to.g()), channel(from.b(), to.b()))
}
