//! A net in steps: the library computes the most of it, the depthwise convolutions between are computed here.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use rten::{Model, NodeId, RunOptions, ThreadPool, Value, ValueOrView};
use rten_onnx::onnx::{ModelProto, NodeProto, TensorProto};
use rten_tensor::prelude::*;
use rten_tensor::{NdTensor, NdTensorView};

use super::depthwise::Depthwise;
use super::net_error;
use crate::messages::tracking as messages;
use crate::types::{Cause, Error, Result};

/// How to get some of a net's values from its input.
pub struct Split {
    input: NodeId,
    steps: Vec<Step>,
    outputs: Vec<NodeId>,
}

/// First the library, then what is computed here from what it gave.
struct Step {
    /// Values the library needs, and whether nothing needs them after it.
    needs: Vec<(NodeId, bool)>,
    gives: Vec<NodeId>,
    depthwise: Vec<Here>,
}

/// One convolution: from which value to which.
struct Here {
    from: NodeId,
    to: NodeId,
    conv: Depthwise,
    /// Nothing needs `from` after it.
    last: bool,
}

/// One operator of the net as the file has it, with those that follow from it alone.
struct Operator<'a> {
    /// Inputs that are no constants.
    from: Vec<&'a str>,
    to: Vec<&'a str>,
    conv: Option<Depthwise>,
}

/// Everything after the last step: what is asked for.
const END: usize = usize::MAX;

impl Split {
    /// `file`: the net that `model` was loaded from; `wanted`: names of the values that are asked for.
    pub fn new(file: &ModelProto, model: &Model, wanted: &[&str]) -> Result<Self> {
        let graph = file.graph.as_ref().ok_or_else(unlike)?;
        let constants: HashMap<&str, &TensorProto> =
            graph.initializer.iter().filter_map(|t| Some((t.name.as_deref()?, t))).collect();
        let operators = operators(&graph.node, &constants, wanted);
        // How many convolutions of ours come before a value at most.
        let mut level: HashMap<&str, usize> = HashMap::new();
        let before = |level: &HashMap<&str, usize>, o: &Operator| {
            o.from.iter().filter_map(|v| level.get(v)).max().copied().unwrap_or(0)
        };
        // When a value is used: at which level, and whether by us, which comes after the library's part.
        let mut used: HashMap<&str, BTreeSet<(usize, bool)>> = HashMap::new();
        let mut given: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for operator in &operators {
            let at = before(&level, operator);
            let ours = operator.conv.is_some();
            for value in &operator.from {
                used.entry(value).or_default().insert((at, ours));
            }
            for value in &operator.to {
                level.insert(value, at + usize::from(ours));
                if !ours {
                    given.entry(at).or_default().push(value);
                }
            }
        }
        for value in wanted {
            used.entry(value).or_default().insert((END, false));
        }
        let id = |name: &str| model.node_id(name).map_err(|e| net_error(Cause::of(e)));
        let is_last =
            |value: &str, when: (usize, bool)| used.get(value).and_then(BTreeSet::last) == Some(&when);
        let levels = operators.iter().map(|o| before(&level, o)).max().unwrap_or(0);
        let mut steps = Vec::new();
        for at in 0..=levels {
            let here = || operators.iter().filter(|o| before(&level, o) == at);
            let mut step = Step { needs: Vec::new(), gives: Vec::new(), depthwise: Vec::new() };
            let made = given.remove(&at).unwrap_or_default();
            let needed: BTreeSet<&str> = here()
                .filter(|o| o.conv.is_none())
                .flat_map(|o| o.from.iter().copied())
                .filter(|v| !made.contains(v))
                .collect();
            for value in needed {
                step.needs.push((id(value)?, is_last(value, (at, false))));
            }
            for value in made {
                // What only the library uses, and at once, it keeps to itself.
                if used.get(value).is_some_and(|uses| uses.last().is_some_and(|last| *last > (at, false))) {
                    step.gives.push(id(value)?);
                }
            }
            for operator in here() {
                let (Some(conv), [from], [to]) =
                    (&operator.conv, operator.from.as_slice(), operator.to.as_slice())
                else {
                    continue;
                };
                let last = is_last(from, (at, true));
                step.depthwise.push(Here { from: id(from)?, to: id(to)?, conv: conv.clone(), last });
            }
            // A value that several of ours need goes with the last of them.
            let mut seen = BTreeSet::new();
            for here in step.depthwise.iter_mut().rev() {
                here.last &= seen.insert(here.from.as_u32());
            }
            steps.push(step);
        }
        let input = *model.input_ids().first().ok_or_else(|| net_error(messages::NET_NO_INPUT.into()))?;
        let outputs = wanted.iter().map(|name| id(name)).collect::<Result<_>>()?;
        Ok(Self { input, steps, outputs })
    }

    /// How many convolutions are computed here.
    #[cfg(test)]
    pub fn here(&self) -> usize {
        self.steps.iter().map(|s| s.depthwise.len()).sum()
    }

    /// The values asked for, in that order.
    pub fn run(&self, model: &Model, input: Value, pool: &Arc<ThreadPool>) -> Result<Vec<Value>> {
        let mut values: HashMap<NodeId, Value> = HashMap::from([(self.input, input)]);
        for step in &self.steps {
            if !step.gives.is_empty() {
                let mut owned = Vec::new();
                for (id, _) in step.needs.iter().filter(|(_, last)| *last) {
                    owned.push((*id, ValueOrView::Value(values.remove(id).ok_or_else(unlike)?)));
                }
                for (id, _) in step.needs.iter().filter(|(_, last)| !last) {
                    owned.push((*id, values.get(id).ok_or_else(unlike)?.as_view().into()));
                }
                let options = RunOptions::default().with_thread_pool(Some(pool.clone()));
                let given =
                    model.run(owned, &step.gives, Some(options)).map_err(|e| net_error(Cause::of(e)))?;
                values.extend(step.gives.iter().copied().zip(given));
            }
            for here in &step.depthwise {
                let from = values.get(&here.from).ok_or_else(unlike)?;
                let to = computed(&here.conv, from)?;
                if here.last {
                    values.remove(&here.from);
                }
                values.insert(here.to, to);
            }
        }
        self.outputs.iter().map(|id| values.remove(id).ok_or_else(unlike)).collect()
    }
}

fn unlike() -> Error {
    net_error(messages::NET_UNLIKE.into())
}

fn computed(conv: &Depthwise, from: &Value) -> Result<Value> {
    let from: NdTensorView<f32, 4> = from.as_view().try_into().map_err(|_| unlike())?;
    let [1, channels, rows, columns] = from.shape() else { return Err(unlike()) };
    if channels != conv.channels() {
        return Err(unlike());
    }
    let (out, [rows, columns]) = conv.run(&from.to_slice(), [rows, columns])?;
    let to =
        NdTensor::try_from_data([1, channels, rows, columns], out).map_err(|e| net_error(Cause::of(e)))?;
    Ok(to.into())
}

/// The operators that what is wanted needs, in the order they can be computed in.
fn operators<'a>(
    nodes: &'a [NodeProto],
    constants: &HashMap<&str, &'a TensorProto>,
    wanted: &[&str],
) -> Vec<Operator<'a>> {
    let mut needed: BTreeSet<&str> = wanted.iter().copied().collect();
    let mut kept: Vec<&NodeProto> = Vec::new();
    for node in nodes.iter().rev() {
        if node.output.iter().any(|o| needed.contains(o.as_str())) {
            needed.extend(node.input.iter().map(String::as_str));
            kept.push(node);
        }
    }
    kept.reverse();
    let users = |value: &str| kept.iter().filter(|n| n.input.iter().any(|i| i == value)).collect::<Vec<_>>();
    let mut within: BTreeSet<&str> = BTreeSet::new();
    let mut all = Vec::new();
    for node in &kept {
        if node.output.iter().any(|o| within.contains(o.as_str())) {
            continue;
        }
        let from =
            node.input.iter().map(String::as_str).filter(|i| !i.is_empty() && !constants.contains_key(i));
        let mut operator = Operator {
            from: from.collect(),
            to: node.output.iter().map(String::as_str).collect(),
            conv: depthwise(node, constants),
        };
        if let (Some(conv), [to]) = (&operator.conv, operator.to.as_slice())
            && let [only] = users(to).as_slice()
            && !wanted.contains(to)
            && let Some((low, high)) = bounds(only, constants)
            && let Some(held) = only.output.first()
        {
            within.insert(held);
            operator.conv = Some(conv.clone().within(low, high));
            operator.to = vec![held];
        }
        all.push(operator);
    }
    all
}

/// The bounds of a `Clip`.
fn bounds(node: &NodeProto, constants: &HashMap<&str, &TensorProto>) -> Option<(f32, f32)> {
    if node.op_type.as_deref() != Some("Clip") {
        return None;
    }
    let one = |i: usize| numbers(constants.get(node.input.get(i)?.as_str())?)?.first().copied();
    Some((one(1)?, one(2)?))
}

/// A `Conv` that is depthwise and in all else as [`Depthwise`] knows them.
fn depthwise(node: &NodeProto, constants: &HashMap<&str, &TensorProto>) -> Option<Depthwise> {
    if node.op_type.as_deref() != Some("Conv") {
        return None;
    }
    let attribute = |name: &str| node.attribute.iter().find(|a| a.name.as_deref() == Some(name));
    let list = |name: &str, length: usize, otherwise: i64| -> Option<Vec<usize>> {
        let given = attribute(name).map(|a| a.ints.clone()).filter(|l| !l.is_empty());
        let list = given.unwrap_or_else(|| vec![otherwise; length]);
        list.iter().map(|v| usize::try_from(*v).ok()).collect()
    };
    let weights = constants.get(node.input.get(1)?.as_str())?;
    let bias = constants.get(node.input.get(2)?.as_str())?;
    let group = attribute("group")?.i?;
    let [channels, 1, side, width] = *weights.dims.as_slice() else { return None };
    let plain = attribute("auto_pad").and_then(|a| a.s.as_deref()).is_none_or(|s| s == "NOTSET");
    let whole = list("dilations", 2, 1)?.iter().all(|d| *d == 1);
    let [stride, across] = *list("strides", 2, 1)?.as_slice() else { return None };
    if group != channels || group < 2 || side != width || stride != across || !plain || !whole {
        return None;
    }
    let pads = <[usize; 4]>::try_from(list("pads", 4, 0)?).ok()?;
    Depthwise::new(usize::try_from(side).ok()?, stride, pads, numbers(weights)?, numbers(bias)?).ok()
}

/// The numbers of a constant.
fn numbers(tensor: &TensorProto) -> Option<Vec<f32>> {
    if tensor.data_type != Some(rten_onnx::onnx::DataType::FLOAT) {
        return None;
    }
    if !tensor.float_data.is_empty() {
        return Some(tensor.float_data.clone());
    }
    let bytes = tensor.raw_data.as_ref()?.borrow();
    Some(bytes.as_chunks::<4>().0.iter().map(|b| f32::from_le_bytes(*b)).collect())
}
