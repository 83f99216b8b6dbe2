//! What lies on a page: paths, runs of glyphs, clipped groups and links. Both
//! the PDF and the SVG writer read this and nothing else.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

/// A colour: red, green, blue. Sheets must read in black and white; only a predicted temper colour has another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ink(pub [u8; 3]);

impl Ink {
    /// A shade from black (0) to white (255).
    #[must_use]
    pub const fn grey(shade: u8) -> Self {
        Self([shade; 3])
    }
    /// The shade, where it is no colour.
    #[must_use]
    pub fn shade(self) -> Option<u8> {
        let [r, g, b] = self.0;
        (r == g && g == b).then_some(r)
    }
    /// Full black.
    pub const BLACK: Self = Self::grey(0);
    /// Small words that guide the eye.
    pub const SOFT: Self = Self::grey(85);
    /// Rules between rows.
    pub const RULE: Self = Self::grey(165);
    /// Bands behind text.
    pub const BAND: Self = Self::grey(236);
    /// Paper.
    pub const WHITE: Self = Self::grey(255);
}

/// A line along a path.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Width in points.
    pub width: f64,
    /// Shade.
    pub ink: Ink,
    /// Lengths on and off in points; empty for a whole line.
    pub dash: Vec<f64>,
    /// Round ends and corners, else square corners and cut ends.
    pub round: bool,
}

impl Stroke {
    /// A whole line with mitred corners.
    #[must_use]
    pub fn plain(width: f64, ink: Ink) -> Self {
        Self { width, ink, dash: Vec::new(), round: false }
    }
}

/// One glyph of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font; 0, the sign for "none", never gets here.
    pub id: u32,
    /// How far the pen moves on, in points.
    pub advance: f32,
    /// Shift from the pen's place, in points.
    pub dx: f32,
    /// Shift from the pen's place, in points.
    pub dy: f32,
    /// First byte in the text of the run.
    pub from: usize,
    /// Byte after the last.
    pub to: usize,
}

/// Glyphs of one face and size on one baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Index into [`crate::faces`].
    pub face: usize,
    /// Size in points.
    pub size: f64,
    /// Start of the baseline.
    pub at: Point,
    /// Cosine and sine of the turn, clockwise as y is down; (1, 0) for level.
    pub turn: Vec2,
    /// Shade.
    pub ink: Ink,
    /// What is written.
    pub text: String,
    /// The glyphs in order.
    pub glyphs: Vec<Glyph>,
}

impl Run {
    /// Length along the baseline in points.
    #[must_use]
    pub fn advance(&self) -> f64 {
        self.glyphs.iter().map(|g| f64::from(g.advance)).sum()
    }

    /// Length along the baseline without blanks at the end, in points.
    #[must_use]
    pub fn inked(&self) -> f64 {
        let keep = self.text.trim_end().len();
        self.glyphs.iter().filter(|g| g.from < keep).map(|g| f64::from(g.advance)).sum()
    }

    /// The map from the level run at the origin to its place.
    #[must_use]
    pub fn place(&self) -> Affine {
        Affine::new([self.turn.x, self.turn.y, -self.turn.y, self.turn.x, self.at.x, self.at.y])
    }

    /// Upright box round the run, from the height of capitals to the depth of
    /// descenders.
    #[must_use]
    pub fn extent(&self) -> Rect {
        let level = Rect::new(0.0, -0.74 * self.size, self.inked(), 0.22 * self.size);
        self.place().transform_rect_bbox(level)
    }
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A path, filled and drawn along.
    Path {
        /// The path.
        path: BezPath,
        /// Shade inside, by the non-zero rule.
        fill: Option<Ink>,
        /// Line along it.
        stroke: Option<Stroke>,
    },
    /// Text.
    Run(Run),
    /// Things shown only within an outline.
    Clip {
        /// The outline.
        outline: BezPath,
        /// What is shown.
        items: Vec<Item>,
    },
    /// A place to tap that leads to a landmark.
    Link {
        /// Where to tap.
        area: Rect,
        /// Index into [`Pages::landmarks`].
        to: usize,
    },
}

impl Item {
    /// A line from one point to another.
    #[must_use]
    pub fn line(from: (f64, f64), to: (f64, f64), stroke: Stroke) -> Self {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        Self::Path { path, fill: None, stroke: Some(stroke) }
    }

    /// A box.
    #[must_use]
    pub fn rect(area: Rect, fill: Option<Ink>, stroke: Option<Stroke>) -> Self {
        Self::Path { path: area.to_path(0.1), fill, stroke }
    }

    /// Moves it.
    pub fn shift(&mut self, by: Vec2) {
        match self {
            Self::Path { path, .. } => path.apply_affine(Affine::translate(by)),
            Self::Run(run) => run.at += by,
            Self::Clip { outline, items } => {
                outline.apply_affine(Affine::translate(by));
                items.iter_mut().for_each(|i| i.shift(by));
            }
            Self::Link { area, .. } => *area = *area + by,
        }
    }

    /// Upright box round it, lines included.
    #[must_use]
    pub fn extent(&self) -> Rect {
        match self {
            Self::Path { path, stroke, .. } => {
                let half = stroke.as_ref().map_or(0.0, |s| s.width / 2.0);
                path.bounding_box().inflate(half, half)
            }
            Self::Run(run) => run.extent(),
            Self::Clip { outline, .. } => outline.bounding_box(),
            Self::Link { area, .. } => *area,
        }
    }
}

/// One finished page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Width in points.
    pub width: f64,
    /// Height in points.
    pub height: f64,
    /// In the order they are laid down.
    pub items: Vec<Item>,
}

impl Page {
    /// All runs of text, clipped ones too.
    #[must_use]
    pub fn runs(&self) -> Vec<&Run> {
        fn gather<'a>(items: &'a [Item], out: &mut Vec<&'a Run>) {
            for item in items {
                match item {
                    Item::Run(run) => out.push(run),
                    Item::Clip { items, .. } => gather(items, out),
                    Item::Path { .. } | Item::Link { .. } => {}
                }
            }
        }
        let mut out = Vec::new();
        gather(&self.items, &mut out);
        out
    }
}

/// A heading and where it came to lie.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// 1 for the highest.
    pub level: u8,
    /// Its words.
    pub text: String,
    /// Page, from 0.
    pub page: usize,
    /// Height on that page, in points from its top.
    pub y: f64,
}

/// A document laid out on pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Pages {
    /// What is written into the file about it.
    pub about: crate::About,
    /// The pages in order.
    pub pages: Vec<Page>,
    /// Headings in order.
    pub landmarks: Vec<Landmark>,
}
