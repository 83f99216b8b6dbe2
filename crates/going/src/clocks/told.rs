//! The answer of a study, as numbers of the book.

use super::{Clocks, FIGURES, OUTLINES, VERDICTS};
use crate::study::{LIKELY, Likely, SHARES, SPREAD, Sample, Share, Spread, TIGHTER, Tighter};
use reckon::print::{fixed, significant};
use reckon::{Book, Cell, Id, Ratio};

/// What one dimension does.
#[derive(Clone, Debug)]
pub struct By {
    /// Number of the dimension.
    pub dimension: usize,
    /// Its share of the variance: of arc, of rate, and of whether all holds.
    pub shares: [Option<Share>; 3],
    /// With limits half as wide.
    pub halved: Option<Tighter>,
    /// With limits nine tenths as wide.
    pub tenth: Option<Tighter>,
}
/// Clocks whose outlines are no escapement.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Amiss {
    /// How many.
    pub clocks: usize,
    /// The first of them, and why.
    pub first: Option<(usize, String)>,
}
/// The answer.
#[derive(Clone, Debug)]
pub struct Answer {
    /// How likely each verdict is.
    pub likely: Vec<Likely>,
    /// How likely all hold.
    pub all: Likely,
    /// How each figure is spread.
    pub spreads: Vec<Option<Spread>>,
    /// What each dimension does, what moves the arc most first.
    pub by: Vec<By>,
    /// Clocks whose outlines are no escapement: they jam, meet no tooth or let none go.
    pub amiss: Amiss,
}
impl Clocks {
    /// The answer of what was drawn; its numbers go into the book under `going.study`.
    pub fn answer(&self, sample: &Sample, book: &mut Book) -> Answer {
        let of = vec![self.table];
        let clocks = format!("{} clocks drawn from seed {}", sample.clocks(), sample.seed);
        let mut put = |name: &str, v: f64, half: f64, source| -> Id {
            let how = (clocks.as_str(), u32::try_from(sample.clocks()).unwrap_or(u32::MAX), half);
            book.solved(format_args!("going.study.{name}"), Ratio::si(v), how, of.clone(), source).id()
        };
        let mut ids = Vec::new();
        let likely: Vec<Likely> = (0..VERDICTS.len()).map(|v| sample.likely(v)).collect();
        let all = sample.likely_all();
        let names = ["escapes", "keeps_going", "holds_its_arc"];
        for (name, l) in names.iter().copied().zip(&likely).chain([("all", &all)]) {
            if l.of > 0 {
                ids.push(put(&format!("likely.{name}"), l.share, (l.high - l.low) / 2.0, &LIKELY));
            }
        }
        let spreads: Vec<Option<Spread>> = (0..FIGURES.len()).map(|f| sample.spread(f)).collect();
        let figures = [
            "arc_degrees",
            "rate_s_per_day",
            "hold_entry",
            "hold_exit",
            "drop_after_entry",
            "drop_after_exit",
        ];
        for (name, s) in figures.iter().zip(&spreads) {
            let Some(s) = s else { continue };
            let error = s.deviation / (s.of as f64).sqrt();
            put(&format!("{name}.mean"), s.mean, error, &SPREAD);
            put(&format!("{name}.deviation"), s.deviation, error, &SPREAD);
            for (at, q) in ["low", "median", "high"].iter().zip([0, 2, 4]) {
                put(&format!("{name}.{at}"), s.quantiles[q], error, &SPREAD);
            }
        }
        let shares = [sample.shares_of(0), sample.shares_of(1), sample.shares_of_all()];
        let (halved, tenth) = (sample.tighter(0.5), sample.tighter(0.9));
        let mut by: Vec<By> = (0..self.study.dimensions.len())
            .map(|d| By {
                dimension: d,
                shares: [0, 1, 2].map(|i| shares[i].as_ref().map(|s| s[d])),
                halved: halved[d],
                tenth: tenth[d],
            })
            .collect();
        let first = |b: &By| b.shares[0].map_or(0.0, |s| s.share);
        by.sort_by(|a, b| first(b).total_cmp(&first(a)).then(a.dimension.cmp(&b.dimension)));
        let amiss = self.amiss(sample);
        if sample.clocks() > 0 {
            put("amiss", amiss.clocks as f64 / sample.clocks() as f64, 0.0, &OUTLINES);
            self.table_of(&by, &ids, book);
        }
        Answer { likely, all, spreads, by, amiss }
    }
    fn table_of(&self, by: &[By], ids: &[Id], book: &mut Book) {
        let cell = |x: Option<f64>, text: Option<String>| match (x, text) {
            (Some(x), Some(t)) => Cell::as_text(&Ratio::si(x), t),
            _ => Cell::word("–"),
        };
        let share = |s: Option<Share>| {
            cell(
                s.map(|s| s.share),
                s.map(|s| format!("{} ± {}", fixed(s.share * 100.0, 1), fixed(s.error * 100.0, 1))),
            )
        };
        let gain = |t: Option<Tighter>| {
            cell(
                t.map(|t| t.gain),
                t.map(|t| format!("{} ± {}", fixed(t.gain * 100.0, 2), fixed(t.error * 100.0, 2))),
            )
        };
        let rows = by
            .iter()
            .map(|b| {
                let line = &self.lines[b.dimension];
                vec![
                    Cell::word(&*self.study.dimensions[b.dimension].name),
                    Cell::as_text(
                        &Ratio::si(line.half),
                        format!("{} {}", significant(line.half, 3), line.unit),
                    ),
                    share(b.shares[0]),
                    share(b.shares[1]),
                    share(b.shares[2]),
                    gain(b.halved),
                    gain(b.tenth),
                ]
            })
            .collect();
        let columns = [
            "what varies",
            "to either side",
            "of the arc's variance, %",
            "of the rate's",
            "of whether all holds",
            "limits halved: more clocks hold, %",
            "a tenth narrower",
        ];
        let rule = "each alone; what several do together is the rest to a hundred";
        book.table("going.study.offenders", &columns, rows, rule, ids.to_vec(), &SHARES);
        let mut inputs = vec![self.table];
        inputs.extend(ids);
        let gains: Vec<Vec<Cell>> = by
            .iter()
            .filter(|b| b.halved.is_some_and(|t| t.sure()))
            .map(|b| vec![Cell::word(&*self.study.dimensions[b.dimension].name), gain(b.halved)])
            .collect();
        let columns = ["worth a tighter limit", "limits halved: more clocks hold, %"];
        book.table("going.study.worth_it", &columns, gains, "gains beyond chance", inputs, &TIGHTER);
    }
    /// Those whose outlines are no escapement: they have no figures.
    fn amiss(&self, sample: &Sample) -> Amiss {
        let none = |o: &crate::study::Outcome| o.figures.iter().all(|f| f.is_nan());
        let mut all = sample.outcomes.iter().enumerate().filter(|(_, o)| none(o)).map(|(i, _)| i);
        let why = |i: usize| self.found(&sample.sizes[i]).err();
        let first = all.next();
        Amiss {
            clocks: usize::from(first.is_some()) + all.count(),
            first: first.and_then(|i| Some((i + 1, why(i)?))),
        }
    }
}
