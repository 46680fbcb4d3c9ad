//! Names that files use: short, lower-case, stable.

use serde::{Deserialize, Deserializer, Serialize, de};
use std::{fmt, sync::Arc};

/// Whether `text` may be an id: 1 to 60 of a-z, 0-9 and single hyphens between them.
pub fn is_slug(text: &str) -> bool {
    (1..=60).contains(&text.len())
        && !text.starts_with('-')
        && !text.ends_with('-')
        && !text.contains("--")
        && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

macro_rules! slug_id {
    ($name:ident, $what:literal) => {
        #[doc = concat!("The id of ", $what, ", such as it stands in files: lower-case words joined by hyphens.")]
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(transparent)]
        pub struct $name(Arc<str>);

        impl $name {
            /// The id, if `text` may be one ([`is_slug`]).
            pub fn new(text: &str) -> Option<Self> {
                is_slug(text).then(|| Self(text.into()))
            }

            /// The id as text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = String::deserialize(from)?;
                Self::new(&text).ok_or_else(|| {
                    de::Error::custom(format!(
                        "\"{}\" cannot be the id of {}: use lower-case letters, digits and single hyphens",
                        text.chars().take(80).collect::<String>().escape_debug(),
                        $what
                    ))
                })
            }
        }
    };
}

slug_id!(KindId, "a kind");
slug_id!(PartId, "a part");
slug_id!(DishId, "a dish");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_is_a_plain_slug() {
        assert!(is_slug("red-cabbage") && is_slug("a1"));
        for wrong in ["", "-a", "a-", "a--b", "Red", "../etc", "a b", "é", &"x".repeat(61)] {
            assert!(!is_slug(wrong), "{wrong}");
        }
    }
}
