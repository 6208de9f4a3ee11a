//! A phone's own mark for a part filmed much quicker than the rest: some makers keep it as a key of the container, some
//! in a list behind the last box.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

use ffmpeg_next as ff;

/// The name of the mark, as the extended-format reader of androidx/media knows it (from memory); lower case.
const SUPER_SLOW: &str = "super_slowmotion";
/// A list of more entries is none.
const MOST_ENTRIES: u32 = 256;

/// Whether a part of the file is marked as super slow motion.
pub(super) fn super_slow(path: &Path, input: &ff::format::context::Input) -> bool {
    let says = |name: &str| name.to_ascii_lowercase().contains(SUPER_SLOW);
    input.metadata().iter().any(|(key, _)| says(key))
        || input.streams().any(|s| s.metadata().iter().any(|(key, _)| says(key)))
        || File::open(path).is_ok_and(|mut file| listed(&mut file).iter().any(|name| says(name)))
}

/// Names of the list that stands at the end of a file: `SEFH`, a version, how many entries, the entries (kind, how far
/// before the list its data begins, how long it is), the list's length, `SEFT`; each entry's data begins with kind,
/// length of its name, name. Numbers are little-endian. Read off the androidx/media test file of slow motion.
fn listed(file: &mut (impl Read + Seek)) -> Vec<String> {
    names(file).unwrap_or_default()
}

fn names(file: &mut (impl Read + Seek)) -> std::io::Result<Vec<String>> {
    let end = file.seek(SeekFrom::End(0))?;
    let Some([l0, l1, l2, l3, b'S', b'E', b'F', b'T']) = bytes(file, end.checked_sub(8))? else {
        return Ok(Vec::new());
    };
    let list = (end - 8).checked_sub(u64::from(u32::from_le_bytes([l0, l1, l2, l3])));
    let Some([b'S', b'E', b'F', b'H', _, _, _, _, n0, n1, n2, n3]) = bytes(file, list)? else {
        return Ok(Vec::new());
    };
    let list = list.unwrap_or(0);
    let mut found = Vec::new();
    for n in 0..u32::from_le_bytes([n0, n1, n2, n3]).min(MOST_ENTRIES) {
        let entry = bytes(file, Some(list + 12 + 12 * u64::from(n)))?;
        let Some([_, _, _, _, b0, b1, b2, b3, _, _, _, _]) = entry else { break };
        let data = list.checked_sub(u64::from(u32::from_le_bytes([b0, b1, b2, b3])));
        let Some([_, _, _, _, length, _, _, _]) = bytes(file, data)? else { continue };
        let mut name = vec![0; usize::from(length)];
        if file.read_exact(&mut name).is_ok() {
            found.push(String::from_utf8_lossy(&name).into_owned());
        }
    }
    Ok(found)
}

/// The bytes at a place; `None` where there is no such place.
fn bytes<const N: usize>(file: &mut (impl Read + Seek), at: Option<u64>) -> std::io::Result<Option<[u8; N]>> {
    let Some(at) = at else { return Ok(None) };
    let mut all = [0; N];
    file.seek(SeekFrom::Start(at))?;
    Ok(file.read_exact(&mut all).ok().map(|()| all))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Cursor;

    fn with_list(names: &[&str]) -> Vec<u8> {
        let mut film = b"a film".to_vec();
        let starts: Vec<usize> = names
            .iter()
            .map(|name| {
                let at = film.len();
                film.extend([0, 0, 0x00, 0x0b, name.len() as u8, 0, 0, 0]);
                film.extend(name.as_bytes());
                film.extend(b"data");
                at
            })
            .collect();
        let list = film.len();
        film.extend(b"SEFH\x6a\0\0\0");
        film.extend((names.len() as u32).to_le_bytes());
        for at in starts {
            film.extend([0, 0, 0x00, 0x0b]);
            film.extend(((list - at) as u32).to_le_bytes());
            film.extend(16u32.to_le_bytes());
        }
        let length = (film.len() - list) as u32;
        film.extend(length.to_le_bytes());
        film.extend(b"SEFT");
        film
    }

    #[test]
    fn the_list_behind_a_film_gives_its_names_and_a_broken_one_none() {
        let names = ["SlowMotion_Data", "Super_SlowMotion_Data"];
        let film = with_list(&names);
        assert_eq!(listed(&mut Cursor::new(&film)), names);
        assert!(listed(&mut Cursor::new(b"a film")).is_empty());
        assert!(listed(&mut Cursor::new(b"")).is_empty());
        // Any byte wrong: other names or none, but always an end.
        for at in 0..film.len() {
            for wrong in [0u8, 0xff] {
                let mut film = film.clone();
                film[at] = wrong;
                assert!(listed(&mut Cursor::new(&film)).len() <= MOST_ENTRIES as usize);
            }
        }
    }
}
