/// A part of a clip's upright picture and the size it is wanted in. All numbers are even px.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cut {
    /// Top left corner in the upright picture.
    pub x: usize,
    /// Upper edge, px of the upright picture, even.
    pub y: usize,
    /// Size in the upright picture, at least 2 × 2, all of it inside.
    pub width: usize,
    /// Of what is cut out, px, even.
    pub height: usize,
    /// Width and height it is scaled to.
    pub size: (usize, usize),
}

impl Cut {
    /// All of a picture of `native` size, scaled to `size`.
    pub fn whole(native: (usize, usize), size: (usize, usize)) -> Self {
        Self { x: 0, y: 0, width: native.0, height: native.1, size }
    }

    /// Whether a picture of `native` size holds it and it has a size of its own.
    pub(super) fn fits(&self, native: (usize, usize)) -> bool {
        let numbers = [self.x, self.y, self.width, self.height, self.size.0, self.size.1];
        let sizes = [self.width, self.height, self.size.0, self.size.1];
        numbers.iter().all(|n| n % 2 == 0)
            && sizes.iter().all(|n| *n >= 2)
            && self.x + self.width <= native.0
            && self.y + self.height <= native.1
    }
}

/// A part of a picture, px.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Part {
    pub x: usize,
    pub y: usize,
    pub width: usize,
    pub height: usize,
}

impl Part {
    pub fn of(cut: &Cut) -> Self {
        Self { x: cut.x, y: cut.y, width: cut.width, height: cut.height }
    }

    pub fn whole((width, height): (usize, usize)) -> Self {
        Self { x: 0, y: 0, width, height }
    }
}
