//! Photos from strangers: looked at before they are opened, turned upright, and stripped of everything but the picture.

use std::io::Cursor;

use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::{PngDecoder, PngEncoder};
use image::imageops::FilterType;
use show::paper::{PaperFigure, Picture};

use image::{DynamicImage, ImageDecoder, ImageFormat, Limits};

/// Most pixels that are opened: more than any phone makes.
const MOST_PIXELS: u64 = 80_000_000;
/// Most memory that one photo may take while it is opened, bytes.
const MOST_BYTES: u64 = 512 * 1024 * 1024;
/// Most memory that a PNG's profile and texts may take, bytes (common practice, no source).
const MOST_BESIDE: u64 = 16_000_000;
/// How true the new JPEG is, of 100.
const TRUTH: u8 = 88;

/// A photo that can't be used.
#[derive(Debug, thiserror::Error)]
pub enum PhotoError {
    /// No JPEG and no PNG.
    #[error("this is no JPEG and no PNG; save the photo as one of them")]
    Kind,
    /// HEIC or AVIF, as some phones take them.
    #[error(
        "this is a HEIC or AVIF photo, which can't be opened here; set the camera to \u{201c}most compatible\u{201d}, or save it as JPEG"
    )]
    Heic,
    /// More pixels than are opened.
    #[error("the photo is {width} by {height} pixels, more than 80 million; make it smaller first")]
    TooLarge {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// The file ends too early or is damaged.
    #[error("the photo is cut short or damaged ({0}); copy it again from the camera")]
    Damaged(String),
    /// A picture of no size was asked for.
    #[error("a photo can't be made 0 pixels large; ask for 1 or more")]
    NoSize,
    /// It carries more than the picture.
    #[error("the photo still carries notes of the camera, such as the place; make it plain first")]
    NotPlain,
}

/// A plain photo: upright, its longer side at most `longest_side_px`, and nothing in the file but the picture. No notes of the camera,
/// no place, no small copy, no colour profile. JPEG stays JPEG, PNG stays PNG.
///
/// The size in the file's head is looked at before anything is opened: at most 80 million pixels.
///
/// # Errors
/// Another kind of file, too many pixels, a damaged file.
///
/// ```
/// assert!(matches!(paper::plain_photo(b"GIF89a", 800), Err(paper::PhotoError::Kind)));
/// ```
pub fn plain_photo(bytes: &[u8], longest_side_px: u32) -> Result<Vec<u8>, PhotoError> {
    if longest_side_px == 0 {
        return Err(PhotoError::NoSize);
    }
    let damaged = |error: image::ImageError| PhotoError::Damaged(error.to_string());
    let (format, mut decoder) = looked_at(bytes)?;
    let upright = decoder.orientation().map_err(damaged)?;
    let mut photo = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    if photo.width().max(photo.height()) > longest_side_px {
        photo = photo.resize(longest_side_px, longest_side_px, FilterType::Triangle);
    }
    photo.apply_orientation(upright);
    let mut out = Vec::new();
    match format {
        ImageFormat::Jpeg if photo.color().has_color() => {
            photo.into_rgb8().write_with_encoder(JpegEncoder::new_with_quality(&mut out, TRUTH))
        }
        ImageFormat::Jpeg => photo.into_luma8().write_with_encoder(JpegEncoder::new_with_quality(&mut out, TRUTH)),
        _ if photo.color().has_alpha() => photo.into_rgba8().write_with_encoder(PngEncoder::new(&mut out)),
        _ => photo.into_rgb8().write_with_encoder(PngEncoder::new(&mut out)),
    }
    .map_err(damaged)?;
    Ok(out)
}

/// Media type of a photo that can be opened to its last row; nothing of it is changed.
///
/// # Errors
/// As [`plain_photo`].
pub fn sound_photo(bytes: &[u8]) -> Result<&'static str, PhotoError> {
    let (format, decoder) = looked_at(bytes)?;
    DynamicImage::from_decoder(decoder).map_err(|error| PhotoError::Damaged(error.to_string()))?;
    Ok(if format == ImageFormat::Jpeg { "image/jpeg" } else { "image/png" })
}

/// Longer side of a photo in a paper, pixels.
const IN_PAPER: u32 = 1200;

/// A photo as a figure of a paper: plain, and small enough to print.
///
/// # Errors
/// As [`plain_photo`].
pub fn photo_figure(bytes: &[u8], caption: &str) -> Result<PaperFigure, PhotoError> {
    let plain = plain_photo(bytes, IN_PAPER)?;
    Ok(PaperFigure { picture: Picture::Photo(plain), alt: format!("A photo. {caption}"), caption: caption.to_owned() })
}

/// Kind and size of a plain photo.
///
/// # Errors
/// As [`plain_photo`], and a JPEG that is not plain.
pub(crate) fn plain_size(bytes: &[u8]) -> Result<(ImageFormat, u32, u32), PhotoError> {
    let damaged = |error: image::ImageError| PhotoError::Damaged(error.to_string());
    let (format, decoder) = looked_at(bytes)?;
    // A PNG is written anew by the typesetter, a JPEG goes into the paper as it is.
    if format == ImageFormat::Jpeg && !Segments::of(bytes).is_some_and(|segments| segments.plain()) {
        return Err(PhotoError::NotPlain);
    }
    let (width, height) = decoder.dimensions();
    // Opened once more by the typesetter; a photo that can't be opened must be named here.
    DynamicImage::from_decoder(decoder).map_err(damaged)?;
    Ok((format, width, height))
}

/// The kind, and a decoder that has read the head only.
fn looked_at(bytes: &[u8]) -> Result<(ImageFormat, Box<dyn ImageDecoder + '_>), PhotoError> {
    let damaged = |error: image::ImageError| PhotoError::Damaged(error.to_string());
    // ISO/IEC 14496-12: after the length of the first box comes its kind.
    if bytes.get(4..8) == Some(b"ftyp") {
        return Err(PhotoError::Heic);
    }
    let format = image::guess_format(bytes).map_err(|_| PhotoError::Kind)?;
    if !matches!(format, ImageFormat::Jpeg | ImageFormat::Png) {
        return Err(PhotoError::Kind);
    }
    if format == ImageFormat::Jpeg && !Segments::of(bytes).is_some_and(|segments| segments.end()) {
        return Err(PhotoError::Damaged("it has no end".into()));
    }
    let limits = |bytes| {
        let mut limits = Limits::default();
        limits.max_alloc = Some(bytes);
        limits
    };
    let mut decoder: Box<dyn ImageDecoder + '_> = if format == ImageFormat::Png {
        // What a PNG says beside its pixels is unpacked with the header and keeps to these limits for good.
        Box::new(PngDecoder::with_limits(Cursor::new(bytes), limits(MOST_BESIDE)).map_err(damaged)?)
    } else {
        Box::new(JpegDecoder::new(Cursor::new(bytes)).map_err(damaged)?)
    };
    decoder.set_limits(limits(MOST_BYTES)).map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(PhotoError::TooLarge { width, height });
    }
    Ok((format, decoder))
}

/// Marks of JPEG (ITU-T T.81, table B.1).
const SCAN: u8 = 0xda;
const END: [u8; 2] = [0xff, 0xd9];

/// The segments of a JPEG before its first scan, and what follows the scan's mark.
struct Segments<'a> {
    marks: Vec<u8>,
    scans: &'a [u8],
}

impl<'a> Segments<'a> {
    /// Nothing if the first scan is never reached. A small copy inside a segment is stepped over with it.
    fn of(bytes: &'a [u8]) -> Option<Self> {
        let mut marks = Vec::new();
        let mut rest = bytes.get(2..)?;
        // Mark, length, content; a mark may be led in by any number of FF.
        while let [0xff, mark, tail @ ..] = rest {
            if *mark == 0xff {
                rest = rest.get(1..)?;
            } else if *mark == SCAN {
                return Some(Self { marks, scans: tail });
            } else {
                marks.push(*mark);
                let [high, low, ..] = tail else {
                    return None;
                };
                rest = tail.get(usize::from(u16::from_be_bytes([*high, *low]))..)?;
            }
        }
        None
    }

    /// Whether the end mark comes after the first scan. Decoders fill what is missing with grey, and a board with grey stripes would
    /// pass for a finding.
    fn end(&self) -> bool {
        self.scans.windows(2).any(|pair| pair == END)
    }

    /// Whether there is nothing but the picture: no application's segment beyond the plain head, no comment, nothing behind the end.
    fn plain(&self) -> bool {
        const APPLICATION: std::ops::RangeInclusive<u8> = 0xe1..=0xef;
        const COMMENT: u8 = 0xfe;
        self.scans.ends_with(&END) && !self.marks.iter().any(|mark| APPLICATION.contains(mark) || *mark == COMMENT)
    }
}
