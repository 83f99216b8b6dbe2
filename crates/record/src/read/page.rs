//! The text of a file: its bytes as characters, its places, and what its syntax says.

use reckon::{Place, Trouble};
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::DeTable;

/// Largest text that is read, in bytes: a hundred times what any clock needs.
pub const LARGEST: u64 = 4 * 1024 * 1024;

/// A text to read: the name that the maker knows it by, and its bytes.
#[derive(Clone, Debug)]
pub struct Text<'a> {
    /// The file as the maker knows it.
    pub name: Arc<str>,
    /// What stands in it.
    pub bytes: &'a [u8],
}

/// The trouble of a file that is too large to read; ask before reading it.
#[must_use]
pub fn too_large(name: &Arc<str>, length: u64) -> Option<Trouble> {
    (length > LARGEST).then(|| {
        let mb = length.div_ceil(1024 * 1024);
        Trouble::text(format!("this file is {mb} MB long, and no more than 4 MB is read"))
            .at(Place::in_text(name, "", 0, 0))
            .why("a clock is described in a few thousand lines")
            .cure("see whether the right file was named")
    })
}

const BLOCK: usize = 1024;

/// A text with what is needed to find places in it quickly.
#[derive(Debug)]
pub(crate) struct Page<'a> {
    name: Arc<str>,
    text: &'a str,
    lines: Vec<usize>,
    /// Characters before each block of bytes.
    characters: Vec<usize>,
}
impl<'a> Page<'a> {
    /// The text of a file, or why it is none.
    pub(crate) fn open(file: &Text<'a>) -> Result<Page<'a>, Trouble> {
        if let Some(t) = too_large(&file.name, file.bytes.len() as u64) {
            return Err(t);
        }
        match std::str::from_utf8(file.bytes) {
            Ok(text) => Ok(Page::new(&file.name, text)),
            Err(e) => {
                let sound = std::str::from_utf8(&file.bytes[..e.valid_up_to()]).unwrap_or_default();
                let page = Page::new(&file.name, sound);
                let at = page.place(sound.len()..sound.len());
                let utf16 = file.bytes.starts_with(&[0xFF, 0xFE]) || file.bytes.starts_with(&[0xFE, 0xFF]);
                let byte = file.bytes.get(e.valid_up_to()).copied().unwrap_or_default();
                Err(if utf16 {
                    Trouble::text("this file is saved as UTF-16").at(at).cure("save it as UTF-8")
                } else {
                    Trouble::text(format!("here stands a byte (0x{byte:02X}) that is not UTF-8"))
                        .at(at)
                        .why("texts are read as UTF-8, so that °, µ and ± mean the same everywhere")
                        .cure("save the file as UTF-8")
                })
            }
        }
    }
    fn new(name: &Arc<str>, text: &'a str) -> Page<'a> {
        let mut lines = vec![0];
        lines.extend(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1));
        let mut characters = vec![0];
        let mut so_far = 0;
        for block in text.as_bytes().chunks(BLOCK) {
            so_far += starts(block);
            characters.push(so_far);
        }
        Page { name: Arc::clone(name), text, lines, characters }
    }
    pub(crate) fn text(&self) -> &'a str {
        self.text
    }
    /// The place of a range of bytes.
    pub(crate) fn place(&self, at: Range<usize>) -> Place {
        let start = self.boundary(at.start);
        let end = self.boundary(at.end).max(start);
        let line = self.line_of(start);
        let column = self.before(start) - self.before(self.lines[line]) + 1;
        Place {
            file: Arc::clone(&self.name),
            line: u32::try_from(line + 1).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            start,
            end,
        }
    }
    fn boundary(&self, at: usize) -> usize {
        let mut at = at.min(self.text.len());
        while !self.text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
    /// Number of the line, from 0, that a byte lies on.
    pub(crate) fn line_of(&self, at: usize) -> usize {
        self.lines.partition_point(|l| *l <= at).saturating_sub(1)
    }
    /// One past the last byte of a line.
    pub(crate) fn line_end(&self, line: usize) -> usize {
        self.lines.get(line + 1).copied().unwrap_or(self.text.len())
    }
    fn before(&self, at: usize) -> usize {
        let block = at / BLOCK;
        self.characters[block] + starts(&self.text.as_bytes()[block * BLOCK..at])
    }
    fn line_text(&self, line: usize) -> &'a str {
        self.text[self.lines[line]..self.line_end(line)].trim_end()
    }

    /// The text as tables, and what its syntax says; each fault with the byte it stands at.
    pub(crate) fn tables(&self) -> (Spanned<DeTable<'a>>, Vec<(usize, Trouble)>) {
        let (tables, errors) = DeTable::parse_recoverable(self.text);
        let mut faults: Vec<(usize, Trouble)> = Vec::new();
        let mut spoken: Vec<usize> = Vec::new();
        for e in &errors {
            let span = e.span().unwrap_or(0..0);
            let line = self.line_of(span.start.min(self.text.len()));
            let first = !spoken.contains(&line) && spoken.len() < 200;
            if first {
                spoken.push(line);
                faults.push((span.start, self.fault(e.message(), span)));
            }
        }
        (tables, faults)
    }
    /// A fault of syntax in our own words, with a cure where one is plain.
    fn fault(&self, message: &str, span: Range<usize>) -> Trouble {
        let text = self.text;
        let found = text.get(span.clone()).unwrap_or_default().trim();
        let before = &text[..self.boundary(span.start)];
        let after = &text[self.boundary(span.start)..];
        let line = self.line_of(self.boundary(span.start));
        let key = self.line_text(line).split('=').next().unwrap_or_default().trim();
        let comma = after.starts_with(',') && before.ends_with(|c: char| c.is_ascii_digit());
        let mut at = self.place(span.clone());
        let t = if comma {
            let whole = before.rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
            let digits: String = after[1..].chars().take_while(char::is_ascii_digit).collect();
            Trouble::text("a comma is not read as a decimal point")
                .cure(format!("use a dot, and give it its unit in quotes: \"{whole}.{digits} mm\""))
        } else if message.starts_with("string values must be quoted")
            || message.starts_with("invalid boolean")
        {
            if found.is_empty() {
                Trouble::text(format!("nothing stands after '{key} ='"))
                    .cure("write its value, or leave the line out")
            } else if is_number(found.split_whitespace().next().unwrap_or_default())
                || !found.contains(char::is_whitespace)
            {
                Trouble::text(format!("'{found}' must stand in quotes")).cure(format!("write \"{found}\""))
            } else {
                Trouble::text("text must stand in quotes").cure(format!("write \"{found}\""))
            }
        } else if message.starts_with("key with no value") {
            Trouble::text(format!("'{}' has no value", self.line_text(line).trim()))
                .cure("write = and its value after it, or # before it for a remark")
        } else if message.starts_with("duplicate key") {
            let mut t = Trouble::text(format!("'{found}' is written twice"));
            if let Some(first) = self.earlier(found, line, span.start) {
                t.says = format!("'{found}' is written twice (line {} and {})", first.line, line + 1);
                at = self.place(span);
                return t.at(at).at(first).cure("leave one of them out");
            }
            t.cure("leave one of them out")
        } else if message.starts_with("invalid basic string")
            || message.starts_with("invalid literal string")
            || message.starts_with("invalid multi-line")
        {
            Trouble::text("a quote is opened and not closed")
                .cure("close it with the same quote on the same line")
        } else if message.starts_with("unclosed table") {
            Trouble::text("the bracket of this table's head is not closed").cure("write ] or ]] at its end")
        } else if message.starts_with("unclosed array") {
            Trouble::text("a list is opened and not closed").cure("write ] at its end")
        } else if message.starts_with("unclosed inline table") {
            Trouble::text("a table is opened with { and not closed").cure("write } at its end")
        } else if message.starts_with("missing comma") {
            Trouble::text("a comma is missing between two values of a list")
                .cure("write a comma between them")
        } else if message.starts_with("unexpected leading zero") {
            Trouble::text("a number does not begin with 0 here").cure("leave the 0 out")
        } else if message.starts_with("unquoted keys cannot be empty") {
            Trouble::text("a name is missing before the = sign").cure("write what the value is for")
        } else if message.starts_with("missing escaped value") || message.starts_with("invalid escape") {
            Trouble::text("a backslash in double quotes begins a special sign, and this is none")
                .cure("write two backslashes, or use single quotes")
        } else if message.starts_with("unexpected key or value") {
            Trouble::text("something follows the value on this line")
                .cure("begin a new line, or write # before a remark")
        } else {
            Trouble::text(format!("this line cannot be read: {message}"))
        };
        t.at(at)
    }
    /// Where a key or a table's head stood first.
    fn earlier(&self, key: &str, line: usize, start: usize) -> Option<Place> {
        let header = self.line_text(line).trim_start().starts_with('[');
        let hit = |text: &str| {
            let trimmed = text.trim_start();
            if header {
                trimmed.starts_with('[') && trimmed.trim_matches(|c| "[] \t".contains(c)).ends_with(key)
            } else {
                trimmed.strip_prefix(key).is_some_and(|r| r.trim_start().starts_with(['=', '.']))
            }
        };
        let from = self.lines[line];
        let same_line = self.text[from..start].rfind(key).map(|i| from + i);
        let found = same_line.or_else(|| {
            let n = (0..line).rev().take(2000).find(|n| hit(self.line_text(*n)))?;
            Some(self.lines[n] + self.line_text(n).find(key)?)
        })?;
        Some(self.place(found..found + key.len()))
    }
}
fn starts(bytes: &[u8]) -> usize {
    bytes.iter().filter(|b| (**b & 0xC0) != 0x80).count()
}
fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c))
}
