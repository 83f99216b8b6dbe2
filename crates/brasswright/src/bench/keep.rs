//! What the pages enter: through the one door that the command line uses too; a count or a remark, which moves no
//! number, straight into the journal.

use super::floor::Floor;
use crate::enter::{self, Answer, Desk, Input, Typed, kept, when};
use crate::outcome::Stopped;
use journal::{Step, What};
use reckon::{Readable as _, text};
use std::sync::Arc;

/// Takes something in. The same key is the same entry, whatever has changed since it was first sent.
///
/// # Errors
/// When it cannot be made out, or the journal cannot be read or written.
pub fn take(floor: &Floor, input: &Input) -> Result<Answer, Stopped> {
    let state = floor.now().map_err(|s| *s)?;
    let there = |key: &String| state.entries().iter().find(|e| e.key == *key).cloned();
    if let Some(entry) = input.key.as_ref().and_then(there) {
        return Ok(Answer { kept: Some(entry), again: true, ..Answer::default() });
    }
    let Some(what) = still(&input.what) else {
        let desk = Desk { dir: floor.dir.clone(), shop: floor.shop() };
        let answer = enter::enter(&desk, input)?;
        if let Some(entry) = &answer.kept {
            floor.tell(entry.number, Arc::new(answer.clone()));
        }
        return Ok(answer);
    };
    let (clock, ..) = kept::whose(&state.folder);
    let of = clock.ok_or_else(|| {
        Stopped::wrong_use("there is no clock to keep a journal of")
            .cure("put clock.toml into the folder of the project")
    })?;
    let key = input.key.clone().unwrap_or_else(when::key);
    let at = input.at.clone().unwrap_or_else(when::now);
    let path = floor.dir.join(kept::JOURNAL);
    let kept = enter::write_into(&path, &of, &key, &at, &what)?;
    Ok(Answer { kept: Some(kept.entry), again: kept.again, ..Answer::default() })
}
/// What moves no number, as it is kept.
fn still(typed: &Typed) -> Option<What> {
    Some(match typed {
        // Holes that are drilled stay where they are: steps of a plate go by the whole door.
        Typed::Done(s) if s.count.is_some() || !s.job.starts_with("plates.") => What::Done(Step {
            part: s.job.clone(),
            step: s.step.clone()?,
            piece: s.piece,
            count: s.count,
            took: s.took.as_ref().and_then(|t| text::read(t, reckon::Time::OF).ok()),
        }),
        Typed::Remark { about, text, picture } => {
            What::Remark { about: about.clone(), text: text.clone(), picture: picture.clone() }
        }
        _ => return None,
    })
}
