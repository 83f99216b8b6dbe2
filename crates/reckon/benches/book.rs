//! How fast the book is written: run with `cargo bench -p reckon`, or `--profile dev` for the profile of every day.
//!
//! It prints times and claims nothing; a number to compare before and after a change.

use reckon::source::GEOMETRY;
use reckon::{Book, Length, work};
use std::hint::black_box;
use std::time::{Duration, Instant};

const WORKINGS: usize = 20_000;

/// The shortest of a few runs: the least disturbed by whatever else the machine does.
fn shortest(mut run: impl FnMut()) -> Duration {
    (0..7)
        .map(|_| {
            let begun = Instant::now();
            run();
            begun.elapsed()
        })
        .min()
        .unwrap_or_default()
}
fn plain() -> Length {
    let step = black_box(Length::mm(0.03));
    let mut size = black_box(Length::mm(1.0));
    for _ in 0..WORKINGS {
        size = black_box(size + step);
    }
    size
}
fn written(mut book: Book) -> Book {
    let step = book.assumed("step", Length::mm(0.03), "as an example");
    let mut size = book.assumed("size", Length::mm(1.0), "as an example");
    for i in 0..WORKINGS {
        size = work!(book, format_args!("part.{i}.size"), |size, step| size + step, &GEOMETRY);
    }
    black_box(size);
    book
}
fn main() {
    let loop_alone = shortest(|| {
        black_box(plain());
    });
    let off = shortest(|| {
        black_box(written(Book::off()));
    });
    let on = shortest(|| {
        black_box(written(Book::new()));
    });
    let book = written(Book::new());
    let explained = shortest(|| {
        black_box(book.explain("part.19999.size").map(|e| e.text().len()));
    });
    let times = |t: Duration| t.as_secs_f64() / loop_alone.as_secs_f64();
    println!("{WORKINGS} sums in a plain loop      {loop_alone:>10.1?}");
    println!("the same, book off              {off:>10.1?}   {:>6.1} times the loop", times(off));
    println!("the same, in the book           {on:>10.1?}   {:>6.0} times the loop", times(on));
    println!("the last one explained to text  {explained:>10.1?}");
}
