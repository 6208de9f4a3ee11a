//! A made-up hitter in 3-D, filmed by a made-up camera, with the exact truth beside it.
