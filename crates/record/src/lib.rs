//! Clock and shop read from text into facts with places.
