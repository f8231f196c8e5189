//! What people and other programs are shown: the picture, the text, the JSON, the page.

mod cases;
mod picture;
mod page;
mod words_of_result;
