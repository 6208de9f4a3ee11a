//! A rep of one clip, or of two angles given as `SIDE+BEHIND`.

use std::path::Path;

use swingpair::compose::{Second, SecondAngle};
use swingpair::reading::{self, AnglesOptions, ReadClip, ReadOptions};
use swingpair::types::{Angles, Cancel, Offset, Progress, Result, View, Warning, file_name};

/// A rep as it was read; what the measures come from is `first`.
pub struct Rep {
    pub first: ReadClip,
    pub second: Option<(ReadClip, Offset)>,
}

impl Rep {
    pub fn second(&self) -> Option<Second<'_>> {
        let (read, offset) = self.second.as_ref()?;
        Some(Second { clip: &read.clip, angle: SecondAngle { reading: &read.reading, offset: *offset } })
    }
}

/// Read a rep; of two angles each moment comes from the one that sees it better.
pub fn read(
    first: &Path,
    second: Option<&Path>,
    options: &ReadOptions,
    distances_m: Option<[f64; 2]>,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<(Rep, Vec<Warning>)> {
    let Some(second) = second else {
        return Ok((
            Rep { first: reading::read(first, options, progress, cancel)?, second: None },
            Vec::new(),
        ));
    };
    // Points, places and rates are about the first clip; what belongs to the hitter is about both.
    let other = ReadOptions {
        height_cm: options.height_cm,
        bat_cm: options.bat_cm,
        fresh: options.fresh,
        limits: options.limits,
        ..ReadOptions::default()
    };
    let options = AnglesOptions { reads: [options.clone(), other], distances_m, sound_alone: false };
    let (clips, angles, mut warnings) =
        reading::read_two_angles([first, second], &options, progress, cancel)?;
    let Angles { mut offset, .. } = angles;
    let [mut a, mut b] = clips;
    let side = |read: &ReadClip| matches!(read.reading.hitter.view, View::OpenSide | View::ClosedSide);
    if !side(&a) && side(&b) {
        std::mem::swap(&mut a, &mut b);
        offset = offset.turned();
        warnings.push(Warning::AnglesTurned { side: file_name(second) });
    }
    Ok((Rep { first: a, second: Some((b, offset)) }, warnings))
}

/// What only the second angles give is taken from them, where every rep has one: else two views would be compared.
pub fn share_measures(reps: &mut [&mut Rep]) {
    if reps.iter().any(|rep| rep.second.is_none()) {
        return;
    }
    for rep in reps {
        let Some((second, _)) = &rep.second else { continue };
        let reading = &mut rep.first.reading;
        for (id, measure) in &second.reading.measures {
            if !reading.measures.contains_key(id) {
                reading.measures.insert(*id, *measure);
                reading.absent.remove(id);
            }
        }
    }
}
