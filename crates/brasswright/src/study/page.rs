//! A study as a page: likelihoods, spreads, what moves what, and where a tighter limit buys.

use going::clocks::{Answer, By, Clocks, FIGURES, VERDICTS};
use going::study::{Likely, Sample, Share};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use reckon::print::{fixed, significant};

/// How it looks.
const STYLE: &str = include_str!("page.css");
/// What shares are of.
const OF: [&str; 3] = ["arc", "rate", "failing"];

fn percent(x: f64, places: usize) -> String {
    format!("{} %", fixed(x * 100.0, places))
}
/// A bar of a part of the whole, with the interval that holds it.
fn bar(part: f64, between: (f64, f64), says: &str) -> Markup {
    let x = |v: f64| fixed(v.clamp(0.0, 1.0) * 200.0, 2);
    let wide = (between.1.clamp(0.0, 1.0) - between.0.clamp(0.0, 1.0)) * 200.0;
    html! {
        svg.bar viewBox="0 0 200 14" role="img" aria-label=(says) {
            rect.ground width="200" height="14" {}
            rect.part width=(x(part)) height="14" {}
            rect.doubt x=(x(between.0)) y="5" width=(fixed(wide.max(0.6), 2)) height="4" {}
        }
    }
}
fn verdicts(a: &Answer) -> Markup {
    let row = |what: &str, l: &Likely| {
        let between = format!("{} to {}", percent(l.low, 2), percent(l.high, 2));
        let says = format!("{what}: {}, {between}", percent(l.share, 1));
        html! {
            tr {
                th scope="row" { (what) }
                td { (bar(l.share, (l.low, l.high), &says)) }
                td.number { (percent(l.share, 1)) }
                td.number { (between) }
                td.number { (l.holds) " of " (l.of) }
            }
        }
    };
    html! {
        h2 { "How likely it goes" }
        table {
            thead { tr { th { "" } th { "" } th { "of the clocks" } th { "with 95 % surety" } th { "counted" } } }
            tbody {
                @for (what, l) in VERDICTS.iter().zip(&a.likely) { (row(what, l)) }
                (row("all of it", &a.all))
            }
        }
    }
}
fn spreads(a: &Answer) -> Markup {
    html! {
        h2 { "How it is spread" }
        table {
            thead { tr { th { "" } th { "mean" } th { "deviation" } th { "19 of 20 lie between" } } }
            tbody {
                @for ((what, unit), s) in FIGURES.iter().zip(&a.spreads) {
                    @if let Some(s) = s {
                        tr {
                            th scope="row" { (what) ", " (unit) }
                            td.number { (fixed(s.mean, 2)) }
                            td.number { (fixed(s.deviation, 3)) }
                            td.number { (fixed(s.quantiles[0], 2)) " and " (fixed(s.quantiles[4], 2)) }
                        }
                    }
                }
            }
        }
    }
}
fn shares(c: &Clocks, a: &Answer) -> Markup {
    let cell = |b: &By, i: usize, name: &str| {
        let share: Option<Share> = b.shares[i];
        html! {
            @if let Some(s) = share {
                @let says = format!("{name}: {} of the variance of {}", percent(s.share.max(0.0), 1), OF[i]);
                td { (bar(s.share, (s.share - 1.96 * s.error, s.share + 1.96 * s.error), &says)) span.small { (percent(s.share.max(0.0), 1)) } }
            } @else {
                td { "–" }
            }
        }
    };
    html! {
        h2 { "What makes it vary" }
        p { "Shares of the variance by each size alone, what moves the arc most first; the pale stroke holds 95 in 100. What several do together is the rest." }
        table {
            thead { tr { th { "what varies" } th { "to either side" } @for of in OF { th { "of " (of) } } } }
            tbody {
                @for b in &a.by {
                    @let name = c.study.dimensions[b.dimension].name.as_str();
                    @let line = &c.lines[b.dimension];
                    tr {
                        th scope="row" { (name) }
                        td.number { (significant(line.half, 3)) " " (line.unit) }
                        @for i in 0..3 { (cell(b, i, name)) }
                    }
                }
            }
        }
    }
}
fn tighter(c: &Clocks, a: &Answer) -> Markup {
    let mut gains: Vec<(&str, going::study::Tighter)> =
        a.by.iter()
            .filter_map(|b| Some((c.study.dimensions[b.dimension].name.as_str(), b.halved?)))
            .collect();
    gains.sort_by(|x, y| y.1.gain.total_cmp(&x.1.gain));
    let most = gains.iter().map(|g| g.1.gain.abs() + 1.96 * g.1.error).fold(1e-9, f64::max);
    let (sure, none): (Vec<_>, Vec<_>) = gains.into_iter().partition(|g| g.1.sure() && g.1.gain > 0.0);
    let nothing: Vec<&str> = none.iter().map(|g| g.0).collect();
    html! {
        h2 { "Where a tighter limit buys" }
        @if sure.is_empty() {
            p { "No tighter limit of one size buys anything that shows." }
        } @else {
            table {
                thead { tr { th { "limits half as wide" } th { "" } th { "more clocks hold all of it" } } }
                tbody {
                    @for (name, t) in &sure {
                        @let says = format!("{name}: {} more", percent(t.gain, 2));
                        tr {
                            th scope="row" { (name) }
                            td { (bar(t.gain / most, ((t.gain - 1.96 * t.error) / most, (t.gain + 1.96 * t.error) / most), &says)) }
                            td.number { (percent(t.gain, 2)) " ± " (percent(1.96 * t.error, 2)) }
                        }
                    }
                }
            }
        }
        @if !nothing.is_empty() { p { "Nothing that shows at: " (nothing.join(", ")) "." } }
    }
}
/// The page; it needs nothing else.
#[must_use]
pub fn page(name: &str, c: &Clocks, sample: &Sample, a: &Answer) -> String {
    let n = sample.clocks();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (name) ": " (n) " clocks" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main.study {
                    h1 { (name) ": " (n) " of it" }
                    @if sample.partial() {
                        p { strong { "Interrupted: " (n) " of " (sample.asked) " clocks were drawn; this is the answer of these." } }
                    }
                    p { "Drawn from seed " (sample.seed) ", sizes " (c.way.says()) ". The outlines of each clock are followed at its own sizes." }
                    @if let Some((first, why)) = &a.amiss.first {
                        p { (a.amiss.clocks) " are no escapement as they came out, and count as failing everything; the first is clock " (first) ": " (why) "." }
                    }
                    @if n > 0 { (verdicts(a)) (tighter(c, a)) (shares(c, a)) (spreads(a)) }
                    p.small { "What varies, and why so much: brasswright why going.study.sizes" }
                }
            }
        }
    };
    page.into_string()
}
