//! The page of every word a project may hold is what the reader reads by.

use std::path::Path;

#[test]
fn the_page_is_as_the_description() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/project-text.md");
    let now = record::reference();
    if std::env::var_os("REBUILD_GOLDEN").is_some() {
        std::fs::write(&page, &now).expect("docs/ can be written");
    }
    let kept = std::fs::read_to_string(&page).expect("docs/project-text.md is there");
    assert!(kept == now, "docs/project-text.md is old: run the test once with REBUILD_GOLDEN=1");
}
