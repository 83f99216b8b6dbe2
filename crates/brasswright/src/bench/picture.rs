//! Pictures beside the journal: kept whole or not at all, under names made here.

use super::asked::Answer;
use std::fs;
use std::io::Write as _;
use std::path::Path;

/// Folder beside the journal.
const FOLDER: &str = "pictures";
/// Kinds that a phone sends, by how they begin: ending, media type.
const KINDS: [(&[u8], &str, &str); 3] = [
    (b"\xff\xd8\xff", "jpg", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", "png", "image/png"),
    (b"RIFF", "webp", "image/webp"),
];
fn kind(bytes: &[u8]) -> Option<(&'static str, &'static str)> {
    let found = KINDS.iter().find(|(begin, ..)| bytes.starts_with(begin))?;
    (found.1 != "webp" || bytes.get(8..12) == Some(b"WEBP")).then_some((found.1, found.2))
}
/// Keeps a picture; its name. The same picture sent twice is kept once.
///
/// # Errors
/// What is wrong with it, or with the disk.
pub fn keep(dir: &Path, bytes: &[u8]) -> Result<String, String> {
    use sha2::Digest as _;
    let Some((ending, _)) = kind(bytes) else {
        return Err("that is no picture that is known here: JPEG, PNG or WebP".to_owned());
    };
    let sum: String = sha2::Sha256::digest(bytes).iter().take(8).map(|b| format!("{b:02x}")).collect();
    let name = format!("{sum}.{ending}");
    let folder = dir.join(FOLDER);
    let path = folder.join(&name);
    if path.is_file() {
        return Ok(name);
    }
    let unkept = |e: std::io::Error| format!("the picture could not be kept: {}", crate::files::reason(&e));
    fs::create_dir_all(&folder).map_err(unkept)?;
    let aside = folder.join(format!(".{sum}.part"));
    let written = fs::File::create(&aside)
        .and_then(|mut f| f.write_all(bytes).and_then(|()| f.sync_all()))
        .and_then(|()| fs::rename(&aside, &path));
    if let Err(e) = written {
        let _ = fs::remove_file(&aside);
        return Err(unkept(e));
    }
    Ok(name)
}
/// A picture that was kept, by a name as [`keep`] makes them and no other.
#[must_use]
pub fn of(dir: &Path, name: &str) -> Option<Answer> {
    let (sum, ending) = name.split_once('.')?;
    let ours = sum.len() == 16 && sum.bytes().all(|b| b.is_ascii_hexdigit());
    let known = KINDS.iter().find(|k| k.1 == ending)?;
    let path = dir.join(FOLDER).join(name);
    // A link that was laid there is not followed.
    let plain = fs::symlink_metadata(&path).is_ok_and(|m| m.is_file());
    (ours && plain).then(|| fs::read(path).ok()).flatten().map(|b| Answer::lasting(known.2, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_pictures_and_only_ours() {
        let dir = std::env::temp_dir().join(format!("pictures-{}", std::process::id()));
        fs::create_dir_all(&dir).expect("a folder to try in");
        fs::write(dir.join("secret.png"), b"x").expect("a file beside");
        assert!(keep(&dir, b"<script>").is_err() && keep(&dir, b"RIFF....AVI ").is_err());
        let name = keep(&dir, b"\xff\xd8\xff\xe0 picture").expect("it is kept");
        assert_eq!(keep(&dir, b"\xff\xd8\xff\xe0 picture"), Ok(name.clone()));
        assert_eq!(of(&dir, &name).map(|a| a.kind), Some("image/jpeg"));
        for bad in ["../secret.png", "secret.png", "0123456789abcdef.png", "0123456789abcdef", ""] {
            assert!(of(&dir, bad).is_none(), "{bad}");
        }
        let _ = fs::remove_dir_all(dir);
    }
}
