//! Runs regions read as text and prints what came out and how long it took, for
//! comparison with a reference library by `crosscheck/run.py`.
//!
//! Standard input: a line `blank` or `tool` begins a polygon, a line `X Y` adds a corner in
//! millimetres. One blank, any number of tools, each next to its neighbour in the plane.
//! First argument: how many of the tools, evenly picked, to cut one after another; second:
//! offset in millimetres; third: its accuracy; fourth: how often to run each task.
//!
//! Standard output, one line a task: its name, the area in mm², corners, least seconds.

use std::error::Error;
use std::io::Read;
use std::time::Instant;

use kurbo::Point;
use shape::region::{Corner, Region};

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let mut word = || words.next().ok_or("arguments: cuts offset accuracy runs");
    let cuts: usize = word()?.parse()?;
    let by: f64 = word()?.parse()?;
    let within: f64 = word()?.parse()?;
    let runs: u32 = word()?.parse()?;

    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let (blank, tools) = read(&text)?;
    let blank = Region::polygon(&blank)?;

    let prepare = || tools.iter().map(|tool| Region::polygon(tool)).collect::<Result<Vec<_>, _>>();
    let swept = task("union", runs, || Ok(Region::union_of(&prepare()?)))?;
    let part = task("difference", runs, || Ok(blank.difference(&swept)))?;
    let every = tools.len().div_ceil(cuts.max(1)).max(1);
    let picked: Vec<Region> = prepare()?.into_iter().step_by(every).collect();
    task("in-order", runs, || Ok(picked.iter().fold(blank.clone(), |part, tool| part.difference(tool))))?;
    task("grown", runs, || Ok(part.offset(by, Corner::Round, within)?))?;
    task("shrunk", runs, || Ok(part.offset(-by, Corner::Round, within)?))?;
    task("mitred", runs, || Ok(part.offset(by, Corner::Mitre { limit: 4.0 }, within)?))?;
    Ok(())
}

fn task(
    name: &str,
    runs: u32,
    run: impl Fn() -> Result<Region, Box<dyn Error>>,
) -> Result<Region, Box<dyn Error>> {
    let mut result = Region::empty();
    let mut least = f64::INFINITY;
    for _ in 0..runs.max(1) {
        let begun = Instant::now();
        result = run()?;
        least = least.min(begun.elapsed().as_secs_f64());
    }
    println!("{name} {:?} {} {least:?}", result.area(), result.corners());
    Ok(result)
}

type Polygon = Vec<Point>;

fn read(text: &str) -> Result<(Polygon, Vec<Polygon>), Box<dyn Error>> {
    let mut blank = None;
    let mut tools = Vec::new();
    let mut open: Option<(bool, Polygon)> = None;
    let mut close = |done: Option<(bool, Polygon)>| match done {
        Some((true, corners)) => blank = Some(corners),
        Some((false, corners)) => tools.push(corners),
        None => (),
    };
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        match line.trim() {
            "blank" => close(open.replace((true, Vec::new()))),
            "tool" => close(open.replace((false, Vec::new()))),
            corner => {
                let (x, y) = corner.split_once(' ').ok_or("a corner needs X and Y")?;
                let (_, corners) = open.as_mut().ok_or("a corner before `blank` or `tool`")?;
                corners.push(Point::new(x.parse()?, y.parse()?));
            }
        }
    }
    close(open);
    Ok((blank.ok_or("no blank")?, tools))
}
