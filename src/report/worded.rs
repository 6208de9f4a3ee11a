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
    /// Name of the file, without its folder.
    pub clip: String,
    /// Why it is not counted; null where it is.
    pub left_out: Option<String>,
    pub(crate) from_middle: Option<f64>,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{AbsentReason, EventId, LeftOut};

    /// The form that programs have read since the first version.
    #[test]
    fn programs_get_a_code_and_a_sentence() {
        let told = warnings(&[Warning::ToeTap { taps: 2 }]);
        assert_eq!(
            serde_json::to_value(told).unwrap(),
            serde_json::json!([{"code": "toe_tap", "text": "The front foot taps 2 times before the stride."}])
        );
        let reason = AbsentReason::EventNotFound { event: EventId::Stance };
        let told = absent(&Absent::from([(MeasureId::StrideLength, reason)]));
        assert_eq!(
            serde_json::to_value(told).unwrap(),
            serde_json::json!({"stride_length": "stance was not found"})
        );
        let rep = GoodRep {
            clip: "/a/b.mp4".into(),
            left_out: Some(LeftOut::SameSwing { clip: "c.mp4".to_owned() }),
            from_middle: None,
        };
        assert_eq!(
            serde_json::to_value(RepJson::from(&rep)).unwrap(),
            serde_json::json!({"clip": "b.mp4", "left_out": "it shows the same swing as c.mp4", "from_middle": null})
        );
    }
}
