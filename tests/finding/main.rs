//! What is said of engines as they come, against what a good technician says.

mod case;
mod laws;
mod worked_cases;
