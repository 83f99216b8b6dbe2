//! A document model, and its PDF and SVG writers; the bench packet.
