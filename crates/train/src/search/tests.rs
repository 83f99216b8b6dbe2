mod bench;
mod limits;
mod ranking;
