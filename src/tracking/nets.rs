use std::io::Read;
use std::sync::Arc;

use rten::{Model, NodeId, RunOptions, ThreadPool};
use rten_tensor::NdTensor;

use crate::messages::tracking as messages;
use crate::types::{Cause, Error, Result};

const DETECTOR: &[u8] = include_bytes!("../../models/pose_detection.onnx.zst");
const LANDMARKS: &[u8] = include_bytes!("../../models/pose_landmark_full_with_mask.onnx.zst");

/// Side of the detector's input, px.
pub const DETECTOR_SIDE: usize = 224;
/// Side of the landmark net's input, px.
pub const LANDMARK_SIDE: usize = 256;

/// The two pose nets, ready to run. Load once; share by reference between threads.
pub struct Nets {
    detector: Net<2>,
    landmarks: Net<3>,
    mask: NodeId,
}

struct Net<const N: usize> {
    model: Model,
    input: NodeId,
    outputs: [NodeId; N],
}

impl Nets {
    /// Unpack and prepare the built-in weights.
    pub fn load() -> Result<Self> {
        let detector = Net::load(DETECTOR, ["Identity", "Identity_1"])?;
        let landmarks = Net::load(LANDMARKS, ["Identity", "Identity_1", "Identity_3"])?;
        let mask = landmarks.model.node_id("Identity_2").map_err(|e| net_error(Cause::of(e)))?;
        Ok(Self { detector, landmarks, mask })
    }

    /// A runner for one thread: the nets are shared, the thread it computes on is its own.
    pub fn eye(&self) -> Eye<'_> {
        Eye { nets: self, pool: Arc::new(ThreadPool::with_num_threads(1)) }
    }
}

impl<const N: usize> Net<N> {
    fn load(packed: &[u8], outputs: [&str; N]) -> Result<Self> {
        let mut bytes = Vec::new();
        ruzstd::decoding::StreamingDecoder::new(packed)
            .map_err(|e| net_error(Cause::of(e)))?
            .read_to_end(&mut bytes)
            .map_err(|e| net_error(Cause::of(e)))?;
        let model = Model::load(bytes).map_err(|e| net_error(Cause::of(e)))?;
        let input = *model.input_ids().first().ok_or_else(|| net_error(messages::NET_NO_INPUT.into()))?;
        let mut ids = [input; N];
        for (id, name) in ids.iter_mut().zip(outputs) {
            *id = model.node_id(name).map_err(|e| net_error(Cause::of(e)))?;
        }
        Ok(Self { model, input, outputs: ids })
    }
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
        let [boxes, scores] =
            self.run(&self.nets.detector, DETECTOR_SIDE, input, self.nets.detector.outputs)?;
        Ok((boxes, scores))
    }

    /// `input`: 256 × 256 × 3, 0…1.
    pub fn run_landmarks(&self, input: Vec<f32>) -> Result<RawLandmarks> {
        let [points, present, heat] =
            self.run(&self.nets.landmarks, LANDMARK_SIDE, input, self.nets.landmarks.outputs)?;
        let present = *present.first().ok_or_else(|| net_error(messages::NET_NO_OUTPUT.into()))?;
        Ok(RawLandmarks { points, present, heat })
    }

    /// The same and the body's mask in the crop: 256 × 256, logits.
    pub fn run_landmarks_and_mask(&self, input: Vec<f32>) -> Result<(RawLandmarks, Vec<f32>)> {
        let [a, b, c] = self.nets.landmarks.outputs;
        let outputs = [a, b, c, self.nets.mask];
        let [points, present, heat, mask] = self.run(&self.nets.landmarks, LANDMARK_SIDE, input, outputs)?;
        let present = *present.first().ok_or_else(|| net_error(messages::NET_NO_OUTPUT.into()))?;
        Ok((RawLandmarks { points, present, heat }, mask))
    }

    fn run<const N: usize, const M: usize>(
        &self,
        net: &Net<M>,
        side: usize,
        input: Vec<f32>,
        outputs: [NodeId; N],
    ) -> Result<[Vec<f32>; N]> {
        let input =
            NdTensor::try_from_data([1, side, side, 3], input).map_err(|e| net_error(Cause::of(e)))?;
        let options = RunOptions::default().with_thread_pool(Some(self.pool.clone()));
        let values = net
            .model
            .run(vec![(net.input, input.into())], &outputs, Some(options))
            .map_err(|e| net_error(Cause::of(e)))?;
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
