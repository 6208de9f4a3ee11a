//! The bat in the pictures and the neural nets.

pub(crate) fn bat_blends_in(looks: usize, of: usize) -> String {
    format!("it stands out from the background in only {looks} of {of} frames")
}

/// `spread`: of the length, as a share of it.
pub fn bat_length_varies(spread: f64) -> String {
    format!("its length varies by {:.0} % between frames", 100.0 * spread)
}

pub(crate) const NET_NO_INPUT: &str = "it has no input";
pub(crate) const NET_NO_OUTPUT: &str = "it returned nothing";
pub(crate) const NET_UNLIKE: &str = "it is not built as expected";
pub(crate) const NET_NOT_NUMBERS: &str = "its output is not numbers";
