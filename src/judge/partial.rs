//! Partial likeness between unequal values of one axis: creamy and smooth are nearly the same in the mouth.
//!
//! Every number here is our own judgement; only the groupings behind them are published (textbook classes of heat for the
//! methods, the texture classes of Szczesniak 1963, J Food Sci 28:385). Same value 1, a pair that is not listed 0.

use crate::book::{Colour, Family, Form, Method, Protein, Starch, Texture};

/// A value of an axis that can be partly like another.
pub trait Partial: Copy {
    /// Likeness of two values, 0 to 1: symmetric, 1 for a value with itself.
    fn partial(self, other: Self) -> f64;
}

macro_rules! partial {
    ($axis:ident { $($alike:literal: $($a:ident ~ $b:ident),+;)+ }) => {
        impl Partial for $axis {
            fn partial(self, other: Self) -> f64 {
                const N: usize = $axis::ALL.len();
                const TABLE: [[f64; N]; N] = {
                    let mut table = [[0.0; N]; N];
                    let mut i = 0;
                    while i < N {
                        table[i][i] = 1.0;
                        i += 1;
                    }
                    $($(
                        table[$axis::$a as usize][$axis::$b as usize] = $alike;
                        table[$axis::$b as usize][$axis::$a as usize] = $alike;
                    )+)+
                    table
                };
                TABLE[self as usize][other as usize]
            }
        }
    };
}

partial!(Texture {
    0.7: Creamy ~ Smooth;
    0.5: Stewed ~ Creamy, Stewed ~ Smooth, Smooth ~ Brothy, Stewed ~ Brothy, Creamy ~ Set, Stewed ~ Tender, Charred ~ Tender,
         Crisp ~ Crunchy;
    0.4: Smooth ~ Set, Tender ~ Flaky, Crunchy ~ Crumbly, Tender ~ Chewy;
    0.3: Crunchy ~ Charred, Chewy ~ Charred, Flaky ~ Crumbly, Creamy ~ Brothy, Stewed ~ Set;
});

partial!(Family {
    0.5: Mild ~ Cheesy, Spiced ~ Sweet;
    0.4: Curry ~ Chilli, Curry ~ Spiced, Herbal ~ Tomato, Sharp ~ Mustard, Smoky ~ Umami;
    0.3: Sharp ~ Herbal, Mustard ~ Chilli, Mild ~ Sweet, Smoky ~ Chilli, Umami ~ Cheesy;
});

partial!(Method {
    0.8: Braise ~ Stew;
    0.7: Roast ~ Bake, Boil ~ Poach, Poach ~ Steam;
    0.6: Boil ~ Steam, Saute ~ Fry;
    0.5: Grill ~ Roast, Boil ~ Stew, Raw ~ Pickle;
    0.4: Grill ~ Smoke, Grill ~ Saute, Poach ~ Stew, Boil ~ Blend;
    0.3: Bake ~ Braise, Fry ~ Roast, Stew ~ Blend;
});

partial!(Form {
    0.6: Bake ~ Pie, Wrap ~ Sandwich;
    0.5: Soup ~ Bowl;
    0.4: Mash ~ Dip, Mash ~ Soup, Skewer ~ Plate;
    0.3: Bowl ~ Mash, Patty ~ Skewer, Patty ~ Plate, Bake ~ Plate, Bake ~ Bowl, Wrap ~ Pie;
    0.2: Salad ~ Plate;
});

partial!(Colour {
    0.5: Yellow ~ Orange, Orange ~ Red, Red ~ Pink, Brown ~ Black;
    0.4: White ~ Yellow, Pink ~ Purple, Red ~ Purple, Orange ~ Brown;
    0.3: Yellow ~ Green, White ~ Pink, Yellow ~ Brown;
});

partial!(Starch {
    0.7: Pasta ~ Noodles, Bread ~ Flatbread;
    0.5: Rice ~ Grain, Potato ~ Root, Pasta ~ Dumpling;
    0.4: Pastry ~ Bread, Pastry ~ Flatbread, Noodles ~ Dumpling, Maize ~ Grain;
    0.3: Potato ~ Dumpling;
});

partial!(Protein {
    0.6: Beef ~ Lamb, Beef ~ Game, Lamb ~ Game, Pork ~ Cured;
    0.5: Beef ~ Pork, Fish ~ Shellfish, Pulses ~ Soy;
    0.4: Pork ~ Poultry, Poultry ~ Game, Lamb ~ Pork;
    0.3: Pulses ~ Nuts, Egg ~ Cheese, Beef ~ Cured;
});

#[cfg(test)]
mod tests {
    use super::*;

    fn sound<T: Partial + PartialEq + std::fmt::Debug>(all: &[T]) -> f64 {
        let mut sum = 0.0;
        for &a in all {
            for &b in all {
                let t = a.partial(b);
                assert_eq!(t, b.partial(a), "{a:?} and {b:?}");
                assert_eq!(t == 1.0, a == b, "{a:?} and {b:?}");
                assert!((0.0..=1.0).contains(&t));
                if a != b {
                    sum += t / 2.0;
                }
            }
        }
        sum
    }

    #[test]
    fn tables_are_symmetric_with_one_on_the_diagonal_and_whole() {
        // The sums of the lists, added by hand from the published method: a value lost in copying shows.
        for (sum, by_hand) in [
            (sound(Texture::ALL), 0.7 + 8.0 * 0.5 + 4.0 * 0.4 + 5.0 * 0.3),
            (sound(Family::ALL), 2.0 * 0.5 + 5.0 * 0.4 + 5.0 * 0.3),
            (sound(Method::ALL), 0.8 + 3.0 * 0.7 + 2.0 * 0.6 + 3.0 * 0.5 + 4.0 * 0.4 + 3.0 * 0.3),
            (sound(Form::ALL), 2.0 * 0.6 + 0.5 + 3.0 * 0.4 + 6.0 * 0.3 + 0.2),
            (sound(Colour::ALL), 4.0 * 0.5 + 4.0 * 0.4 + 3.0 * 0.3),
            (sound(Starch::ALL), 2.0 * 0.7 + 3.0 * 0.5 + 4.0 * 0.4 + 0.3),
            (sound(Protein::ALL), 4.0 * 0.6 + 3.0 * 0.5 + 3.0 * 0.4 + 3.0 * 0.3),
        ] {
            assert!((sum - by_hand).abs() < 1e-12, "{sum} is not {by_hand}");
        }
    }

    #[test]
    fn a_few_pairs_as_the_method_gives_them() {
        assert_eq!(Texture::Smooth.partial(Texture::Creamy), 0.7);
        assert_eq!(Method::Stew.partial(Method::Braise), 0.8);
        assert_eq!(Form::Plate.partial(Form::Salad), 0.2);
        assert_eq!(Texture::Crisp.partial(Texture::Stewed), 0.0);
    }
}
