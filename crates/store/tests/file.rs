//! The file as a maker's misfortunes find it.

use journal::{Keeps, Lost, Reading, What};
use std::path::PathBuf;
use store::{Of, Store};

fn place(name: &str) -> PathBuf {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("journal-{name}"));
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).unwrap();
    dir.join("journal.sqlite")
}
fn of(name: &str) -> Of {
    Of { kind: "clock", name: name.to_owned(), was: Vec::new() }
}
fn read(name: &str, value: f64) -> What {
    What::Measured(Reading { name: name.into(), value, unit: "m".into(), ..Reading::default() })
}
const AT: &str = "2026-03-01T18:30:00Z";

#[test]
fn entries_come_back_and_one_key_is_one_entry() {
    let path = place("back");
    let mut s = Store::open(&path, &of("Hall clock")).unwrap();
    let a = s.take("k1", AT, &read("a.b", 0.041_658)).unwrap();
    assert_eq!((a.entry.number, a.again), (1, false));
    assert_eq!(s.take("k2", AT, &read("a.c", 1.0)).unwrap().entry.number, 2);
    let again = s.take("k1", "2027-01-01T00:00:00Z", &read("a.b", 0.041_658)).unwrap();
    assert_eq!((again.entry.number, again.again, again.entry.at.as_str()), (1, true, AT));
    assert_eq!(s.take("k1", AT, &read("a.b", 2.0)), Err(Lost::KeyTaken("k1".into())));
    drop(s);
    let s = Store::read(&path, Some(&of("Hall clock"))).unwrap();
    let (all, broken) = s.entries().unwrap();
    assert!(broken.is_empty());
    assert_eq!(all.len(), 2);
    assert_eq!(all[0].what, read("a.b", 0.041_658));
    assert_eq!(s.since(1).unwrap().0.len(), 1);
}
#[test]
fn nothing_is_changed_or_removed() {
    let path = place("kept");
    let mut s = Store::open(&path, &of("c")).unwrap();
    s.take("k", AT, &read("a", 1.0)).unwrap();
    let db = rusqlite::Connection::open(&path).unwrap();
    assert!(db.execute("DELETE FROM journal", []).is_err());
    assert!(db.execute("UPDATE journal SET body = '{}'", []).is_err());
}
#[test]
fn the_journal_of_another_clock_and_of_a_renamed_one() {
    let path = place("another");
    drop(Store::open(&path, &of("Hall clock")).unwrap());
    assert_eq!(Store::open(&path, &of("Study clock")).err(), Some(Lost::Another("Hall clock".into())));
    let renamed = Of { was: vec!["Hall clock".into()], ..of("Study clock") };
    assert!(Store::open(&path, &renamed).is_ok());
    let shop = Of { kind: "shop", ..of("Hall clock") };
    assert!(matches!(Store::open(&path, &shop), Err(Lost::Another(_))));
}
#[test]
fn later_formats_and_other_files_are_left_alone() {
    let path = place("later");
    drop(Store::open(&path, &of("c")).unwrap());
    let db = rusqlite::Connection::open(&path).unwrap();
    db.pragma_update(None, "user_version", 7).unwrap();
    drop(db);
    assert_eq!(Store::open(&path, &of("c")).err(), Some(Lost::Newer(7, 1)));
    let path = place("text");
    std::fs::write(&path, "dear diary, the third wheel came out small").unwrap();
    assert!(matches!(Store::open(&path, &of("c")), Err(Lost::NoJournal(_))));
    assert!(std::fs::read_to_string(&path).unwrap().starts_with("dear diary"));
    let path = place("foreign");
    rusqlite::Connection::open(&path).unwrap().execute_batch("CREATE TABLE t(x)").unwrap();
    assert!(matches!(Store::open(&path, &of("c")), Err(Lost::NoJournal(_))));
    assert_eq!(Store::read(&place("none"), None).err(), Some(Lost::Absent));
}
#[test]
fn a_spoilt_row_is_told_and_the_others_stand() {
    let path = place("spoilt");
    let mut s = Store::open(&path, &of("c")).unwrap();
    for i in 0..20 {
        s.take(&format!("k{i}"), AT, &read("name.of.something", f64::from(i))).unwrap();
    }
    drop(s);
    // One byte of one row, as a bad disk would change it.
    let mut bytes = std::fs::read(&path).unwrap();
    let text = b"\"value\":7.0";
    let at = bytes.windows(text.len()).position(|w| w == text).expect("it is in the file");
    bytes[at + 9] = b'9';
    std::fs::write(&path, &bytes).unwrap();
    let (all, broken) = Store::read(&path, None).unwrap().entries().unwrap();
    assert_eq!((all.len(), broken.len()), (19, 1));
    assert!(broken[0].starts_with("entry 8:"), "{broken:?}");
    // Half of it gone: what is whole is read, and nothing panics.
    let half = bytes.len() / 2;
    std::fs::write(&path, &bytes[..half]).unwrap();
    match Store::read(&path, None).and_then(|s| s.entries()) {
        Ok((all, broken)) => assert!(all.len() < 20 && (!broken.is_empty() || all.is_empty())),
        Err(e) => assert!(matches!(e, Lost::Corrupt(_) | Lost::NoJournal(_)), "{e:?}"),
    }
}
#[test]
fn two_that_write_at_once_lose_nothing() {
    let path = place("two");
    drop(Store::open(&path, &of("c")).unwrap());
    std::thread::scope(|scope| {
        for t in 0..4 {
            let path = &path;
            scope.spawn(move || {
                let mut s = Store::open(path, &of("c")).unwrap();
                for i in 0..50 {
                    s.take(&format!("t{t}-{i}"), AT, &read("a", f64::from(i))).unwrap();
                }
            });
        }
    });
    let (all, broken) = Store::read(&path, None).unwrap().entries().unwrap();
    assert!(broken.is_empty());
    assert_eq!(all.len(), 200);
    assert!(all.iter().enumerate().all(|(i, e)| e.number == i as u64 + 1));
}
