/// Repeatable chance (SplitMix64; Steele, Lea & Flood 2014): the same seed gives the same film on
/// every machine and for ever, which no generator crate promises across its versions.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The same seed gives the same numbers on every machine.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// An independent stream for one purpose, so that adding a draw in one place moves nothing elsewhere.
    pub fn stream(seed: u64, purpose: u64) -> Self {
        let mut d = Self(seed ^ purpose.wrapping_mul(0xd6e8_feb8_6659_fd93));
        d.next_u64();
        d
    }

    /// Any 64 bits, each as likely.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// 0 ≤ … < 1.
    pub fn unit(&mut self) -> f64 {
        (self.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Even between `lo` and `hi`.
    pub fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.unit()
    }

    /// Bell-shaped, mean 0, standard deviation 1, cut at ±2.5.
    pub fn bell(&mut self) -> f64 {
        let (a, b) = (self.unit().max(1e-300), self.unit());
        ((-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()).clamp(-2.5, 2.5)
    }

    /// One of the items; `None` of an empty slice.
    pub fn one_of<'a, T>(&mut self, items: &'a [T]) -> Option<&'a T> {
        items.get((self.unit() * items.len() as f64) as usize)
    }
}
