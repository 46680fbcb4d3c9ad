//! Breaking text into lines and sharing a width out among columns.

use super::fonts::Font;

/// The lines of `text` no wider than `width` at `size`, broken at blanks; a word that is wider alone is broken within.
pub(super) fn wrapped(text: &str, font: Font, size: f32, width: f32) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let longer = if line.is_empty() { word.to_string() } else { format!("{line} {word}") };
        if font.width(&longer, size) <= width {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if line.chars().count() > 1 && font.width(&line, size) > width {
                line.pop();
                lines.push(std::mem::replace(&mut line, c.to_string()));
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Widths of columns in `room`: each as wide as it asks for where all fit; else the narrow ones get what they ask for and the
/// wide ones share the rest alike. Where all fit, what is over stays free.
pub(super) fn columns(wanted: &[f32], room: f32) -> Vec<f32> {
    let mut widths = vec![0.0; wanted.len()];
    let mut open: Vec<usize> = (0..wanted.len()).collect();
    let mut rest = room.max(0.0);
    while !open.is_empty() {
        let fair = rest / open.len() as f32;
        let (fits, wide): (Vec<usize>, Vec<usize>) = open.iter().partition(|&&i| wanted[i] <= fair);
        if fits.is_empty() {
            wide.iter().for_each(|&i| widths[i] = fair);
            break;
        }
        for &i in &fits {
            widths[i] = wanted[i];
            rest -= wanted[i];
        }
        open = wide;
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn narrow_columns_keep_their_width_and_wide_ones_share() {
        assert_eq!(columns(&[10.0, 20.0], 100.0), [10.0, 20.0]);
        assert_eq!(columns(&[10.0, 200.0, 300.0], 110.0), [10.0, 50.0, 50.0]);
        assert_eq!(columns(&[200.0, 45.0, 300.0], 145.0), [50.0, 45.0, 50.0]);
        assert!(columns(&[], 10.0).is_empty());
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn no_word_is_lost_and_no_line_too_wide(words in prop::collection::vec("[a-zäß]{1,30}", 0..30), width in 20.0f32..300.0) {
            let text = words.join(" ");
            let lines = wrapped(&text, Font::Plain, 10.0, width);
            let letters = |s: &str| s.chars().filter(|c| *c != ' ').collect::<String>();
            prop_assert_eq!(letters(&lines.concat()), letters(&text));
            for line in &lines {
                prop_assert!(Font::Plain.width(line, 10.0) <= width || line.chars().count() == 1, "{line}");
            }
        }
    }
}
