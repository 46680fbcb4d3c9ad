//! A small generator of chance that gives the same numbers on every machine (splitmix64: Steele, Lea & Flood 2014).
#![allow(dead_code)]

pub struct Chance(pub u64);

impl Chance {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 up to, not including, 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From 0 up to, not including, `n`.
    pub fn below(&mut self, n: usize) -> usize {
        (self.bits() % n as u64) as usize
    }

    /// Of the normal distribution (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let (u, v) = (1.0 - self.share(), self.share());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}
