//! What a program does, one act after another, in millimetres.

use kurbo::Point;

/// Where a motion goes; an axis that is not told stays where it is.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct To {
    /// X; on a lathe the radius.
    pub x: Option<f64>,
    /// Y; of a mill.
    pub y: Option<f64>,
    /// Z.
    pub z: Option<f64>,
}
impl To {
    /// To an X alone.
    #[must_use]
    pub const fn x(x: f64) -> To {
        To { x: Some(x), y: None, z: None }
    }
    /// To a Z alone.
    #[must_use]
    pub const fn z(z: f64) -> To {
        To { x: None, y: None, z: Some(z) }
    }
    /// To a place of the plane that the mill's table moves in.
    #[must_use]
    pub const fn xy(p: Point) -> To {
        To { x: Some(p.x), y: Some(p.y), z: None }
    }
    /// To a place of the half-plane of turned work.
    #[must_use]
    pub const fn radius_z(radius: f64, z: f64) -> To {
        To { x: Some(radius), y: None, z: Some(z) }
    }
}

/// One act.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Something to read; nothing moves.
    Remark(String),
    /// A tool is brought in, with the tool clear of the work and the spindle at rest.
    Tool {
        /// Its number on this program's sheet.
        number: u32,
        /// What it is.
        says: String,
    },
    /// The spindle turns clockwise.
    Spindle {
        /// Turns a minute.
        rpm: f64,
    },
    /// The spindle stands.
    SpindleOff,
    /// As fast as the machine goes, through air.
    Rapid(To),
    /// A straight cut. Feed in mm a minute on a mill, in mm a turn on a lathe.
    Line {
        /// Where to.
        to: To,
        /// How fast.
        feed: f64,
    },
    /// A cut along a circle in the plane of the machine: X and Y of a mill, Z and X of a lathe.
    Arc {
        /// Where it ends: on the mill x and y, on the lathe radius and z.
        to: Point,
        /// Its centre, likewise.
        centre: Point,
        /// Whether it goes clockwise, X to the right and Y up, or Z to the right and X up.
        clockwise: bool,
        /// How fast.
        feed: f64,
    },
    /// A pass along a thread, the slide led by the spindle.
    Thread {
        /// Z of its end.
        z: f64,
        /// Advance in one turn.
        lead: f64,
    },
    /// A wait, left out where the control knows none.
    Wait {
        /// Seconds.
        seconds: f64,
    },
    /// A stop until the maker goes on.
    Stop {
        /// What for.
        says: String,
    },
    /// The end.
    End,
}
