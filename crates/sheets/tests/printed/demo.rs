//! A document with every kind of block, and the tools to look at its pages.

use std::path::{Path, PathBuf};
use std::process::Command;

use drafting::sketch::{Anchor, Label, Mark, Pen, Ruler, Sketch, Tone};
use kurbo::{BezPath, Point, Rect, Shape};
use sheets::{
    About, Block, Caution, Cell, Check, Column, Figure, Fit, Formula, Operation, Packet, Paper, Picture, Row,
    Ruling, Sheet, Table, Template, Text, Typecase,
};

/// Facts of the invented project that the demo document is about.
pub fn about() -> About {
    About {
        title: "Bench packet, Hall regulator".into(),
        project: "Hall regulator".into(),
        note: "Local codes, the material's data sheet and licensed practice come first.".into(),
        stamp: "hall-regulator-b7".into(),
        day: (2026, 11, 25),
    }
}

fn poly(points: &[(f64, f64)]) -> BezPath {
    let mut p = BezPath::new();
    p.move_to(points[0]);
    points[1..].iter().for_each(|q| p.line_to(*q));
    p
}

fn closed(points: &[(f64, f64)]) -> BezPath {
    let mut p = poly(points);
    p.close_path();
    p
}

fn mark(path: BezPath, pen: Pen) -> Mark {
    Mark { path, pen: Some(pen), fill: Tone::None, hatch: false }
}

fn label(at: (f64, f64), text: &str) -> Label {
    Label {
        at: Point::new(at.0, at.1),
        anchor: Anchor::Middle,
        turn: 0.0,
        size: 3.2,
        text: text.into(),
        bold: false,
    }
}

fn arrow(tip: (f64, f64), way: f64) -> Mark {
    let path = closed(&[tip, (tip.0 - 2.2 * way, tip.1 + 0.4), (tip.0 - 2.2 * way, tip.1 - 0.4)]);
    Mark { path, pen: None, fill: Tone::Ink, hatch: false }
}

/// A pillar in half section at 2:1, with sizes along and across.
pub fn pillar(case: &Typecase) -> Sketch {
    let (x0, x1, mid) = (14.0, 104.0, 30.0);
    let body = closed(&[(x0, mid), (x0, mid + 10.0), (x1, mid + 10.0), (x1, mid)]);
    let below = poly(&[(x0, mid), (x0, mid - 10.0), (x1, mid - 10.0), (x1, mid)]);
    let bore = closed(&[(x0, mid), (x0, mid + 4.0), (x0 + 22.0, mid + 4.0), (x0 + 24.3, mid)]);
    let mut marks = vec![
        Mark { path: body, pen: None, fill: Tone::None, hatch: true },
        Mark { path: bore, pen: None, fill: Tone::White, hatch: false },
        mark(poly(&[(x0, mid), (x0, mid + 10.0), (x1, mid + 10.0), (x1, mid)]), Pen::Visible),
        mark(poly(&[(x0, mid + 4.0), (x0 + 22.0, mid + 4.0), (x0 + 22.0, mid)]), Pen::Visible),
        mark(poly(&[(x0 + 22.0, mid + 4.0), (x0 + 24.3, mid)]), Pen::Visible),
        mark(below, Pen::Visible),
        mark(poly(&[(x0, mid - 4.0), (x0 + 22.0, mid - 4.0), (x0 + 24.3, mid)]), Pen::Hidden),
        mark(poly(&[(x0, mid + 4.7), (x0 + 18.0, mid + 4.7)]), Pen::Thread),
        mark(poly(&[(x0 - 6.0, mid), (x1 + 6.0, mid)]), Pen::Centre),
    ];
    let y = mid - 17.0;
    for x in [x0, x1] {
        marks.push(mark(poly(&[(x, mid - 11.0), (x, y - 1.5)]), Pen::Thin));
    }
    marks.push(mark(poly(&[(x0, y), (x1, y)]), Pen::Thin));
    marks.push(arrow((x0, y), -1.0));
    marks.push(arrow((x1, y), 1.0));
    let xd = x1 + 12.0;
    for dy in [10.0, -10.0] {
        marks.push(mark(poly(&[(x1 + 1.0, mid + dy), (xd + 1.5, mid + dy)]), Pen::Thin));
    }
    marks.push(mark(poly(&[(xd, mid - 10.0), (xd, mid + 10.0)]), Pen::Thin));
    let up = Label {
        at: Point::new(xd - 1.2, mid),
        turn: std::f64::consts::FRAC_PI_2,
        ..label((0.0, 0.0), "⌀10 h7")
    };
    let long = "45.00 ±0.05";
    let half = case.width(long, 3.2, false) / 2.0 + 0.8;
    let at = ((x0 + x1) / 2.0, y - 1.1);
    marks.push(Mark {
        path: Rect::new(at.0 - half, at.1 - 0.8, at.0 + half, at.1 + 3.2).to_path(0.1),
        pen: None,
        fill: Tone::White,
        hatch: false,
    });
    let labels = vec![label(at, long), up, label((x0 + 12.0, mid + 15.0), "M4, 11 deep")];
    Sketch { width: 124.0, height: 50.0, marks, labels, scale: (2, 1), title: "pillar".into() }
}

/// A dividing plate of paper: a square of 120 mm with cross lines.
pub fn plate() -> Sketch {
    let s = 120.0;
    let mut marks = vec![mark(Rect::new(0.5, 0.5, s - 0.5, s - 0.5).to_path(0.1), Pen::Frame)];
    marks.push(mark(poly(&[(s / 2.0, 2.0), (s / 2.0, s - 2.0)]), Pen::Centre));
    marks.push(mark(poly(&[(2.0, s / 2.0), (s - 2.0, s / 2.0)]), Pen::Centre));
    for (x, y) in [(30.0, 30.0), (90.0, 30.0), (90.0, 90.0), (30.0, 90.0)] {
        marks.push(mark(poly(&[(x - 2.0, y), (x + 2.0, y)]), Pen::Thin));
        marks.push(mark(poly(&[(x, y - 2.0), (x, y + 2.0)]), Pen::Thin));
    }
    let labels = vec![label((35.0, 25.0), "centre 1"), label((95.0, 25.0), "centre 2")];
    Sketch { width: s, height: s, marks, labels, scale: (1, 1), title: "Plate centres".into() }
}

/// Turning a shank: what an operation looks like.
pub fn turning(number: &str) -> Operation {
    Operation {
        number: number.into(),
        title: "Turn the shank to the thread's outside".into(),
        time: "12 min".into(),
        machine: "bench lathe".into(),
        grip: "8 mm collet, 16 mm out".into(),
        tool: "knife tool, high-speed steel, nose 0.1 mm".into(),
        more: vec![],
        speed: Some(Figure::new("speed", "1 150 rpm").note("14.5 m/min at ⌀4")),
        feed: Some(Figure::new("feed by hand", "0.05 mm").note("each turn")),
        dials: vec![
            Figure::new("cross slide, from touching ⌀8", "2.00 mm").note("dial reads radius: 40 div of 0.05"),
            Figure::new("stop along", "11.00 mm"),
        ],
        cautions: vec![Caution {
            title: "Rotating work".into(),
            lines: vec![
                "Eyes covered, sleeves tied back, no gloves at the lathe. Take the key out of the chuck before the \
                 motor starts."
                    .into(),
            ],
        }],
        steps: vec![
            "Face the end; touch the bar at ⌀8 and set the cross-slide dial to zero.".into(),
            Text::from("Rough in three passes of 0.6 mm, then one of 0.15 mm. Measure at ").bold("⌀4.10").plain("."),
            "Take the last cut without stopping the feed. Break the corner 0.1 × 45°.".into(),
        ],
        detail: vec![],
        checks: vec![
            Check {
                what: "shank across".into(),
                limits: "3.92 … 4.00 mm".into(),
                with: "micrometer 0–25".into(),
                unit: "mm".into(),
            },
            Check {
                what: "shank along, shoulder to end".into(),
                limits: "11.0 … 11.2 mm".into(),
                with: "depth rod of the caliper".into(),
                unit: "mm".into(),
            },
        ],
    }
}

/// A cut list of many rows in groups of four.
pub fn long_table(rows: usize) -> Table {
    let row = |i: usize| {
        let r = Row::new([
            Cell::from((i + 1).to_string()),
            Cell::from(format!("bridge screw {}", i + 1)),
            Cell::from("silver steel, drawn, ground; cut with 1 mm to spare at each end"),
            Cell::from("⌀8 × 17"),
            Cell::from(format!("{}", 2 + i % 9)),
            Cell::tick(),
        ]);
        if i.is_multiple_of(4) { r } else { r.with_above() }
    };
    Table {
        columns: vec![
            Column::fix("no.", 10.0).right(),
            Column::auto("part"),
            Column::share("stock", 1.0),
            Column::auto("size, mm"),
            Column::auto("pieces").right(),
            Column::auto("cut").middle(),
        ],
        rows: (0..rows).map(row).collect(),
        ruling: Ruling::Rules,
        size: 0.0,
    }
}

/// T = 2π √(L/g) (1 + θ₀²/16).
pub fn swing() -> Formula {
    let series = Formula::Row(vec![
        Formula::words("1"),
        Formula::sign("+"),
        Formula::over(
            Formula::Index(
                Box::new(Formula::name("θ")),
                Some(Box::new(Formula::words("0"))),
                Some(Box::new(Formula::words("2"))),
            ),
            Formula::words("16"),
        ),
    ]);
    let root = Formula::root(Formula::over(Formula::name("L").lower("eff"), Formula::name("g")));
    let right = Formula::Row(vec![
        Formula::words("2 π\u{2009}"),
        root,
        Formula::words("\u{2009}"),
        Formula::bracket(series),
    ]);
    Formula::equal(Formula::name("T"), right)
}

fn pairs() -> Vec<(Text, Text)> {
    vec![
        ("material".into(), "silver steel, drawn".into()),
        ("stock".into(), "⌀8 × 17 mm, 10 pcs".into()),
        ("thread".into(), "M4 × 0.7, 6g".into()),
        ("finish".into(), "harden, polish, blue at 290 °C".into()),
    ]
}

/// A document with every kind of block.
pub fn demo(case: &Typecase, paper: Paper) -> Packet {
    let passes = Table {
        columns: vec![
            Column::auto("pass").right(),
            Column::auto("depth, mm").right(),
            Column::auto("dial").right(),
            Column::auto("⌀ after, mm").right(),
            Column::share("remark", 1.0),
        ],
        rows: [
            ("1", "0.60", "12", "6.80", "roughing"),
            ("2", "0.60", "24", "5.60", ""),
            ("3", "0.60", "36", "4.40", ""),
            ("4", "0.15", "39", "4.10", "measure before the last"),
        ]
        .iter()
        .map(|r| Row::new([r.0, r.1, r.2, r.3, r.4]))
        .collect(),
        ruling: Ruling::Bands,
        size: 0.0,
    };
    let cover = Sheet {
        title: "Bench packet".into(),
        part: String::new(),
        number: "B7-00".into(),
        blocks: vec![
            Block::Heading(1, "Hall regulator: ten screws and a pillar".into()),
            Block::Para(
                Text::from("Everything below was computed from the project as it stood at state ")
                    .bold("B7")
                    .plain(". A sheet whose number is no longer current is refused when its figures are entered; \
                        print it again then. Lengths are in millimetres unless a unit stands beside them."),
            ),
            Block::Contents(2),
            Block::Heading(2, "What was assumed".into()),
            Block::Dots(vec![
                "Free-cutting brass is turned at 60 m/min with high-speed steel.".into(),
                Text::from("The cross slide reads ").bold("radius").plain(", 0.05 mm to a division, because the shop file does not say."),
                Text::from("Collet runout 0.02 mm ").italic("(common practice, no source)").plain("."),
            ]),
            Block::Heading(2, "Working, for one number".into()),
            Block::Formula(swing(), "period of a pendulum of effective length L for half arc θ; the bracket is the first term of the series".into()),
            Block::Para(Text::from("With ").italic("L").lower("eff").plain(" = 993.62 mm and ").italic("g")
                .plain(" = 9.80665 m/s").upper("2").plain(" the period is 2.0000 s. Program word: ").mono("G76 P010060 Q50 R0.02").plain(".")),
        ],
    };
    let part = Sheet {
        title: "Drawing and stock".into(),
        part: "Pillar, four off".into(),
        number: "B7-01".into(),
        blocks: vec![
            Block::Heading(1, "Pillar".into()),
            Block::Picture(Picture {
                sketch: pillar(case),
                fit: Fit::True,
                caption: "Half section, 2 : 1. Corners without a size are broken 0.1 × 45°.".into(),
            }),
            Block::Columns(vec![
                (1.0, vec![Block::Heading(3, "Stock".into()), Block::Facts(pairs())]),
                (
                    1.0,
                    vec![
                        Block::Heading(3, "In short".into()),
                        Block::Steps(vec![
                            "Cut ten blanks, 17 mm.".into(),
                            "Turn and thread.".into(),
                            "Part off, dome the head, polish.".into(),
                        ]),
                    ],
                ),
            ]),
            Block::Heading(2, "Set up".into()),
            Block::Figures(vec![
                Figure::new("index", "60 × 6°").note("direct, plate B, every 6th hole"),
                Figure::new("gap", "0.03 mm"),
                Figure::new("temper", "290 °C").note("blue"),
            ]),
            Block::Caution(Caution {
                title: "Hot metal and quench".into(),
                lines: vec![
                    "Quench oil can catch fire: keep a lid for the tin at hand, never water.".into(),
                    "Red-hot steel looks cold in sunlight.".into(),
                ],
            }),
            Block::Remark("The figures above are for the demonstration of this sheet only.".into()),
        ],
    };
    let mut second = turning("2");
    second.title =
        "Rough the head and the shank, a long title that needs more than one line to be said in full".into();
    second.detail = vec![Block::Table(passes)];
    let mut many = turning("10b");
    many.more = vec![("stop".into(), "bed stop at 42.5".into()), ("coolant".into(), "none".into())];
    many.checks.extend(std::iter::repeat_n(turning("").checks[0].clone(), 4));
    let work = Sheet {
        title: "Operations".into(),
        part: "Pillar, four off".into(),
        number: "B7-02".into(),
        blocks: vec![
            Block::Heading(1, "Operations on the pillar".into()),
            Block::Operation(Box::new(turning("1"))),
            Block::Operation(Box::new(second)),
            Block::Operation(Box::new(many)),
        ],
    };
    let list = Sheet {
        title: "Cut list".into(),
        part: String::new(),
        number: "B7-03".into(),
        blocks: vec![Block::Heading(1, "Cut list".into()), Block::Table(long_table(90))],
    };
    let template = Sheet {
        title: "Template".into(),
        part: "Plate centres".into(),
        number: "B7-04".into(),
        blocks: vec![Block::Template(Template {
            sketch: plate(),
            note: "Glue on with paper adhesive; prick the centres through.".into(),
        })],
    };
    Packet { paper, about: about(), sheets: vec![cover, part, work, list, template] }
}

/// A folder for the files of one test.
pub fn folder(name: &str) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&dir).expect("the test folder can be made");
    dir
}

/// Runs a program of the package poppler-utils.
pub fn poppler(program: &str, args: &[&str], at: &Path) -> Vec<u8> {
    let out = Command::new(program).args(args).current_dir(at).output();
    let out =
        out.unwrap_or_else(|e| panic!("{program} does not run ({e}): install the package poppler-utils"));
    assert!(out.status.success(), "{program}: {}", String::from_utf8_lossy(&out.stderr));
    out.stdout
}
