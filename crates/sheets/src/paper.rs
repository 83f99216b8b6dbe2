//! Sizes of paper and the room left on it. Everything on a page is in points,
//! 72 to the inch, x right and y DOWN from the top left corner.

use kurbo::Rect;

/// Points in a millimetre.
pub const MM: f64 = 72.0 / 25.4;

/// A size of paper, upright.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ × 11 in (ANSI/ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Width and height in millimetres.
    #[must_use]
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// Width and height in points.
    #[must_use]
    pub fn size(self) -> (f64, f64) {
        let (w, h) = self.size_mm();
        (w * MM, h * MM)
    }

    /// The part of the page that is printed on, in points; the left margin is
    /// wide enough for punched holes.
    #[must_use]
    pub fn frame(self) -> Rect {
        let (w, h) = self.size();
        Rect::new(20.0 * MM, 10.0 * MM, w - 12.0 * MM, h - 10.0 * MM)
    }

    /// The part left for the text between header and footer, in points.
    #[must_use]
    pub fn body(self) -> Rect {
        let f = self.frame();
        Rect::new(f.x0, f.y0 + HEADER + 5.0 * MM, f.x1, f.y1 - FOOTER - 3.0 * MM)
    }
}

/// Height of the header, in points.
pub(crate) const HEADER: f64 = 11.0 * MM;
/// Height of the footer, in points.
pub(crate) const FOOTER: f64 = 6.0 * MM;
