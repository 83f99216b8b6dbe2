//! Plane profiles, regions and turned or flat solids, to a stated accuracy.
