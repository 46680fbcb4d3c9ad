//! Words of names, so that "Tomatoes" and "tomato" are one.

/// The words of a text, in small letters and without their plural.
pub(super) fn stems(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(stem).collect()
}

/// A word in small letters and without its plural, well enough to compare with another.
pub(super) fn stem(word: &str) -> String {
    let lower = word.to_lowercase();
    let cut =
        |end: &str, put: &str| lower.strip_suffix(end).filter(|rest| rest.chars().count() > 2).map(|rest| format!("{rest}{put}"));
    if lower.ends_with("ss") || lower.ends_with("us") {
        return lower;
    }
    cut("ies", "y").or_else(|| cut("oes", "o")).or_else(|| cut("shes", "sh")).or_else(|| cut("s", "")).unwrap_or(lower)
}

/// Where `name` begins among `words`, if it stands there whole.
pub(super) fn position_of(words: &[String], name: &[String]) -> Option<usize> {
    if name.is_empty() {
        return None;
    }
    words.windows(name.len()).position(|window| window == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_and_many_have_one_stem() {
        for (many, one) in
            [("Tomatoes", "tomato"), ("cherries", "cherry"), ("onions", "onion"), ("radishes", "radish"), ("leeks", "leek")]
        {
            assert_eq!((stem(many), stem(one)), (one.to_string(), one.to_string()));
        }
        for same in ["swiss", "asparagus", "peas"] {
            assert_eq!(stem(&stem(same)), stem(same));
        }
        assert_eq!(position_of(&stems("small Red Cabbages"), &stems("red cabbage")), Some(1));
        assert_eq!(position_of(&stems("red"), &stems("red cabbage")), None);
    }
}
