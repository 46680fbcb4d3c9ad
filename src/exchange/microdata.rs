//! schema.org/Recipe in microdata: `itemscope`, `itemtype`, `itemprop`. Asked when there is no JSON-LD.

use super::{
    found::Found,
    markup::{plain, write_text},
    page::elements,
};
use scraper::{ElementRef, Html};

/// The recipes of a page, in order.
pub(super) fn recipes(html: &Html) -> Vec<Found> {
    let is_recipe = |e: &ElementRef<'_>| {
        e.attr("itemscope").is_some()
            && e.attr("itemtype").is_some_and(|t| t.split_whitespace().any(|t| t.to_lowercase().ends_with("schema.org/recipe")))
    };
    elements(html).filter(is_recipe).take(20).map(read).collect()
}

fn read(item: ElementRef<'_>) -> Found {
    let mut f = Found::default();
    // A stack of our own: how deep the page is must not decide how deep we call.
    let mut waiting: Vec<ElementRef<'_>> = item.child_elements().collect();
    waiting.reverse();
    while let Some(e) = waiting.pop() {
        let nested = e.attr("itemscope").is_some();
        let mut goes_in = !nested;
        for property in e.attr("itemprop").unwrap_or_default().split_whitespace() {
            goes_in &= !matches!(property, "recipeInstructions" | "recipeIngredient" | "ingredients" | "instructions");
            put(&mut f, property, e);
        }
        if goes_in {
            let inner: Vec<_> = e.child_elements().collect();
            waiting.extend(inner.into_iter().rev());
        }
    }
    f
}

fn put(f: &mut Found, property: &str, e: ElementRef<'_>) {
    match property {
        "name" if f.name.is_empty() => f.name = plain(&value(e)),
        "recipeYield" | "yield" => f.yields.extend(Some(plain(&value(e))).filter(|v| !v.is_empty())),
        "prepTime" if f.prep.is_none() => f.prep = Some(time(e)),
        "cookTime" if f.cook.is_none() => f.cook = Some(time(e)),
        "totalTime" if f.total.is_none() => f.total = Some(time(e)),
        "recipeIngredient" | "ingredients" => block(e).into_iter().for_each(|l| f.add_ingredient(l)),
        "recipeInstructions" | "instructions" => {
            block(e).into_iter().for_each(|l| f.add_step(l));
        }
        _ => {}
    }
}

/// What a property says: `content` where it stands, else the text.
fn value(e: ElementRef<'_>) -> String {
    match e.attr("content") {
        Some(content) => content.to_string(),
        None => {
            let mut text = String::new();
            write_text(*e, false, &mut text);
            text
        }
    }
}

fn time(e: ElementRef<'_>) -> String {
    let said = e.attr("datetime").map_or_else(|| value(e), str::to_string);
    plain(&said)
}

/// The blocks of an element: a list of steps may be one property.
fn block(e: ElementRef<'_>) -> Vec<String> {
    value(e).lines().map(|l| l.split_whitespace().collect::<Vec<_>>().join(" ")).filter(|l| !l.is_empty()).collect()
}
