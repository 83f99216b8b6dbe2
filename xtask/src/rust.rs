//! Enough of Rust's spelling to tell code from comments, strings and tests.

use crate::tree::Tree;

/// The text with comments and what stands in quotes blanked out; lines stay where they are.
pub fn code(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    let blank = |c: char| if c == '\n' { '\n' } else { ' ' };
    while at < chars.len() {
        let end = match chars[at] {
            '/' if chars.get(at + 1) == Some(&'/') => line_end(&chars, at),
            '/' if chars.get(at + 1) == Some(&'*') => block_end(&chars, at),
            '"' => quote_end(&chars, at),
            'r' if !word_before(&chars, at) => raw_end(&chars, at).unwrap_or(at),
            '\'' => letter_end(&chars, at).unwrap_or(at),
            _ => at,
        };
        if end > at {
            out.extend(chars[at..end].iter().map(|&c| blank(c)));
            at = end;
        } else {
            out.push(chars[at]);
            at += 1;
        }
    }
    out
}

/// The code without items marked `#[cfg(test)]`; lines stay where they are.
pub fn shipped(text: &str) -> String {
    let mut code = code(text);
    const MARK: &str = "#[cfg(test)]";
    while let Some(from) = code.find(MARK) {
        let end = item_end(&code, from + MARK.len());
        let blanked: String = code[from..end].chars().map(|c| if c == '\n' { c } else { ' ' }).collect();
        code.replace_range(from..end, &blanked);
    }
    code
}

/// Paths of files that hold nothing but tests: below `tests/`, `examples/` or `benches/`, or
/// brought in by a `mod` marked `#[cfg(test)]`.
pub fn is_test_file(tree: &Tree, path: &str) -> bool {
    if path.split('/').any(|part| ["tests", "examples", "benches"].contains(&part)) {
        return true;
    }
    let Some((folder, file)) = path.rsplit_once('/') else { return false };
    let (name, home) = if file == "mod.rs" {
        folder.rsplit_once('/').map_or((folder, ""), |(home, name)| (name, home))
    } else {
        (file.trim_end_matches(".rs"), folder)
    };
    let parents =
        [format!("{home}/lib.rs"), format!("{home}/main.rs"), format!("{home}/mod.rs"), format!("{home}.rs")];
    parents.iter().filter_map(|parent| tree.text(parent)).any(|text| {
        let text = code(text);
        text.match_indices("#[cfg(test)]").any(|(at, mark)| {
            let item = &text[at + mark.len()..item_end(&text, at + mark.len())];
            item.split_whitespace().collect::<Vec<_>>().join(" ").trim_start_matches("pub ")
                == format!("mod {name};")
        })
    })
}

/// Byte after the item that begins at `from`: after its `;`, or after its braces.
fn item_end(code: &str, from: usize) -> usize {
    let mut depth = 0_i32;
    let mut brackets = 0_i32;
    for (at, c) in code[from..].char_indices() {
        match c {
            '(' | '[' => brackets += 1,
            ')' | ']' => brackets -= 1,
            '{' => depth += 1,
            '}' => {
                depth -= 1;
                if depth <= 0 {
                    return from + at + 1;
                }
            }
            ';' if depth == 0 && brackets == 0 => return from + at + 1,
            _ => (),
        }
    }
    code.len()
}

fn word_before(chars: &[char], at: usize) -> bool {
    at > 0 && (chars[at - 1].is_alphanumeric() || chars[at - 1] == '_') && chars[at - 1] != 'b'
}

fn line_end(chars: &[char], from: usize) -> usize {
    chars[from..].iter().position(|&c| c == '\n').map_or(chars.len(), |length| from + length)
}

fn block_end(chars: &[char], from: usize) -> usize {
    let mut depth = 0;
    let mut at = from;
    while at < chars.len() {
        match (chars[at], chars.get(at + 1)) {
            ('/', Some('*')) => {
                depth += 1;
                at += 2;
            }
            ('*', Some('/')) => {
                depth -= 1;
                at += 2;
                if depth == 0 {
                    return at;
                }
            }
            _ => at += 1,
        }
    }
    chars.len()
}

fn quote_end(chars: &[char], from: usize) -> usize {
    let mut at = from + 1;
    while at < chars.len() {
        match chars[at] {
            '\\' => at += 2,
            '"' => return at + 1,
            _ => at += 1,
        }
    }
    chars.len()
}

/// End of a raw string that begins with `r` at `from`, if one does.
fn raw_end(chars: &[char], from: usize) -> Option<usize> {
    let hashes = chars[from + 1..].iter().take_while(|&&c| c == '#').count();
    let open = from + 1 + hashes;
    if chars.get(open) != Some(&'"') {
        return None;
    }
    let mut at = open + 1;
    while at < chars.len() {
        if chars[at] == '"' && chars[at + 1..].iter().take(hashes).filter(|&&c| c == '#').count() == hashes {
            return Some(at + 1 + hashes);
        }
        at += 1;
    }
    Some(chars.len())
}

/// End of a character in quotes; none for a lifetime.
fn letter_end(chars: &[char], from: usize) -> Option<usize> {
    match (chars.get(from + 1)?, chars.get(from + 2)?) {
        ('\\', _) => {
            let close = chars[from + 3..].iter().position(|&c| c == '\'')?;
            Some(from + 3 + close + 1)
        }
        (_, '\'') => Some(from + 3),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{code, is_test_file, shipped};
    use crate::tree::Tree;

    #[test]
    fn comments_and_quotes_are_not_code() {
        let text = "let a = \"std::fs \\\" x\"; // std::fs\n/* std::fs /* in */ */ let b = r#\"std\"::fs\"#;\nlet c = '\"'; std::fs::read();";
        let seen = code(text);
        assert_eq!(seen.matches("std::fs").count(), 1);
        assert_eq!(seen.lines().count(), 3);
        assert!(seen.contains("std::fs::read();") && seen.contains("let b ="));
    }

    #[test]
    fn a_lifetime_opens_no_quote() {
        assert!(code("fn f<'a>(x: &'a str) -> &'a str { x } // y").contains("-> &'a str { x }"));
        assert!(!code("let c = '\\''; let d = \"gone\";").contains("gone"));
    }

    #[test]
    fn what_is_marked_as_test_is_not_shipped() {
        let text = "fn a() {}\n#[cfg(test)]\nuse x::{y, z};\nfn b() {}\n#[cfg(test)]\nmod tests { fn c() { [1; 2]; } }\nfn d() {}";
        let seen = shipped(text);
        assert!(seen.contains("fn a") && seen.contains("fn b") && seen.contains("fn d"));
        assert!(!seen.contains("fn c") && !seen.contains("use x"));
    }

    #[test]
    fn a_file_of_tests_is_known_by_the_mod_that_brings_it_in() {
        let tree = Tree::of(&[
            ("crates/a/src/lib.rs", "#[cfg(test)]\nmod trials;\nmod real;"),
            ("crates/a/src/real.rs", "#[cfg(test)]\nmod deep;"),
        ]);
        assert!(is_test_file(&tree, "crates/a/src/trials.rs"));
        assert!(is_test_file(&tree, "crates/a/src/trials/mod.rs"));
        assert!(is_test_file(&tree, "crates/a/src/real/deep.rs"));
        assert!(is_test_file(&tree, "crates/a/tests/whole.rs"));
        assert!(!is_test_file(&tree, "crates/a/src/real.rs"));
    }
}
