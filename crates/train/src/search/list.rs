//! Lists of counts and trains as a maker writes and reads them.

use super::stage::Stage;

/// Counts from text: `60 to 150`, `60-150`, `8, 10, 12`, `64, 70 to 80`; in rising order, none twice.
///
/// # Errors
/// Which part cannot be read, and why.
pub fn counts_from(text: &str) -> Result<Vec<u32>, String> {
    let one = |t: &str| match t.trim().parse::<u32>() {
        Ok(n) if (1..=super::MOST_TEETH).contains(&n) => Ok(n),
        _ if t.trim().is_empty() => Err("a count is missing between the commas".to_owned()),
        _ => Err(format!("'{}' is not a whole number from 1 to {}", t.trim(), super::MOST_TEETH)),
    };
    let mut all = Vec::new();
    for part in text.split(',') {
        let spaced = part.replace(['-', '–'], " to ");
        let words: Vec<&str> = spaced.split_whitespace().collect();
        match words[..] {
            [from, "to", to] => {
                let (from, to) = (one(from)?, one(to)?);
                if from > to {
                    return Err(format!("'{}' runs backwards", part.trim()));
                }
                all.extend(from..=to);
            }
            _ => all.push(one(part)?),
        }
    }
    all.sort_unstable();
    all.dedup();
    Ok(all)
}
/// Counts as text: `12`, `8, 10 and 12`, `60 to 95 and 97 to 150`.
#[must_use]
pub fn counts_text(counts: &[u32]) -> String {
    let mut sorted = counts.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    let mut parts = Vec::new();
    for run in sorted.chunk_by(|a, b| a + 1 == *b) {
        match run {
            [first, .., last] if run.len() > 2 => parts.push(format!("{first} to {last}")),
            _ => parts.extend(run.iter().map(u32::to_string)),
        }
    }
    match parts.pop() {
        None => "none".to_owned(),
        Some(last) if parts.is_empty() => last,
        Some(last) => format!("{} and {last}", parts.join(", ")),
    }
}
/// Stages from text: `96/12 90/12`, with commas or multiplication signs between them or not.
///
/// # Errors
/// Which part is no wheel over pinion.
pub fn stages_from(text: &str) -> Result<Vec<Stage>, String> {
    let between = |c: char| c.is_whitespace() || matches!(c, ',' | '×' | 'x' | '*');
    let mut all = Vec::new();
    for part in text.split(between).filter(|p| !p.is_empty()) {
        let count = |t: &str| t.parse::<u32>().ok().filter(|n| (1..=super::MOST_TEETH).contains(n));
        let stage =
            part.split_once('/').and_then(|(w, p)| Some(Stage { wheel: count(w)?, pinion: count(p)? }));
        all.push(stage.ok_or_else(|| format!("'{part}' is not a wheel over a pinion such as 96/12"))?);
    }
    if all.is_empty() { Err("no stage is given".to_owned()) } else { Ok(all) }
}
