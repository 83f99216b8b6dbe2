//! Reads a turning program, removes what it sweeps and prints areas and times, for comparison with
//! a reference library by `crosscheck/turning.py`.
//!
//! Arguments: file of the program; how often to run each task. The tool is an insert of 35° with a
//! nose of 0.2 mm in 32 chords, controlled at the centre of its nose; the stock a bar of radius 5 from
//! Z −34 to 0, judged from Z −30 to 0.
//!
//! Standard output, one line a task: its name, a figure, least seconds.

use std::error::Error;
use std::time::Instant;

use kurbo::{Point, Vec2};
use proof::turning::{self, Insert, SetUp, Tool};
use proof::{Control, Program};
use shape::region::Region;

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let file = words.next().ok_or("arguments: program runs")?;
    let runs: u32 = words.next().ok_or("arguments: program runs")?.parse()?;
    let text = std::fs::read_to_string(file)?;

    let mut control = Control::lathe();
    control.needs_tool = false;
    let insert =
        Insert { nose: 0.2, front: 87.0, back: 52.0, length: 8.0, chords: 32, controlled: Vec2::ZERO }
            .outline();
    let insert = insert.map_err(|fault| format!("{fault:?}"))?;
    let tool = Tool { cutting: vec![insert], ..Tool::default() };
    let bar = Region::rectangle(Point::new(-34.0, 0.0), Point::new(0.0, 5.0))?;
    let window = Region::rectangle(Point::new(-30.0, 0.0), Point::new(0.0, 6.0))?;
    let set_up = SetUp::new(bar, tool);

    let program = task(
        "read",
        runs,
        |program: &Program| program.motions().count() as f64,
        || {
            let reading = proof::read(&text, &control);
            if let Some(fault) = reading.faults.first() {
                return Err(fault.to_string().into());
            }
            Ok(reading.program)
        },
    )?;
    let left = |region: &Region| region.intersection(&window).area();
    task("removed", runs, left, || Ok(turning::removed(&program, &set_up)))?;
    let turned = task(
        "in-order",
        runs,
        |turned: &turning::Turned| left(&turned.after),
        || Ok(turning::prove(&program, &control, &set_up)),
    )?;
    println!("worst-rapid {:?} 0.0", turned.worst_rapid);
    Ok(())
}

fn task<T>(
    name: &str,
    runs: u32,
    figure: impl Fn(&T) -> f64,
    run: impl Fn() -> Result<T, Box<dyn Error>>,
) -> Result<T, Box<dyn Error>> {
    let mut least = f64::INFINITY;
    let mut result = None;
    for _ in 0..runs.max(1) {
        let begun = Instant::now();
        let made = run()?;
        least = least.min(begun.elapsed().as_secs_f64());
        result = Some(made);
    }
    let result = result.ok_or("no run")?;
    println!("{name} {:?} {least:?}", figure(&result));
    Ok(result)
}
