//! The two doors that keep the text of a formula and its value together.

/// Works out a number and writes it in the book: `work!(book, "front.hole", |pivot, shake| pivot + shake, &GEOMETRY)`.
///
/// The text that is shown is the expression that ran. Inputs left off, listed
/// but unused, of the wrong dimension, or a stray local number do not compile:
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// let fudge = Length::mm(0.1);
/// work!(book, "b", |a| a + fudge, &source::GEOMETRY);
/// ```
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let b = book.assumed("b", Length::mm(1.0), "example");
/// work!(book, "c", |a| a + b, &source::GEOMETRY);
/// ```
/// ```compile_fail
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let t = book.assumed("t", Angle::deg(1.0), "example");
/// work!(book, "c", |a, t| a + t, &source::GEOMETRY);
/// ```
/// ```compile_fail
/// #![deny(unused_variables)]
/// # fn main() {
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let b = book.assumed("b", Length::mm(1.0), "example");
/// work!(book, "c", |a, b| a + a, &source::GEOMETRY);
/// # }
/// ```
/// With every input used once listed, and nothing else, it does:
/// ```
/// #![deny(unused_variables)]
/// # fn main() {
/// # use reckon::*;
/// # let mut book = Book::new();
/// # let a = book.assumed("a", Length::mm(1.0), "example");
/// # let b = book.assumed("b", Length::mm(1.0), "example");
/// let c = work!(book, "c", |a, b| a + b, &source::GEOMETRY);
/// # assert_eq!(c, Length::mm(2.0));
/// # }
/// ```
#[macro_export]
macro_rules! work {
    // The letters are taken as they stand in the caller's text (`tt`): were they taken as `ident`, the
    // compiler would lay an unused one to this macro, and keep silent about it in any other crate.
    ($book:expr, $name:expr, |$($i:tt),+| $e:expr, $source:expr $(,)?) => {
        $book.worked(
            $name,
            ($($i,)+),
            $crate::Formula { text: stringify!($e), letters: &[$(stringify!($i)),+] },
            |($($i,)+)| $e,
            $source,
        )
    };
}
/// Judges something and writes the verdict in the book: `judge!(book, "x.fits", "the bar passes", |bar, bore| bar <= bore, &HOUSE)`.
#[macro_export]
macro_rules! judge {
    ($book:expr, $name:expr, $says:expr, |$($i:tt),+| $e:expr, $source:expr $(,)?) => {
        $book.judged(
            $name,
            $says,
            ($($i,)+),
            $crate::Formula { text: stringify!($e), letters: &[$(stringify!($i)),+] },
            |($($i,)+)| $e,
            $source,
        )
    };
}
