//! How foods hold and pass on heat.

use super::body::{CoolingError, within};

/// Whether a figure was read in its source or recalled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surety {
    /// Read in the source, or worked out by a formula read there.
    Source,
    /// From memory: confirm it before you rely on it.
    Memory,
}

/// A food as heat sees it. SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct Food {
    /// What it is called, lower case: "vegetable soup".
    pub name: String,
    /// Conductivity in W/(m K), 0.05 to 1.
    pub k: f64,
    /// Density in kg/m3, air between the bits included; 100 to 2,000.
    pub rho: f64,
    /// Specific heat in J/(kg K), 1,000 to 4,500.
    pub cp: f64,
    /// Whether it can be stirred.
    pub stirs: bool,
    /// Where its figures come from, in words.
    pub source: &'static str,
    /// Whether all of them were read there.
    pub surety: Surety,
}

const CHOI: &str = "Choi and Okos 1986, mixing rule at 20 °C";
const EARLE: &str = "Earle, Unit Operations in Food Processing, appendix 7: formulas by water content; density from memory";
const GEANKOPLIS: &str = "specific heat from Geankoplis, Transport Processes, A.4; conductivity from Earle's formula by water content; \
                          density from memory";

/// Name, conductivity, density, specific heat, whether it stirs, source.
type Row = (&'static str, f64, f64, f64, bool, &'static str);

/// The foods that a kitchen keeps back. Densities of what lies in bits are from memory, with the air between them.
const FOODS: &[Row] = &[
    ("broth", 0.628, 1_000.0, 4_180.0, true, "water at 40 °C, IAPWS-95; density rounded"),
    ("vegetable soup", 0.576, 1_027.0, 3_930.0, true, CHOI),
    ("stew", 0.531, 1_045.0, 3_671.0, true, CHOI),
    ("tomato sauce", 0.536, 1_030.0, 3_980.0, true, GEANKOPLIS),
    ("beans in their liquor", 0.463, 1_050.0, 3_185.0, true, EARLE),
    ("mash", 0.486, 1_050.0, 3_520.0, false, GEANKOPLIS),
    ("roast vegetables", 0.478, 800.0, 3_353.0, false, EARLE),
    ("cooked rice", 0.457, 850.0, 3_118.0, false, EARLE),
    ("cooked poultry or meat", 0.449, 1_050.0, 3_310.0, false, GEANKOPLIS),
    ("cooked fish", 0.478, 1_050.0, 3_180.0, false, GEANKOPLIS),
    ("custard or cream bake", 0.478, 1_050.0, 3_353.0, false, EARLE),
];

impl Food {
    /// Every food that is known here.
    pub fn all() -> Vec<Food> {
        FOODS.iter().map(Food::of_row).collect()
    }

    /// The food of this name.
    pub fn named(name: &str) -> Option<Food> {
        FOODS.iter().find(|row| row.0 == name).map(Food::of_row)
    }

    fn of_row(&(name, k, rho, cp, stirs, source): &Row) -> Food {
        Food { name: name.into(), k, rho, cp, stirs, source, surety: Surety::Memory }
    }

    /// Any food by its share of water in percent, 10 to 100: `cp = 4.19 p + 0.84 (1 - p)` kJ/(kg K) and
    /// `k = 0.55 p + 0.26 (1 - p)` W/(m K) above freezing (Earle, Unit Operations in Food Processing, appendix 7); the
    /// density, 1,000 kg/m3 and a little for what is not water, from memory.
    pub fn of_water(name: &str, percent: f64, stirs: bool) -> Result<Food, CoolingError> {
        let p = within("the share of water", percent, (10.0, 100.0), "%")? / 100.0;
        Ok(Food {
            name: name.into(),
            k: 0.55 * p + 0.26 * (1.0 - p),
            rho: 1_000.0 + 200.0 * (1.0 - p),
            cp: 1_000.0 * (4.19 * p + 0.84 * (1.0 - p)),
            stirs,
            source: EARLE,
            surety: Surety::Memory,
        })
    }

    /// The same food, if its figures are those of a food.
    pub fn checked(self) -> Result<Food, CoolingError> {
        within("the conductivity k", self.k, (0.05, 1.0), "W/(m K)")?;
        within("the density rho", self.rho, (100.0, 2_000.0), "kg/m3")?;
        within("the specific heat cp", self.cp, (1_000.0, 4_500.0), "J/(kg K)")?;
        Ok(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Earle, appendix 7, the formulas evaluated for three shares of water.
    #[test]
    fn water_makes_the_figures() {
        for (percent, cp, k) in [(60.0, 2_850.0, 0.434), (75.0, 3_352.5, 0.4775), (95.0, 4_022.5, 0.5355)] {
            let food = Food::of_water("x", percent, false).unwrap();
            assert!((food.cp - cp).abs() < 0.1 && (food.k - k).abs() < 1e-6, "{percent}: {food:?}");
        }
        assert!(Food::of_water("x", 0.0, false).is_err());
    }

    #[test]
    fn every_food_can_be_reckoned_with() {
        for food in Food::all() {
            assert_eq!(food.clone().checked(), Ok(food));
        }
        assert!(Food::named("stew").is_some() && Food::named("gravel").is_none());
    }
}
