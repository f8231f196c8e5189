//! Jobs over time: before and after, a yard's history, its tables read by other programs.

mod compare;
mod data_set;
mod fleet;
mod found;
mod history;
mod pictures;
mod tables;
mod words;
mod yard;
