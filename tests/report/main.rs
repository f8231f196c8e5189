//! What people and other programs are shown: the picture, the text, the JSON, the page.

mod cases;
mod markup;
mod page;
mod picture;
mod words_of_result;
