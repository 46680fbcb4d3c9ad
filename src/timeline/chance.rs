//! Chance that is the same on every run.

/// A generator of Marsaglia's kind (xorshift, 2003), from a fixed seed.
#[derive(Clone, Debug)]
pub(super) struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// A number from 0 up to but not with `end`, which is above 0.
    pub fn below(&mut self, end: u32) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (((self.0 >> 32) * u64::from(end.max(1))) >> 32) as u32
    }
}
