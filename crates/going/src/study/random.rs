//! Random numbers by their place: the clock's number and the dimension's give the number, whoever asks and when.

use reckon::Source;

/// How they are made.
pub static RANDOM: Source = Source::memory(
    "Philox 4x64-10: J. K. Salmon and others, Parallel Random Numbers: As Easy as 1, 2, 3 (2011)",
);

const TIMES: [u64; 2] = [0xD2E7_470E_E14C_6C93, 0xCA5A_8263_9512_1157];
const STEPS: [u64; 2] = [0x9E37_79B9_7F4A_7C15, 0xBB67_AE85_84CA_A73B];

/// Upper and lower half of a product.
#[expect(clippy::cast_possible_truncation, reason = "the halves are what is wanted")]
fn product(a: u64, b: u64) -> (u64, u64) {
    let p = u128::from(a) * u128::from(b);
    ((p >> 64) as u64, p as u64)
}
/// Four numbers of a counter under a key; ten rounds.
#[must_use]
pub fn philox(counter: [u64; 4], key: [u64; 2]) -> [u64; 4] {
    let (mut c, mut k) = (counter, key);
    for round in 0..10 {
        if round > 0 {
            k = [k[0].wrapping_add(STEPS[0]), k[1].wrapping_add(STEPS[1])];
        }
        let (high0, low0) = product(TIMES[0], c[0]);
        let (high1, low1) = product(TIMES[1], c[2]);
        c = [high1 ^ c[1] ^ k[0], low1, high0 ^ c[3] ^ k[1], low0];
    }
    c
}
/// A number between nothing and one, both left out, of a seed: for a clock, a dimension and a table of its own.
#[must_use]
pub fn unit(seed: u64, table: u64, clock: u64, dimension: usize) -> f64 {
    let four = philox([clock, dimension as u64 / 4, table, 0], [seed, 0]);
    // 53 bits fill an f64; the half keeps it off both ends.
    let bits = four[dimension % 4] >> 11;
    (bits as f64 + 0.5) / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_answers() {
        // The authors' table of known answers (memory); NumPy's generator gives the same, see the crosscheck.
        let zero = philox([0; 4], [0; 2]);
        assert_eq!(
            zero,
            [0x1655_4D9E_CA36_314C, 0xDB20_FE9D_672D_0FDC, 0xD7E7_72CE_E186_176B, 0x7E68_B68A_EC7B_A23B]
        );
        let ones = philox([u64::MAX; 4], [u64::MAX; 2]);
        assert_eq!(
            ones,
            [0x87B0_92C3_013F_E90B, 0x438C_3C67_BE8D_0224, 0x9CC7_D7C6_9CD7_77B6, 0xA09C_AEBF_594F_0BA0]
        );
    }
    #[test]
    fn even_and_apart() {
        let n = 20_000;
        let (mut sum, mut squares, mut both) = (0.0, 0.0, 0.0);
        for i in 0..n {
            let (a, b) = (unit(7, 0, i, 2), unit(7, 0, i, 3));
            sum += a;
            squares += a * a;
            both += (a - 0.5) * (b - 0.5);
        }
        let n = n as f64;
        assert!((sum / n - 0.5).abs() < 4.0 / (12.0 * n).sqrt());
        assert!((squares / n - 1.0 / 3.0).abs() < 0.01);
        assert!((both / n).abs() < 4.0 / 12.0 / n.sqrt());
    }
}
