//! The whole way: blocks to pages to files, read back by other programs.

mod common;

use common::{demo, folder, poppler};
use sheets::{Paper, Typecase, lay_out, pdf};

fn set(paper: Paper) -> (sheets::Pages, Vec<u8>) {
    let case = Typecase::new();
    let pages = lay_out(&case, &demo(&case, paper)).expect("the demo can be printed");
    let bytes = pdf(&pages).expect("it keeps to PDF/A-2u");
    (pages, bytes)
}

#[test]
fn demo_is_written() {
    for (paper, name) in [(Paper::A4, "a4.pdf"), (Paper::Letter, "letter.pdf")] {
        let (_, bytes) = set(paper);
        std::fs::write(folder("demo").join(name), bytes).expect("written");
    }
    let _ = poppler("pdftotext", &["-layout", "a4.pdf", "-"], &folder("demo"));
}
