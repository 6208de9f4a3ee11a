//! Seeded damage: the same dice break the same file in the same way.

use serde_json::Value;
use swingpair::demo::Dice;

fn below(dice: &mut Dice, n: usize) -> usize {
    if n == 0 { 0 } else { (dice.next_u64() % n as u64) as usize }
}

/// Numbers that sizes, counts and offsets break at.
const EDGES: [u32; 10] = [0, 1, 2, 0x7f, 0xff, 0xffff, 0x7fff_ffff, 0x8000_0000, 0xffff_fff0, 0xffff_ffff];

/// `whole` with one to four wounds, one as often as more; `other` is another file, of which parts may be grafted in.
pub fn bytes(dice: &mut Dice, whole: &[u8], other: &[u8]) -> Vec<u8> {
    let mut data = whole.to_vec();
    let wounds = if below(dice, 2) == 0 { 1 } else { 2 + below(dice, 3) };
    for _ in 0..wounds {
        wound(dice, &mut data, other);
    }
    data
}

/// A place: anywhere, or (as often) in the first or last 2 KB, where files keep what the rest means.
fn place(dice: &mut Dice, length: usize) -> usize {
    let edge = length.min(2048);
    match below(dice, 4) {
        0 => below(dice, edge),
        1 => length - edge + below(dice, edge),
        _ => below(dice, length),
    }
}

fn wound(dice: &mut Dice, data: &mut Vec<u8>, other: &[u8]) {
    if data.is_empty() {
        data.extend_from_slice(other);
        return;
    }
    let at = place(dice, data.len());
    let longest = if below(dice, 8) == 0 { data.len() / 2 } else { 64 };
    let end = (at + 1 + below(dice, longest.max(1))).min(data.len());
    match below(dice, 11) {
        0 | 1 => {
            for _ in 0..1 + below(dice, 32) {
                let at = place(dice, data.len());
                data[at] ^= 1 << below(dice, 8);
            }
        }
        2 => data[at] = [0x00, 0x01, 0x7f, 0x80, 0xff][below(dice, 5)],
        3 => drop(data.drain(at..end)),
        4 => {
            let fresh: Vec<u8> = (at..end).map(|_| dice.next_u64() as u8).collect();
            data.splice(at..at, fresh);
        }
        5 => {
            let twice = data[at..end].to_vec();
            data.splice(at..at, twice);
        }
        6 => {
            let from = place(dice, other.len());
            let graft = other.get(from..(from + end - at).min(other.len())).unwrap_or_default().to_vec();
            data.splice(at..end, graft);
        }
        7 if at > data.len() / 8 => data.truncate(at),
        8 => data[at..end].fill(if below(dice, 2) == 0 { 0x00 } else { 0xff }),
        9 => {
            let to = place(dice, data.len());
            let n = (end - at).min(data.len() - to);
            data.copy_within(at..at + n, to);
        }
        // A number of four bytes, either way round, set to an edge or moved by one.
        _ => {
            let Some(four) = data.get_mut(at..at + 4) else { return };
            let big = below(dice, 2) == 0;
            let old: [u8; 4] = [four[0], four[1], four[2], four[3]];
            let old = if big { u32::from_be_bytes(old) } else { u32::from_le_bytes(old) };
            let new = match below(dice, 4) {
                0 => old.wrapping_add(1),
                1 => old.wrapping_sub(1),
                _ => EDGES[below(dice, EDGES.len())],
            };
            four.copy_from_slice(&if big { new.to_be_bytes() } else { new.to_le_bytes() });
        }
    }
}

/// `text`, which is JSON, with one to four of its values taken out, doubled or replaced, still JSON.
pub fn json(dice: &mut Dice, text: &str) -> String {
    let Ok(mut value) = serde_json::from_str::<Value>(text) else { return text.to_owned() };
    for _ in 0..1 + below(dice, 4) {
        let other = value.clone();
        edit(dice, &mut value, &other);
    }
    value.to_string()
}

fn edit(dice: &mut Dice, value: &mut Value, whole: &Value) {
    // Go down, now and then stopping early.
    let down = below(dice, 40) > 0;
    match value {
        Value::Array(items) if down && !items.is_empty() => {
            let i = below(dice, items.len());
            match below(dice, 24) {
                0 => drop(items.remove(i)),
                1 => items.insert(i, items[i].clone()),
                2 => items.truncate(i),
                3 => items.reverse(),
                4 => items.push(whole.clone()),
                _ => edit(dice, &mut items[i], whole),
            }
        }
        Value::Object(fields) if down && !fields.is_empty() => {
            let key = fields.keys().nth(below(dice, fields.len())).cloned().unwrap_or_default();
            match (below(dice, 24), fields.get_mut(&key)) {
                (0, _) => drop(fields.remove(&key)),
                (1, _) => drop(fields.insert(format!("{key}x"), Value::Null)),
                (_, Some(inner)) => edit(dice, inner, whole),
                (_, None) => (),
            }
        }
        _ => *value = strange(dice, value),
    }
}

fn strange(dice: &mut Dice, old: &Value) -> Value {
    let x = old.as_f64().unwrap_or(1.0);
    let numbers = [
        -x,
        x * 1e3,
        x / 1e3,
        x + 1.0,
        x - 1.0,
        0.0,
        -1.0,
        1e308,
        -1e308,
        5e-324,
        1e18,
        4_294_967_296.0,
        0.5,
        1e6,
    ];
    // A number mostly stays one, and a whole one whole, or nothing but the reader of types would be tried.
    if old.is_number() && below(dice, 8) > 0 {
        let Some(whole) = old.as_u64() else { return Value::from(numbers[below(dice, numbers.len())]) };
        let near = [
            0,
            1,
            whole.saturating_add(1),
            whole.saturating_sub(1),
            whole.saturating_mul(1000),
            1 << 32,
            1_000_000,
        ];
        return match below(dice, 10) {
            0 => Value::from(u64::MAX),
            1 => Value::from(1u64 << below(dice, 63)),
            _ => Value::from(near[below(dice, near.len())]),
        };
    }
    match below(dice, 12) {
        0 => Value::Null,
        1 => Value::Bool(true),
        2 => Value::from("é\u{0}x"),
        3 => Value::from(""),
        4 => Value::Array(Vec::new()),
        5 => Value::from(u64::MAX),
        6 => Value::from(i64::MIN),
        7 => Value::from(numbers[below(dice, numbers.len())]),
        _ => old.as_str().map_or(Value::from("9".repeat(400)), |s| Value::from(s.repeat(3))),
    }
}
