//! A part of a picture read alone is that part of the whole.

use swingpair::media::{Clip, Cut, OpenOptions, WriteOptions, Writer};
use swingpair::types::Frame;

fn written(turn_deg: i32, mirrored: bool) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let (width, height) = (96, 64);
    let options = WriteOptions {
        width,
        height,
        crf: 0,
        display_rotation_deg: turn_deg,
        mirrored,
        ..WriteOptions::default()
    };
    let mut writer = Writer::create(&folder.path().join("clip.mp4"), &options).unwrap();
    for i in 0..6 {
        let mut frame = Frame::black(width, height);
        for (at, value) in frame.y.data.iter_mut().enumerate() {
            *value = (16 + (at * 7 + at / width * 13 + i * 31) % 200) as u8;
        }
        for (at, (u, v)) in frame.u.data.iter_mut().zip(frame.v.data.iter_mut()).enumerate() {
            (*u, *v) = ((60 + at * 3 % 130) as u8, (70 + at * 5 % 120) as u8);
        }
        writer.write(&frame).unwrap();
    }
    writer.finish().unwrap();
    folder
}

#[test]
fn a_part_is_the_same_as_in_the_whole_in_all_eight_ways_to_lie() {
    for turn_deg in [0, 90, 180, 270] {
        for mirrored in [false, true] {
            let folder = written(turn_deg, mirrored);
            let clip = Clip::open(&folder.path().join("clip.mp4"), &OpenOptions::default()).unwrap();
            let native = (clip.facts().width, clip.facts().height);
            let cut = Cut { x: 14, y: 6, width: 30, height: 44, size: (30, 44) };
            let mut parts = clip.cuts(2, cut).unwrap();
            let mut wholes = clip.frames(2, None).unwrap();
            for index in [2, 4, 5] {
                let (part, whole) = (parts.frame_from(index).unwrap(), wholes.frame_from(index).unwrap());
                let (part, whole) = (part.unwrap(), whole.unwrap());
                assert_eq!((part.index, whole.index), (index, index));
                assert_eq!((whole.frame.width(), whole.frame.height()), native);
                for y in 0..44 {
                    let row = &whole.frame.y.row(6 + y)[14..44];
                    assert_eq!(part.frame.y.row(y), row, "{turn_deg}° {mirrored}");
                }
                for y in 0..22 {
                    assert_eq!(
                        part.frame.u.row(y),
                        &whole.frame.u.row(3 + y)[7..22],
                        "{turn_deg}° {mirrored}"
                    );
                    assert_eq!(
                        part.frame.v.row(y),
                        &whole.frame.v.row(3 + y)[7..22],
                        "{turn_deg}° {mirrored}"
                    );
                }
            }
            assert!(parts.frame_from(6).unwrap().is_none());
            assert_eq!(parts.warnings(), []);
        }
    }
}

#[test]
fn a_part_outside_the_picture_is_refused() {
    let folder = written(0, false);
    let clip = Clip::open(&folder.path().join("clip.mp4"), &OpenOptions::default()).unwrap();
    for (x, width, size) in [(80, 20, (20, 20)), (1, 20, (20, 20)), (0, 0, (20, 20)), (0, 20, (0, 20))] {
        assert!(clip.cuts(0, Cut { x, y: 0, width, height: 20, size }).is_err());
    }
}
