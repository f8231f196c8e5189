//! What people and other programs are shown: the picture, the text, the JSON, the page.

mod browser;
mod cases;
mod command;
mod evidence;
mod markup;
mod page;
mod paper;
mod picture;
mod sounds;
mod words_of_result;
