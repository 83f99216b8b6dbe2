//! Recordings as bytes: every form that may come, and bytes that are none.

use listen::wav::{End, Reader, Unread};
use proptest::prelude::*;

/// The head and samples of a recording.
fn wav(tag: u16, bits: u16, channels: u16, rate: u32, data: &[u8], extensible: bool) -> Vec<u8> {
    let block = channels * bits / 8;
    let mut form = Vec::new();
    form.extend(if extensible { 0xfffe_u16 } else { tag }.to_le_bytes());
    form.extend(channels.to_le_bytes());
    form.extend(rate.to_le_bytes());
    form.extend((rate * u32::from(block)).to_le_bytes());
    form.extend(block.to_le_bytes());
    form.extend(bits.to_le_bytes());
    if extensible {
        form.extend(22_u16.to_le_bytes());
        form.extend(bits.to_le_bytes());
        form.extend(3_u32.to_le_bytes());
        form.extend(tag.to_le_bytes());
        form.extend([0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71]);
    }
    let size = |n: usize| u32::try_from(n).expect("small").to_le_bytes();
    let mut out = b"RIFF".to_vec();
    out.extend(size(4 + 8 + form.len() + 8 + 6 + 8 + data.len()));
    out.extend(b"WAVEfmt ");
    out.extend(size(form.len()));
    out.extend(&form);
    // A part that is not known, of an odd length and so with a byte to fill it.
    out.extend(b"LIST");
    out.extend(size(5));
    out.extend([1, 2, 3, 4, 5, 0]);
    out.extend(b"data");
    out.extend(size(data.len()));
    out.extend(data);
    out
}
fn read(bytes: &[u8], at_once: usize) -> Result<(Vec<f32>, End), Unread> {
    let (mut reader, mut out) = (Reader::new(), Vec::new());
    for piece in bytes.chunks(at_once.max(1)) {
        reader.feed(piece, &mut out)?;
    }
    Ok((out, reader.finish()?))
}
/// A value written in a form, and what may be lost by it.
fn written(v: f64, tag: u16, bits: u16) -> Vec<u8> {
    match (tag, bits) {
        (3, 32) => (v as f32).to_le_bytes().to_vec(),
        (3, _) => v.to_le_bytes().to_vec(),
        (_, 8) => vec![(v * 127.0 + 128.0).round() as u8],
        (_, 16) => ((v * 32_767.0).round() as i16).to_le_bytes().to_vec(),
        (_, 24) => ((v * 8_388_607.0).round() as i32).to_le_bytes()[..3].to_vec(),
        _ => ((v * 2_147_483_647.0).round() as i32).to_le_bytes().to_vec(),
    }
}
const FORMS: [(u16, u16, f32); 6] =
    [(1, 8, 9e-3), (1, 16, 7e-5), (1, 24, 3e-7), (1, 32, 1e-7), (3, 32, 1e-7), (3, 64, 1e-7)];

#[test]
fn every_form_gives_the_same_sound() {
    let sound: Vec<f64> = (0..240).map(|i| f64::from(i % 41) / 41.0 - 0.5).collect();
    for (tag, bits, within) in FORMS {
        for channels in [1, 2] {
            for extensible in [false, true] {
                let data: Vec<u8> = sound.iter().flat_map(|v| written(*v, tag, bits)).collect();
                let bytes = wav(tag, bits, channels, 48_000, &data, extensible);
                for at_once in [1, 7, 64, bytes.len()] {
                    let (out, end) = read(&bytes, at_once).expect("a recording");
                    assert_eq!(out.len(), sound.len(), "{tag} {bits} {channels} {at_once}");
                    assert_eq!((end.missing, end.ragged, end.open_ended), (0, 0, false));
                    for (a, b) in out.iter().zip(&sound) {
                        assert!((a - *b as f32).abs() <= within, "{tag} {bits}: {a} for {b}");
                    }
                }
            }
        }
    }
}
#[test]
fn a_recording_that_breaks_off_gives_what_is_whole() {
    let bytes = wav(1, 16, 2, 48_000, &[1; 400], false);
    let (out, end) = read(&bytes[..bytes.len() - 103], 50).expect("a recording");
    assert_eq!((out.len(), end.frames, end.missing, end.ragged), (148, 74, 103, 1));
}
#[test]
fn a_length_that_was_never_written() {
    let mut bytes = wav(1, 16, 1, 48_000, &[1; 400], false);
    let at = bytes.len() - 404;
    bytes[4..8].fill(0);
    bytes[at..at + 4].fill(0);
    let (out, end) = read(&bytes, 33).expect("a recording");
    assert_eq!((out.len(), end.open_ended, end.missing), (200, true, 0));
    bytes[at..at + 4].fill(0xff);
    assert_eq!(read(&bytes, 33).expect("a recording").0.len(), 200);
}
#[test]
fn beyond_four_gigabytes_the_length_stands_elsewhere() {
    let plain = wav(1, 16, 1, 48_000, &[1; 400], false);
    let mut bytes = b"RF64\xff\xff\xff\xffWAVEds64".to_vec();
    bytes.extend(28_u32.to_le_bytes());
    bytes.extend(0_u64.to_le_bytes());
    bytes.extend(300_u64.to_le_bytes());
    bytes.extend([0; 12]);
    bytes.extend(&plain[12..]);
    let at = bytes.len() - 404;
    bytes[at..at + 4].fill(0xff);
    let (out, end) = read(&bytes, 21).expect("a recording");
    assert_eq!((out.len(), end.frames, end.missing), (150, 150, 0));
}
#[test]
fn what_cannot_be_heard_is_told() {
    let told = |bytes: &[u8]| read(bytes, 5).expect_err("no recording").says;
    assert_eq!(told(b""), "the file is empty");
    assert_eq!(told(b"RIFF\x01"), "the file ends after 5 bytes, before its head is whole");
    assert_eq!(told(b"fLaC\0\0\0\x22\x10\0\x10\0\0"), "it is a FLAC file, not a WAV file");
    assert_eq!(told(b"ID3\x04\0\0\0\0\0\0\0\0"), "it is an MPEG audio file, not a WAV file");
    assert_eq!(told(b"\0\0\0\x18ftypM4A "), "it is an MPEG-4 file, not a WAV file");
    assert_eq!(told(b"[clock]\nname = 1"), "it is not a recording that is known here, not a WAV file");
    assert_eq!(told(&wav(0x11, 16, 1, 48_000, &[0; 8], false)), "its samples are packed, kind 17 (ADPCM)");
    assert_eq!(told(&wav(1, 16, 3, 48_000, &[0; 6], false)), "it has 3 channels; 1 or 2 can be heard");
    assert_eq!(told(&wav(1, 16, 0, 48_000, &[], false)), "it has 0 channels; 1 or 2 can be heard");
    assert_eq!(
        told(&wav(1, 16, 1, 4_000, &[0; 8], false)),
        "it has 4000 samples a second; 8000 to 192000 can be heard"
    );
    assert_eq!(told(&wav(1, 40, 1, 48_000, &[0; 10], false)), "its samples have 40 bits");
    let whole = wav(1, 16, 1, 48_000, &[0; 8], false);
    assert_eq!(told(&whole[..30]), "the file ends before it says how its samples are written");
    assert_eq!(told(&whole[..40]), "the file has a head but no samples");
    let mut early = b"RIFF\x24\0\0\0WAVEdata\x08\0\0\0".to_vec();
    early.extend([0; 8]);
    assert_eq!(told(&early), "its samples come before it says how they are written");
}
proptest! {
    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..400), at_once in 1_usize..50) {
        let _ = read(&bytes, at_once);
    }
    #[test]
    fn no_spoiled_head_makes_it_panic(
        at in 0_usize..90, to in any::<[u8; 4]>(), form in 0_usize..6, cut in 0_usize..200, at_once in 1_usize..70
    ) {
        let (tag, bits, _) = FORMS[form];
        let mut bytes = wav(tag, bits, 2, 48_000, &[7; 96], form % 2 == 0);
        let end = (at + 4).min(bytes.len());
        let at = at.min(end);
        bytes[at..end].copy_from_slice(&to[..end - at]);
        bytes.truncate(bytes.len().saturating_sub(cut));
        if let Ok((out, end)) = read(&bytes, at_once) {
            prop_assert!(out.len() <= bytes.len());
            prop_assert!(end.frames as usize * 2 >= out.len() || end.frames as usize == out.len());
        }
    }
    #[test]
    fn pieces_of_any_length_give_the_same(sound in prop::collection::vec(any::<u8>(), 0..300), at_once in 1_usize..50) {
        let bytes = wav(1, 24, 1, 44_100, &sound, true);
        prop_assert_eq!(read(&bytes, at_once), read(&bytes, bytes.len()));
    }
}
