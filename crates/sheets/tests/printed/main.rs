//! The whole way: blocks to pages to files, read back by other programs.

mod demo;
mod drawings;
mod files;
mod layout;

use demo::{about, demo, folder, poppler};
use sheets::{Block, Packet, Pages, Paper, Sheet, Typecase, lay_out, pdf};

fn set(packet: &Packet) -> Pages {
    lay_out(&Typecase::new(), packet).expect("it can be printed")
}

fn the_demo(paper: Paper) -> Pages {
    let case = Typecase::new();
    set(&demo(&case, paper))
}

fn one_sheet(blocks: Vec<Block>) -> Packet {
    let sheet = Sheet { title: "Sheet".into(), part: String::new(), number: "1".into(), blocks };
    Packet { paper: Paper::A4, about: about(), sheets: vec![sheet] }
}

/// Words of a page as a reader would search them.
fn words(name: &str, pages: &Pages, page: Option<usize>) -> String {
    let dir = folder(name);
    std::fs::write(dir.join("it.pdf"), pdf(pages).expect("it keeps to PDF/A-2u")).expect("written");
    let n = page.map(|p| p.to_string());
    let mut args = vec!["-layout"];
    if let Some(n) = &n {
        args.extend(["-f", n, "-l", n]);
    }
    args.extend(["it.pdf", "-"]);
    String::from_utf8(poppler("pdftotext", &args, &dir)).expect("pdftotext writes UTF-8")
}
