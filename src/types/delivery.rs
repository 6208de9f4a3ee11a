use super::words::words;

words! {
    /// How the ball comes. A swing off a tee and one against a pitcher are not reps of one thing.
    pub enum Delivery {
        /// From a tee.
        "tee" Tee,
        /// Tossed or thrown softly by somebody near.
        "thrown" Thrown,
        /// From a machine.
        "machine" Machine,
        /// A pitcher in a game or at live batting practice.
        "live" Live,
    }
}
