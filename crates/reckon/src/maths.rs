//! The same sine on every machine.
//!
//! The platform's own functions differ in the last bits from one system to the
//! next, and a printed program or sheet must not. Everything here is `libm`
//! compiled into the program; `clippy.toml` forbids the rest.

mod normal;

pub use normal::{inverse_of_normal, times};
pub use std::f64::consts::PI;

/// Sine of an angle in radians.
#[must_use]
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}
/// Cosine of an angle in radians.
#[must_use]
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}
/// Tangent of an angle in radians.
#[must_use]
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}
/// Angle in radians whose sine is `x`; NaN outside −1 … 1.
#[must_use]
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}
/// Angle in radians whose cosine is `x`; NaN outside −1 … 1.
#[must_use]
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}
/// Angle in radians whose tangent is `x`.
#[must_use]
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}
/// Angle in radians of the point (`x`, `y`), from −π to π.
#[must_use]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}
/// e to the `x`.
#[must_use]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}
/// Natural logarithm.
#[must_use]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}
/// Decimal logarithm.
#[must_use]
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}
/// `x` to the power `y`.
#[must_use]
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}
/// Length of the hypotenuse over `x` and `y`.
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}
/// Cube root.
#[must_use]
pub fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}
/// Share of the normal curve's two tails: 1 − erf `x`.
#[must_use]
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}
/// Square root (exact to the last bit by IEEE 754, so the platform's own).
#[must_use]
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}

#[cfg(test)]
mod tests;
