//! From the bytes of a photo to upright pixels, with a refusal that says how to mend what is wrong.

use std::io::Cursor;

use image::codecs::{jpeg::JpegDecoder, png::PngDecoder};
use image::{ColorType, DynamicImage, ExtendedColorType, ImageDecoder, ImageFormat, Limits, RgbaImage};
use thiserror::Error;

/// The largest photo that is opened, in pixels; read from the header before anything is unpacked.
pub const MOST_PIXELS: u64 = 80_000_000;
/// Memory that the unpacked picture may take: 80 million pixels of four bytes.
const MOST_BYTES: u64 = 4 * MOST_PIXELS;
/// Memory that a PNG's profile and texts may take: packed zeros of a megabyte would unpack to a gigabyte (common practice, no source).
const MOST_BESIDE: u64 = 16_000_000;
/// The largest JPEG that builds up in passes: it takes nine bytes a pixel while it is opened, a plain one three.
const MOST_IN_PASSES: u64 = 40_000_000;
/// A board can't be measured on fewer pixels.
const LEAST_SIDE: u32 = 64;

/// Why a photo can't be measured, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PhotoError {
    /// HEIC or AVIF.
    #[error("this is a HEIC or AVIF photo, which can't be opened here: set the camera to \"most compatible\", or save it as JPEG")]
    Heic,
    /// Neither JPEG nor PNG.
    #[error("this is neither a JPEG nor a PNG, whatever its name says: save the photo as JPEG")]
    Format,
    /// More pixels than are opened.
    #[error("{width} x {height} pixels are more than the 80 million that are opened: crop the photo to the board, or save it smaller")]
    Large {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Pixels of sixteen bits or with transparency that take more memory than is given.
    #[error("{width} x {height} pixels with more than eight bits a channel are too much to open: save the photo as JPEG")]
    Deep {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Fewer pixels than can be measured.
    #[error("{width} x {height} pixels are too few to measure a board on: send the photo as the camera took it")]
    Small {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// A JPEG in passes, all of which are held until the last is there.
    #[error(
        "{width} x {height} pixels in a JPEG that builds up in passes (\"progressive\") are too much to open: save it without, or smaller"
    )]
    Passes {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// Inks instead of light.
    #[error("this JPEG is in printing inks (CMYK): save it as RGB")]
    Inks,
    /// Several pictures.
    #[error("this PNG moves: save one picture of it")]
    Moves,
    /// Holes in the picture.
    #[error("parts of this picture are see-through: save it without transparency")]
    SeeThrough,
    /// Broken off or damaged.
    #[error("the photo is broken off or damaged ({0}): copy it from the camera again")]
    Damaged(String),
}

/// What is worth saying of a photo that was opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PhotoNote {
    /// It carries a colour profile other than sRGB; lightness was read as if it were sRGB.
    OtherProfile,
    /// Sixteen bits a channel were brought to eight.
    SixteenBits,
}

/// An upright photo, three bytes a pixel.
#[derive(Debug, Clone)]
pub struct Photo {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
    /// What is worth saying.
    pub notes: Vec<PhotoNote>,
}

impl Photo {
    /// From bytes, three a pixel, row by row; `None` if their number does not fit.
    pub fn from_rgb(width: usize, height: usize, rgb: Vec<u8>) -> Option<Self> {
        (width > 0 && rgb.len() == width * height * 3).then_some(Self { width, height, rgb, notes: Vec::new() })
    }

    /// Pixels across.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Pixels down.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// Red, green and blue of all pixels.
    pub fn rgb(&self) -> &[u8] {
        &self.rgb
    }

    /// The three bytes at a place, or at the nearest place inside.
    #[inline]
    pub(crate) fn pixel(&self, x: i64, y: i64) -> [u8; 3] {
        let x = x.clamp(0, self.width as i64 - 1) as usize;
        let y = y.clamp(0, self.height as i64 - 1) as usize;
        let from = (y * self.width + x) * 3;
        self.rgb.get(from..from + 3).and_then(|part| part.try_into().ok()).unwrap_or([0; 3])
    }
}

impl Photo {
    /// Sets the three bytes at a place; outside nothing happens.
    pub(crate) fn put(&mut self, x: usize, y: usize, bytes: [u8; 3]) {
        let from = (y * self.width + x) * 3;
        if x < self.width
            && let Some(part) = self.rgb.get_mut(from..from + 3)
        {
            part.copy_from_slice(&bytes);
        }
    }
}

/// Light of a pixel, 0 to 1.
pub(crate) struct Light([[f32; 256]; 3]);

impl Light {
    /// Bytes to linear light by IEC 61966-2-1, weighted 0.2126, 0.7152, 0.0722 (both from memory; the same numbers stand in
    /// scikit-image's colour code).
    pub(crate) fn table() -> Self {
        let mut tables = [[0.0; 256]; 3];
        for (table, weight) in tables.iter_mut().zip([0.2126, 0.7152, 0.0722]) {
            for (value, byte) in table.iter_mut().zip(0_u8..=255) {
                *value = (weight * linear(byte)) as f32;
            }
        }
        Self(tables)
    }

    #[inline]
    pub(crate) fn of(&self, [r, g, b]: [u8; 3]) -> f32 {
        let [red, green, blue] = &self.0;
        let at = |table: &[f32; 256], byte: u8| table.get(usize::from(byte)).copied().unwrap_or(0.0);
        at(red, r) + at(green, g) + at(blue, b)
    }
}

/// A byte as linear light, 0 to 1 (IEC 61966-2-1, from memory).
pub(crate) fn linear(byte: u8) -> f64 {
    let v = f64::from(byte) / 255.0;
    if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// Opens a JPEG or PNG and turns it upright as its EXIF orientation asks.
///
/// # Errors
/// See [`PhotoError`]; size is judged from the header before anything is unpacked.
///
/// ```
/// assert_eq!(cracks::open_photo(b"not a photo").unwrap_err(), cracks::PhotoError::Format);
/// ```
pub fn open_photo(bytes: &[u8]) -> Result<Photo, PhotoError> {
    if bytes.get(4..8) == Some(b"ftyp") {
        return Err(PhotoError::Heic);
    }
    let format = image::guess_format(bytes).map_err(|_| PhotoError::Format)?;
    if !matches!(format, ImageFormat::Jpeg | ImageFormat::Png) {
        return Err(PhotoError::Format);
    }
    let damaged = |error: image::ImageError| PhotoError::Damaged(error.to_string());
    let frame = if format == ImageFormat::Jpeg { frame(bytes) } else { None };
    if frame.is_some_and(|frame| frame.channels == 4) {
        return Err(PhotoError::Inks);
    }
    let limits = |bytes| {
        let mut limits = Limits::default();
        limits.max_alloc = Some(bytes);
        limits
    };
    let mut decoder: Box<dyn ImageDecoder + '_> = if format == ImageFormat::Png {
        // What a PNG says beside its pixels is unpacked with the header and keeps to these limits for good.
        let decoder = PngDecoder::with_limits(Cursor::new(bytes), limits(MOST_BESIDE)).map_err(damaged)?;
        if decoder.is_apng().map_err(damaged)? {
            return Err(PhotoError::Moves);
        }
        Box::new(decoder)
    } else {
        Box::new(JpegDecoder::new(Cursor::new(bytes)).map_err(damaged)?)
    };
    decoder.set_limits(limits(2 * MOST_BYTES)).map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(PhotoError::Large { width, height });
    }
    if u64::from(width) * u64::from(height) > MOST_IN_PASSES && frame.is_some_and(|frame| frame.passes) {
        return Err(PhotoError::Passes { width, height });
    }
    if width.min(height) < LEAST_SIDE {
        return Err(PhotoError::Small { width, height });
    }
    if decoder.total_bytes() > MOST_BYTES {
        return Err(PhotoError::Deep { width, height });
    }
    if decoder.original_color_type() == ExtendedColorType::Cmyk8 {
        return Err(PhotoError::Inks);
    }
    if format == ImageFormat::Jpeg && !bytes.ends_with(&[0xFF, 0xD9]) && !bytes.windows(2).rev().take(65_536).any(|two| two == [0xFF, 0xD9])
    {
        return Err(PhotoError::Damaged("its end is missing".to_owned()));
    }
    let mut notes = Vec::new();
    if decoder.icc_profile().map_err(damaged)?.is_some_and(|profile| !says_srgb(&profile)) {
        notes.push(PhotoNote::OtherProfile);
    }
    let orientation = decoder.orientation().map_err(damaged)?;
    if matches!(decoder.color_type(), ColorType::L16 | ColorType::La16 | ColorType::Rgb16 | ColorType::Rgba16) {
        notes.push(PhotoNote::SixteenBits);
    }
    let mut picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    if sees_through(&picture) {
        return Err(PhotoError::SeeThrough);
    }
    picture.apply_orientation(orientation);
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    Ok(Photo { width, height, rgb: picture.into_rgb8().into_raw(), notes })
}

fn sees_through(picture: &DynamicImage) -> bool {
    let through = |picture: &RgbaImage| picture.pixels().any(|pixel| pixel.0.last() != Some(&255));
    match picture {
        DynamicImage::ImageRgba8(picture) => through(picture),
        other => other.color().has_alpha() && through(&other.to_rgba8()),
    }
}

/// What a JPEG's frame header says.
#[derive(Clone, Copy)]
struct Frame {
    channels: u8,
    /// Whether the picture builds up in passes.
    passes: bool,
}

fn frame(bytes: &[u8]) -> Option<Frame> {
    let mut at = 2;
    while let Some(&[0xFF, marker, high, low]) = bytes.get(at..at + 4).and_then(|four| <&[u8; 4]>::try_from(four).ok()) {
        if matches!(marker, 0xC0..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF) {
            return Some(Frame { channels: *bytes.get(at + 9)?, passes: matches!(marker, 0xC2 | 0xC6 | 0xCA | 0xCE) });
        }
        if marker == 0xDA {
            return None;
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
    }
    None
}

/// Whether an ICC profile names itself sRGB, in one- or two-byte letters.
fn says_srgb(profile: &[u8]) -> bool {
    let plain: Vec<u8> = profile.iter().copied().filter(|&byte| byte != 0).collect();
    plain.windows(4).any(|four| four == b"sRGB")
}
