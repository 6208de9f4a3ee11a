//! Files that are wrong, or made to do harm. Few cases each; `./dev bench hostile` runs thousands, each media file in a
//! process of its own.

mod mutate;
mod texts;

use std::fs;
use std::path::{Path, PathBuf};

use swingpair::demo::Dice;
use swingpair::media::{Clip, OpenOptions, WriteOptions, Writer, check_playable, probe, read_sound};
use swingpair::types::{Bound, Error, Frame, Limits, Plane, Sound};

use texts::{Corpus, Kind};

#[test]
fn broken_small_files_are_read_or_refused() {
    let folder = tempfile::tempdir().unwrap();
    let corpus = Corpus::new(folder.path());
    for kind in Kind::ALL {
        // A sidecar that is taken is read and paired, which takes its time.
        let count = if kind == Kind::Sidecar { 30 } else { 300 };
        let taken = (0..count).filter(|seed| corpus.try_one(kind, *seed)).count() as u64;
        // Both happen, or nothing is tried.
        assert!(taken > 0 && taken < count, "{}: {taken} of {count} were taken", kind.word());
    }
}

/// Twelve moving pictures of 64×48 with sound.
fn small_clip(path: &Path) {
    let sound = Sound {
        rate_hz: 8000,
        start_s: 0.0,
        samples: (0..3200).map(|i| (i as f32 * 0.3).sin() * 0.2).collect(),
    };
    let options =
        WriteOptions { width: 64, height: 48, rate: (30, 1), sound: Some(sound), ..Default::default() };
    let mut writer = Writer::create(path, &options).unwrap();
    for n in 0..12usize {
        let mut frame = Frame {
            y: Plane::filled(64, 48, 90),
            u: Plane::filled(32, 24, 120),
            v: Plane::filled(32, 24, 140),
        };
        for (i, v) in frame.y.data.iter_mut().enumerate() {
            *v = ((i + 7 * n) % 160 + 40) as u8;
        }
        writer.write(&frame).unwrap();
    }
    writer.finish().unwrap();
}

#[test]
fn broken_clips_are_read_or_refused() {
    let folder = tempfile::tempdir().unwrap();
    let good = folder.path().join("good.mp4");
    small_clip(&good);
    let whole = fs::read(&good).unwrap();
    let (mut read, mut refused) = (0, 0);
    for seed in 0..60 {
        let path = folder.path().join(format!("{seed}.mp4"));
        fs::write(&path, mutate::bytes(&mut Dice::new(seed), &whole, &whole)).unwrap();
        let _ = probe(&path, &OpenOptions::default());
        let pictures = Clip::open(&path, &OpenOptions::default()).and_then(|clip| {
            let mut frames = clip.frames(0, None)?;
            let mut n = 0;
            while let Some(frame) = frames.next_frame()? {
                assert_eq!(frame.frame.width(), clip.facts().width, "seed {seed}");
                n += 1;
            }
            Ok(n)
        });
        match pictures {
            Ok(n) => read += usize::from(n > 0),
            Err(_) => refused += 1,
        }
    }
    assert!(read > 5 && refused > 5, "{read} read, {refused} refused");
}

/// A limit so low that `job` must stop at it: the error names it and how to raise it.
fn refused<T: std::fmt::Debug>(
    bound: Bound,
    most: f64,
    job: impl Fn(&Limits) -> swingpair::types::Result<T>,
) {
    let mut limits = Limits::default();
    assert!(job(&limits).is_ok(), "{bound:?}: the usual limit refuses it too");
    limits.set(bound, most);
    let error = job(&limits).unwrap_err();
    assert!(matches!(&error, Error::OverLimit { bound: b, .. } if *b == bound), "{error:?}");
    assert!(error.to_string().contains(&format!("--limit {}=", bound.word())), "{error}");
}

#[test]
fn every_limit_on_a_clip_holds() {
    let folder = tempfile::tempdir().unwrap();
    let path: PathBuf = folder.path().join("clip.mp4");
    small_clip(&path);
    let open = |limits: &Limits| Clip::open(&path, &OpenOptions { limits: *limits, ..Default::default() });
    refused(Bound::Pixels, 64.0 * 48.0 - 1.0, open);
    refused(Bound::Pictures, 11.0, open);
    refused(Bound::Minutes, 0.39 / 60.0, open);
    refused(Bound::Tracks, 1.0, open);
    refused(Bound::Pictures, 11.0, |limits| check_playable(&path, limits));
    refused(Bound::Pictures, 11.0, |limits| {
        probe(&path, &OpenOptions { limits: *limits, ..Default::default() })
    });
    refused(Bound::Minutes, 0.3 / 60.0, |limits| read_sound(&path, 16_000, limits));
    let mut just = Limits::default();
    for (bound, most) in [(Bound::Pixels, 3072.0), (Bound::Pictures, 12.0), (Bound::Tracks, 2.0)] {
        just.set(bound, most);
    }
    assert!(open(&just).is_ok());
}
