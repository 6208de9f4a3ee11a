use serde::{Deserialize, Serialize};

/// A place or direction in the made-up world, m. x points to the pitcher, z up; a right-handed
/// hitter faces −y (toward the plate), a left-handed one +y.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct V3 {
    /// Toward the pitcher.
    pub x: f64,
    /// Toward the back of a right-handed hitter.
    pub y: f64,
    /// Up.
    pub z: f64,
}

/// x, y and z, m.
pub const fn v3(x: f64, y: f64, z: f64) -> V3 {
    V3 { x, y, z }
}

impl V3 {
    pub(crate) const ZERO: Self = v3(0.0, 0.0, 0.0);
    pub(crate) const UP: Self = v3(0.0, 0.0, 1.0);

    pub(crate) fn dot(self, o: Self) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    pub(crate) fn cross(self, o: Self) -> Self {
        v3(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    pub(crate) fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Straight from one to the other, m.
    pub fn distance(self, o: Self) -> f64 {
        (self - o).length()
    }

    /// Unit vector; `UP` for a vector of no length.
    pub fn unit(self) -> Self {
        let l = self.length();
        if l > 1e-12 { self * (1.0 / l) } else { Self::UP }
    }

    /// What is left of `self` after taking out its part along the unit vector `axis`.
    pub fn without(self, axis: Self) -> Self {
        self - axis * self.dot(axis)
    }

    pub(crate) fn lerp(self, o: Self, t: f64) -> Self {
        self + (o - self) * t
    }

    /// Mirrored in the plane y = 0: a right-handed hitter becomes a left-handed one.
    pub fn mirrored(self) -> Self {
        v3(self.x, -self.y, self.z)
    }

    /// Level unit vector: 0 faces −y (the plate, for a right-handed hitter), 90° faces the pitcher.
    pub fn heading(yaw_rad: f64) -> Self {
        v3(yaw_rad.sin(), -yaw_rad.cos(), 0.0)
    }
}

impl std::ops::Add for V3 {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        v3(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl std::ops::Sub for V3 {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        v3(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl std::ops::Mul<f64> for V3 {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        v3(self.x * k, self.y * k, self.z * k)
    }
}

impl std::ops::Neg for V3 {
    type Output = Self;
    fn neg(self) -> Self {
        v3(-self.x, -self.y, -self.z)
    }
}
