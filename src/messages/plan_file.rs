//! What can be wrong in the text of a shot plan, and the lines over a printed one.

pub const NEEDS_FROM: &str = "a swing shot needs “from”, as in from = \"load\"";
pub const NEEDS_TO: &str = "a swing shot needs “to”, as in to = \"extension+0.2s\"";
pub const NEEDS_SECONDS: &str = "cards and titles need “seconds”, as in seconds = 4";
pub const CONTROL_CHARACTER: &str =
    "a text contains a line break or another control character; put each line in a string of its own";

pub fn field_unused(field: &str, show: &str) -> String {
    format!("“{field}” does not apply to show = \"{show}\"")
}

pub fn no_moment(text: &str) -> String {
    format!("“{text}” is not a moment; write an event and an offset, as in \"plant-0.3s\"")
}

pub fn too_far(text: &str, most_s: f64) -> String {
    format!("“{text}” is more than {most_s} s away from its event")
}

pub fn shot(place: usize, wrong: &str) -> String {
    format!("shot {}: {wrong}", place + 1)
}

pub fn shot_count(shots: usize, most: usize) -> String {
    format!("it has {shots} shots; a plan has 1 to {most}")
}

pub fn backwards(from: &str, to: &str) -> String {
    format!("it runs backwards, from {from} to {to}; “to” must come after “from”")
}

pub fn out_of_range(field: &str, value: f64, low: f64, high: f64) -> String {
    format!("{field} = {value} must be between {low} and {high}")
}

pub fn too_many_holds(holds: usize, most: usize) -> String {
    format!("it has {holds} holds; the most is {most}")
}

pub fn title_lines(most: usize) -> String {
    format!("a title has 1 to {most} lines")
}

pub fn text_length(letters: usize, most: usize) -> String {
    format!("a text has 1 to {most} letters; this one has {letters}")
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
