//! `going`: the clock let go in simulation, before it is cut.

pub mod page;
mod sizes;

use crate::args;
use crate::begin;
use crate::enter::rating;
use crate::folder::Folder;
use crate::look::{Look, Paint, clean, columns, counted};
use crate::outcome::{Outcome, Stopped};
use crate::told;
use crate::work::Work;
use going::forecast::measured::{Beside, Measured, beside};
use going::forecast::{self, Flow, Forecast, PARTS, Stand, Stop, words};
use going::steady::Ran;
use going::{End, Model};
use reckon::print::{fixed, significant};
use reckon::text;
use reckon::units::Dimension;
use reckon::{Origin, Place, Trouble};
use serde_json::{Value, json};

/// Where measurements of the journal came from.
const JOURNAL: &str = "by the ratings of the journal since the clock was last touched";
/// The middle of the run, as a part of it.
const HALF_WAY: f64 = 0.5;

/// Forecasts it.
///
/// # Errors
/// When the project cannot be read, or what was measured cannot.
pub fn run(args: &args::Going, look: Look) -> Result<Outcome, Stopped> {
    let folder = match &args.example {
        Some(name) => Folder::example(begin::example(name)?),
        None => Folder::read(&args.dir, &args::Shop::default())?,
    };
    let texts = folder.texts();
    let mut work = Work::designed(&folder);
    let refused = |all: &[Trouble]| {
        let exit = crate::exit::worst(all);
        if args.json {
            let all = json!({ "troubles": told::as_json(all, &texts) });
            return Outcome { out: format!("{all:#}\n"), exit, ..Outcome::default() };
        }
        Outcome { err: told::all(all, &texts, look.err), exit, ..Outcome::default() }
    };
    let stops: Vec<Trouble> = work.troubles.iter().filter(|t| t.stops()).cloned().collect();
    if !stops.is_empty() {
        return Ok(refused(&stops));
    }
    let from_journal = rating::goes(&work);
    let measured = measured(args)?.or_else(|| logged(&from_journal));
    if let Err(all) = work.forecast() {
        return Ok(refused(&all));
    }
    let Some((model, found)) = work.going.take() else { return Ok(Outcome::default()) };
    if args.clocks.is_some() {
        return crate::study::run(args, &mut work, &model, look);
    }
    let run = model.run.bare().value();
    let over = measured.as_ref().map_or(0.0, |m| if m.by == JOURNAL { m.over } else { m.over / run });
    if over > 1.0 {
        return Err(typed(
            "after",
            args.after.as_deref(),
            Trouble::text("that is after the end of the run")
                .why(format!("it goes {} on one winding", model.run.shown())),
        ));
    }
    let compared = measured.map(|m| {
        let turn = work.movement.as_ref().and_then(|m| m.pendulum.as_ref()?.nut.as_ref()).map(|n| n.turn);
        let got = Measured { over, ..m };
        (got, beside(&model, got, turn, &mut work.book))
    });
    let mut page = None;
    if let Some(dir) = &args.out {
        let name = work.project.as_ref().and_then(|p| p.clock.as_ref()).map_or("", |c| c.name.as_str());
        let shown = work.movement.as_ref().and_then(|d| page::going_page(name, d, &model, &found));
        let Some(text) = shown else {
            let t = Trouble::design("there is nothing to show moving: at no place of the run does it go");
            return Ok(refused(&[t.cure("brasswright going, without --out, tells why")]));
        };
        page = crate::files::write_all(dir, &[("going.html".to_owned(), text.into_bytes())])?.pop();
    }
    let every = args.every_beat.then(|| forecast::through(&model, End::Likely));
    let failing: Vec<Trouble> = work
        .book
        .failing()
        .filter(|l| l.name.starts_with("going."))
        .filter_map(|l| work.failing(&l.name))
        .collect();
    let failing = told::in_order(failing);
    let exit = crate::exit::worst(&failing);
    let all = All {
        work: &work,
        model: &model,
        found: &found,
        compared: compared.as_ref(),
        every: every.as_ref(),
        goes: &from_journal,
    };
    if args.json {
        let mut json = all.as_json();
        json["troubles"] = told::as_json(&failing, &texts);
        return Ok(Outcome { out: format!("{json:#}\n"), exit, ..Outcome::default() });
    }
    let mut out = all.said(look);
    if let Some(path) = page {
        out += &format!("Moving, in a browser: {}\n", clean(&path.display().to_string()));
    }
    let err = told::all(&failing, &texts, look.err);
    Ok(Outcome { out, err, exit })
}
/// A trouble of what was typed.
fn typed(flag: &str, text: Option<&str>, t: Trouble) -> Stopped {
    let end = text.map_or(0, str::len);
    let at = Place { file: format!("command line, --{flag}").into(), line: 0, column: 1, start: 0, end };
    Stopped { exit: crate::exit::TEXT, trouble: t.at(at) }
}
fn read(flag: &str, written: &str, want: Dimension, between: (f64, f64), says: &str) -> Result<f64, Stopped> {
    let at = Place {
        file: format!("command line, --{flag}").into(),
        line: 0,
        column: 1,
        start: 0,
        end: written.len(),
    };
    let v = text::read(written, want)
        .map_err(|fault| Stopped { exit: crate::exit::TEXT, trouble: fault.placed_in(&at, written) })?;
    if v >= between.0 && v <= between.1 {
        return Ok(v);
    }
    Err(typed(flag, Some(written), Trouble::text(says)))
}
/// What was measured, where anything was; the time since winding stands in place of the part of the run.
fn measured(args: &args::Going) -> Result<Option<Measured>, Stopped> {
    let arc = match &args.arc {
        Some(t) => Some(read(
            "arc",
            t,
            Dimension::Angle,
            (1e-4, 0.5),
            "an arc from the middle to one side lies between 0.01 and 28 degrees",
        )?),
        None => None,
    };
    let rate = match &args.rate {
        Some(t) => Some(rate(t)?),
        None => None,
    };
    let over = match &args.after {
        Some(t) => read(
            "after",
            t,
            Dimension::Time,
            (0.0, f64::INFINITY),
            "a time after winding is not below nothing",
        )?,
        None => 0.0,
    };
    if arc.is_none() && rate.is_none() {
        if args.after.is_some() {
            return Err(Stopped::wrong_use("--after says when something was measured, and nothing was")
                .cure("add --arc or --rate"));
        }
        return Ok(None);
    }
    Ok(Some(Measured { arc, rate, over, by: "as told on the command line" }))
}
/// What the journal tells of how the clock goes; since when it is wound is not in it, so the middle of the run is taken.
fn logged(goes: &rating::Goes) -> Option<Measured> {
    let (arc, rate) = (goes.arc.as_ref().map(|a| a.0), goes.rate.as_ref().map(|r| r.0));
    (arc.is_some() || rate.is_some()).then_some(Measured { arc, rate, over: HALF_WAY, by: JOURNAL })
}
/// `+3 s/day`, `-0.5 s/d`, `3`.
fn rate(written: &str) -> Result<f64, Stopped> {
    let t = written.trim();
    let number = ["s/day", "s/d", "s"].iter().find_map(|unit| t.strip_suffix(unit)).unwrap_or(t).trim();
    let number = number.replace('−', "-");
    match number.parse::<f64>() {
        Ok(r) if r.abs() <= 7200.0 => Ok(r),
        Ok(_) => Err(typed(
            "rate",
            Some(written),
            Trouble::text("that is more than two hours a day")
                .cure("give the rate in seconds a day, such as \"+3 s/day\""),
        )),
        Err(_) => Err(typed(
            "rate",
            Some(written),
            Trouble::text(format!("'{}' is no rate", clean(written)))
                .cure("seconds a day, gaining with +: \"+3 s/day\""),
        )),
    }
}
/// What is told.
struct All<'a> {
    work: &'a Work,
    model: &'a Model,
    found: &'a Forecast,
    compared: Option<&'a (Measured, Beside)>,
    every: Option<&'a Ran>,
    goes: &'a rating::Goes,
}
impl All<'_> {
    fn name(&self) -> String {
        self.work.project.as_ref().and_then(|p| p.clock.as_ref()).map_or_else(String::new, |c| clean(&c.name))
    }
    fn said(&self, look: Look) -> String {
        let paint = Paint(look.out);
        let (m, f) = (self.model, self.found);
        let mut out = format!(
            "{}: {} escapement, a beat of {}, {} on one winding; swing from the middle to one side\n\n",
            paint.strong(&self.name()),
            m.kind.word(),
            m.beat.shown(),
            m.run.shown()
        );
        out += &self.table(paint);
        out += &self.flows();
        out += &self.against_arc();
        for (place, end, stop) in &f.stops {
            out += &self.stood(*place, *end, stop);
        }
        if let Some(after) = f.stops_at {
            let days = after.bare().value() * m.run.bare().value() / 86_400.0;
            out += &format!(
                "As it is likely it stops after {} days of {}.\n",
                fixed(days, 1),
                fixed(m.run.bare().value() / 86_400.0, 1)
            );
        }
        if let Some(r) = f.nut_takes {
            out += &format!(
                "\nRates stand against the middle of the run. As set out it goes {} s/day there; the nut takes that up.\n",
                words::signed(r.bare().value())
            );
        }
        out += &self.beyond();
        out += &sizes::said(f.by_size.as_ref(), paint);
        if let Some(ran) = self.every {
            out += &self.every_beat(ran);
        } else {
            out += "Arcs are those that settle under the torque of each place; --every-beat follows all beats.\n";
        }
        if let Some((got, b)) = self.compared {
            out += &self.beside(got, b);
        }
        out += &self.verdicts(paint);
        out += "\nEvery number: brasswright why 'going.**'\n";
        out
    }
    fn table(&self, paint: Paint) -> String {
        let (m, f) = (self.model, self.found);
        let head =
            ["", "if", "arc", "s/day", "keeps on from", "hold", "drop", "recoil", "torque", "over least"];
        let mut rows = vec![head.map(str::to_owned).to_vec()];
        for s in &f.stands {
            let first = if s.end == End::Low { m.supply.places[s.place].what } else { "" };
            let mut row = vec![first.to_owned(), s.end.word().to_owned()];
            match &s.found {
                Ok(d) => {
                    let d2 = |a: reckon::Val<reckon::Angle>| words::degrees(a.bare().value());
                    row.extend([d2(d.arc), words::signed(f.regulated(d)), d2(d.least)]);
                    row.extend([d2(d.hold), d2(d.drop), d2(d.recoil)]);
                }
                Err(_) => row.extend(["stops", "", "", "", "", ""].map(str::to_owned)),
            }
            row.push(s.torque.shown());
            row.push(
                s.in_hand.map_or_else(|| "never".to_owned(), |k| format!("{} ×", fixed(k.bare().value(), 2))),
            );
            rows.push(row);
        }
        let mut text = String::new();
        for (i, line) in columns(&rows, 0).lines().enumerate() {
            text += &if i == 0 { paint.faint(line) } else { line.to_owned() };
            text.push('\n');
        }
        text
    }
    fn flows(&self) -> String {
        let likely: Vec<&Stand> =
            self.found.stands.iter().filter(|s| s.end == End::Likely && s.found.is_ok()).collect();
        let mut rows = vec![vec!["Where the energy goes, likely".to_owned()]];
        for s in &likely {
            rows[0].push(if likely.len() > 1 {
                self.model.supply.places[s.place].slug.to_owned()
            } else {
                String::new()
            });
        }
        let mut given = vec!["given by the escape wheel".to_owned()];
        for s in &likely {
            let Ok(d) = &s.found else { continue };
            given.push(format!("{} µW", significant(d.power.bare().value() * 1e6, 4)));
        }
        rows.push(given);
        for (what, part) in PARTS {
            let mut row = vec![format!("  {what}")];
            for s in &likely {
                let Ok(d) = &s.found else { continue };
                row.push(format!("{} %", fixed(part(&d.flow) / d.flow.given * 100.0, 1)));
            }
            rows.push(row);
        }
        if likely.is_empty() { String::new() } else { format!("\n{}", columns(&rows, 0)) }
    }
    /// Circular and escapement error, and how the rate follows the arc.
    fn against_arc(&self) -> String {
        let Some(a) = &self.found.arcs else { return String::new() };
        let mut out = String::from(
            "\nThe rate against the arc, in the middle of the run, from a free swing of no arc\n",
        );
        out += &format!(
            "  circular {} s/day, escapement {} s/day, both {} s/day\n",
            words::signed(a.here.circular),
            words::signed(a.here.escapement),
            words::signed(a.here.together())
        );
        let tenth = 0.1_f64.to_radians();
        for (by, why) in [(a.by_drive, "a stronger drive"), (a.by_loss, "a pendulum that loses less")] {
            if let Some(by) = by {
                out += &format!("  0.1° more by {why}: {} s/day\n", reckon::print::signed(by * tenth, 3));
            }
        }
        if let Some(arc) = a.flattest {
            out += &format!("  at {} it would not follow the drive\n", words::degrees(arc));
        }
        out
    }
    /// How it comes to stand, and where the energy went.
    fn stood(&self, place: usize, end: End, s: &Stop) -> String {
        let place = self.model.supply.places[place].what;
        let Some(halt) = s.halt else { return String::new() };
        let after = if s.beats == 0 {
            "at the first beat".to_owned()
        } else {
            format!(
                "after {} ({} min)",
                counted(usize::try_from(s.beats).unwrap_or(0), "beat"),
                fixed(s.time / 60.0, 1)
            )
        };
        let mut out = format!(
            "\n{place}, {}: set going at {}, {after} it {}:\n  {}.\n",
            end.word(),
            words::degrees(s.from),
            halt.word(),
            halt.says()
        );
        if s.flow.given > 0.0 {
            let took = |f: fn(&Flow) -> f64| fixed(f(&s.flow) / s.flow.given * 100.0, 0);
            let mut parts: Vec<String> =
                PARTS.iter().map(|(what, part)| format!("{what} {} %", took(*part))).collect();
            if s.flow.gained < 0.0 {
                parts.push(format!(
                    "the pendulum added {} % of its own",
                    fixed(-s.flow.gained / s.flow.given * 100.0, 0)
                ));
            }
            out += &format!("  Of what the wheel gave until then: {}.\n", parts.join(", "));
        }
        out
    }
    fn beyond(&self) -> String {
        let m = self.model;
        let percent = |r: reckon::Val<reckon::Ratio>| fixed(r.bare().value() * 100.0, 1);
        let (faces, whole, rest) = (m.faces_pass, m.passes[1], m.beyond[1]);
        if rest.bare().value() >= 1.0 {
            return format!(
                "At the running arc the faces alone pass {} %, and the losses count on {} %: nothing is left for crutch and pivots.\n",
                percent(faces),
                percent(whole)
            );
        }
        format!(
            "At the running arc the faces alone pass {} %; the losses count on {} %, so crutch and pivots pass {} %.\n",
            percent(faces),
            percent(whole),
            percent(rest)
        )
    }
    fn every_beat(&self, ran: &Ran) -> String {
        let m = self.model;
        let meant = ran.beats as f64 * m.beat.bare().value();
        let rate =
            86_400.0 * (meant - ran.time) / ran.time - self.found.nut_takes.map_or(0.0, |r| r.bare().value());
        match &ran.halt {
            None => format!(
                "All {} beats of the run followed, as it is likely: arc {} at the end, {} s/day over all.\n",
                ran.beats,
                words::degrees(ran.arc),
                words::signed(rate)
            ),
            Some(halt) => format!(
                "Every beat followed, as it is likely: after {} beats ({} days) it {}: {}.\n",
                ran.beats,
                fixed(ran.time / 86_400.0, 2),
                halt.word(),
                halt.says()
            ),
        }
    }
    fn beside(&self, got: &Measured, b: &Beside) -> String {
        let mut out = String::from("\nThe clock beside its model");
        out += &format!(
            ", {} days after winding\n",
            fixed(got.over * self.model.run.bare().value() / 86_400.0, 1)
        );
        if got.by == JOURNAL {
            let arc = self.goes.arc.iter().map(|(_, at)| format!("arc as read at {at}"));
            let rate = self.goes.rate.iter().map(|(_, _, from)| format!("rate by {from}"));
            let from: Vec<String> = arc.chain(rate).collect();
            out += &format!(
                "  by the journal: {}; the middle of the run is taken for when (--arc, --rate and --after tell it otherwise)\n",
                from.join(", ")
            );
        }
        let arc = |a: Option<f64>| a.map_or_else(|| "stops".to_owned(), words::degrees);
        if let Some(a) = got.arc {
            out += &format!(
                "  arc: {} measured; forecast {} (likely {}) to {}{}\n",
                words::degrees(a),
                arc(b.arcs[0]),
                arc(b.arcs[1]),
                arc(b.arcs[2]),
                match b.in_band.map(|v| v.bare()) {
                    Some(true) => ": as forecast",
                    Some(false) => ": outside of it",
                    None => "",
                }
            );
            for c in &b.causes {
                out += &format!(
                    "    alone it would be explained by: {} {} instead of {}; the rate moves by {} s/day\n",
                    c.says,
                    significant(c.value.bare().value(), 3),
                    significant(c.instead_of.bare().value(), 3),
                    words::signed(c.moves_rate.bare().value())
                );
            }
            for c in &b.cannot {
                out += &format!("    cannot be explained by the {c} alone\n");
            }
        }
        if let Some(r) = got.rate {
            let doubt = self.goes.rate.as_ref().filter(|_| got.by == JOURNAL).and_then(|g| g.1);
            let doubt = doubt.map_or(String::new(), |e| format!(" ± {}", significant(1.96 * e, 2)));
            out += &format!("  rate: {}{doubt} s/day measured", words::signed(r));
            if let Some(p) = b.rate {
                out += &format!("; forecast {} s/day with the pendulum as set out", words::signed(p));
            }
            out += &match b.nut {
                Some(n) if n.bare().value().abs() >= 5e-4 => format!(
                    "; the nut {} by {} of a turn",
                    if n.bare().value() > 0.0 { "up" } else { "down" },
                    fixed(n.bare().value().abs(), 3)
                ),
                _ => String::new(),
            };
            out.push('\n');
        }
        out
    }
    fn verdicts(&self, paint: Paint) -> String {
        let mut out = String::from("\n");
        for v in &self.found.verdicts {
            let Some(line) = self.work.book.line(v.id()) else { continue };
            let Origin::Verdict { says, holds, .. } = &line.origin else { continue };
            out += &if *holds {
                format!("{}  {says}\n", paint.good("holds"))
            } else {
                format!("{}  not so: {says}\n", paint.strong("FAILS"))
            };
        }
        out
    }
    fn as_json(&self) -> Value {
        let (m, f) = (self.model, self.found);
        let degrees = |a: f64| a.to_degrees();
        let places: Vec<Value> = f.stands.iter().map(|s| {
            let mut v = json!({
                "when": m.supply.places[s.place].what, "place": m.supply.places[s.place].slug, "part_of_run": m.supply.places[s.place].over,
                "if": s.end.word(), "torque_nm": s.torque.bare().value(),
                "least_torque_nm": s.least_torque.map(|t| t.bare().value()),
                "torque_over_least": s.in_hand.map(|k| k.bare().value()),
            });
            match &s.found {
                Ok(d) => {
                    v["goes"] = json!(true);
                    v["arc_degrees"] = json!(d.arc.bare().in_deg());
                    v["rate_s_per_day"] = json!(d.rate.bare().value());
                    v["rate_once_regulated_s_per_day"] = json!(f.regulated(d));
                    v["keeps_on_from_degrees"] = json!(d.least.bare().in_deg());
                    v["hold_at_landing_degrees"] = json!(d.hold.bare().in_deg());
                    v["drop_degrees"] = json!(d.drop.bare().in_deg());
                    v["recoil_degrees"] = json!(d.recoil.bare().in_deg());
                    v["uneven_s"] = json!(d.uneven.bare().value());
                    v["power_w"] = json!(d.power.bare().value());
                    v["energy_parts"] = parts(&d.flow);
                }
                Err(h) => {
                    v["goes"] = json!(false);
                    v["why"] = json!(h.says());
                }
            }
            v
        }).collect();
        let stops: Vec<Value> = f.stops.iter().map(|(place, end, s)| json!({
            "when": m.supply.places[*place].what, "if": end.word(), "from_degrees": degrees(s.from), "beats": s.beats, "time_s": s.time,
            "last_arc_degrees": degrees(s.last), "why": s.halt.map(|h| h.says()), "energy_parts": parts(&s.flow),
        })).collect();
        let verdicts: Vec<Value> = f
            .verdicts
            .iter()
            .filter_map(|v| {
                let line = self.work.book.line(v.id())?;
                let Origin::Verdict { says, holds, cures, .. } = &line.origin else { return None };
                Some(json!({ "name": line.name, "says": says, "holds": holds, "cures": cures }))
            })
            .collect();
        let curve = |end: End| -> Vec<Value> {
            let at = |p: &forecast::InWind| json!({ "part_of_run": p.over, "arc_degrees": degrees(p.arc), "rate_once_regulated_s_per_day": p.rate });
            f.curves[end.index()].iter().map(at).collect()
        };
        let against_arc = f.arcs.as_ref().map(|a| {
            let at = |p: &going::forecast::arcs::AtArc| json!({
                "arc_degrees": degrees(p.arc), "torque_over_likely": p.torque, "circular_s_per_day": p.circular,
                "escapement_s_per_day": p.escapement, "both_s_per_day": p.together(),
            });
            let tenth = 0.1_f64.to_radians();
            json!({
                "here": at(&a.here), "curve": a.curve.iter().map(at).collect::<Vec<Value>>(),
                "by_drive_s_per_day_per_tenth_degree": a.by_drive.map(|b| b * tenth),
                "by_loss_s_per_day_per_tenth_degree": a.by_loss.map(|b| b * tenth),
                "does_not_follow_at_degrees": a.flattest.map(degrees),
            })
        });
        let mut all = json!({
            "clock": self.name(), "escapement": m.kind.word(), "beat_s": m.beat.bare().value(), "run_s": m.run.bare().value(),
            "running_arc_degrees": m.arc.bare().in_deg(), "arc_needed_degrees": m.arc_needed.bare().in_deg(),
            "faces_pass": m.faces_pass.bare().value(), "crutch_and_pivots_pass": m.beyond.map(|b| b.bare().value()),
            "nut_takes_s_per_day": f.nut_takes.map(|r| r.bare().value()), "places": places, "stops": stops,
            "stops_after_part_of_run": f.stops_at.map(|s| s.bare().value()), "through_the_run": curve(End::Likely), "through_the_run_low": curve(End::Low), "through_the_run_high": curve(End::High), "rate_against_arc": against_arc,
            "verdicts": verdicts,
        });
        all["by_size"] = sizes::as_json(f.by_size.as_ref(), &self.work.book);
        if let Some(ran) = self.every {
            all["every_beat"] = json!({ "beats": ran.beats, "time_s": ran.time, "arc_degrees": degrees(ran.arc), "stopped": ran.halt.map(|h| h.says()) });
        }
        if let Some((got, b)) = self.compared {
            let causes: Vec<Value> = b.causes.iter().map(|c| json!({
                "cause": c.says, "would_be": c.value.bare().value(), "forecast": c.instead_of.bare().value(), "moves_rate_s_per_day": c.moves_rate.bare().value(),
            })).collect();
            all["measured"] = json!({
                "by": got.by, "arc_degrees": got.arc.map(degrees), "rate_s_per_day": got.rate, "part_of_run": got.over,
                "forecast_arc_degrees": b.arcs.map(|a| a.map(degrees)), "in_band": b.in_band.map(|v| v.bare()), "causes": causes,
                "cannot": b.cannot, "nut_turns_up": b.nut.map(|n| n.bare().value()),
            });
        }
        all
    }
}
fn parts(f: &Flow) -> Value {
    let mut all = json!({ "given_j": f.given, "gained_by_pendulum_j": f.gained });
    for (what, part) in PARTS {
        all[what] = json!(part(f));
    }
    all
}
