//! The drawing of a turned part: side view, end view, details, all sizes placed.

use crate::board::{Board, Candidate};
use crate::compose::{GAP, MARGIN, Row, compose};
use crate::fold::Fold;
use crate::linear::{Leader, Linear, Sign};
use crate::side::{Cut, cut_for};
use crate::size::{Paper, Size, Text, Unplaced};
use crate::sketch::{Ruler, Sketch};
use crate::text::Block;
use crate::{end, scale, side};
use kurbo::{Point, Vec2};
use shape::profile::{Profile, SAME, Segment};
use shape::turned::{End, Feature, Side, Turned};

/// Draws a turned part with its sizes, at the largest sensible scale at which all of them find a place.
///
/// # Example
/// ```
/// use drafting::size::{Paper, Size, Text};
/// use drafting::sketch::Ruler;
/// use shape::turned::{End, Feature, Side, Turned};
///
/// struct Even;
/// impl Ruler for Even {
///     fn width(&self, text: &str, size: f64, _bold: bool) -> f64 {
///         0.55 * size * text.chars().map(|_| 1.0).sum::<f64>()
///     }
///     fn ascent(&self, size: f64) -> f64 {
///         0.95 * size
///     }
///     fn descent(&self, size: f64) -> f64 {
///         0.25 * size
///     }
/// }
///
/// let screw = Turned::stepped(&[(8.0, 3.2), (4.0, 11.0)])
///     .with(Feature::Slot { end: End::Datum, width: 1.0, depth: 1.4 });
/// let sizes = [
///     Size::Length { from: 3.2, to: 14.2, on: Side::Outside, text: "11.0 ±0.1".into() },
///     Size::Diameter { at: 1.0, on: Side::Outside, text: Text::limits("⌀8.00", "−0.02", "−0.05") },
///     Size::SlotWidth { feature: 0, text: "1.00".into() },
/// ];
/// let sketch = drafting::turned::draw(&screw, &sizes, &Paper::new("bridge screw", 180.0, 120.0), &Even)?;
/// assert_eq!(sketch.title, "bridge screw · scale 5:1");
/// # Ok::<(), drafting::size::Unplaced>(())
/// ```
///
/// # Errors
/// [`Unplaced::NoRoom`] when at no scale everything fits without overlap; [`Unplaced::NoSuch`] when a size names
/// a feature that is not there.
pub fn draw(part: &Turned, sizes: &[Size], paper: &Paper, ruler: &dyn Ruler) -> Result<Sketch, Unplaced> {
    let fold = Fold::of(part, sizes);
    let shown = part.length() - fold.map_or(0.0, |f| f.out());
    let longest = shown.max(part.largest_diameter());
    let least = sizes.iter().filter_map(|s| match s {
        Size::Length { from, to, .. } => Some((to - from).abs()),
        _ => None,
    });
    let least = least.filter(|l| *l > SAME).fold(longest, f64::min);
    scale::first_that_fits(paper, longest, least, |paper, ratio| {
        at_scale(part, sizes, fold, paper, ratio, ruler)
    })
}

struct Desk<'a> {
    part: &'a Turned,
    factor: f64,
    figures: f64,
    ruler: &'a dyn Ruler,
    cut: Cut,
    fold: Option<Fold>,
}

fn at_scale(
    part: &Turned,
    sizes: &[Size],
    fold: Option<Fold>,
    paper: &Paper,
    ratio: (u32, u32),
    ruler: &dyn Ruler,
) -> Result<Sketch, Unplaced> {
    let factor = f64::from(ratio.0) / f64::from(ratio.1);
    let limit = (paper.width, paper.height);
    let no_room = |text: &str| Unplaced::NoRoom { text: text.to_owned(), scale: ratio };
    let cut = cut_for(part);
    let desk = Desk { part, factor, figures: paper.figures, ruler, cut, fold };
    let mut main = side::draw(part, factor, cut, limit);
    if let Some(f) = fold {
        f.apply(&mut main, factor);
    }
    let view = end::end_for(part);
    let mut face = view.map(|e| end::draw(part, e, factor, limit));
    let mut extra: Vec<Board> = Vec::new();
    if !main.fits() {
        return Err(no_room(""));
    }

    // Lengths go first, the shortest nearest the part; then diameters; then what hangs on leaders.
    let mut lengths = Vec::new();
    let mut diameters = Vec::new();
    let mut leaders = Vec::new();
    let mut on_face: Vec<Result<Linear, Leader>> = Vec::new();
    let mut letters = 'A'..='Z';
    for s in sizes {
        match s {
            Size::Length { from, to, on, text } => lengths.push(desk.length(*from, *to, *on, text)),
            Size::Diameter { at, on, text } => diameters.push(desk.diameter(*at, *on, text)),
            Size::Note { at, text } => leaders.push(desk.leader(*at, text, Sign::Plain)),
            Size::Surface { at, text } => leaders.push(desk.leader(*at, text, Sign::Surface)),
            Size::SlotWidth { feature, text } => match part.features.get(*feature) {
                Some(Feature::Slot { end: e, width, depth }) if face.is_some() && view == Some(*e) => {
                    let r = part.radius_at(part.face(*e) + Turned::inward(*e) * depth);
                    on_face.push(Ok(desk.slot_width(*width, r, text)));
                }
                Some(Feature::Slot { end: e, width, .. }) => {
                    let z = part.face(*e);
                    lengths.push(desk.on_slot(z, *e, *width, text));
                }
                _ => return Err(Unplaced::NoSuch { text: text.nominal.clone() }),
            },
            Size::Across { feature, text } => match part.features.get(*feature) {
                Some(Feature::Flats { across, count, from, to }) if face.is_some() => {
                    let r = part.radius_at(from.midpoint(*to));
                    on_face.push(desk.across(*across, *count, r, text));
                }
                _ => return Err(Unplaced::NoSuch { text: text.nominal.clone() }),
            },
            Size::Groove { feature, diameter, width, depth } => {
                let Some(Feature::FaceGroove(g)) = part.features.get(*feature) else {
                    let text = diameter.as_ref().or(width.as_ref()).or(depth.as_ref());
                    return Err(Unplaced::NoSuch { text: text.map_or(String::new(), |t| t.nominal.clone()) });
                };
                if let Some(text) = diameter {
                    let (z, r) = (part.face(g.end), g.diameter / 2.0);
                    let deep = z + Turned::inward(g.end) * g.depth;
                    diameters.push(desk.groove_diameter(g.end, z, deep, r, text));
                }
                if width.is_some() || depth.is_some() {
                    let letter = letters.next().unwrap_or('Z').to_string();
                    let zoom = scale::enlarged(factor, g.width.max(g.depth));
                    let d = end::detail(g, f64::from(zoom.0) / f64::from(zoom.1), limit);
                    let board =
                        desk.groove_sizes(d, g.end, width.as_ref(), depth.as_ref(), &letter, zoom, ratio)?;
                    extra.push(board);
                    let at = Point::new(part.face(g.end), g.diameter / 2.0);
                    leaders.push(desk.detail_mark(at, g.width, &letter));
                }
            }
        }
    }
    let pitch = lengths
        .iter()
        .chain(&diameters)
        .map(|j| j.linear.as_ref().map_or(0.0, |l| l.block.up + l.block.ink_down + 1.8))
        .fold(7.0, f64::max);
    let span = |j: &Job| j.linear.as_ref().map_or(0.0, Linear::span);
    lengths.sort_by(|a, b| span(a).total_cmp(&span(b)));
    diameters.sort_by(|a, b| span(a).total_cmp(&span(b)));
    if let Some(board) = &mut face {
        for job in on_face {
            let all = match &job {
                Ok(l) => l.candidates(board, pitch),
                Err(l) => l.candidates(),
            };
            if !board.place(all) {
                return Err(no_room("on the end view"));
            }
        }
        // What the end view takes of the width is not the side view's to spread into.
        main.limit.0 -= board.bounds.width() + GAP;
    }
    main.limit.0 -= 2.0 * MARGIN;
    main.limit.1 -= 2.0 * MARGIN;
    if !main.fits() {
        return Err(no_room(""));
    }
    let jobs: Vec<Job> = lengths.into_iter().chain(diameters).chain(leaders).collect();
    let main = place_all(&main, jobs, pitch).map_err(|text| no_room(&text))?;
    let mut boards = Vec::new();
    // First angle: the datum end is drawn to the right of the side view, the far end to its left.
    match (face, view) {
        (Some(f), Some(End::Far)) => {
            boards.push(f);
            boards.push(main);
        }
        (Some(f), _) => {
            boards.push(main);
            boards.push(f);
        }
        (None, _) => boards.push(main),
    }
    compose(&[Row { boards }], extra, paper, ratio).ok_or_else(|| no_room(""))
}

/// One thing to be placed, with a leader in reserve.
pub(crate) struct Job {
    pub linear: Option<Linear>,
    pub leader: Option<Leader>,
    pub ring: Option<(Point, f64)>,
    pub text: String,
}

/// Places all jobs in order; one that finds no place is put first and all begins anew, a limited number of
/// times.
///
/// # Errors
/// The text of a job that found no place.
pub(crate) fn place_all(empty: &Board, mut jobs: Vec<Job>, pitch: f64) -> Result<Board, String> {
    let mut failed = String::new();
    for _ in 0..=jobs.len().min(10) {
        let mut board = empty.clone();
        let stuck = (0..jobs.len()).find(|&k| {
            board.ghosts =
                jobs[k..].iter().filter_map(|j| j.linear.as_ref()).flat_map(Linear::ghosts).collect();
            !place(&mut board, &jobs[k], pitch)
        });
        let Some(k) = stuck else { return Ok(board) };
        failed.clone_from(&jobs[k].text);
        if k == 0 {
            break;
        }
        let job = jobs.remove(k);
        jobs.insert(0, job);
    }
    Err(failed)
}

/// Places a job on a board, the straight form before the leader.
pub(crate) fn place(board: &mut Board, job: &Job, pitch: f64) -> bool {
    let mut all: Vec<Candidate> = Vec::new();
    if let Some(l) = &job.linear {
        all.extend(l.candidates(board, pitch));
    }
    if let Some(l) = &job.leader {
        all.extend(l.candidates());
    }
    if let Some((centre, radius)) = job.ring {
        for c in &mut all {
            c.marks.push(crate::sketch::Mark {
                path: Profile::circle(centre, radius).to_path(0.01),
                pen: Some(crate::sketch::Pen::Thin),
                fill: crate::sketch::Tone::None,
                hatch: false,
            });
        }
    }
    board.place(all)
}

impl Desk<'_> {
    fn block(&self, text: &Text) -> Block {
        Block::new(text, self.figures, false, self.ruler)
    }
    fn p(&self, z: f64, r: f64) -> Point {
        let x = z * self.factor;
        Point::new(self.fold.map_or(x, |f| f.x(x, self.factor)), r * self.factor)
    }

    fn length(&self, from: f64, to: f64, on: Side, text: &Text) -> Job {
        let radius = |z: f64| match on {
            Side::Outside => self.edge(z),
            Side::Bore => self.part.hollow_at(z).max(0.0),
        };
        let (a, b) = (radius(from), radius(to));
        // A length inside is measured on the half that is cut open.
        let low_first = on == Side::Bore && self.cut == Cut::Half;
        let high = (self.p(from, a), self.p(to, b), if low_first { 9.0 } else { 0.0 });
        let low = (self.p(from, -a), self.p(to, -b), if low_first { 0.0 } else { 1.0 });
        Job {
            linear: Some(Linear {
                upright: false,
                high: Some(high),
                low: Some(low),
                block: self.block(text),
            }),
            leader: None,
            ring: None,
            text: text.nominal.clone(),
        }
    }
    /// Radius of the edge at z from which an extension line leaves.
    fn edge(&self, z: f64) -> f64 {
        side::silhouette(self.part, z).max(self.part.radius_at(z) * f64::from(u8::from(self.at_shoulder(z))))
    }
    fn at_shoulder(&self, z: f64) -> bool {
        self.part.radii_at(z).is_some_and(|(a, b)| b > a + SAME)
    }

    fn diameter(&self, at: f64, on: Side, text: &Text) -> Job {
        let (z0, z1, r) = match on {
            Side::Outside => self.outside_step(at),
            Side::Bore => self.bore_step(at),
        };
        let (first, last) = (self.part.first(), self.part.last());
        let clear = |from: f64, to: f64| {
            // Nothing in the way of the extension lines between the step and the end of the part.
            (1..40).all(|k| {
                let z = from + (to - from) * f64::from(k) / 40.0;
                match on {
                    Side::Outside => self.part.radius_at(z) <= r + SAME,
                    Side::Bore => self.bore_step(z).2 >= r - SAME,
                }
            })
        };
        let half = self.cut == Cut::Half && on == Side::Bore;
        let pair = |z: f64| (self.p(z, r), self.p(z, -r));
        let left = (!half && (z0 - first < SAME || clear(first, z0))).then(|| {
            let (a, b) = pair(z0);
            (a, b, if z0 - first < SAME { 0.0 } else { 2.0 })
        });
        let right = (!half && (last - z1 < SAME || clear(z1, last))).then(|| {
            let (a, b) = pair(z1);
            (a, b, if last - z1 < SAME { 0.0 } else { 2.0 })
        });
        let reserve = if left.is_none() && right.is_none() { 0.0 } else { 16.0 };
        let mut tips = Vec::new();
        if half {
            // From the mouth, where the arrow need not cross the metal.
            for (z, mouth, out) in [(z1, last, 1.0), (z0, first, -1.0)] {
                if (z - mouth).abs() < SAME {
                    tips.push((self.p(z, -r), Vec2::new(out, -0.7)));
                }
            }
        }
        for share in [0.5, 0.3, 0.7] {
            let z = z0 + (z1 - z0) * share;
            let out = if on == Side::Outside { 1.0 } else { -1.0 };
            let below = (self.p(z, -r), Vec2::new(0.0, -1.0));
            let above = (self.p(z, r), Vec2::new(0.0, 1.0));
            if out > 0.0 || !half {
                tips.push(above);
            }
            tips.push(below);
        }
        Job {
            linear: (left.is_some() || right.is_some()).then(|| Linear {
                upright: true,
                high: left,
                low: right,
                block: self.block(text),
            }),
            leader: Some(Leader { tips, block: self.block(text), sign: Sign::Plain, cost: reserve }),
            ring: None,
            text: text.nominal.clone(),
        }
    }
    /// The stretch of the outside about z with one radius, and the radius.
    fn outside_step(&self, at: f64) -> (f64, f64, f64) {
        for s in self.part.outer.segments() {
            if let Segment::Line { from, to } = *s
                && (from.y - to.y).abs() < SAME
                && from.x.min(to.x) - SAME <= at
                && at <= from.x.max(to.x) + SAME
            {
                return (from.x.min(to.x), from.x.max(to.x), from.y);
            }
        }
        (at, at, self.part.radius_at(at))
    }
    fn bore_step(&self, at: f64) -> (f64, f64, f64) {
        // A thread is named by its major diameter, whatever was drilled.
        for f in &self.part.features {
            if let Feature::Thread(t) = f
                && t.side == Side::Bore
                && t.from - SAME <= at
                && at <= t.to + SAME
            {
                return (t.from, t.to, t.major / 2.0);
            }
        }
        for p in self.part.hollow() {
            if p.z0 - SAME <= at && at <= p.z1 + SAME {
                if (p.r0 - p.r1).abs() < SAME {
                    return (p.z0, p.z1, p.r0);
                }
                // A cone is measured at its wider end when asked there.
                let z = at.clamp(p.z0, p.z1);
                return (z, z, p.radius(z));
            }
        }
        (at, at, 0.0)
    }

    fn leader(&self, at: Point, text: &Text, sign: Sign) -> Job {
        let (z, r) = (at.x, at.y);
        let (first, last) = (self.part.first(), self.part.last());
        let lean: f64 = if (z - first).abs() < SAME {
            -0.8
        } else if (last - z).abs() < SAME {
            0.8
        } else {
            0.0
        };
        let mut tips = Vec::new();
        let face = lean != 0.0 && r < self.part.radius_at(z) - 1e-6;
        let out = |s: f64| if face { Vec2::new(lean.signum(), 0.35 * s) } else { Vec2::new(lean, s) };
        tips.push((self.p(z, r), out(1.0)));
        tips.push((self.p(z, -r), out(-1.0)));
        Job {
            linear: None,
            leader: Some(Leader { tips, block: self.block(text), sign, cost: 0.0 }),
            ring: None,
            text: text.nominal.clone(),
        }
    }

    fn groove_diameter(&self, end: End, z: f64, deep: f64, r: f64, text: &Text) -> Job {
        let pair = (self.p(deep, r), self.p(deep, -r), 0.0);
        let linear = Linear {
            upright: true,
            high: (end == End::Datum).then_some(pair),
            low: (end == End::Far).then_some(pair),
            block: self.block(text),
        };
        let out = Vec2::new(-Turned::inward(end), 0.5);
        let tips = vec![(self.p(z, r), out), (self.p(z, -r), Vec2::new(out.x, -0.5))];
        Job {
            linear: Some(linear),
            leader: Some(Leader { tips, block: self.block(text), sign: Sign::Plain, cost: 14.0 }),
            ring: None,
            text: text.nominal.clone(),
        }
    }

    fn detail_mark(&self, at: Point, width: f64, letter: &str) -> Job {
        let centre = self.p(at.x, at.y);
        let radius = (width * self.factor * 0.9).max(2.0);
        let block = Block::new(&Text::from(letter), self.figures, true, self.ruler);
        let lean = if (at.x - self.part.first()).abs() < SAME { -1.0 } else { 1.0 };
        let out = Vec2::new(lean, 1.0) / std::f64::consts::SQRT_2;
        let low = Vec2::new(lean, -1.0) / std::f64::consts::SQRT_2;
        let tips = vec![(centre + out * radius, out), (centre + low * radius, low)];
        Job {
            linear: None,
            leader: Some(Leader { tips, block, sign: Sign::Letter, cost: 0.0 }),
            ring: Some((centre, radius)),
            text: letter.to_owned(),
        }
    }

    fn slot_width(&self, width: f64, r: f64, text: &Text) -> Linear {
        let (h, r) = (width / 2.0 * self.factor, r * self.factor);
        let x = (r * r - h * h).max(0.0).sqrt();
        Linear {
            upright: true,
            high: Some((Point::new(-x, h), Point::new(-x, -h), 1.0)),
            low: Some((Point::new(x, h), Point::new(x, -h), 0.0)),
            block: self.block(text),
        }
    }
    fn on_slot(&self, z: f64, end: End, width: f64, text: &Text) -> Job {
        let pair = (self.p(z, width / 2.0), self.p(z, -width / 2.0), 0.0);
        Job {
            linear: Some(Linear {
                upright: true,
                high: (end == End::Datum).then_some(pair),
                low: (end == End::Far).then_some(pair),
                block: self.block(text),
            }),
            leader: None,
            ring: None,
            text: text.nominal.clone(),
        }
    }
    /// Across flats: measured level, between the flat that faces the side view's viewer and the one opposite.
    fn across(&self, across: f64, count: u32, r: f64, text: &Text) -> Result<Linear, Leader> {
        let (a, r) = (across / 2.0 * self.factor, r * self.factor);
        if count % 2 == 1 {
            let right = if end::end_for(self.part) == Some(End::Far) { -1.0 } else { 1.0 };
            let tips = vec![(Point::new(right * a, 0.0), Vec2::new(right, 0.5))];
            return Err(Leader { tips, block: self.block(text), sign: Sign::Plain, cost: 0.0 });
        }
        let chord = (r * r - a * a).max(0.0).sqrt();
        let half = if count <= 2 {
            chord
        } else {
            chord.min(a * reckon::maths::tan(reckon::maths::PI / f64::from(count)))
        };
        Ok(Linear {
            upright: false,
            high: Some((Point::new(-a, half), Point::new(a, half), 0.0)),
            low: Some((Point::new(-a, -half), Point::new(a, -half), 0.5)),
            block: self.block(text),
        })
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "the two texts, the letter and both scales belong to one detail"
    )]
    fn groove_sizes(
        &self,
        d: end::Detail,
        face: End,
        width: Option<&Text>,
        depth: Option<&Text>,
        letter: &str,
        zoom: (u32, u32),
        ratio: (u32, u32),
    ) -> Result<Board, Unplaced> {
        let mut board = d.board;
        let fail = |t: &Text| Unplaced::NoRoom { text: t.nominal.clone(), scale: ratio };
        let pitch = 8.5;
        if let Some(t) = width {
            let pair = (d.inner, d.outer, 0.0);
            let linear = Linear {
                upright: true,
                high: (face == End::Datum).then_some(pair),
                low: (face == End::Far).then_some(pair),
                block: self.block(t),
            };
            if !board.place(linear.candidates(&board, pitch)) {
                return Err(fail(t));
            }
        }
        if let Some(t) = depth {
            let top = Point::new(d.inner.x, board.body.y1);
            let bottom = Point::new(d.inner.x, board.body.y0);
            let (from, to) = (d.floor, top);
            let linear = Linear {
                upright: false,
                high: Some((from, to, 0.0)),
                low: Some((from, bottom, 1.0)),
                block: self.block(t),
            };
            if !board.place(linear.candidates(&board, pitch)) {
                return Err(fail(t));
            }
        }
        heading(&mut board, &format!("{letter} ({}:{})", zoom.0, zoom.1), self.figures, self.ruler);
        Ok(board)
    }
}

/// A heading over a detail.
pub(crate) fn heading(board: &mut Board, text: &str, figures: f64, ruler: &dyn Ruler) {
    let block = Block::new(&Text::from(text), figures, true, ruler);
    let at = Point::new(board.bounds.center().x - block.width / 2.0, board.bounds.y1 + block.down + 1.5);
    let mut c = Candidate::default();
    c.text(&block, at, false);
    board.keep(c);
}
