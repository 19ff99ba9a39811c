/// The browser gave no random numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoRandomness;

/// 128 random bits for an id. `getRandomValues` works over plain http as well, where the browser's
/// ready-made random ids are missing.
///
/// # Errors
/// When the browser has no source of randomness; nothing then may be stored under a new id.
pub fn id_bytes() -> Result<[u8; 16], NoRandomness> {
    let mut bytes = [0; 16];
    let crypto = web_sys::window().ok_or(NoRandomness)?.crypto().map_err(|_| NoRandomness)?;
    crypto.get_random_values_with_u8_array(&mut bytes).map_err(|_| NoRandomness)?;
    Ok(bytes)
}
