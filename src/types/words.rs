//! Enums whose variants are written down once.

/// An enum with the stable word of each variant, which files and the command line use; `ALL` keeps the order below.
macro_rules! words {
    ($(#[$meta:meta])* pub enum $name:ident { $($(#[$doc:meta])* $word:literal $variant:ident,)+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
        pub enum $name { $($(#[$doc])* #[serde(rename = $word)] $variant,)+ }

        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; [$($word),+].len()] = [$(Self::$variant),+];

            /// The word of each, in the same order.
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The word used in files and on the command line.
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)+
                }
            }

            /// The one called `word`, if there is one.
            pub fn from_word(word: &str) -> Option<Self> {
                Self::ALL.into_iter().find(|of| of.word() == word)
            }
        }
    };
}
pub(crate) use words;
