//! Photos whole, cut, turned, huge and foreign. Bytes are put together here after the standards: ITU-T T.81 (JPEG), JEITA CP-3451
//! (Exif), ISO/IEC 15948 (PNG).
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Rgb, RgbImage};
use paper::{PhotoError, plain_photo};
use std::io::Cursor;

/// 60 by 40 pixels: left half dark, right half light, so that a turn shows.
fn board() -> DynamicImage {
    RgbImage::from_fn(60, 40, |x, _| if x < 30 { Rgb([20, 20, 20]) } else { Rgb([240, 235, 220]) }).into()
}

fn encoded(format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    board().write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// Exif of one entry, orientation (tag 0x0112, SHORT), and after it a place that must not stay.
fn exif(orientation: u8) -> Vec<u8> {
    let mut tiff = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    tiff.extend([orientation, 0, 0, 0, 0, 0, 0]);
    tiff.extend(b"54 North, the old lighthouse");
    tiff
}

/// The JPEG with one APP1 segment after its start mark.
fn with_exif(orientation: u8) -> Vec<u8> {
    let (plain, note) = (encoded(ImageFormat::Jpeg), exif(orientation));
    let length = u16::try_from(note.len() + 2).unwrap().to_be_bytes();
    [&plain[..2], &[0xff, 0xe1], &length, &note, &plain[2..]].concat()
}

fn has(bytes: &[u8], words: &[u8]) -> bool {
    bytes.windows(words.len()).any(|window| window == words)
}

#[test]
fn a_turned_photo_stands_upright_and_forgets_the_place() {
    // Exif 2.3, tag 274: 1 as it is, 3 half a turn, 6 a quarter to the right, 8 a quarter to the left.
    // Where the dark half lies once the photo is upright: x and y of a pixel that must be dark.
    for (orientation, size, dark) in [(1, (60, 40), (5, 20)), (3, (60, 40), (55, 20)), (6, (40, 60), (20, 5)), (8, (40, 60), (20, 55))] {
        let bytes = with_exif(orientation);
        assert!(has(&bytes, b"old lighthouse"));
        let plain = plain_photo(&bytes, 1000).unwrap();
        assert!(!has(&plain, b"old lighthouse") && !has(&plain, b"Exif"), "{orientation}");
        let photo = image::load_from_memory(&plain).unwrap().into_rgb8();
        assert_eq!(photo.dimensions(), size, "{orientation}");
        assert!(photo.get_pixel(dark.0, dark.1).0[0] < 60, "{orientation}");
        assert!(photo.get_pixel(size.0 - 1 - dark.0, size.1 - 1 - dark.1).0[0] > 200, "{orientation}");
    }
}

#[test]
fn the_longer_side_shrinks_and_never_grows() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png] {
        let bytes = encoded(format);
        for (asked, size) in [(30, (30, 20)), (60, (60, 40)), (5000, (60, 40)), (1, (1, 1))] {
            let plain = plain_photo(&bytes, asked).unwrap();
            assert_eq!(image::guess_format(&plain).unwrap(), format);
            let photo = image::load_from_memory(&plain).unwrap();
            assert_eq!((photo.width(), photo.height()), size);
        }
        assert!(matches!(plain_photo(&bytes, 0), Err(PhotoError::NoSize)));
    }
}

#[test]
fn a_plain_photo_is_plain() {
    let plain = plain_photo(&with_exif(6), 1000).unwrap();
    let mut decoder = ImageReader::new(Cursor::new(&plain)).with_guessed_format().unwrap().into_decoder().unwrap();
    assert!(decoder.exif_metadata().unwrap().is_none() && decoder.icc_profile().unwrap().is_none());
    assert_eq!(plain_photo(&plain, 1000).map(|again| again.len() > 100).ok(), Some(true));
}

#[test]
fn a_photo_with_notes_does_not_go_into_a_paper() {
    #[path = "../examples/golden/lighthouse/mod.rs"]
    #[expect(dead_code, reason = "one view of several")]
    mod lighthouse;
    let mut view = lighthouse::odd::empty_paper();
    let figure =
        |bytes| show::paper::PaperFigure { picture: show::paper::Picture::Photo(bytes), alt: "a board".into(), caption: String::new() };
    let plain = encoded(ImageFormat::Jpeg);
    // A comment (mark FF FE), and words behind the end.
    let commented = [&plain[..2], &[0xff, 0xfe, 0, 6], b"tide", &plain[2..]].concat();
    for noted in [with_exif(1), commented, [plain, b"tide".to_vec()].concat()] {
        view.photos = vec![figure(noted)];
        assert!(matches!(paper::pdf(&view), Err(paper::PaperError::Photo { number: 1, source: PhotoError::NotPlain })));
    }
    view.photos = vec![figure(plain_photo(&with_exif(1), 1000).unwrap())];
    // A JPEG lies in the PDF as it is, so that words of it would be found there; a PNG with the same notes in its own piece (PNG 3, eXIf).
    let png = {
        let (plain, note) = (encoded(ImageFormat::Png), exif(1)[6..].to_vec());
        let piece = [b"eXIf".to_vec(), note.clone()].concat();
        let piece = [u32::try_from(note.len()).unwrap().to_be_bytes().to_vec(), piece.clone(), crc(&piece).to_be_bytes().to_vec()].concat();
        // After the head: 8 of signature, 25 of IHDR.
        [&plain[..33], &piece, &plain[33..]].concat()
    };
    for noted in [with_exif(1), png] {
        assert!(has(&noted, b"old lighthouse"));
        let figure = paper::photo_figure(&noted, "Board 07").unwrap();
        let show::paper::Picture::Photo(bytes) = &figure.picture else { panic!("a photo") };
        assert!(!has(bytes, b"old lighthouse") && !has(bytes, b"eXIf"));
        view.photos = vec![figure];
        assert!(!has(&paper::pdf(&view).unwrap(), b"old lighthouse"));
    }
}

#[test]
fn half_a_photo_is_refused() {
    for bytes in [with_exif(1), encoded(ImageFormat::Jpeg), encoded(ImageFormat::Png)] {
        for cut in 0..bytes.len() - 1 {
            let refused = plain_photo(&bytes[..cut], 100);
            // PNG ends with a chunk of 12 bytes that holds no picture.
            let only_its_end_is_gone = bytes[0] == 0x89 && cut + 12 >= bytes.len();
            assert!(refused.is_err() || only_its_end_is_gone, "{cut} of {}", bytes.len());
        }
    }
}

#[test]
fn a_huge_head_is_refused_before_anything_is_opened() {
    // PNG: width and height stand in bytes 16 to 23, a checksum over the chunk follows.
    let mut png = encoded(ImageFormat::Png);
    png[16..20].copy_from_slice(&60_000u32.to_be_bytes());
    png[20..24].copy_from_slice(&60_000u32.to_be_bytes());
    let checksum = crc(&png[12..29]);
    png[29..33].copy_from_slice(&checksum.to_be_bytes());
    assert!(matches!(plain_photo(&png, 100), Err(PhotoError::TooLarge { width: 60_000, height: 60_000 })));
    // JPEG: in the frame head, height and width follow the mark FF C0, its length and the depth.
    let mut jpeg = encoded(ImageFormat::Jpeg);
    let head = jpeg.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    jpeg[head + 5..head + 9].copy_from_slice(&[0xff, 0x00, 0xff, 0x00]);
    assert!(matches!(plain_photo(&jpeg, 100), Err(PhotoError::TooLarge { width: 65_280, height: 65_280 })));
}

#[test]
fn foreign_files_are_refused() {
    for bytes in
        [b"".as_slice(), b"GIF89a\x01\0\x01\0", b"BM", b"%PDF-1.7", b"<svg xmlns='http://www.w3.org/2000/svg'/>", &[0xff, 0xd8], b"\x89PNG"]
    {
        assert!(plain_photo(bytes, 100).is_err(), "{bytes:?}");
    }
    assert!(matches!(plain_photo(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", 100), Err(PhotoError::Heic)));
    let text = plain_photo(b"GIF89a", 100).unwrap_err().to_string();
    assert!(text.contains("save the photo as one of them"), "{text}");
}

#[test]
fn any_changed_byte_is_an_answer_or_an_error() {
    for bytes in [with_exif(6), encoded(ImageFormat::Png)] {
        for place in (0..bytes.len()).step_by(3) {
            let mut odd = bytes.clone();
            odd[place] ^= 0xa5;
            let _ = plain_photo(&odd, 50);
        }
    }
}

/// CRC-32 of PNG's annex D, bit by bit.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 })
    })
}
