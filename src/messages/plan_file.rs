//! What can be wrong in the text of a shot plan, and the lines over a printed one.

use std::fmt::{Display, Formatter, Result};

use crate::types::PlanFault;

impl Display for PlanFault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            PlanFault::Text(fault) => write!(f, "{fault}"),
            PlanFault::Shots(all) => {
                let all: Vec<String> =
                    all.iter().map(|(i, fault)| format!("shot {}: {fault}", i + 1)).collect();
                write!(f, "{}", all.join("; "))
            }
            PlanFault::ShotCount { shots, most } => {
                write!(f, "it has {shots} shots; a plan has 1 to {most}")
            }
            PlanFault::Name(fault) => write!(f, "names: {fault}"),
            PlanFault::FieldUnused { field, show } => {
                write!(f, "“{field}” does not apply to show = \"{show}\"")
            }
            PlanFault::NeedsFrom => write!(f, "a swing shot needs “from”, as in from = \"load\""),
            PlanFault::NeedsTo => write!(f, "a swing shot needs “to”, as in to = \"extension+0.2s\""),
            PlanFault::NeedsSeconds => write!(f, "cards and titles need “seconds”, as in seconds = 4"),
            PlanFault::UnknownEvent { word } => write!(f, "“{word}” is not an event"),
            PlanFault::NoMoment { text } => {
                write!(f, "“{text}” is not a moment; write an event and an offset, as in \"plant-0.3s\"")
            }
            PlanFault::TooFar { text, most_s } => {
                write!(f, "“{text}” is more than {most_s} s away from its event")
            }
            PlanFault::Backwards { from, to } => {
                write!(f, "it runs backwards, from {from} to {to}; “to” must come after “from”")
            }
            PlanFault::OutOfRange { field, value, low, high } => {
                write!(f, "{field} = {value} must be between {low} and {high}")
            }
            PlanFault::TooManyHolds { holds, most } => write!(f, "it has {holds} holds; the most is {most}"),
            PlanFault::TitleLines { most } => write!(f, "a title has 1 to {most} lines"),
            PlanFault::ControlCharacter => write!(
                f,
                "a text contains a line break or another control character; put each line in a string of its own"
            ),
            PlanFault::TextLength { letters, most } => {
                write!(f, "a text has 1 to {most} letters; this one has {letters}")
            }
        }
    }
}

/// Over a printed plan.
pub fn head(events: &str, layouts: &str, marks: &str) -> String {
    format!(
        "# What the video shows, in order. Use it with: swingpair pair TODAY BEST --plan FILE -o VIDEO\n\
         # show: swing (from one moment to another), title (lines, seconds) or card (what was measured).\n\
         # from, to: an event plus or minus real time, as in \"load\", \"extension+0.2s\", \"plant-150ms\".\n\
         # slow: how many times slower than real time. hold: pause at an event, in seconds of the video.\n\
         # caption: your own words for a shot or a hold. layout and draw apply to all shots or to one.\n\
         # names = [\"Today\", \"Best rep\"] labels the two swings.\n\
         # Events: {events}\n# Layouts: {layouts}\n# Draw: {marks}\n\n"
    )
}
