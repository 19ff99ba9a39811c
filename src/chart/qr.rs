use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

/// Clear modules on each side, as ISO/IEC 18004 asks.
pub const QUIET_MODULES: i32 = 4;

/// A QR code as one path of squares, for a `viewBox` of `side` by `side`, clear margin included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QrDrawing {
    /// Modules across, the clear margin included.
    pub side: i32,
    /// Path data of the dark modules: runs of whole units, so that edges stay crisp.
    pub path: String,
}

/// Draws an address and the code at its end: the address as bytes, the code in the denser form for
/// capitals and digits. Error correction is the highest that costs no larger code, at least M (15 %).
///
/// # Errors
/// `None` when the text is too long for any QR code, or the code holds other signs.
pub fn qr_drawing(address: &str, code: &str) -> Option<QrDrawing> {
    let mut segments = vec![QrSegment::make_bytes(address.as_bytes())];
    if !code.is_empty() {
        if !QrSegment::is_alphanumeric(code) {
            return None;
        }
        segments.push(QrSegment::make_alphanumeric(code));
    }
    let level = QrCodeEcc::Medium;
    let (min, max) = (Version::MIN, Version::MAX);
    let qr = QrCode::encode_segments_advanced(&segments, level, min, max, None, true).ok()?;
    Some(drawing(&qr))
}

fn drawing(qr: &QrCode) -> QrDrawing {
    let mut path = String::new();
    for y in 0..qr.size() {
        let mut x = 0;
        while x < qr.size() {
            let start = x;
            while x < qr.size() && qr.get_module(x, y) {
                x += 1;
            }
            if x > start {
                let (left, top, run) = (start + QUIET_MODULES, y + QUIET_MODULES, x - start);
                path.push_str(&format!("M{left} {top}h{run}v1h-{run}z"));
            }
            x = x.max(start + 1);
        }
    }
    QrDrawing { side: qr.size() + 2 * QUIET_MODULES, path }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_finders_stand_inside_the_clear_margin() {
        let qr = qr_drawing("https://school.example/#/c/", "C2345").unwrap();
        // The upper edges of the finders: seven modules, four from the edges.
        assert!(qr.path.starts_with("M4 4h7v1h-7z"), "{}", qr.path);
        assert!(qr.path.contains(&format!("M{} 4h7v1h-7z", qr.side - 11)));
        assert!(qr.path.contains(&format!("M4 {}h7v1h-7z", qr.side - 11)));
    }

    #[test]
    fn the_denser_form_makes_a_smaller_code() {
        let code = "C".repeat(100);
        let plain = qr_drawing(&code, "").unwrap();
        assert!(qr_drawing("", &code).unwrap().side < plain.side);
        assert_eq!(qr_drawing("x", "lower"), None);
        assert_eq!(qr_drawing(&"x".repeat(4_000), ""), None);
    }
}
