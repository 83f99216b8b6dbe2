//! Cautions that stand wherever stored energy or a hanging load is handled.

/// Stands beside every mainspring.
pub const CAUTION_MAINSPRING: &str = "A wound mainspring lets go all at once. Let it down with a letting-down key and a firm click before \
     any screw of the barrel or of the plates is slackened; wind strips in and out with a winder, never with \
     bare hands; wear an eye shield and gloves and keep your face out of the plane of the coil. If you have not \
     done it before, have someone who has stand by. Local rules for workshop safety come first.";
/// Stands beside every hanging weight.
pub const CAUTION_WEIGHT: &str = "A weight that falls breaks feet and floors. Fix the case to sound material that carries the whole clock and \
     its weights with a wide margin; where the wall is in doubt, local building rules and a licensed fixer \
     decide. Keep feet and children out from under a weight, and unhook all weights before the clock is moved.";
/// Stands beside every line, cable or chain.
pub const CAUTION_LINE: &str = "A line gives little warning. Load it only to the share of its breaking load that is printed here, look \
     along its whole length at each cleaning, and change it when a strand is broken, flattened, hard or rusty, \
     or when its age is unknown. Take the weight off, or let the spring down, before you touch it. Where it \
     hangs over people, local rules for lifting gear come first.";
/// Stands beside every weight that is filled with lead.
pub const CAUTION_LEAD: &str = "Lead is poisonous. Do not melt it at home; pour shot cold, over a tray, with gloves; wash hands before \
     eating; seal the filling in, and follow local rules for keeping and disposal.";
