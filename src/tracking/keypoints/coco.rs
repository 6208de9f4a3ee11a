//! The form of COCO keypoint JSON (cocodataset.org), as strictly as is needed and as loosely as its writers are.

use serde::Deserialize;
use serde_json::Value;

use crate::types::{KeypointsFault, TextFault};

#[derive(Deserialize)]
struct File {
    images: Vec<Image>,
    annotations: Vec<Annotation>,
    categories: Vec<Category>,
}

#[derive(Deserialize)]
pub struct Image {
    pub id: i64,
    #[serde(default)]
    pub width: usize,
    #[serde(default)]
    pub height: usize,
    pub time_s: Option<f64>,
}

#[derive(Deserialize)]
struct Annotation {
    image_id: i64,
    category_id: Option<i64>,
    /// Which person, the same in every picture (as in PoseTrack's files).
    track_id: Option<Value>,
    /// x, y, v for each name; null is a gap. Boxes without points have none.
    keypoints: Option<Vec<Option<f64>>>,
}

#[derive(Deserialize)]
struct Category {
    id: Option<i64>,
    #[serde(default)]
    keypoints: Vec<String>,
}

/// One body in one picture.
pub struct Body {
    pub image_id: i64,
    /// `None` unless every body of the file has one.
    pub track: Option<String>,
    /// By the file's names; `None` is a gap. The last is how sure it is, 0…1.
    pub points: Vec<Option<(f64, f64, f64)>>,
}

pub struct Coco {
    pub images: Vec<Image>,
    pub names: Vec<String>,
    pub bodies: Vec<Body>,
}

pub fn read(text: &str) -> Result<Coco, KeypointsFault> {
    let text = without_nan(text);
    if text.trim_start().starts_with('[') {
        return Err(KeypointsFault::ResultsOnly);
    }
    let file: File =
        serde_json::from_str(&text).map_err(|e| TextFault::Syntax { line: None, cause: e.to_string() })?;
    if file.categories.is_empty() {
        return Err(KeypointsFault::NoCategory);
    }
    let category = file.categories.iter().find(|c| !c.keypoints.is_empty());
    let category = category.ok_or(KeypointsFault::NoNames)?;
    let names = &category.keypoints;
    let of_category = |a: &&Annotation| {
        a.keypoints.is_some()
            && (a.category_id.is_none() || category.id.is_none() || a.category_id == category.id)
    };
    let all: Vec<&Annotation> = file.annotations.iter().filter(of_category).collect();
    // Some write x and y alone.
    let pairs = !all.is_empty() && all.iter().all(|a| numbers(a).len() == names.len() * 2);
    let each = if pairs { 2 } else { 3 };
    if let Some(a) = all.iter().find(|a| numbers(a).len() != names.len() * each) {
        return Err(KeypointsFault::Count {
            id: a.image_id,
            numbers: numbers(a).len(),
            names: names.len(),
            needed: names.len() * each,
        });
    }
    // With v = 0, 1, 2 COCO says unlabelled, hidden, seen; others write a score from 0 to 1 there.
    let most =
        if all.iter().all(|a| numbers(a).chunks(3).all(|c| c.get(2).is_none_or(|v| v.unwrap_or(0.0) <= 1.0)))
        {
            1.0
        } else {
            2.0
        };
    let tracks = all.iter().all(|a| a.track_id.as_ref().is_some_and(|t| !t.is_null()));
    let point = |c: &[Option<f64>]| match *c {
        [Some(x), Some(y), Some(v)] => Some((x, y, v / most)),
        // Without a word on how sure it is, the corner of the picture stands for "not seen".
        [Some(x), Some(y)] if x != 0.0 || y != 0.0 => Some((x, y, 1.0)),
        _ => None,
    };
    let bodies = all
        .iter()
        .map(|a| Body {
            image_id: a.image_id,
            track: a.track_id.as_ref().filter(|_| tracks).map(Value::to_string),
            points: numbers(a).chunks(each).map(point).collect(),
        })
        .collect();
    Ok(Coco { images: file.images, names: names.clone(), bodies })
}

fn numbers(a: &Annotation) -> &[Option<f64>] {
    a.keypoints.as_deref().unwrap_or_default()
}

/// Some writers put NaN and Infinity, which JSON does not know, for points nobody saw: they become null.
fn without_nan(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let (mut in_string, mut escaped) = (false, false);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let word = ["-Infinity", "Infinity", "NaN"].into_iter().find(|w| !in_string && rest.starts_with(w));
        if let Some(word) = word {
            out.push_str("null");
            rest = &rest[word.len()..];
            continue;
        }
        if in_string {
            in_string = escaped || c != '"';
            escaped = !escaped && c == '\\';
        } else {
            in_string = c == '"';
        }
        out.push(c);
        rest = &rest[c.len_utf8()..];
    }
    out
}
