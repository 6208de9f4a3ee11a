//! The desk, as its page and as somebody who has no business there meet it.

mod attacks;
mod browser;
mod lessons;
mod long;
mod looks;
mod making;
mod scenes;
mod served;
mod setting;
mod sharing;
mod trouble;
