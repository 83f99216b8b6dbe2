//! The pages in a real browser, at the size of a phone and of a desk, under a name that is no secure context, with
//! scripts off, with the network cut; and what the server refuses. Pictures of the screens stay in the target folder.

mod browser;
mod making;
mod rating;
mod safety;
mod served;
mod story;
mod views;
