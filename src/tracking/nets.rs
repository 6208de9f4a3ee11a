//! The two pose nets.

mod depthwise;
mod split;

use std::io::Read;
use std::sync::Arc;

use rten::{Model, ThreadPool};
use rten_onnx::onnx::ModelProto;
use rten_tensor::NdTensor;

use crate::messages::tracking as messages;
use crate::types::{Cause, Error, Result};
use split::Split;

const DETECTOR: &[u8] = include_bytes!("../../models/pose_detection.onnx.zst");
const LANDMARKS: &[u8] = include_bytes!("../../models/pose_landmark_full_with_mask.onnx.zst");

/// Side of the detector's input, px.
pub const DETECTOR_SIDE: usize = 224;
/// Side of the landmark net's input, px.
pub const LANDMARK_SIDE: usize = 256;

/// The two pose nets, ready to run. Load once; share by reference between threads.
pub struct Nets {
    detector: Model,
    people: Split,
    landmarks: Model,
    points: Split,
    points_and_mask: Split,
}

impl Nets {
    /// Unpack and prepare the built-in weights.
    pub fn load() -> Result<Self> {
        let (file, detector) = unpacked(DETECTOR)?;
        let people = Split::new(&file, &detector, &["Identity", "Identity_1"])?;
        let (file, landmarks) = unpacked(LANDMARKS)?;
        let points = Split::new(&file, &landmarks, &["Identity", "Identity_1", "Identity_3"])?;
        let with_mask = ["Identity", "Identity_1", "Identity_3", "Identity_2"];
        let points_and_mask = Split::new(&file, &landmarks, &with_mask)?;
        Ok(Self { detector, people, landmarks, points, points_and_mask })
    }

    /// A runner for one thread: the nets are shared, the thread it computes on is its own.
    pub fn eye(&self) -> Eye<'_> {
        Eye { nets: self, pool: Arc::new(ThreadPool::with_num_threads(1)) }
    }
}

/// A net as its file has it, and ready to run.
fn unpacked(packed: &[u8]) -> Result<(ModelProto, Model)> {
    let mut bytes = Vec::new();
    ruzstd::decoding::StreamingDecoder::new(packed)
        .map_err(|e| net_error(Cause::of(e)))?
        .read_to_end(&mut bytes)
        .map_err(|e| net_error(Cause::of(e)))?;
    let file = ModelProto::parse_buf(&bytes).map_err(|e| net_error(Cause::of(e)))?;
    Ok((file, Model::load(bytes).map_err(|e| net_error(Cause::of(e)))?))
}

/// Runs the nets, one picture at a time, on one thread of its own.
pub struct Eye<'n> {
    nets: &'n Nets,
    pool: Arc<ThreadPool>,
}

/// The landmark net's answer as it comes out.
pub struct RawLandmarks {
    /// 39 × (x, y, z, visibility, presence).
    pub points: Vec<f32>,
    /// 0…1: a body is in the crop.
    pub present: f32,
    /// 64 × 64 × 39, logits.
    pub heat: Vec<f32>,
}

impl Eye<'_> {
    /// `input`: 224 × 224 × 3, −1…1. Boxes 2254 × 12 and scores 2254, raw.
    pub fn run_detector(&self, input: Vec<f32>) -> Result<(Vec<f32>, Vec<f32>)> {
        let [boxes, scores] = self.run(&self.nets.detector, &self.nets.people, DETECTOR_SIDE, input)?;
        Ok((boxes, scores))
    }

    /// `input`: 256 × 256 × 3, 0…1.
    pub fn run_landmarks(&self, input: Vec<f32>) -> Result<RawLandmarks> {
        let nets = self.nets;
        let [points, present, heat] = self.run(&nets.landmarks, &nets.points, LANDMARK_SIDE, input)?;
        let present = *present.first().ok_or_else(|| net_error(messages::NET_NO_OUTPUT.into()))?;
        Ok(RawLandmarks { points, present, heat })
    }

    /// The same and the body's mask in the crop: 256 × 256, logits.
    pub fn run_landmarks_and_mask(&self, input: Vec<f32>) -> Result<(RawLandmarks, Vec<f32>)> {
        let nets = self.nets;
        let [points, present, heat, mask] =
            self.run(&nets.landmarks, &nets.points_and_mask, LANDMARK_SIDE, input)?;
        let present = *present.first().ok_or_else(|| net_error(messages::NET_NO_OUTPUT.into()))?;
        Ok((RawLandmarks { points, present, heat }, mask))
    }

    fn run<const N: usize>(
        &self,
        model: &Model,
        way: &Split,
        side: usize,
        input: Vec<f32>,
    ) -> Result<[Vec<f32>; N]> {
        let input =
            NdTensor::try_from_data([1, side, side, 3], input).map_err(|e| net_error(Cause::of(e)))?;
        let values = way.run(model, input.into(), &self.pool)?;
        let mut answers = [const { Vec::new() }; N];
        for (answer, value) in answers.iter_mut().zip(values) {
            let tensor =
                value.into_tensor::<f32>().ok_or_else(|| net_error(messages::NET_NOT_NUMBERS.into()))?;
            *answer = tensor.into_data();
        }
        Ok(answers)
    }
}

const fn net_error(cause: Cause) -> Error {
    Error::Net { cause }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rten::RunOptions;

    /// The steps of both nets give what the library gives that computes all of it.
    #[test]
    fn the_nets_in_steps_are_the_nets() {
        let nets = Nets::load().unwrap();
        let eye = nets.eye();
        for (model, way, side, names) in [
            (&nets.detector, &nets.people, DETECTOR_SIDE, &["Identity", "Identity_1"][..]),
            (&nets.landmarks, &nets.points, LANDMARK_SIDE, &["Identity", "Identity_1", "Identity_3"]),
            (
                &nets.landmarks,
                &nets.points_and_mask,
                LANDMARK_SIDE,
                &["Identity", "Identity_1", "Identity_3", "Identity_2"],
            ),
        ] {
            let picture: Vec<f32> =
                (0..side * side * 3).map(|i| ((i * 2_654_435_761) % 1000) as f32 / 1000.0).collect();
            let input = || NdTensor::try_from_data([1, side, side, 3], picture.clone()).unwrap();
            let ids: Vec<_> = names.iter().map(|n| model.node_id(n).unwrap()).collect();
            let options = RunOptions::default().with_thread_pool(Some(eye.pool.clone()));
            let whole = model.run(vec![(model.input_ids()[0], input().into())], &ids, Some(options)).unwrap();
            let steps = way.run(model, input().into(), &eye.pool).unwrap();
            assert!(way.here() > 20, "nothing is computed here");
            for ((a, b), name) in whole.into_iter().zip(steps).zip(names) {
                let [a, b] = [a, b].map(|v| v.into_tensor::<f32>().unwrap().into_data());
                assert!(a.len() == b.len() && !a.is_empty(), "{name}");
                let large = a.iter().fold(1.0f32, |m, v| m.max(v.abs()));
                let apart = a.iter().zip(&b).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
                assert!(apart <= 1e-5 * large, "{name}: {apart} of {large}");
            }
        }
    }
}
