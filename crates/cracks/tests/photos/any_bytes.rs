//! Any bytes as a photo: an answer in ordinary numbers, or a refusal that says something. The fuzzer of `fuzz/` runs the same body.

use std::io::Cursor;

use cracks::{
    BoardSize, Corners, Correction, Look, Point, Range, corrected, cover_labels, find_card, find_corners, find_labels, find_lattice,
    flatten, ground_colour, look, open_photo, overlay_png, size_by,
};
use image::{ImageDecoder, ImageReader, Limits};

/// Pixels that a file may claim: more only takes longer.
const MOST_CLAIMED: u64 = 90_000;

/// Pixels that the header claims; 0 if it can't be read.
fn claimed(file: &[u8]) -> u64 {
    let Ok(mut reader) = ImageReader::new(Cursor::new(file)).with_guessed_format() else { return 0 };
    let mut limits = Limits::default();
    limits.max_alloc = Some(1_000_000);
    reader.limits(limits);
    let size = reader.into_decoder().map(|decoder| decoder.dimensions()).ok();
    size.map_or(0, |(width, height)| u64::from(width) * u64::from(height))
}

/// Opens and measures a photo. What a person tells beside it follows in three bytes: millimetres across from 10 on, the gap of a lattice in mm
/// (0 for none), and whether its corners are looked for (even) or told (odd).
pub(crate) fn answered(bytes: &[u8]) {
    let Some((file, &[across, gap, corners])) = bytes.split_last_chunk::<3>() else { return };
    if claimed(file) > MOST_CLAIMED {
        return;
    }
    let mut photo = match open_photo(file) {
        Ok(photo) => photo,
        Err(why) => return assert!(!why.to_string().is_empty()),
    };
    let (width, height) = (photo.width(), photo.height());
    assert!(width >= 64 && height >= 64 && photo.rgb().len() == width * height * 3);
    let labels = find_labels(&photo);
    let (w, h) = (width as f64 - 1.0, height as f64 - 1.0);
    let told = Corners::new([(0.08 * w, 0.08 * h), (0.92 * w, 0.07 * h), (0.93 * w, 0.92 * h), (0.07 * w, 0.93 * h)], width, height);
    let corners = if corners % 2 == 0 { find_corners(&photo) } else { told };
    let corners = match corners {
        Ok(corners) => corners,
        Err(why) => return assert!(!why.to_string().is_empty()),
    };
    if let Some(card) = find_card(&photo, &corners) {
        let sized = size_by(&corners, card, cracks::CARD_MM);
        assert!(sized.is_none_or(|found| found.size.width_mm.is_finite() && found.size.height_mm.is_finite()));
    }
    if let Ok(colour) = ground_colour(&photo, &corners, None) {
        assert!([colour.lightness, colour.a, colour.b].iter().all(|value| value.is_finite()), "{colour:?}");
    }
    cover_labels(&mut photo, &corners, &labels);
    let across = 10.0 + f64::from(across);
    let size = BoardSize { width_mm: across, height_mm: across * h / w };
    if let Ok(flat) = flatten(&photo, size, &corners) {
        match find_lattice(&photo, &flat, (gap > 0).then(|| f64::from(gap))) {
            Ok(lattice) => {
                sound(lattice.gone);
                sound(lattice.gap_mm);
                assert!(lattice.squares.len() == 25 && lattice.squares.iter().all(|share| (0.0..=1.0).contains(share)));
                assert!((0.0..=1.0).contains(&lattice.cover(&mut photo, &flat)));
                assert!(lattice.overlay_png(&flat).is_some());
            }
            Err(why) => assert!(!why.to_string().is_empty()),
        }
    }
    match look(&photo, size, Some(corners)) {
        Ok(found) => {
            told_soundly(&found);
            assert!(overlay_png(&found).is_some());
            // On the board and far off it.
            let at = |x: f64, y: f64| Point { x: x * across, y: y * across };
            let correction = Correction {
                rubbed: vec![(vec![at(0.4, 0.1), at(0.6, 40.0)], 2.0)],
                drawn: vec![vec![at(-7.0, 0.2), at(0.5, 0.3), at(0.6, 0.3)]],
            };
            told_soundly(&corrected(found, &correction));
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
}

fn sound(range: Range) {
    assert!(range.low <= range.value && range.value <= range.high && range.low.is_finite() && range.high.is_finite(), "{range:?}");
}

fn told_soundly(found: &Look) {
    for range in [found.length, found.area, found.junctions, found.islands, found.flakes.area, found.flakes.count, found.flakes.largest_mm2]
    {
        sound(range);
        assert!(range.low >= 0.0, "{range:?}");
    }
    for range in [found.width_median, found.width_p95, found.width_max].into_iter().flatten() {
        sound(range);
    }
    assert!(found.direction_deg.is_none_or(|degrees| (0.0..=180.0).contains(&degrees)));
    assert!(found.pinholes.iter().all(|hole| hole.across_mm > 0.0 && hole.x.is_finite() && hole.y.is_finite()));
    assert!(found.brush.is_none_or(|brush| brush.one_way.is_finite() && brush.contrast.value.is_finite()));
}
