//! The desk, as its page and as somebody who has no business there meet it.

mod attacks;
mod browser;
mod served;
mod setting;
