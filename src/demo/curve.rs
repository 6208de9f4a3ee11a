/// Minimum-jerk progress, 0 → 1 while `t` goes `t0` → `t1` (Flash & Hogan 1985): how a limb goes from
/// one rest to another.
pub fn ease(t: f64, t0: f64, t1: f64) -> f64 {
    let s = ((t - t0) / (t1 - t0)).clamp(0.0, 1.0);
    s * s * s * (10.0 - 15.0 * s + 6.0 * s * s)
}

/// One quantity over time: a rest value plus overlapping minimum-jerk moves. Twice differentiable
/// and free of overshoot, however the moves overlap.
#[derive(Debug, Clone, Default)]
pub struct Curve {
    rest: f64,
    moves: Vec<(f64, f64, f64)>,
}

impl Curve {
    pub fn rest(value: f64) -> Self {
        Self { rest: value, moves: Vec::new() }
    }

    /// Moves by `by` from `t0_s` to `t1_s`.
    pub fn by(mut self, t0_s: f64, t1_s: f64, by: f64) -> Self {
        self.moves.push((t0_s, t1_s, by));
        self
    }

    /// Moves so that the whole curve, as built so far, ends at `to`.
    pub fn to(self, t0_s: f64, t1_s: f64, to: f64) -> Self {
        let by = to - self.end();
        self.by(t0_s, t1_s, by)
    }

    /// Moves so that the curve passes `value` at `at_s` and goes on until `t1_s`.
    pub fn through(self, t0_s: f64, t1_s: f64, at_s: f64, value: f64) -> Self {
        let by = (value - self.at(at_s)) / ease(at_s, t0_s, t1_s).max(0.05);
        self.by(t0_s, t1_s, by)
    }

    pub fn end(&self) -> f64 {
        self.rest + self.moves.iter().map(|m| m.2).sum::<f64>()
    }

    pub fn at(&self, t: f64) -> f64 {
        self.rest + self.moves.iter().map(|&(t0, t1, by)| by * ease(t, t0, t1)).sum::<f64>()
    }
}

/// `f` around `t`, averaged with a triangle of half-width `half_s`: a corner becomes a quick but
/// finite change, as a shoe landing on dirt does.
pub fn softened(t: f64, half_s: f64, f: impl Fn(f64) -> f64) -> f64 {
    const W: [f64; 9] = [1.0, 2.0, 3.0, 4.0, 5.0, 4.0, 3.0, 2.0, 1.0];
    W.iter().enumerate().map(|(i, w)| w / 25.0 * f(t + half_s * (i as f64 - 4.0) / 5.0)).sum()
}

/// A distance that may not pass `limit`: unchanged well below it, flattening out just under it.
pub fn below(d: f64, limit: f64, softness: f64) -> f64 {
    // ln(1 + e^x) without overflow.
    let x = (limit - d) / softness;
    limit - softness * if x > 30.0 { x } else { x.exp().ln_1p() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_rests_before_and_after_its_moves() {
        let c = Curve::rest(1.0).by(0.0, 1.0, 2.0).to(0.5, 2.0, -4.0);
        assert_eq!(c.at(-3.0), 1.0);
        assert!((c.at(9.0) + 4.0).abs() < 1e-12);
        let p = Curve::rest(-130.0).through(-0.1, 0.07, 0.0, 5.0);
        assert!((p.at(0.0) - 5.0).abs() < 1e-9);
    }

    #[test]
    fn below_keeps_small_values_and_never_passes() {
        assert!((below(0.2, 0.6, 0.01) - 0.2).abs() < 1e-9);
        assert!(below(5.0, 0.6, 0.01) <= 0.6);
    }
}
