//! Tuned constants as data: one table a room, so that a reading can be kept under what it was made with.

/// One tuned constant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Param {
    pub name: &'static str,
    pub value: f64,
    pub unit: &'static str,
    pub meaning: &'static str,
    pub source: &'static str,
    /// The swings, films or bench row it was set on; nothing is scored on them.
    pub set_on: &'static str,
}

/// Declares constants and, as `TABLE`, what is known of each: `/// meaning` then
/// `NAME = value, "unit", "source", "what it was set on";`.
macro_rules! tuned {
    ($( $(#[doc = $meaning:literal])+ $name:ident = $value:expr, $unit:literal, $source:literal, $set_on:literal; )+) => {
        $( $(#[doc = $meaning])+ pub const $name: f64 = $value; )+
        /// Every constant of this room.
        pub const TABLE: &[$crate::ground::Param] = &[$( $crate::ground::Param {
            name: stringify!($name),
            value: $value,
            unit: $unit,
            meaning: concat!($($meaning),+),
            source: $source,
            set_on: $set_on,
        } ),+];
    };
}
pub(crate) use tuned;
