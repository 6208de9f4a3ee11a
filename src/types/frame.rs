use super::Point;

/// One 8-bit plane without padding: row `r` begins at `r * width`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plane {
    /// px.
    pub width: usize,
    /// px.
    pub height: usize,
    /// Row by row, without padding.
    pub data: Vec<u8>,
}

impl Plane {
    /// One value everywhere.
    pub fn filled(width: usize, height: usize, value: u8) -> Self {
        Self { width, height, data: vec![value; width * height] }
    }

    /// Row `y`, which is below `height`.
    pub fn row(&self, y: usize) -> &[u8] {
        &self.data[y * self.width..(y + 1) * self.width]
    }

    /// Row `y`, which is below `height`, to change.
    pub fn row_mut(&mut self, y: usize) -> &mut [u8] {
        &mut self.data[y * self.width..(y + 1) * self.width]
    }
}

/// An upright picture: planar YUV 4:2:0, 8 bit, BT.709, limited range (luma 16–235, chroma 16–240).
/// Width and height are even; chroma planes are half as wide and high, sited at the centre-left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frame {
    /// Luma.
    pub y: Plane,
    /// Chroma, blue, of half the size.
    pub u: Plane,
    /// Chroma, red, of half the size.
    pub v: Plane,
}

impl Frame {
    /// A black picture. Odd sizes are rounded up to even.
    pub fn black(width: usize, height: usize) -> Self {
        let (w, h) = (width.next_multiple_of(2), height.next_multiple_of(2));
        Self {
            y: Plane::filled(w, h, 16),
            u: Plane::filled(w / 2, h / 2, 128),
            v: Plane::filled(w / 2, h / 2, 128),
        }
    }

    /// px.
    pub fn width(&self) -> usize {
        self.y.width
    }

    /// px.
    pub fn height(&self) -> usize {
        self.y.height
    }

    /// Bytes held, for queues bounded by bytes.
    pub fn bytes(&self) -> usize {
        self.y.data.len() + self.u.data.len() + self.v.data.len()
    }

    /// The picture's centre, px.
    pub fn centre(&self) -> Point {
        Point::new(self.width() as f64 / 2.0, self.height() as f64 / 2.0)
    }
}

/// A picture and when it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct TimedFrame {
    /// Place in the clip's index of pictures, from 0.
    pub index: usize,
    /// Playback time in the file, s, from the first picture.
    pub pts_s: f64,
    /// The picture.
    pub frame: Frame,
}
