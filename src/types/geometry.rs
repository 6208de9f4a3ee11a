use serde::{Deserialize, Serialize};

/// A place in an upright picture, px. x grows to the right, y grows down; pixel centres at .5.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down in pictures, up in body heights.
    pub y: f64,
}

impl Point {
    /// At (`x`, `y`).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to `other`, px.
    pub fn distance(self, other: Self) -> f64 {
        (self - other).length()
    }

    /// Distance to the origin, px.
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// The point a share `t` of the way to `other` (0 = self, 1 = other).
    pub fn lerp(self, other: Self, t: f64) -> Self {
        self + (other - self) * t
    }

    /// Halfway to `other`.
    pub fn midpoint(self, other: Self) -> Self {
        self.lerp(other, 0.5)
    }

    /// Scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Whether both are numbers.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl std::ops::Add for Point {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self::new(self.x + o.x, self.y + o.y)
    }
}

impl std::ops::Sub for Point {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self::new(self.x - o.x, self.y - o.y)
    }
}

impl std::ops::Mul<f64> for Point {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self::new(self.x * k, self.y * k)
    }
}

/// An upright rectangle, px.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Never below 0.
    pub width: f64,
    /// Never below 0.
    pub height: f64,
}

impl Rect {
    /// With its upper left corner at (`x`, `y`).
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self { x, y, width, height }
    }

    /// Its middle.
    pub fn centre(self) -> Point {
        Point::new(self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// Right edge.
    pub fn right(self) -> f64 {
        self.x + self.width
    }

    /// Lower edge.
    pub fn bottom(self) -> f64 {
        self.y + self.height
    }

    /// Whether `p` lies inside; the left and upper edge are, the others are not.
    pub fn contains(self, p: Point) -> bool {
        p.x >= self.x && p.x < self.right() && p.y >= self.y && p.y < self.bottom()
    }

    /// The smallest rectangle around the points; `None` when there are none.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        let mut points = points.into_iter();
        let first = points.next()?;
        let (lo, hi) = points.fold((first, first), |(lo, hi), p| {
            (Point::new(lo.x.min(p.x), lo.y.min(p.y)), Point::new(hi.x.max(p.x), hi.y.max(p.y)))
        });
        Some(Self::new(lo.x, lo.y, hi.x - lo.x, hi.y - lo.y))
    }
}

/// Turn, scale, shift and perhaps mirror: `x' = a·x̂ − b·y + tx`, `y' = b·x̂ + a·y + ty`,
/// where `x̂ = −x` when `mirrored`, else `x`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Similarity {
    /// Scale times cosine of the turn.
    pub a: f64,
    /// Scale times sine of the turn.
    pub b: f64,
    /// Shift to the right.
    pub tx: f64,
    /// Shift down.
    pub ty: f64,
    /// Left and right change places first.
    pub mirrored: bool,
}

impl Similarity {
    /// Leaves everything where it is.
    pub const IDENTITY: Self = Self { a: 1.0, b: 0.0, tx: 0.0, ty: 0.0, mirrored: false };

    /// Where `p` goes.
    pub fn apply(&self, p: Point) -> Point {
        let x = if self.mirrored { -p.x } else { p.x };
        Point::new(self.a * x - self.b * p.y + self.tx, self.b * x + self.a * p.y + self.ty)
    }

    /// The way back.
    pub fn inverse(&self) -> Self {
        let d = self.a * self.a + self.b * self.b;
        let (a, b) = (self.a / d, -self.b / d);
        let tx = -(a * self.tx - b * self.ty);
        let ty = -(b * self.tx + a * self.ty);
        if self.mirrored {
            // x̂ is recovered first, then negated: fold the outer mirror into the inner form.
            Self { a, b: -b, tx: -tx, ty, mirrored: true }
        } else {
            Self { a, b, tx, ty, mirrored: false }
        }
    }

    /// First `inner`, then this.
    pub fn after(&self, inner: &Self) -> Self {
        // As complex numbers z ↦ c·m(z) + t with the mirror m(z) = −z̄: m(c·w) = c̄·m(w).
        let b = if self.mirrored { -inner.b } else { inner.b };
        let t = self.apply(Point::new(inner.tx, inner.ty));
        Self {
            a: self.a * inner.a - self.b * b,
            b: self.a * b + self.b * inner.a,
            tx: t.x,
            ty: t.y,
            mirrored: self.mirrored != inner.mirrored,
        }
    }

    /// Then scaled about the origin and shifted.
    pub fn scaled_shifted(&self, scale: f64, shift: Point) -> Self {
        Self {
            a: self.a * scale,
            b: self.b * scale,
            tx: self.tx * scale + shift.x,
            ty: self.ty * scale + shift.y,
            mirrored: self.mirrored,
        }
    }

    /// How many times longer a length becomes.
    pub fn scale(&self) -> f64 {
        self.a.hypot(self.b)
    }

    /// The turn, rad, clockwise on screen.
    pub fn angle_rad(&self) -> f64 {
        self.b.atan2(self.a)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_is_one_upon_the_other() {
        for (m1, m2) in [(false, false), (true, false), (false, true), (true, true)] {
            let inner = Similarity { a: 1.2, b: -0.7, tx: 30.0, ty: -4.0, mirrored: m1 };
            let outer = Similarity { a: 0.3, b: 0.9, tx: -8.0, ty: 5.0, mirrored: m2 };
            let p = Point::new(12.5, 90.25);
            let want = outer.apply(inner.apply(p));
            assert!(outer.after(&inner).apply(p).distance(want) < 1e-9, "{m1} {m2}");
        }
    }

    #[test]
    fn inverse_undoes_with_and_without_mirror() {
        for mirrored in [false, true] {
            let s = Similarity { a: 1.2, b: -0.7, tx: 30.0, ty: -4.0, mirrored };
            let p = Point::new(12.5, 90.25);
            let q = s.inverse().apply(s.apply(p));
            assert!(p.distance(q) < 1e-9, "{mirrored}: {q:?}");
        }
    }
}
