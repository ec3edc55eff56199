//! PINs and passphrases: kept as argon2id hashes (RFC 9106), never in clear.

use argon2::Argon2;
use argon2::password_hash::{PasswordHasher, PasswordVerifier, phc::PasswordHash};

use super::error::{DeskError, ErrorKind};

/// The shortest secret taken. A PIN of four digits holds only because attempts are slowed and the
/// file is not readable by others; a passphrase is better.
pub(crate) const SHORTEST: usize = 4;
/// The longest secret taken, in bytes: more is a slip of the clipboard.
pub(crate) const LONGEST: usize = 200;

/// Returns the hash under which a secret is kept.
///
/// # Errors
/// [`ErrorKind::Input`] for one that is too short, too long or too easy to guess.
pub(crate) fn hashed(secret: &str) -> Result<String, DeskError> {
    refuse_easy(secret)?;
    Argon2::default()
        .hash_password(secret.as_bytes())
        .map(|hash| hash.to_string())
        .map_err(|_| {
            DeskError::new(
                ErrorKind::File,
                "the secret could not be hashed; nothing was changed",
            )
        })
}

/// Whether a secret is the one that was hashed.
pub(crate) fn fits(secret: &str, kept: &str) -> bool {
    PasswordHash::new(kept).is_ok_and(|hash| {
        Argon2::default()
            .verify_password(secret.as_bytes(), &hash)
            .is_ok()
    })
}

fn refuse_easy(secret: &str) -> Result<(), DeskError> {
    let no = |why: String| Err(DeskError::new(ErrorKind::Input, why));
    let letters: Vec<char> = secret.chars().collect();
    if letters.len() < SHORTEST || secret.len() > LONGEST {
        return no(format!(
            "a PIN or passphrase has {SHORTEST} to {LONGEST} characters; this one has {}",
            letters.len()
        ));
    }
    if letters.iter().any(|c| c.is_control()) {
        return no("a PIN or passphrase holds no control characters".to_owned());
    }
    let steps: Vec<i64> = letters
        .windows(2)
        .map(|w| i64::from(u32::from(w[1])) - i64::from(u32::from(w[0])))
        .collect();
    if matches!(steps.first(), Some(-1..=1)) && steps.iter().all(|s| Some(s) == steps.first()) {
        return no(
            "that is the first thing anybody would try: no row of equal or neighbouring characters"
                .to_owned(),
        );
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_secret_is_known_again_and_no_other_is() {
        let kept = hashed("4710").unwrap();
        assert!(kept.starts_with("$argon2id$"), "{kept}");
        assert!(!kept.contains("4710"));
        assert!(fits("4710", &kept) && !fits("4711", &kept) && !fits("", &kept));
        assert!(!fits("4710", "no hash"));
        // The salt makes two of one secret look different.
        assert_ne!(kept, hashed("4710").unwrap());
    }

    #[test]
    fn what_anybody_would_try_is_refused() {
        for easy in ["", "123", "0000", "1234", "9876", "abcdef", "47\n10"] {
            assert!(hashed(easy).is_err(), "{easy:?}");
        }
    }
}
