//! Recordings in the RIFF WAVE form, read as the bytes come, in pieces of any length.
//!
//! Integer samples of 8, 16, 24 and 32 bits, floats of 32 and 64, the extensible form, files beyond
//! 4 GB (RF64, BW64), and files whose recorder was switched off before it wrote the length. Own code:
//! the reader at hand refuses doubles, RF64 and a last sample that is not whole.

/// Fewest samples a second.
pub const LEAST_RATE: u32 = 8_000;
/// Most samples a second.
pub const MOST_RATE: u32 = 192_000;

/// How samples are written.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Kind {
    /// Whole numbers.
    Integer,
    /// Floating point.
    Float,
}
/// What the head of a recording says.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Format {
    /// How samples are written.
    pub kind: Kind,
    /// Bytes of one sample.
    pub bytes: usize,
    /// 1 or 2.
    pub channels: usize,
    /// Samples a second, of each channel.
    pub rate: u32,
}
/// Why a recording cannot be read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unread {
    /// What is wrong.
    pub says: String,
    /// What would do.
    pub cure: String,
}
impl Unread {
    fn new(says: impl Into<String>, cure: &str) -> Unread {
        Unread { says: says.into(), cure: cure.to_owned() }
    }
}
/// How a recording ended.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct End {
    /// Samples of each channel.
    pub frames: u64,
    /// Bytes that the head promised and that did not come.
    pub missing: u64,
    /// Bytes at the end that are no whole sample.
    pub ragged: u64,
    /// The length was never written: the recorder was not switched off in order.
    pub open_ended: bool,
}

const EXPORT: &str = "write it out again as WAV, mono, 16 bits, 48000 samples a second";

/// Where the reader stands.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
enum At {
    Head,
    Chunk,
    Skip(u64),
    Data,
    After,
}
/// Reads.
#[derive(Clone, Debug)]
pub struct Reader {
    at: At,
    held: Vec<u8>,
    format: Option<Format>,
    long: bool,
    unsized_file: bool,
    long_data: Option<u64>,
    promised: u64,
    open_ended: bool,
    taken: u64,
}
impl Default for Reader {
    fn default() -> Self {
        Reader::new()
    }
}
impl Reader {
    /// Before the first byte.
    #[must_use]
    pub const fn new() -> Reader {
        Reader {
            at: At::Head,
            held: Vec::new(),
            format: None,
            long: false,
            unsized_file: false,
            long_data: None,
            promised: 0,
            open_ended: false,
            taken: 0,
        }
    }
    /// What the head says, once it has come.
    #[must_use]
    pub const fn format(&self) -> Option<Format> {
        self.format
    }
    /// Takes the next bytes and puts the samples that are whole behind `out`, channels in turn, ±1 at full scale.
    ///
    /// # Errors
    /// When this is no recording that can be read.
    pub fn feed(&mut self, bytes: &[u8], out: &mut Vec<f32>) -> Result<(), Unread> {
        let mut rest = bytes;
        loop {
            match self.at {
                At::Head => {
                    if !self.hold(&mut rest, 12) {
                        return Ok(());
                    }
                    self.head()?;
                }
                At::Chunk => {
                    if !self.hold(&mut rest, 8) {
                        return Ok(());
                    }
                    if !self.chunk(&mut rest)? {
                        return Ok(());
                    }
                }
                At::Skip(left) => {
                    let n = left.min(rest.len() as u64);
                    rest = &rest[n as usize..];
                    if n < left {
                        self.at = At::Skip(left - n);
                        return Ok(());
                    }
                    self.at = At::Chunk;
                }
                At::Data => {
                    self.data(&mut rest, out);
                    if rest.is_empty() {
                        return Ok(());
                    }
                }
                At::After => return Ok(()),
            }
        }
    }
    /// After the last byte.
    ///
    /// # Errors
    /// When the head never came whole.
    pub fn finish(&self) -> Result<End, Unread> {
        let Some(format) = self.format else {
            return Err(match (self.at, self.held.len()) {
                (At::Head, 0) => Unread::new("the file is empty", "record again"),
                (At::Head, n) => Unread::new(
                    format!("the file ends after {n} bytes, before its head is whole"),
                    "record again",
                ),
                _ => Unread::new("the file ends before it says how its samples are written", "record again"),
            });
        };
        if !matches!(self.at, At::Data | At::After) {
            return Err(Unread::new("the file has a head but no samples", "record again"));
        }
        let frame = (format.bytes * format.channels) as u64;
        Ok(End {
            frames: self.taken / frame,
            missing: if self.open_ended { 0 } else { self.promised - self.taken },
            ragged: self.taken % frame,
            open_ended: self.open_ended,
        })
    }
    /// Gathers `n` bytes; whether they are there.
    fn hold(&mut self, rest: &mut &[u8], n: usize) -> bool {
        let more = n.saturating_sub(self.held.len()).min(rest.len());
        self.held.extend_from_slice(&rest[..more]);
        *rest = &rest[more..];
        self.held.len() >= n
    }
    fn head(&mut self) -> Result<(), Unread> {
        let held = std::mem::take(&mut self.held);
        let size = word(&held, 4);
        match (&held[..4], &held[8..12]) {
            (b"RIFF", b"WAVE") => self.unsized_file = size == u32::MAX || size <= 36,
            (b"RF64" | b"BW64", b"WAVE") => self.long = true,
            (start, _) => {
                let other = match start {
                    b"RIFX" => "a WAVE file with its bytes in the other order",
                    b"FORM" => "an AIFF file",
                    b"fLaC" => "a FLAC file",
                    b"OggS" => "an Ogg file",
                    b"caff" => "a CAF file",
                    b"riff" => "a 64-bit WAVE file of another kind",
                    [b'I', b'D', b'3', _] | [0xff, 0xf2..=0xff, ..] => "an MPEG audio file",
                    _ if &held[4..8] == b"ftyp" => "an MPEG-4 file",
                    b"RIFF" => "a RIFF file without sound",
                    _ => "not a recording that is known here",
                };
                return Err(Unread::new(format!("it is {other}, not a WAV file"), EXPORT));
            }
        }
        self.at = At::Chunk;
        Ok(())
    }
    /// Takes the head of a part, and the whole of one that is needed; whether it has all come.
    fn chunk(&mut self, rest: &mut &[u8]) -> Result<bool, Unread> {
        let size = word(&self.held, 4);
        let id: [u8; 4] = [self.held[0], self.held[1], self.held[2], self.held[3]];
        match &id {
            b"fmt " | b"ds64" => {
                let least = if &id == b"fmt " { 16 } else { 24 };
                if !(least..=65_536).contains(&size) {
                    let name = String::from_utf8_lossy(&id).trim().to_owned();
                    return Err(Unread::new(
                        format!("its '{name}' part has {size} bytes, which cannot be"),
                        EXPORT,
                    ));
                }
                let whole = 8 + size as usize + (size % 2) as usize;
                if !self.hold(rest, whole) {
                    return Ok(false);
                }
                let held = std::mem::take(&mut self.held);
                if &id == b"fmt " {
                    self.format = Some(format(&held[8..8 + size as usize])?);
                } else {
                    let long = u64::from(word(&held, 16)) | (u64::from(word(&held, 20)) << 32);
                    self.long_data = Some(long);
                }
            }
            b"data" => {
                if self.format.is_none() {
                    return Err(Unread::new("its samples come before it says how they are written", EXPORT));
                }
                self.held.clear();
                self.promised = u64::from(size);
                if self.long && size == u32::MAX {
                    self.promised = self.long_data.unwrap_or(u64::MAX);
                }
                // What a recorder leaves that was not switched off in order.
                let never =
                    (size == 0 && self.unsized_file) || (size == u32::MAX && self.long_data.is_none());
                if never || self.promised == u64::MAX {
                    self.open_ended = true;
                    self.promised = u64::MAX;
                }
                self.at = At::Data;
            }
            _ => {
                self.held.clear();
                self.at = At::Skip(u64::from(size) + u64::from(size % 2));
            }
        }
        Ok(true)
    }
    fn data(&mut self, rest: &mut &[u8], out: &mut Vec<f32>) {
        let Some(format) = self.format else { return };
        let frame = format.bytes * format.channels;
        let n = (self.promised - self.taken).min(rest.len() as u64) as usize;
        let (mut now, later) = rest.split_at(n);
        *rest = later;
        self.taken += n as u64;
        if !self.held.is_empty() {
            self.hold(&mut now, frame);
            if self.held.len() == frame {
                let held = std::mem::take(&mut self.held);
                samples(format, &held, out);
            }
        }
        let whole = now.len() / frame * frame;
        samples(format, &now[..whole], out);
        self.held.extend_from_slice(&now[whole..]);
        if self.taken == self.promised {
            self.at = At::After;
        }
    }
}
fn word(bytes: &[u8], at: usize) -> u32 {
    u32::from_le_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]])
}
fn half(bytes: &[u8], at: usize) -> u16 {
    u16::from_le_bytes([bytes[at], bytes[at + 1]])
}
/// The last fourteen bytes of the name of a form that only widens an old one.
const WIDENED: [u8; 14] = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

fn format(bytes: &[u8]) -> Result<Format, Unread> {
    let (mut tag, channels, rate) = (half(bytes, 0), half(bytes, 2), word(bytes, 4));
    let (block, bits) = (half(bytes, 12), half(bytes, 14));
    if tag == 0xfffe {
        if bytes.len() < 40 || bytes[26..40] != WIDENED {
            return Err(Unread::new("its samples are of a form that is not known here", EXPORT));
        }
        tag = half(bytes, 24);
    }
    let kind = match tag {
        1 => Kind::Integer,
        3 => Kind::Float,
        other => {
            let name = match other {
                2 | 0x11 => " (ADPCM)",
                6 | 7 => " (A-law or µ-law)",
                0x50 | 0x55 => " (MPEG)",
                _ => "",
            };
            return Err(Unread::new(format!("its samples are packed, kind {other}{name}"), EXPORT));
        }
    };
    if !(1..=2).contains(&channels) {
        return Err(Unread::new(format!("it has {channels} channels; 1 or 2 can be heard"), EXPORT));
    }
    if !(LEAST_RATE..=MOST_RATE).contains(&rate) {
        return Err(Unread::new(
            format!("it has {rate} samples a second; {LEAST_RATE} to {MOST_RATE} can be heard"),
            EXPORT,
        ));
    }
    let bytes = usize::from(bits).div_ceil(8);
    let good = match kind {
        Kind::Integer => (1..=4).contains(&bytes),
        Kind::Float => bits == 32 || bits == 64,
    };
    if !good {
        return Err(Unread::new(format!("its samples have {bits} bits"), EXPORT));
    }
    let channels = usize::from(channels);
    if usize::from(block) != bytes * channels {
        return Err(Unread::new(
            format!("its head contradicts itself: {channels} × {bits} bits in {block} bytes"),
            EXPORT,
        ));
    }
    Ok(Format { kind, bytes, channels, rate })
}
/// Whole samples to numbers.
fn samples(format: Format, bytes: &[u8], out: &mut Vec<f32>) {
    match (format.kind, format.bytes) {
        (Kind::Integer, 1) => out.extend(bytes.iter().map(|b| (f32::from(*b) - 128.0) / 128.0)),
        (Kind::Integer, 2) => {
            out.extend(bytes.chunks_exact(2).map(|b| f32::from(i16::from_le_bytes([b[0], b[1]])) / 32_768.0));
        }
        (Kind::Integer, 3) => {
            let of = |b: &[u8]| i32::from_le_bytes([0, b[0], b[1], b[2]]) as f32 / 2_147_483_648.0;
            out.extend(bytes.chunks_exact(3).map(of));
        }
        (Kind::Integer, _) => {
            let of = |b: &[u8]| i32::from_le_bytes([b[0], b[1], b[2], b[3]]) as f32 / 2_147_483_648.0;
            out.extend(bytes.chunks_exact(4).map(of));
        }
        (Kind::Float, 4) => {
            out.extend(bytes.chunks_exact(4).map(|b| f32::from_le_bytes([b[0], b[1], b[2], b[3]])));
        }
        (Kind::Float, _) => {
            let of = |b: &[u8]| f64::from_le_bytes([b[0], b[1], b[2], b[3], b[4], b[5], b[6], b[7]]) as f32;
            out.extend(bytes.chunks_exact(8).map(of));
        }
    }
}
