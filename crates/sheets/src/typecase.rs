//! The faces that are in the program, and text set in lines with them.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use drafting::sketch::Ruler;
use parley::fontique::{Blob, Collection, CollectionOptions, FontInfoOverride, SourceCache};
use parley::{FontContext, FontFamily, FontFamilyName, FontWeight, LayoutContext, LineHeight};
use parley::{OverflowWrap, StyleProperty};

use crate::page::Ink;
use crate::paper::MM;
use crate::para::{Look, Para};
use crate::text::{Index, Style, Text, hold_units};
use crate::unprintable::Unprintable;

/// A face that a sheet may use.
pub struct Face {
    /// Family name, as a page on the web should call it.
    pub family: &'static str,
    /// 400 or 700.
    pub weight: u16,
    /// Name of the design it comes from.
    pub origin: &'static str,
    bytes: fn() -> &'static [u8],
}

impl Face {
    /// The whole TrueType file.
    #[must_use]
    pub fn bytes(&self) -> &'static [u8] {
        (self.bytes)()
    }
}

// A `static`, not a `const`: a constant would put every face into the program
// once for each use.
static FACES: [Face; 6] = [
    Face { family: "Bench Text", weight: 400, origin: "Noto Sans", bytes: || ttf_noto_sans::REGULAR },
    Face { family: "Bench Text", weight: 700, origin: "Noto Sans Bold", bytes: || ttf_noto_sans::BOLD },
    Face { family: "Bench Slant", weight: 400, origin: "Noto Sans Italic", bytes: || ttf_noto_sans::ITALIC },
    Face { family: "Bench Mono", weight: 400, origin: "DejaVu Sans Mono", bytes: dejavu::sans_mono::regular },
    Face { family: "Bench Sign", weight: 400, origin: "DejaVu Sans", bytes: dejavu::sans::regular },
    Face { family: "Bench Sign", weight: 700, origin: "DejaVu Sans Bold", bytes: dejavu::sans::bold },
];

/// The faces, in the order that [`crate::page::Run::face`] counts them.
#[must_use]
pub fn faces() -> &'static [Face] {
    &FACES
}

/// What the line breaker carries along for each stretch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Brush {
    pub ink: Ink,
    /// Height above the line in points.
    pub raise: f32,
}

struct Tools {
    fonts: FontContext,
    lines: LayoutContext<Brush>,
}

/// The case from which text is set: faces, and the signs found to be missing.
pub struct Typecase {
    tools: RefCell<Tools>,
    ids: BTreeMap<u64, usize>,
    missing: RefCell<BTreeSet<(char, String)>>,
}

impl Default for Typecase {
    fn default() -> Self {
        Self::new()
    }
}

/// The smallest type that is printed, in points: below it a sheet cannot be
/// read at the bench.
pub(crate) const LEAST: f64 = 7.0;
/// Height of a capital over the size, of the text face (1462 of 2048 units).
pub(crate) const CAPITAL: f64 = 0.714;
/// Times by which the diameter sign grows: as drawn it has only the height of
/// a small letter.
const DIAMETER_GROWS: f32 = 1.4;
/// How far it is then raised to stand on the line, over the size.
const DIAMETER_RISES: f32 = 0.012;
const INDEX_SIZE: f32 = 0.68;
const UPPER_RISES: f32 = 0.36;
const LOWER_FALLS: f32 = 0.17;

impl Typecase {
    /// Reads the faces. No font of the computer is looked at.
    #[must_use]
    pub fn new() -> Self {
        let mut collection = Collection::new(CollectionOptions { shared: false, system_fonts: false });
        let mut ids = BTreeMap::new();
        for (i, face) in FACES.iter().enumerate() {
            let blob = Blob::new(Arc::new(face.bytes()));
            ids.insert(blob.id(), i);
            let name = FontInfoOverride {
                family_name: Some(face.family),
                weight: Some(FontWeight::new(f32::from(face.weight))),
                ..FontInfoOverride::default()
            };
            collection.register_fonts(blob, Some(name));
        }
        let fonts = FontContext { collection, source_cache: SourceCache::default() };
        let tools = Tools { fonts, lines: LayoutContext::new() };
        Self { tools: RefCell::new(tools), ids, missing: RefCell::default() }
    }

    /// Makes a paragraph of a text; it is broken into lines later.
    pub(crate) fn para(&self, text: &Text, look: Look) -> Para {
        let mut words = String::new();
        let mut stretches: Vec<(std::ops::Range<usize>, Style, bool)> = Vec::new();
        for span in &text.0 {
            let held = hold_units(&span.text);
            for piece in split_diameters(&held) {
                let from = words.len();
                words.push_str(piece);
                stretches.push((from..words.len(), span.style, piece == "⌀"));
            }
        }
        let size = look.size as f32;
        let tools = &mut *self.tools.borrow_mut();
        let mut b = tools.lines.ranged_builder(&mut tools.fonts, &words, 1.0, false);
        b.push_default(families("Bench Text"));
        b.push_default(StyleProperty::FontSize(size));
        b.push_default(StyleProperty::LineHeight(LineHeight::Absolute(look.lead as f32)));
        b.push_default(StyleProperty::OverflowWrap(OverflowWrap::BreakWord));
        b.push_default(StyleProperty::Brush(Brush { ink: look.ink, raise: 0.0 }));
        if look.bold {
            b.push_default(StyleProperty::FontWeight(FontWeight::BOLD));
        }
        for (range, style, diameter) in stretches {
            let bold = style.bold || look.bold;
            if style.bold {
                b.push(StyleProperty::FontWeight(FontWeight::BOLD), range.clone());
            }
            if style.mono {
                b.push(families("Bench Mono"), range.clone());
            } else if style.italic && !bold {
                b.push(families("Bench Slant"), range.clone());
            }
            let mut own = size * if style.scale > 0.0 { style.scale } else { 1.0 };
            let mut raise = match style.index {
                Index::None => 0.0,
                Index::Upper => UPPER_RISES * own,
                Index::Lower => -LOWER_FALLS * own,
            };
            if style.index != Index::None {
                own *= INDEX_SIZE;
            }
            own = own.max(size.min(LEAST as f32));
            if diameter {
                raise += DIAMETER_RISES * own;
                own *= DIAMETER_GROWS;
            }
            b.push(StyleProperty::FontSize(own), range.clone());
            b.push(StyleProperty::Brush(Brush { ink: style.ink.unwrap_or(look.ink), raise }), range);
        }
        let layout = b.build(&words);
        Para::new(layout, words, look)
    }

    /// One line of plain text.
    pub(crate) fn words(&self, text: &str, look: Look) -> Para {
        self.para(&Text::from(text), look)
    }

    /// Which face a blob of bytes is.
    pub(crate) fn face(&self, blob: u64) -> usize {
        self.ids.get(&blob).copied().unwrap_or_default()
    }

    /// Notes a sign that no face has.
    pub(crate) fn note_missing(&self, sign: char, text: &str) {
        self.missing.borrow_mut().insert((sign, text.to_owned()));
    }

    /// The signs that were missing so far; forgets them.
    pub(crate) fn take_missing(&self) -> Vec<Unprintable> {
        let missing = std::mem::take(&mut *self.missing.borrow_mut());
        missing.into_iter().map(|(sign, text)| Unprintable::NoGlyph { sign, text }).collect()
    }
}

/// Widths as they will be printed. Sizes in millimetres.
impl Ruler for Typecase {
    fn width(&self, text: &str, size: f64, bold: bool) -> f64 {
        self.words(text, Look::label(size * MM, bold)).natural() / MM
    }
    fn ascent(&self, size: f64) -> f64 {
        0.76 * size
    }
    fn descent(&self, size: f64) -> f64 {
        0.24 * size
    }
}

fn families(first: &'static str) -> StyleProperty<'static, Brush> {
    let named = |f: &'static str| FontFamilyName::Named(Cow::Borrowed(f));
    StyleProperty::FontFamily(FontFamily::List(Cow::Owned(vec![named(first), named("Bench Sign")])))
}

/// Cuts a text before and after every diameter sign.
fn split_diameters(text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some(i) = rest.find('⌀') {
        if i > 0 {
            out.push(&rest[..i]);
        }
        let after = i + '⌀'.len_utf8();
        out.push(&rest[i..after]);
        rest = &rest[after..];
    }
    if !rest.is_empty() {
        out.push(rest);
    }
    out
}
