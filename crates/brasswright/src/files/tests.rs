use super::*;
use std::sync::atomic::{AtomicU32, Ordering};

/// A folder of its own for a test, with a name that is not plain ASCII, gone afterwards.
struct Bench(PathBuf);
impl Bench {
    fn new() -> Bench {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("brasswright Werk 钟 {} {n}", std::process::id()));
        fs::create_dir_all(&path).expect("a folder for the test");
        Bench(path)
    }
    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(&self.0)
            .expect("the folder")
            .map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}
impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
fn files(of: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
    of.iter().map(|(n, t)| ((*n).to_owned(), t.as_bytes().to_vec())).collect()
}

#[test]
fn writes_whole_files_and_leaves_nothing_aside() {
    let bench = Bench::new();
    let out = bench.0.join("out");
    let done = write_all(&out, &files(&[("a.pdf", "one"), ("templates/b.svg", "two")])).expect("written");
    assert_eq!(done, [out.join("a.pdf"), out.join("templates/b.svg")]);
    write_all(&out, &files(&[("a.pdf", "three")])).expect("written over");
    assert_eq!(fs::read(out.join("a.pdf")).expect("read"), b"three");
    assert_eq!(Bench(out).names(), ["a.pdf", "templates"]);
}
#[test]
fn one_that_cannot_be_written_leaves_all_as_it_was() {
    let bench = Bench::new();
    fs::write(bench.0.join("a.pdf"), "old").expect("written");
    fs::create_dir(bench.0.join("b.pdf")).expect("made");
    let stopped =
        write_all(&bench.0, &files(&[("a.pdf", "new"), ("b.pdf", "new")])).expect_err("a folder is there");
    assert_eq!(stopped.exit, crate::exit::FILES);
    assert_eq!(fs::read(bench.0.join("a.pdf")).expect("read"), b"old");
    assert_eq!(bench.names(), ["a.pdf", "b.pdf"]);
}
#[test]
fn never_outside_of_the_folder() {
    let bench = Bench::new();
    for name in ["../a.pdf", "/tmp/a.pdf", "", ".", "x/../../a.pdf"] {
        let stopped = write_all(&bench.0.join("out"), &files(&[(name, "x")])).expect_err(name);
        assert!(stopped.trouble.says.contains("outside"), "{name}: {}", stopped.trouble.says);
    }
}
#[cfg(unix)]
#[test]
fn never_through_a_link_out_of_the_folder() {
    use std::os::unix::fs::symlink;
    let bench = Bench::new();
    let (out, away) = (bench.0.join("out"), bench.0.join("away"));
    fs::create_dir(&out).expect("made");
    fs::create_dir(&away).expect("made");
    fs::write(away.join("kept"), "kept").expect("written");
    symlink(away.join("kept"), out.join("a.pdf")).expect("linked");
    symlink(&away, out.join("templates")).expect("linked");
    symlink(bench.0.join("nowhere"), out.join("dangling.pdf")).expect("linked");
    for name in ["a.pdf", "templates/b.svg", "templates/deep/b.svg", "dangling.pdf"] {
        let stopped = write_all(&out, &files(&[(name, "x")])).expect_err(name);
        assert!(stopped.trouble.says.contains("outside"), "{name}: {}", stopped.trouble.says);
    }
    assert_eq!(fs::read(away.join("kept")).expect("read"), b"kept");
    assert_eq!(Bench(away).names(), ["kept"]);
    // A link that stays inside is replaced by the file itself.
    fs::write(out.join("real.pdf"), "real").expect("written");
    symlink("real.pdf", out.join("same.pdf")).expect("linked");
    write_all(&out, &files(&[("same.pdf", "new")])).expect("written");
    assert_eq!(fs::read(out.join("real.pdf")).expect("read"), b"real");
    assert_eq!(fs::read(out.join("same.pdf")).expect("read"), b"new");
}
#[test]
fn reading_has_a_limit_and_wants_a_file() {
    let bench = Bench::new();
    assert_eq!(read_if_there(&bench.0.join("none")), Ok(None));
    assert!(read_if_there(&bench.0).expect_err("a folder").trouble.says.contains("is a folder"));
    let large = bench.0.join("large");
    // Fifty megabytes that take no room on the disk.
    File::create(&large).and_then(|f| f.set_len(50 << 20)).expect("made");
    let stopped = read_if_there(&large).expect_err("too large");
    assert!(stopped.trouble.why.expect("a reason").contains("50 MB"));
    File::create(&large).and_then(|f| f.set_len(LARGEST)).expect("made");
    let most = read_if_there(&large).expect("read").expect("there");
    assert_eq!(most.len() as u64, LARGEST);
    if Path::new("/dev/zero").exists() {
        assert!(read_if_there(Path::new("/dev/zero")).is_err());
    }
    let under_a_file = read_if_there(&large.join("clock.toml")).expect_err("a file in place of a folder");
    assert_eq!(under_a_file.exit, crate::exit::FILES);
}
#[test]
fn new_files_are_all_or_none() {
    let bench = Bench::new();
    fs::write(bench.0.join("shop.toml"), "mine").expect("written");
    let stopped = write_new(&bench.0, &[("clock.toml", "c"), ("shop.toml", "s")]).expect_err("one is there");
    assert!(stopped.trouble.says.contains("is not overwritten"));
    assert_eq!(bench.names(), ["shop.toml"]);
    assert_eq!(fs::read(bench.0.join("shop.toml")).expect("read"), b"mine");
    let file = bench.0.join("shop.toml");
    assert!(write_new(&file, &[("clock.toml", "c")]).is_err(), "a file in place of the folder");
}
