//! Jobs over time: before and after, a yard's history, its tables read by other programs.

mod compare;
mod fleet;
mod history;
mod pictures;
mod tables;
mod words;
mod yard;
