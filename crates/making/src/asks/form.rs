//! Turning form tools, facets, tools for threads.

use super::{Done, ask, more, need, or, some, within};
use crate::kernel::form;
use reckon::{Angle, Ask, Book, Diameter, Given, Length, Radius, Ratio, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "form.turning",
        "depths of a turning form tool that is fed in towards the axis",
        &[
            need("small", "smallest radius turned, where the tool is on centre"),
            need("large", "radius of the step"),
            or("rake", "0 deg", "of the tool"),
            need("clearance", "of the tool"),
        ],
        &["on_face", "on_flank", "honed"],
        r#"small="4 mm" large="6 mm" rake="10 deg" clearance="8 deg""#,
        turning,
    ),
    ask(
        "form.round_tool",
        "height of the centre of a round form tool above the axis",
        &[need("tool", "radius of the tool"), need("clearance", "wanted")],
        &["offset"],
        r#"tool="20 mm" clearance="8 deg""#,
        round_tool,
    ),
    ask(
        "form.facet",
        "a facet as it is seen and as it is set",
        &[
            need("clearance", "square to the edge"),
            need("psi", "angle in plan between the edge's normal and the shank"),
        ],
        &["along", "across", "tilt", "swing"],
        r#"clearance="8 deg" psi="30 deg""#,
        facet,
    ),
    ask(
        "form.hollow",
        "hollow that a grinding wheel leaves",
        &[need("over", "length ground"), need("wheel", "diameter of the wheel")],
        &["hollow"],
        r#"over="8 mm" wheel="150 mm""#,
        hollow,
    ),
    ask(
        "form.helix",
        "slope of a thread at a diameter",
        &[need("pitch", "of the thread"), or("starts", "1", "of the thread"), need("diameter", "where")],
        &["slope"],
        r#"pitch="1.25 mm" diameter="7.188 mm""#,
        helix,
    ),
    ask(
        "form.thread_side",
        "side clearance of a thread tool ground straight down, and what the slope leaves of it",
        &[
            need("front", "front clearance"),
            or("angle", "60 deg", "whole angle of the thread"),
            or("slope", "0 deg", "of the thread"),
        ],
        &["side", "leading", "trailing"],
        r#"front="10 deg" slope="3.4 deg""#,
        thread_side,
    ),
];

fn turning(g: &Given<'_>, book: &mut Book) -> Done {
    let (small, large): (Val<Radius>, Val<Radius>) = (some(g, book, "small")?, more(g, book, "large")?);
    let rake: Val<Angle> = within(g, book, "rake", Angle::deg(-30.0), Angle::deg(45.0))?;
    let clearance: Val<Angle> = within(g, book, "clearance", Angle::ZERO, Angle::deg(45.0))?;
    if form::depth_on_face(small.bare(), large.bare(), rake.bare()).is_none() {
        return Err(g.trouble("large", "the step must lie outside the smallest radius"));
    }
    let face = work!(
        book,
        "on_face",
        |small, large, rake| form::depth_on_face(small, large, rake).unwrap_or_default(),
        &form::TURNING
    );
    work!(
        book,
        "on_flank",
        |face, clearance, rake| form::depth_on_flank(face, clearance, rake),
        &form::TURNING
    );
    work!(book, "honed", |small, large, rake| form::honed(small, large, rake), &form::TURNING);
    Ok(())
}
fn round_tool(g: &Given<'_>, book: &mut Book) -> Done {
    let tool: Val<Radius> = more(g, book, "tool")?;
    let clearance: Val<Angle> = within(g, book, "clearance", Angle::ZERO, Angle::deg(45.0))?;
    work!(book, "offset", |tool, clearance| form::round_tool_offset(tool, clearance), &form::TURNING);
    Ok(())
}
fn facet(g: &Given<'_>, book: &mut Book) -> Done {
    let clearance: Val<Angle> = within(g, book, "clearance", Angle::ZERO, Angle::deg(60.0))?;
    let psi: Val<Angle> = within(g, book, "psi", Angle::ZERO, Angle::deg(90.0))?;
    work!(book, "along", |clearance, psi| form::facet(clearance, psi).along, &form::FACET);
    work!(book, "across", |clearance, psi| form::facet(clearance, psi).across, &form::FACET);
    work!(book, "tilt", |clearance, psi| form::facet(clearance, psi).tilt, &form::FACET);
    work!(book, "swing", |clearance, psi| form::facet(clearance, psi).swing, &form::FACET);
    Ok(())
}
fn hollow(g: &Given<'_>, book: &mut Book) -> Done {
    let (over, wheel): (Val<Length>, Val<Diameter>) = (some(g, book, "over")?, more(g, book, "wheel")?);
    work!(book, "hollow", |over, wheel| form::hollow(over, wheel.radius()), &form::HOLLOW);
    Ok(())
}
fn helix(g: &Given<'_>, book: &mut Book) -> Done {
    let (pitch, d): (Val<Length>, Val<Diameter>) = (more(g, book, "pitch")?, more(g, book, "diameter")?);
    let starts: Val<Ratio> = more(g, book, "starts")?;
    work!(book, "slope", |pitch, starts, d| form::helix(pitch, starts, d), &form::HELIX);
    Ok(())
}
fn thread_side(g: &Given<'_>, book: &mut Book) -> Done {
    let front: Val<Angle> = within(g, book, "front", Angle::ZERO, Angle::deg(45.0))?;
    let angle: Val<Angle> = within(g, book, "angle", Angle::deg(1.0), Angle::deg(120.0))?;
    let slope: Val<Angle> = within(g, book, "slope", Angle::ZERO, Angle::deg(45.0))?;
    let side = work!(book, "side", |front, angle| form::thread_side(front, angle), &form::THREAD_SIDE);
    work!(book, "leading", |side, slope| side - slope, &form::HELIX);
    work!(book, "trailing", |side, slope| side + slope, &form::HELIX);
    Ok(())
}
