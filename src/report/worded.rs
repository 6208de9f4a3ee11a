//! What programs read says it in words too: codes and values of warnings and reasons become sentences here.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::messages::{self, WordedWarning};
use crate::types::{Absent, GoodRep, MeasureId, Warning, file_name};

pub(super) fn warnings<'a>(all: impl IntoIterator<Item = &'a Warning>) -> Vec<WordedWarning> {
    all.into_iter().map(WordedWarning::from).collect()
}

/// Measures that are missing, each with the reason as a clause.
pub(super) fn absent(all: &Absent) -> BTreeMap<MeasureId, String> {
    all.iter().map(|(id, why)| (*id, messages::absent_reason(why))).collect()
}

/// One of several reps.
#[derive(Debug, Clone, Serialize)]
pub struct RepJson {
    pub clip: String,
    /// Why it is not counted; null where it is.
    pub left_out: Option<String>,
    pub from_middle: Option<f64>,
}

impl From<&GoodRep> for RepJson {
    fn from(rep: &GoodRep) -> Self {
        Self {
            clip: file_name(&rep.clip),
            left_out: rep.left_out.as_ref().map(messages::left_out),
            from_middle: rep.from_middle,
        }
    }
}
