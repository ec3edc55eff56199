//! Pseudorandom numbers that are the same for the same seed, in every version of the program.
//!
//! `SplitMix64`: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number
//! generators", OOPSLA 2014. Each wearer and job has a separate stream, so that one more number drawn
//! for one of them does not change the others.

const GOLDEN: u64 = 0x9E37_79B9_7F4A_7C15;

/// A stream of pseudorandom numbers.
#[derive(Debug, Clone)]
pub(crate) struct Throws(u64);

const fn mix(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

impl Throws {
    /// Returns the stream of a seed, a kind of stream, and the running number of its wearer or job.
    pub(crate) const fn of(seed: u64, kind: u64, which: u64) -> Self {
        Self(mix(
            mix(seed ^ mix(kind)).wrapping_add(which.wrapping_mul(GOLDEN))
        ))
    }

    /// Returns the next 64 bits.
    pub(crate) const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(GOLDEN);
        mix(self.0)
    }

    /// Returns a number from 0 up to, not including, `n`; 0 where `n` is 0.
    pub(crate) const fn below(&mut self, n: u64) -> u64 {
        // The high half of the product: even to 2^-64 n, far below what a book could show.
        ((self.next() as u128 * n as u128) >> 64) as u64
    }

    /// Returns a number from `least` to `most`, both included.
    pub(crate) fn between(&mut self, least: i32, most: i32) -> i32 {
        let span = u64::from(most.abs_diff(least)) + 1;
        least.saturating_add(i32::try_from(self.below(span)).unwrap_or(0))
    }

    /// Whether something happens that happens in so many of a hundred.
    pub(crate) const fn chance(&mut self, of_hundred: u64) -> bool {
        self.below(100) < of_hundred
    }

    /// Returns one of a list; `None` only of an empty one.
    pub(crate) fn pick<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let n = self.below(u64::try_from(list.len()).unwrap_or(u64::MAX));
        list.get(usize::try_from(n).unwrap_or(usize::MAX))
    }

    /// Returns a value of a distribution given by its quantiles, straight between two of them: each
    /// is how many thousandths of all lie below, and the value there.
    pub(crate) fn quantile(&mut self, table: &[(i32, i32)]) -> i32 {
        let at = self.between(0, 999);
        let mut before = *table.first().unwrap_or(&(0, 0));
        for &(share, value) in table {
            if at < share {
                let (from, to) = before;
                return to + (value - to) * (at - from) / (share - from).max(1);
            }
            before = (share, value);
        }
        before.1
    }

    /// Returns a value that is normally distributed, near enough: the sum of twelve throws.
    pub(crate) fn around(&mut self, mean: i32, deviation: i32) -> i32 {
        let sum: i32 = (0..12).map(|_| self.between(-500, 500)).sum();
        mean + sum * deviation / 1000
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_is_the_published_one() {
        // Reference output for the state 1234567.
        let mut throws = Throws(1_234_567);
        assert_eq!(throws.next(), 6_457_827_717_110_365_317);
        assert_eq!(throws.next(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn throws_stay_within_their_bounds() {
        let mut throws = Throws::of(1, 2, 3);
        for _ in 0..10_000 {
            assert!(throws.below(7) < 7);
            assert!((-3..=4).contains(&throws.between(-3, 4)));
            assert!((-10..=20).contains(&throws.quantile(&[(0, -10), (900, 0), (1000, 20)])));
        }
    }
}
