//! A solid that cannot be is a trouble at the part.

use crate::part::{Body, Part};
use reckon::Trouble;

/// What is wrong with the part's solid.
pub(crate) fn troubles(part: &Part) -> Vec<Trouble> {
    let Body::Turned(body) = &part.body else { return Vec::new() };
    body.solid
        .unsound()
        .into_iter()
        .map(|fault| {
            Trouble::design(format!("the {} '{}' cannot be: {fault}", part.kind.word(), part.common.name))
                .at(part.common.at.clone())
        })
        .collect()
}
