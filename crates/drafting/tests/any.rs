//! Parts of any shape with any sizes, on paper of any shape from a small card up: all is placed, nothing overlaps.

mod common;

use common::{Even, faults};
use drafting::size::{Paper, Size, Text};
use drafting::turned::draw;
use kurbo::Point;
use proptest::prelude::*;
use shape::turned::{Bore, End, FaceGroove, Feature, Form, Outer, Side, Turned};

fn text(words: &str, limits: bool) -> Text {
    if limits { Text::limits(words, "+0.012", "−0.034") } else { words.into() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_overlaps_whatever_the_part(
        steps in prop::collection::vec((1.0f64..30.0, 0.3f64..40.0, any::<bool>()), 1..7),
        bore in prop::option::of(0.1f64..0.7),
        slot in any::<bool>(),
        notes in 0usize..4,
        wide in 90.0f64..200.0,
        high in 70.0f64..200.0,
    ) {
        let mut outer = Outer::new();
        let mut sizes = Vec::new();
        let mut z = 0.0;
        for &(d, l, limits) in &steps {
            outer = outer.step(d, l);
            sizes.push(Size::Length { from: z, to: z + l, on: Side::Outside, text: text(&format!("{l:.2}"), limits) });
            sizes.push(Size::Diameter { at: z + l / 2.0, on: Side::Outside, text: text(&format!("⌀{d:.2}"), limits) });
            z += l;
        }
        let mut part = Turned::new(outer.profile());
        let thin = steps.iter().map(|s| s.0).fold(f64::MAX, f64::min);
        if let Some(share) = bore {
            part = part.bored(Bore::through(thin * share));
            sizes.push(Size::Diameter { at: z / 2.0, on: Side::Bore, text: text("⌀", true) });
        }
        if slot {
            part = part.with(Feature::Slot { end: End::Datum, width: steps[0].0 * 0.1, depth: steps[0].1 * 0.4 });
            sizes.push(Size::SlotWidth { feature: 0, text: "slot".into() });
        }
        for k in 0..notes {
            let (d, l, _) = steps[k % steps.len()];
            let before: f64 = steps[..k % steps.len()].iter().map(|s| s.1).sum();
            sizes.push(Size::Note { at: Point::new(before + l * 0.3, d / 2.0), text: "polish and blue".into() });
        }
        let paper = Paper::new("any", wide, high);
        let s = draw(&part, &sizes, &paper, &Even).map_err(|e| TestCaseError::fail(e.to_string()))?;
        prop_assert_eq!(faults(&s, wide, high), Vec::<String>::new());
        // Every size that was asked for is there once.
        let figures = s.labels.iter().filter(|l| l.text.starts_with('⌀')).count();
        prop_assert_eq!(figures, steps.len() + usize::from(bore.is_some()));
        // Same input, same drawing.
        prop_assert_eq!(draw(&part, &sizes, &paper, &Even), Ok(s));
    }

    #[test]
    fn washers_of_any_size_in_a_half_page(
        size in 4.0f64..60.0,
        hole in 0.1f64..0.4,
        thick in 0.05f64..0.3,
        grooves in 0usize..5,
        square in any::<bool>(),
    ) {
        let t = size * thick;
        let mut part = Turned::stepped(&[(size, t)]).bored(Bore::through(size * hole));
        let mut sizes = vec![
            Size::Length { from: 0.0, to: t, on: Side::Outside, text: text(&format!("{t:.2}"), true) },
            Size::Diameter { at: t / 2.0, on: Side::Outside, text: text(&format!("⌀{size:.2}"), true) },
            Size::Diameter { at: t / 2.0, on: Side::Bore, text: text(&format!("⌀{:.2}", size * hole), true) },
        ];
        for k in 0..grooves {
            let d = size * (0.5 + 0.11 * f64::from(u32::try_from(k).expect("few")));
            let form = if square { Form::Square } else { Form::Round };
            let groove = FaceGroove { end: End::Far, diameter: d, width: size * 0.03, depth: t * 0.2, form };
            part = part.with(Feature::FaceGroove(groove));
            let first = k == 0;
            sizes.push(Size::Groove {
                feature: k,
                diameter: Some(text(&format!("⌀{d:.2}"), false)),
                width: first.then(|| text("width", false)),
                depth: first.then(|| text("depth", false)),
            });
        }
        prop_assert_eq!(part.unsound(), vec![]);
        let s = draw(&part, &sizes, &Paper::new("washer", 180.0, 120.0), &Even);
        let s = s.map_err(|e| TestCaseError::fail(e.to_string()))?;
        prop_assert_eq!(faults(&s, 180.0, 120.0), Vec::<String>::new());
    }
}
