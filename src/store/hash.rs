//! What belongs to which content.

use std::fs;
use std::io::Read;
use std::path::Path;

use sha2::{Digest, Sha256};

use crate::types::{Error, Result};

/// SHA-256 of something small, hexadecimal, shortened: a label, not a secret.
pub fn short_hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().take(8).map(|b| format!("{b:02x}")).collect()
}

/// SHA-256 of a file's content, hexadecimal.
pub fn content_hash(path: &Path) -> Result<String> {
    let mut file = fs::File::open(path).map_err(|e| Error::reading(path, e))?;
    let mut hasher = Sha256::new();
    let mut block = vec![0; 1 << 20];
    loop {
        let n = file.read(&mut block).map_err(|e| Error::reading(path, e))?;
        if n == 0 {
            break;
        }
        hasher.update(&block[..n]);
    }
    Ok(hasher.finalize().iter().map(|b| format!("{b:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hash_is_sha_256() {
        // FIPS 180-4's example: SHA-256("abc").
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("abc");
        fs::write(&path, "abc").unwrap();
        let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(content_hash(&path).unwrap(), hash);
        assert!(matches!(content_hash(&dir.path().join("none")), Err(Error::Missing { .. })));
    }
}
