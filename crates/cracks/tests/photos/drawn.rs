//! Pictures drawn here, line by line.

use cracks::{BoardSize, Photo, look};

/// A light board of 100 by 75 mm at 4 px/mm on a dark table, with six lines down it that sway by a millimetre, 4 px wide.
#[expect(clippy::expect_used, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "only called by a test, and clamped")]
fn swaying() -> Photo {
    let mut state = 11_u64;
    let mut noise = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / (1_u64 << 24) as f64 - 0.5
    };
    let mut rgb = Vec::with_capacity(560 * 420 * 3);
    for y in 0..420 {
        for x in 0..560 {
            let (u, v) = (f64::from(x), f64::from(y));
            let off = (0..6)
                .map(|k| u - 112.0 - 65.0 * f64::from(k) - 4.0 * (v / 25.0 + f64::from(k)).sin())
                .map(f64::abs)
                .fold(f64::MAX, f64::min);
            let board = (80..480).contains(&x) && (60..360).contains(&y);
            // Half a pixel of each edge is covered in part.
            let line = (2.5 - off).clamp(0.0, 1.0);
            let byte = if board { 222.0 - 190.0 * line } else { 52.0 } + 12.0 * noise();
            rgb.extend([byte.clamp(0.0, 255.0) as u8; 3]);
        }
    }
    Photo::from_rgb(560, 420, rgb).expect("a whole picture")
}

// Worked out: a line x = 4 sin(y / 25) is 1 + (4 / 25)^2 / 4 = 1.0064 times as long as it is high; six of them on the 98 by 73 mm inside of
// the margin are 6 x 1.0064 / 98 = 0.0616 mm/mm2. They meet nowhere.
#[test]
fn coarse_lines_have_no_twigs() {
    let seen = look(&swaying(), BoardSize { width_mm: 100.0, height_mm: 75.0 }, None).expect("a board");
    assert!((seen.length.value / 0.0616 - 1.0).abs() < 0.05, "{:?}", seen.length);
    assert!(seen.junctions.value.abs() < 1e-9, "{:?}", seen.junctions);
}
