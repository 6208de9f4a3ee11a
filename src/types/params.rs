//! Tuned constants as data: one table a room, so that a reading can be kept under what it was made with.

/// One tuned constant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Param {
    /// The constant's name.
    pub name: &'static str,
    /// In `unit`.
    pub value: f64,
    /// Of `value`.
    pub unit: &'static str,
    /// What it does.
    pub meaning: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// The swings, films or bench row it was set on; nothing is scored on them.
    pub set_on: &'static str,
}

/// Declares constants and, as `TABLE`, what is known of each: `/// meaning` then
/// `NAME = value, "unit", "source", "what it was set on";`, or `NAME: type = value, …` where it is no `f64`.
macro_rules! tuned {
    (@type) => { f64 };
    (@type $type:ident) => { $type };
    ($( $(#[doc = $meaning:literal])+ $name:ident $(: $type:ident)? = $value:expr, $unit:literal, $source:literal, $set_on:literal; )+) => {
        $( $(#[doc = $meaning])+ pub const $name: $crate::types::tuned!(@type $($type)?) = $value; )+
        /// Every constant above.
        pub const TABLE: &[$crate::types::Param] = &[$( $crate::types::Param {
            name: stringify!($name),
            value: $name as f64,
            unit: $unit,
            meaning: concat!($($meaning),+),
            source: $source,
            set_on: $set_on,
        } ),+];
    };
}
pub(crate) use tuned;
