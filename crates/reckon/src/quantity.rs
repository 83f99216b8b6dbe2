//! Quantities as types: SI inside, and only operations that mean something.
//!
//! A length cannot be added to an angle, nor a diameter to a radius; a
//! temperature is not a rise of temperature. Each type holds one `f64` in the
//! unit that its documentation names.

use crate::maths;
use std::ops::{Add, Div, Mul, Neg, Sub};

macro_rules! quantity {
    ($($(#[$doc:meta])* $name:ident $noun:literal $unit:literal;)+) => { $(
        $(#[$doc])*
        #[derive(Copy, Clone, PartialEq, PartialOrd, Debug, Default)]
        pub struct $name(f64);
        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
            /// From its SI value.
            #[must_use]
            pub const fn si(value: f64) -> Self { Self(value) }
            /// Its SI value.
            #[must_use]
            pub const fn value(self) -> f64 { self.0 }
            /// What it is called in a message.
            pub const NOUN: &'static str = $noun;
            /// The SI unit as text.
            pub const UNIT: &'static str = $unit;
            /// Whether it is a number at all (neither NaN nor infinite).
            #[must_use]
            pub const fn is_finite(self) -> bool { self.0.is_finite() }
            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
        }
    )+ };
}
/// Sums and multiples, for kinds of quantity that have a zero that means "none".
macro_rules! linear {
    ($($name:ident)+) => { $(
        impl Add for $name { type Output = $name; fn add(self, o: $name) -> $name { $name(self.0 + o.0) } }
        impl Sub for $name { type Output = $name; fn sub(self, o: $name) -> $name { $name(self.0 - o.0) } }
        impl Neg for $name { type Output = $name; fn neg(self) -> $name { $name(-self.0) } }
        impl Div for $name { type Output = Ratio; fn div(self, o: $name) -> Ratio { Ratio(self.0 / o.0) } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = $name>>(all: I) -> $name { all.fold($name(0.0), Add::add) } }
        impl $name {
            /// Without its sign.
            #[must_use]
            pub const fn abs(self) -> Self { Self(self.0.abs()) }
        }
        scaled!($name);
    )+ };
}
macro_rules! scaled {
    ($($name:ident)+) => { $(
        impl Mul<f64> for $name { type Output = $name; fn mul(self, k: f64) -> $name { $name(self.0 * k) } }
        impl Mul<$name> for f64 { type Output = $name; fn mul(self, q: $name) -> $name { $name(self * q.0) } }
        impl Div<f64> for $name { type Output = $name; fn div(self, k: f64) -> $name { $name(self.0 / k) } }
        impl Mul<Ratio> for $name { type Output = $name; fn mul(self, k: Ratio) -> $name { $name(self.0 * k.0) } }
        impl Mul<$name> for Ratio { type Output = $name; fn mul(self, q: $name) -> $name { $name(self.0 * q.0) } }
        impl Div<Ratio> for $name { type Output = $name; fn div(self, k: Ratio) -> $name { $name(self.0 / k.0) } }
        impl Mul<Count> for $name { type Output = $name; fn mul(self, n: Count) -> $name { $name(self.0 * n.n()) } }
        impl Mul<$name> for Count { type Output = $name; fn mul(self, q: $name) -> $name { $name(self.n() * q.0) } }
        impl Div<Count> for $name { type Output = $name; fn div(self, n: Count) -> $name { $name(self.0 / n.n()) } }
    )+ };
}
/// `A * B = C`, and with it `B * A = C`, `C / A = B`, `C / B = A`.
macro_rules! product {
    ($($a:ident * $b:ident = $c:ident;)+) => { $(
        impl Mul<$b> for $a { type Output = $c; fn mul(self, o: $b) -> $c { $c(self.0 * o.0) } }
        impl Mul<$a> for $b { type Output = $c; fn mul(self, o: $a) -> $c { $c(self.0 * o.0) } }
        impl Div<$a> for $c { type Output = $b; fn div(self, o: $a) -> $b { $b(self.0 / o.0) } }
        impl Div<$b> for $c { type Output = $a; fn div(self, o: $b) -> $a { $a(self.0 / o.0) } }
    )+ };
}

quantity! {
    /// A distance between two places, in metres.
    Length "length" "m";
    /// A size across a round thing, in metres. Half of it is a [`Radius`], never the same number.
    Diameter "diameter" "m";
    /// A size from the axis of a round thing outward, in metres.
    Radius "radius" "m";
    /// An angle, in radians.
    Angle "angle" "rad";
    /// A time, in seconds.
    Time "time" "s";
    /// A speed, in metres per second.
    Speed "speed" "m/s";
    /// A speed of turning, in radians per second.
    AngularSpeed "speed of turning" "rad/s";
    /// A mass, in kilograms.
    Mass "mass" "kg";
    /// A force, in newtons.
    Force "force" "N";
    /// A turning moment, in newton metres.
    Torque "torque" "N m";
    /// A pressure, stress or modulus, in pascals.
    Pressure "pressure" "Pa";
    /// An amount of energy, in joules.
    Energy "energy" "J";
    /// A power, in watts.
    Power "power" "W";
    /// A temperature, in kelvins.
    Temperature "temperature" "K";
    /// A rise or fall of temperature, in kelvins.
    TemperatureDifference "difference of temperature" "K";
    /// An area, in square metres.
    Area "area" "m²";
    /// A volume, in cubic metres.
    Volume "volume" "m³";
    /// A density, in kilograms per cubic metre.
    Density "density" "kg/m³";
    /// An acceleration, in metres per second squared.
    Acceleration "acceleration" "m/s²";
    /// Force per deflection, in newtons per metre.
    Stiffness "stiffness" "N/m";
    /// A change per kelvin, such as a coefficient of expansion.
    PerKelvin "change per kelvin" "1/K";
    /// A plain number: a factor, a proportion, a coefficient.
    Ratio "number" "";
}

/// How many.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Count(pub i64);
impl Count {
    /// As a factor in a formula.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "counts of parts and teeth are far below 2^53")]
    pub const fn n(self) -> f64 {
        self.0 as f64
    }
    /// What it is called in a message.
    pub const NOUN: &'static str = "count";
}
impl Add for Count {
    type Output = Count;
    fn add(self, o: Count) -> Count {
        Count(self.0 + o.0)
    }
}
impl Sub for Count {
    type Output = Count;
    fn sub(self, o: Count) -> Count {
        Count(self.0 - o.0)
    }
}

linear!(Length Angle Time Speed AngularSpeed Mass Force Torque Pressure Energy Power
        TemperatureDifference Area Volume Density Acceleration Stiffness PerKelvin);
scaled!(Diameter Radius);

product! {
    Area * Length = Volume;
    Speed * Time = Length;
    AngularSpeed * Time = Angle;
    Acceleration * Time = Speed;
    Force * Speed = Power;
    Torque * AngularSpeed = Power;
    Power * Time = Energy;
    Pressure * Area = Force;
    Density * Volume = Mass;
    Stiffness * Length = Force;
    Mass * Acceleration = Force;
    PerKelvin * TemperatureDifference = Ratio;
    Force * Length = Torque;
}
impl Mul for Length {
    type Output = Area;
    fn mul(self, o: Length) -> Area {
        Area(self.0 * o.0)
    }
}
impl Div<Length> for Area {
    type Output = Length;
    fn div(self, o: Length) -> Length {
        Length(self.0 / o.0)
    }
}

// Ratio is closed under arithmetic and mixes with bare numbers.
impl Add for Ratio {
    type Output = Ratio;
    fn add(self, o: Ratio) -> Ratio {
        Ratio(self.0 + o.0)
    }
}
impl Sub for Ratio {
    type Output = Ratio;
    fn sub(self, o: Ratio) -> Ratio {
        Ratio(self.0 - o.0)
    }
}
impl Mul for Ratio {
    type Output = Ratio;
    fn mul(self, o: Ratio) -> Ratio {
        Ratio(self.0 * o.0)
    }
}
impl Div for Ratio {
    type Output = Ratio;
    fn div(self, o: Ratio) -> Ratio {
        Ratio(self.0 / o.0)
    }
}
impl Neg for Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        Ratio(-self.0)
    }
}
impl Mul<f64> for Ratio {
    type Output = Ratio;
    fn mul(self, k: f64) -> Ratio {
        Ratio(self.0 * k)
    }
}
impl Mul<Ratio> for f64 {
    type Output = Ratio;
    fn mul(self, q: Ratio) -> Ratio {
        Ratio(self * q.0)
    }
}
impl Div<f64> for Ratio {
    type Output = Ratio;
    fn div(self, k: f64) -> Ratio {
        Ratio(self.0 / k)
    }
}
impl Add<f64> for Ratio {
    type Output = Ratio;
    fn add(self, k: f64) -> Ratio {
        Ratio(self.0 + k)
    }
}
impl Sub<f64> for Ratio {
    type Output = Ratio;
    fn sub(self, k: f64) -> Ratio {
        Ratio(self.0 - k)
    }
}
impl Div for Count {
    type Output = Ratio;
    fn div(self, o: Count) -> Ratio {
        Ratio(self.n() / o.n())
    }
}

// Round sizes. Two diameters differ by a length; they are never added.
impl Sub for Diameter {
    type Output = Length;
    fn sub(self, o: Diameter) -> Length {
        Length(self.0 - o.0)
    }
}
impl Add<Length> for Diameter {
    type Output = Diameter;
    fn add(self, o: Length) -> Diameter {
        Diameter(self.0 + o.0)
    }
}
impl Sub<Length> for Diameter {
    type Output = Diameter;
    fn sub(self, o: Length) -> Diameter {
        Diameter(self.0 - o.0)
    }
}
impl Div for Diameter {
    type Output = Ratio;
    fn div(self, o: Diameter) -> Ratio {
        Ratio(self.0 / o.0)
    }
}
impl Sub for Radius {
    type Output = Length;
    fn sub(self, o: Radius) -> Length {
        Length(self.0 - o.0)
    }
}
impl Add<Length> for Radius {
    type Output = Radius;
    fn add(self, o: Length) -> Radius {
        Radius(self.0 + o.0)
    }
}
impl Sub<Length> for Radius {
    type Output = Radius;
    fn sub(self, o: Length) -> Radius {
        Radius(self.0 - o.0)
    }
}
impl Div for Radius {
    type Output = Ratio;
    fn div(self, o: Radius) -> Ratio {
        Ratio(self.0 / o.0)
    }
}
impl Diameter {
    /// Half of it, as a radius.
    #[must_use]
    pub const fn radius(self) -> Radius {
        Radius(self.0 / 2.0)
    }
    /// The same distance as a plain length, for a bar or an edge measured straight across.
    #[must_use]
    pub const fn across(self) -> Length {
        Length(self.0)
    }
    /// From millimetres.
    #[must_use]
    pub fn mm(x: f64) -> Self {
        Self(x / 1000.0)
    }
    /// In millimetres.
    #[must_use]
    pub fn in_mm(self) -> f64 {
        self.0 * 1000.0
    }
    /// Length once around.
    #[must_use]
    pub const fn around(self) -> Length {
        Length(self.0 * maths::PI)
    }
    /// Area of the full circle.
    #[must_use]
    pub const fn circle(self) -> Area {
        Area(self.0 * self.0 * maths::PI / 4.0)
    }
}
impl Radius {
    /// Twice it, as a diameter.
    #[must_use]
    pub const fn diameter(self) -> Diameter {
        Diameter(self.0 * 2.0)
    }
    /// The same distance as a plain length.
    #[must_use]
    pub const fn out(self) -> Length {
        Length(self.0)
    }
    /// From millimetres.
    #[must_use]
    pub fn mm(x: f64) -> Self {
        Self(x / 1000.0)
    }
    /// In millimetres.
    #[must_use]
    pub fn in_mm(self) -> f64 {
        self.0 * 1000.0
    }
}
impl Mul<Radius> for AngularSpeed {
    type Output = Speed;
    fn mul(self, r: Radius) -> Speed {
        Speed(self.0 * r.0)
    }
}
impl Div<Radius> for Speed {
    type Output = AngularSpeed;
    fn div(self, r: Radius) -> AngularSpeed {
        AngularSpeed(self.0 / r.0)
    }
}
impl Mul<Radius> for Force {
    type Output = Torque;
    fn mul(self, r: Radius) -> Torque {
        Torque(self.0 * r.0)
    }
}
impl Div<Radius> for Torque {
    type Output = Force;
    fn div(self, r: Radius) -> Force {
        Force(self.0 / r.0)
    }
}
impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, o: Temperature) -> TemperatureDifference {
        TemperatureDifference(self.0 - o.0)
    }
}
impl Add<TemperatureDifference> for Temperature {
    type Output = Temperature;
    fn add(self, o: TemperatureDifference) -> Temperature {
        Temperature(self.0 + o.0)
    }
}
impl Sub<TemperatureDifference> for Temperature {
    type Output = Temperature;
    fn sub(self, o: TemperatureDifference) -> Temperature {
        Temperature(self.0 - o.0)
    }
}

impl Length {
    /// From millimetres.
    #[must_use]
    pub fn mm(x: f64) -> Self {
        Self(x / 1000.0)
    }
    /// In millimetres.
    #[must_use]
    pub fn in_mm(self) -> f64 {
        self.0 * 1000.0
    }
    /// From inches.
    #[must_use]
    pub fn inch(x: f64) -> Self {
        Self(x * 25.4 / 1000.0)
    }
    /// In inches.
    #[must_use]
    pub fn in_inch(self) -> f64 {
        self.0 * 1000.0 / 25.4
    }
    /// Seen as the diameter of a round thing of this size.
    #[must_use]
    pub const fn as_diameter(self) -> Diameter {
        Diameter(self.0)
    }
    /// Seen as a distance from an axis.
    #[must_use]
    pub const fn as_radius(self) -> Radius {
        Radius(self.0)
    }
}
impl Angle {
    /// From degrees.
    #[must_use]
    pub fn deg(x: f64) -> Self {
        Self(x * maths::PI / 180.0)
    }
    /// In degrees.
    #[must_use]
    pub fn in_deg(self) -> f64 {
        self.0 * 180.0 / maths::PI
    }
    /// Sine.
    #[must_use]
    pub fn sin(self) -> f64 {
        maths::sin(self.0)
    }
    /// Cosine.
    #[must_use]
    pub fn cos(self) -> f64 {
        maths::cos(self.0)
    }
    /// Tangent.
    #[must_use]
    pub fn tan(self) -> f64 {
        maths::tan(self.0)
    }
}
impl AngularSpeed {
    /// From turns a minute.
    #[must_use]
    pub fn rpm(x: f64) -> Self {
        Self(x * 2.0 * maths::PI / 60.0)
    }
    /// In turns a minute.
    #[must_use]
    pub fn in_rpm(self) -> f64 {
        self.0 * 60.0 / (2.0 * maths::PI)
    }
    /// Travel per time of something that moves `lead` each turn.
    #[must_use]
    pub fn travel(self, lead: Length) -> Speed {
        Speed(self.0 / (2.0 * maths::PI) * lead.0)
    }
}
impl Speed {
    /// From metres a minute.
    #[must_use]
    pub fn m_per_min(x: f64) -> Self {
        Self(x / 60.0)
    }
    /// In metres a minute.
    #[must_use]
    pub fn in_m_per_min(self) -> f64 {
        self.0 * 60.0
    }
    /// From millimetres a minute.
    #[must_use]
    pub fn mm_per_min(x: f64) -> Self {
        Self(x / 60_000.0)
    }
    /// In millimetres a minute.
    #[must_use]
    pub fn in_mm_per_min(self) -> f64 {
        self.0 * 60_000.0
    }
}
impl Temperature {
    /// From degrees Celsius.
    #[must_use]
    pub fn celsius(x: f64) -> Self {
        Self(x + 273.15)
    }
    /// In degrees Celsius.
    #[must_use]
    pub fn in_celsius(self) -> f64 {
        self.0 - 273.15
    }
}
impl Pressure {
    /// From newtons per square millimetre (the same as megapascals).
    #[must_use]
    pub fn n_per_mm2(x: f64) -> Self {
        Self(x * 1e6)
    }
    /// In newtons per square millimetre.
    #[must_use]
    pub fn in_n_per_mm2(self) -> f64 {
        self.0 / 1e6
    }
}
impl Ratio {
    /// Square root.
    #[must_use]
    pub fn sqrt(self) -> Ratio {
        Ratio(self.0.sqrt())
    }
}
