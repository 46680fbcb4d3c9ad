//! Families: kinds that the same dishes suit.

use serde::{Deserialize as _, Deserializer};

/// What a cook calls a family of kinds.
pub fn family_name(family: &str) -> &str {
    match family {
        "allium" => "onions and leeks",
        "brassica" => "cabbages",
        "dairy" => "milk and curd",
        "ham" => "ham and pork",
        "hard-root" => "roots",
        "leafy-green" => "leafy greens",
        "melon" => "melons",
        "orchard-fruit" => "orchard fruit",
        "roast" => "roast poultry and meat",
        "summer-vegetable" => "summer vegetables",
        "tomato" => "tomatoes",
        "winter-squash" => "winter squash",
        other => other,
    }
}

/// The id that a family has now. A joint of beef is divided, kept and eaten up like a roast bird, and the dishes of both were
/// once called "poultry" in files; those files mean "roast".
pub fn family_now(family: &str) -> &str {
    match family {
        "poultry" => "roast",
        other => other,
    }
}

/// A family in a file, by its present id.
pub(crate) fn one_in_file<'de, D: Deserializer<'de>>(from: D) -> Result<String, D::Error> {
    String::deserialize(from).map(|family| family_now(&family).to_string())
}

/// Families in a file, by their present ids, each once.
pub(crate) fn all_in_file<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    let written = Vec::<String>::deserialize(from)?;
    let mut families: Vec<String> = Vec::with_capacity(written.len());
    for family in written {
        let renamed = family_now(&family) != family;
        let family = family_now(&family).to_string();
        if !(renamed && families.contains(&family)) {
            families.push(family);
        }
    }
    Ok(families)
}
