//! What a decoder of one level can do: ITU-T H.264, table A-1.

/// One row of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Level {
    pub name: &'static str,
    /// Ten times the level, as files carry it: 40 is level 4.0.
    pub number: i32,
    /// Macroblocks (16×16 px) a second and a picture.
    pub blocks_a_second: u64,
    pub blocks_a_picture: u64,
    /// Bits a second and bits waiting, in the table's units of 1000 for the Baseline profile.
    rate: u32,
}

impl Level {
    const fn of(
        name: &'static str,
        number: i32,
        blocks_a_second: u64,
        blocks_a_picture: u64,
        rate: u32,
    ) -> Self {
        Self { name, number, blocks_a_second, blocks_a_picture, rate }
    }

    /// Bits a second a High profile decoder of this level takes: 1.25 times (table A-2).
    pub fn high_bits_s(&self) -> u32 {
        self.rate * 1250
    }

    fn holds(&self, blocks: u64, (num, den): (u32, u32)) -> bool {
        blocks <= self.blocks_a_picture && blocks * u64::from(num) <= self.blocks_a_second * u64::from(den)
    }
}

/// The table from 1.0 on. 3.1, 4.0, 4.2 and 5.1 from the standard, the other rows from memory.
const LEVELS: [Level; 16] = [
    Level::of("1.0", 10, 1_485, 99, 64),
    Level::of("1.1", 11, 3_000, 396, 192),
    Level::of("1.2", 12, 6_000, 396, 384),
    Level::of("1.3", 13, 11_880, 396, 768),
    Level::of("2.0", 20, 11_880, 396, 2_000),
    Level::of("2.1", 21, 19_800, 792, 4_000),
    Level::of("2.2", 22, 20_250, 1_620, 4_000),
    Level::of("3.0", 30, 40_500, 1_620, 10_000),
    Level::of("3.1", 31, 108_000, 3_600, 14_000),
    Level::of("3.2", 32, 216_000, 5_120, 20_000),
    Level::of("4.0", 40, 245_760, 8_192, 20_000),
    Level::of("4.1", 41, 245_760, 8_192, 50_000),
    Level::of("4.2", 42, 522_240, 8_704, 50_000),
    Level::of("5.0", 50, 589_824, 22_080, 135_000),
    Level::of("5.1", 51, 983_040, 36_864, 240_000),
    Level::of("5.2", 52, 2_073_600, 36_864, 240_000),
];

/// Levels that are written: the common ones.
const WRITTEN: [i32; 6] = [31, 40, 42, 50, 51, 52];

fn blocks(width: usize, height: usize) -> u64 {
    width.div_ceil(16) as u64 * height.div_ceil(16) as u64
}

/// The lowest written level that holds such pictures; `None` beyond all of them.
pub(super) fn for_writing(width: usize, height: usize, rate: (u32, u32)) -> Option<&'static Level> {
    let blocks = blocks(width, height);
    LEVELS.iter().filter(|l| WRITTEN.contains(&l.number)).find(|l| l.holds(blocks, rate))
}

/// The lowest level whose decoders take such pictures, `rate_hz` of them a second; `None` beyond all.
pub(super) fn needed(width: usize, height: usize, rate_hz: f64) -> Option<&'static Level> {
    let blocks = blocks(width, height);
    // A container's ticks round 30 pictures a second to 30.003: no level is missed for that.
    let thousandths = (rate_hz * 995.0).max(0.0) as u32;
    LEVELS.iter().find(|l| l.holds(blocks, (thousandths, 1000)))
}

/// The lowest H.264 level (4.0, 4.2, …) whose decoders take such pictures; `None` beyond all of them.
pub fn level_needed(width: usize, height: usize, rate_hz: f64) -> Option<f64> {
    needed(width, height, rate_hz).map(|l| f64::from(l.number) / 10.0)
}

/// The row a file names by ten times its level.
pub(super) fn named(number: i32) -> Option<&'static Level> {
    LEVELS.iter().find(|l| l.number == number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_the_tables() {
        let level = |width, height, rate| for_writing(width, height, rate).map(|l| l.name);
        assert_eq!(level(1280, 720, (30, 1)), Some("3.1"));
        assert_eq!(level(1920, 1080, (30, 1)), Some("4.0"));
        assert_eq!(level(1920, 1080, (60, 1)), Some("4.2"));
        assert_eq!(level(1216, 1080, (30, 1)), Some("4.0"));
        assert_eq!(level(2160, 1920, (30, 1)), Some("5.0"));
        assert_eq!(level(1280, 720, (240, 1)), Some("5.1"));
        assert_eq!(level(1080, 1920, (30, 1)), Some("4.0"));
        assert_eq!(level(8192, 8192, (30, 1)), None);
        // Table A-2: High profile, level 4.0: 25 Mbit/s.
        assert_eq!(named(40).unwrap().high_bits_s(), 25_000_000);
    }

    #[test]
    fn needed_is_the_least_row_and_forgives_rounded_ticks() {
        let level = |w, h, hz| needed(w, h, hz).map(|l| l.name);
        assert_eq!(level(1920, 1080, 30.003), Some("4.0"));
        assert_eq!(level(1280, 720, 60.0), Some("3.2"));
        assert_eq!(level(640, 360, 30.0), Some("3.0"));
        assert_eq!(level(3840, 2160, 30.0), Some("5.1"));
        assert!(LEVELS.windows(2).all(|w| w[0].number < w[1].number && w[0].rate <= w[1].rate));
    }
}
