//! A check of a row: cyclic redundancy check of 32 bits (ISO 3309), enough to tell what a disk has spoilt.

/// The check of some bytes.
pub(crate) fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |sum, b| {
        (0..8).fold(sum ^ u32::from(*b), |s, _| if s & 1 == 1 { (s >> 1) ^ 0xEDB8_8320 } else { s >> 1 })
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_published_check_value() {
        // ISO 3309 / ITU-T V.42: the check of "123456789".
        assert_eq!(super::crc(b"123456789"), 0xCBF4_3926);
    }
}
