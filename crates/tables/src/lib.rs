//! Published tables as text, each row with its source, and the look-ups on them.
