//! Outlines become what each pallet does at each angle: where the wheel stands, and how hard it pushes.
//!
//! A tooth touches a nib at one point. The force there stands off the common normal by the angle of friction,
//! against the sliding; its moments about both arbors give the torque that reaches the pallets for one at the
//! wheel. Where another piece of an outline takes the touch over, a new face begins.

use crate::poly::Poly;
use crate::works::{Pallet, Piece, Side};
use escapement::cycle::Works as Outlines;
use escapement::dead_beat::Side as Nib;
use escapement::frame::{left_of, length, turned, unit, within_pitch};
use escapement::touch::{Meets, Touch};
use kurbo::{Point, Vec2};
use reckon::Source;
use shape::segment::Segment;

/// How force passes from tooth to pallet.
pub static FORCE: Source = Source::derived(
    "force at the touch of the outlines, leaning from their common normal by the angle of friction, its moments about both arbors",
)
.with_formula("τ/T = (r_A × F)/(−r_O × F), F = n + μ t");

/// Pallets and how their turns follow on from each other.
#[derive(Clone, PartialEq, Debug)]
pub struct Faces {
    /// Entry, exit.
    pub pallets: [Pallet; 2],
    /// What is added to the turns of the other pallet.
    pub ahead: [f64; 2],
}
/// Why outlines do not become an escapement that could go.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Amiss {
    /// A nib stands in the way of no tooth, wherever the pallets are.
    NeverMeets(Side),
    /// A tooth is never let go.
    NeverLetsOff(Side),
    /// Friction holds tooth and pallet fast.
    Jams {
        /// The pallet.
        side: Side,
        /// Angle of the pallets in its sense.
        at: f64,
    },
}
impl Amiss {
    /// In words.
    #[must_use]
    pub fn says(&self) -> String {
        match self {
            Amiss::NeverMeets(side) => format!("the {} pallet meets no tooth", side.word()),
            Amiss::NeverLetsOff(side) => format!("the {} pallet never lets its tooth go", side.word()),
            Amiss::Jams { side, at } => format!(
                "friction holds the tooth fast on the {} pallet {} degrees from the middle",
                side.word(),
                reckon::print::fixed(at.to_degrees(), 2)
            ),
        }
    }
}

/// Furthest from the middle that is looked at.
const FAR: f64 = 0.3;
/// Step in which faces are looked for.
const STEP: f64 = 0.004;
/// Degree of the polynomials of a face in a study.
const STUDIED: usize = 8;
/// Faces narrower than this, a fifth of a second of arc, are left to their neighbours: where a tip leaves a corner
/// the touch is found within its own rounding only, and a sliver of 1e-8 that seems to jam there is none.
const NARROW: f64 = 1e-6;

const fn nib(side: Side) -> Nib {
    match side {
        Side::Entry => Nib::Entry,
        Side::Exit => Nib::Exit,
    }
}
/// Sense of the pallets' angle (counter-clockwise) in which a pallet goes to let its tooth off.
#[must_use]
pub const fn sense(side: Side) -> f64 {
    match side {
        Side::Entry => -1.0,
        Side::Exit => 1.0,
    }
}
/// What touches what: a face is where this stays the same.
type Mark = (usize, usize, u8);
const fn mark(t: &Touch) -> Mark {
    let how = match t.meets {
        Meets::Tip => 0,
        Meets::Corner => 1,
        Meets::Flat => 2,
    };
    (t.tooth, t.pallet, how)
}

/// One pallet of drawn outlines, looked at in its own sense.
#[derive(Copy, Clone, Debug)]
pub struct Seen<'a> {
    of: &'a Outlines,
    side: Side,
    friction: f64,
    close: Close,
}
/// How closely outlines are followed.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Close {
    /// To rounding.
    Full,
    /// Borders to a thousandth of a second of arc, polynomials of one degree: for thousands of clocks.
    Study,
}
impl Close {
    /// Borders of faces lie as near as this, rad.
    const fn border(self) -> f64 {
        match self {
            Close::Full => 1e-15,
            Close::Study => 5e-9,
        }
    }
}
/// The touch at one angle.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Contact {
    /// Where.
    pub at: Point,
    /// Common normal, from tooth to pallet.
    pub normal: Vec2,
    /// Along the faces, the way a tooth drags its pallet as these go on.
    pub drags: Vec2,
    /// Turn of the wheel.
    pub turn: f64,
    /// Turn of the wheel for one of the pallets.
    pub ratio: f64,
    /// Torque on the pallets for one of the wheel as they go on.
    pub onward: f64,
    /// The same as they come back.
    pub back: f64,
}
impl<'a> Seen<'a> {
    /// A pallet with the friction of its faces.
    #[must_use]
    pub const fn new(of: &'a Outlines, side: Side, friction: f64) -> Seen<'a> {
        Seen { of, side, friction, close: Close::Full }
    }
    fn touch(&self, x: f64) -> Option<Touch> {
        Some(self.of.block(nib(self.side), sense(self.side) * x)?.enter)
    }
    /// The touch at an angle in the pallet's sense; none where no tooth is stopped.
    #[must_use]
    pub fn contact(&self, x: f64) -> Option<Contact> {
        let s = sense(self.side);
        let chain = self.of.turned(nib(self.side), s * x);
        let t = escapement::touch::block(&self.of.wheel.tooth, &chain)?.enter;
        let n = match t.meets {
            Meets::Tip | Meets::Flat => normal(chain.get(t.pallet)?, t.at),
            Meets::Corner => {
                let drawn = Point::ORIGIN + turned(t.at.to_vec2(), t.turn);
                turned(normal(self.of.wheel.tooth.get(t.tooth)?, drawn), -t.turn)
            }
        };
        let (o, a) = (t.at.to_vec2(), t.at - self.of.arbor);
        // The wheel, turning clockwise, pushes: the moment of what the pallet gets is clockwise about it too.
        let n = if o.cross(n) > 0.0 { -n } else { n };
        let through = |f: Vec2| s * a.cross(f) / -o.cross(f);
        let ratio = through(n);
        // How the tooth slides on the pallet as this goes on.
        let slides = Vec2::new(o.y, -o.x) * ratio - left_of(a) * s;
        let along = left_of(n);
        let along = if slides.dot(along) < 0.0 { -along } else { along };
        let drag = along * self.friction;
        let held = -o.cross(n - drag) <= 0.0 || -o.cross(n + drag) <= 0.0;
        (!held).then(|| Contact {
            at: t.at,
            normal: n,
            drags: along,
            turn: t.turn,
            ratio,
            onward: through(n + drag),
            back: through(n - drag),
        })
    }
    /// Where the tooth is let off, from a place where it is held.
    fn lets_off(&self, from: f64) -> Option<f64> {
        let mut x = from;
        while x < FAR {
            if self.touch(x + STEP).is_none() {
                return Some(halve(x, x + STEP, self.close, |y| self.touch(y).is_some()));
            }
            x += STEP;
        }
        None
    }
    /// The furthest swing, below nothing: where the nib meets the rim, the face ends, or the looking does.
    fn reach(&self, from: f64, least: f64) -> f64 {
        let root = self.of.wheel.root;
        let sound = |x: f64| {
            let Some(t) = self.touch(x) else { return false };
            let faces = match self.side {
                Side::Entry => &self.of.entry.faces,
                Side::Exit => &self.of.exit.faces,
            };
            let on = faces.get(t.pallet).is_some_and(|f| *f != escapement::cycle::Face::Back);
            let deep = || {
                let chain = self.of.turned(nib(self.side), sense(self.side) * x);
                chain.iter().map(|s| length(s.to().to_vec2())).fold(f64::INFINITY, f64::min)
            };
            on && (root <= 0.0 || deep() > root)
        };
        let mut x = from;
        while x > least {
            let next = (x - STEP).max(least);
            if !sound(next) {
                return halve(x, next, self.close, sound);
            }
            x = next;
        }
        least
    }
    /// The faces from `from` to `to`: borders where another piece takes the touch over.
    fn borders(&self, from: f64, to: f64) -> Vec<f64> {
        let mut all = vec![from];
        let kind = |x: f64| self.touch(x).map(|t| mark(&t));
        let inside = 1e-12;
        let (mut low, end) = (from + inside, to - inside);
        let mut now = kind(low);
        while low < end {
            let next = (low + STEP).min(end);
            if kind(next) == now {
                low = next;
                continue;
            }
            let at = halve(low, next, self.close, |x| kind(x) == now);
            if at - all[all.len() - 1] > NARROW && to - at > NARROW {
                all.push(at);
            }
            low = (at + NARROW).min(end);
            now = kind(low);
        }
        all.push(to);
        all
    }
    fn pallet(&self, reach: Option<f64>) -> Result<Pallet, Amiss> {
        let side = self.side;
        // A place where a tooth is held: the middle, or else the nearest before it.
        let mut held = 0.0;
        while self.touch(held).is_none() {
            held -= STEP;
            if held < -FAR {
                return Err(Amiss::NeverMeets(side));
            }
        }
        let off = self.lets_off(held).ok_or(Amiss::NeverLetsOff(side))?;
        let least = -reach.unwrap_or(FAR);
        let from = self.reach(held.min(off), least);
        let borders = self.borders(from, off);
        let pieces: Result<Vec<Piece>, Amiss> = borders
            .windows(2)
            .map(|w| self.piece(w[0], w[1]).map_err(|at| Amiss::Jams { side, at }))
            .collect();
        Ok(Pallet { pieces: pieces? })
    }
    /// The polynomials of a face; where friction holds fast: that angle.
    fn piece(&self, from: f64, to: f64) -> Result<Piece, f64> {
        // A face is followed by so many points as make the polynomials true to rounding.
        let mut degree = if self.close == Close::Study { STUDIED } else { 4 };
        loop {
            let mut seen: Vec<(f64, Contact)> = Vec::with_capacity(degree + 2);
            for x in crate::poly::points(from, to, degree) {
                seen.push((x, self.contact(x).ok_or(x)?));
            }
            let first = seen[0].1;
            let spread = seen.iter().map(|(_, c)| (c.turn - first.turn).abs()).fold(0.0, f64::max);
            if spread < 1e-11 {
                return Ok(Piece {
                    from,
                    to,
                    turn: Poly::constant(first.turn),
                    onward: Poly::constant(first.onward),
                    back: Poly::constant(first.back),
                });
            }
            let of = |get: fn(&Contact) -> f64| {
                let values: Vec<f64> = seen.iter().map(|(_, c)| get(c)).collect();
                Poly::fitted(from, to, &values)
            };
            let (turn, onward, back) = (of(|c| c.turn), of(|c| c.onward), of(|c| c.back));
            if self.close == Close::Study {
                return Ok(Piece { from, to, turn, onward, back });
            }
            // Between the points, where it is worst: near the ends.
            let half = (to - from) / 2.0;
            let n = (degree + 1) as f64;
            let fits = [1.0, 0.5].iter().all(|k| {
                [-1.0, 1.0].iter().all(|end| {
                    let x =
                        f64::midpoint(from, to) + end * half * reckon::maths::cos(k * reckon::maths::PI / n);
                    self.contact(x).is_none_or(|c| {
                        (turn.at(x) - c.turn).abs() < 1e-13 + 1e-12 * spread
                            && (onward.at(x) - c.onward).abs() < 1e-10
                    })
                })
            });
            if fits || degree >= 12 {
                return Ok(Piece { from, to, turn, onward, back });
            }
            degree += 2;
        }
    }
}
/// What drawn outlines do; `reach` is the furthest swing that the faces are cut for, where that is known.
///
/// # Errors
/// Why they could not go, whatever drives them.
pub fn faces(of: &Outlines, friction: f64, reach: Option<f64>) -> Result<Faces, Amiss> {
    faces_as_close(of, friction, reach, Close::Full)
}
/// The same, followed as closely as is asked.
///
/// # Errors
/// As [`faces`].
pub fn faces_as_close(
    of: &Outlines,
    friction: f64,
    reach: Option<f64>,
    close: Close,
) -> Result<Faces, Amiss> {
    let [entry, exit] =
        [Side::Entry, Side::Exit].map(|side| Seen { of, side, friction, close }.pallet(reach));
    let pallets = [entry?, exit?];
    let pitch = of.wheel.pitch();
    let follows = |a: usize, b: usize| {
        let last = |p: &Pallet| p.pieces.last().map_or(0.0, |l| l.turn.at(l.to));
        let off = last(&pallets[a]);
        let y = -pallets[a].lets_off();
        let stands =
            pallets[b].piece(y).map_or_else(|| last(&pallets[b]), |n| pallets[b].pieces[n].turn.at(y));
        off + within_pitch(stands - off + 1e-9, pitch) - 1e-9 - stands
    };
    let first = (follows(0, 1) / pitch).round() * pitch;
    Ok(Faces { ahead: [first, pitch - first], pallets })
}
/// Normal of a piece at a point on it.
fn normal(s: &Segment, at: Point) -> Vec2 {
    match *s {
        Segment::Line { from, to } => left_of(unit(to - from)),
        Segment::Arc { centre, .. } => unit(at - centre),
    }
}
/// The last place between `yes` and `no` where something still holds.
fn halve(mut yes: f64, mut no: f64, close: Close, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(yes, no);
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
        if (yes - no).abs() < close.border() {
            break;
        }
    }
    yes
}
