use serde::{Deserialize, Serialize};

use super::dice::Dice;
use crate::types::Side;

/// A made-up person.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hitter {
    /// Invented.
    pub name: String,
    /// The side of the plate the hitter bats from.
    pub bats: Side,
    /// Standing, without shoes, cm.
    pub height_cm: f64,
    /// Length of the bat, cm.
    pub bat_cm: f64,
    /// Thickness of trunk and limbs; 1 = average.
    pub build: f64,
    pub(crate) limbs: Limbs,
}

/// Segment lengths as shares of standing height. Defaults: Drillis & Contini 1966, in Winter fig. 4.1
/// (joint to joint, by differences of the heights given there).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Limbs {
    pub(crate) shank: f64,
    pub(crate) thigh: f64,
    /// Hip line to shoulder line.
    pub trunk: f64,
    pub(crate) upper_arm: f64,
    pub(crate) forearm: f64,
    /// Wrist to knuckles (half of the hand).
    pub hand: f64,
    pub(crate) foot: f64,
    pub(crate) ankle_height: f64,
    /// Shoulder joint to shoulder joint: somewhat inside the outer width of .259.
    pub shoulders: f64,
    /// Hip joint to hip joint (from memory).
    pub hips: f64,
}

impl Default for Limbs {
    fn default() -> Self {
        Self {
            shank: 0.246,
            thigh: 0.245,
            trunk: 0.288,
            upper_arm: 0.186,
            forearm: 0.146,
            hand: 0.054,
            foot: 0.152,
            ankle_height: 0.039,
            shoulders: 0.222,
            hips: 0.104,
        }
    }
}

impl Limbs {
    /// A body that differs from the average by a few per cent, limb group by limb group.
    pub fn varied(dice: &mut Dice) -> Self {
        let mut d = Self::default();
        let (leg, arm, width) = (0.02 * dice.bell(), 0.02 * dice.bell(), 0.03 * dice.bell());
        d.shank *= 1.0 + leg;
        d.thigh *= 1.0 + leg + 0.01 * dice.bell();
        // What the legs gain the trunk loses: the height stays the height.
        d.trunk -= 0.491 * leg;
        d.upper_arm *= 1.0 + arm;
        d.forearm *= 1.0 + arm;
        d.shoulders *= 1.0 + width;
        d.hips *= 1.0 + width;
        d
    }
}

impl Hitter {
    /// Of usual proportions for that height.
    pub fn new(name: &str, bats: Side, height_cm: f64, bat_cm: f64) -> Self {
        Self { name: name.to_owned(), bats, height_cm, bat_cm, build: 1.0, limbs: Limbs::default() }
    }
}
