//! How each part is made in this shop.

pub mod asks;
pub mod kernel;
pub mod nc;
pub mod plan;

/// The questions of the bench: cutting, holding, bending, parting, form tools, stock, setting and warmth.
#[must_use]
pub fn asks() -> Vec<&'static reckon::Ask> {
    asks::all()
}
