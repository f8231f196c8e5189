//! The bench page: its server under attack, and a whole job in a real browser.

mod attacks;
mod browser;
mod chromium;
mod client;
mod ending;
mod lan;
mod served;
mod uploads;
