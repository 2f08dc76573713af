//! A photo of a board becomes figures, sentences and what they speak for.

mod depth;
mod figures;
mod lattice;
mod since;
mod size;
mod taps;
mod told;
mod words;

use cracks::{
    Corners, Correction, Look, LookError, Patch, Photo, corrected, cover_labels, crack_paths, find_corners, find_labels, flatten,
    ground_colour, look, mask_png, open_photo, overlay_png,
};
use show::{ColourReport, LabelReport, LookReport, LookView, SightedReport, WarningReport, percent};

use crate::figure_rows::sheet;
use crate::{VERSION, Workbench};
use size::SizeFrom;

pub use cracks::Patch as GreyPatch;
pub(crate) use figures::kept_rows;
pub use taps::looked_taps;
pub use told::{four_corners, grey_patch};

/// A photo and what was told of it. All that is told may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LookRequest<'a> {
    /// Name of the photo, for reports.
    pub photo: &'a str,
    /// The file's bytes.
    pub bytes: &'a [u8],
    /// Size of the board as it lies in the photo, across first, such as `200x250mm`; empty if not known.
    pub board: &'a str,
    /// Corners of the board in pixels of the upright photo: top left, top right, bottom right, bottom left.
    pub corners: Option<[(f64, f64); 4]>,
    /// Corners of a bank card in the plane of the board, clockwise, a long side first.
    pub card: Option<[(f64, f64); 4]>,
    /// A grey or white patch of known lightness in the same light.
    pub patch: Option<Patch>,
    /// Which way the grain of the wood runs.
    pub grain: Option<Grain>,
    /// Whether a lattice cut into the ground is to be measured, and the distance from cut to cut such as `2mm`; empty if not known.
    pub lattice: Option<&'a str>,
    /// Whether the straightened board with its cracks is wanted as a picture.
    pub overlay: bool,
    /// Whether the cracks alone are wanted as a picture.
    pub mask: bool,
    /// What a person rubbed out and drew in.
    pub correction: Correction,
    /// Whether the cracks are wanted as lines over the photo.
    pub paths: bool,
}

/// Which way the grain of a board runs in its photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grain {
    /// Along the upper edge.
    Across,
    /// Along the left edge.
    Down,
}

/// Why a photo gave no figures.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LookRefused {
    /// The photo or what was told of it can't be right.
    #[error("{0}")]
    BadInput(String),
    /// It was opened and could not be measured.
    #[error("{0}")]
    CouldNot(String),
}

/// A photo with all that was found in it.
pub(crate) struct Seen {
    pub(crate) look: Look,
    /// How deep cracks and flakes go, as far as it shows.
    pub(crate) depth: cracks::Depth,
    /// The size that was measured with, also where it is only taken for the measuring.
    pub(crate) size: cracks::BoardSize,
    pub(crate) labels: Vec<cracks::Label>,
    /// Where the size comes from.
    pub(crate) from: SizeFrom,
    /// Doubt of the size, as a share.
    pub(crate) doubt: f64,
    /// A lattice and its picture, if one was asked for.
    pub(crate) lattice: Option<(cracks::Lattice, Option<Vec<u8>>)>,
    /// Share of the board that labels and a lattice cover.
    pub(crate) covered: f64,
    /// How white it is.
    pub(crate) colour: ColourReport,
    /// Remarks on size and labels.
    pub(crate) remarks: Vec<WarningReport>,
}

impl Workbench {
    /// What one photo of one board tells.
    ///
    /// Without a size it is taken from a label of this program or a bank card in the photo; failing that, what needs no size is measured
    /// and the size is asked for.
    ///
    /// # Errors
    /// Bad input, or a board that could not be measured; the message says how to mend it.
    ///
    /// ```
    /// use workbench::{LookRefused, LookRequest, Workbench};
    /// let request = LookRequest { photo: "notes.txt", bytes: b"not a photo", board: "200x250mm", ..LookRequest::default() };
    /// assert!(matches!(Workbench::look(&request), Err(LookRefused::BadInput(_))));
    /// ```
    pub fn look(request: &LookRequest<'_>) -> Result<LookView, LookRefused> {
        let told = size::told(request.board)?;
        request.lattice.map(lattice::told).transpose()?;
        let photo = open_photo(request.bytes).map_err(bad)?;
        let photo_px = [photo.width(), photo.height()].map(|px| u32::try_from(px).unwrap_or(u32::MAX));
        let seen = see(photo, request, told)?;
        let report = report(request, &seen);
        let (sentence, mut more) = words::sentences(&report);
        more.splice(0..0, lattice::sentences(&report));
        Ok(LookView {
            sentence,
            more,
            figures: lattice::rows(&report).into_iter().chain(figures::rows(&report)).collect(),
            overlay: seen.overlay(request),
            paths: if request.paths { paths(&seen.look) } else { Vec::new() },
            photo_px,
            mask: if request.mask { mask_png(&seen.look.lines.mask) } else { None },
            report,
        })
    }

    /// Sides of a board in mm from a size as told; `None` if nothing was told.
    ///
    /// # Errors
    /// It is no size of a board.
    pub fn board_told(text: &str) -> Result<Option<(f64, f64)>, LookRefused> {
        size::told(text)
    }

    /// Width and height of a photo as it stands upright, in pixels.
    ///
    /// # Errors
    /// It can't be opened.
    pub fn photo_px(bytes: &[u8]) -> Result<[u32; 2], LookRefused> {
        let photo = open_photo(bytes).map_err(bad)?;
        Ok([photo.width(), photo.height()].map(|px| u32::try_from(px).unwrap_or(u32::MAX)))
    }

    /// The report of a photo that was refused.
    pub fn not_looked(photo: &str, why: &LookRefused) -> LookReport {
        LookReport::not_measured(VERSION, photo, cracks::SCALE, &why.to_string())
    }

    /// What stands behind a figure of `look`, as text; an error names those that there are.
    ///
    /// # Errors
    /// There is no such figure.
    pub fn look_figure(key: &str) -> Result<String, String> {
        let found = cracks::figure_entry(key).map(sheet);
        found.ok_or_else(|| format!("there is no figure `{key}`; the figures are {}", cracks::FIGURE_KEYS.join(", ")))
    }
}

/// Lines of the cracks, to a tenth of a pixel.
fn paths(look: &Look) -> Vec<Vec<[f64; 2]>> {
    let tenth = |v: f64| (v * 10.0).round() / 10.0;
    crack_paths(look).into_iter().map(|line| line.into_iter().map(|p| [tenth(p.x), tenth(p.y)]).collect()).collect()
}

fn bad(why: impl std::fmt::Display) -> LookRefused {
    LookRefused::BadInput(why.to_string())
}

fn see(mut photo: Photo, request: &LookRequest<'_>, told: Option<(f64, f64)>) -> Result<Seen, LookRefused> {
    let corners = match request.corners {
        Some(points) => Corners::new(points, photo.width(), photo.height()).map_err(bad)?,
        None => find_corners(&photo).map_err(|why| LookRefused::CouldNot(why.to_string()))?,
    };
    let labels = find_labels(&photo);
    let mut remarks = Vec::new();
    let sized = size::of(&photo, request, told, &corners, &labels, &mut remarks)?;
    let colour = ground_colour(&photo, &corners, request.patch);
    let covered = cover_labels(&mut photo, &corners, &labels);
    if covered > 0.0 {
        remarks.push(WarningReport {
            at: "label".into(),
            id: "label_on_board".into(),
            text: format!(
                "A label covers {} of the board and was left out; its letters may still be taken for cracks. Lay it beside the board.",
                percent(covered)
            ),
        });
    }
    let refused = |why: LookError| match why {
        LookError::Flat(cracks::FlatError::Size | cracks::FlatError::Shape { .. }) if sized.from == SizeFrom::Told => bad(why),
        other => LookRefused::CouldNot(other.to_string()),
    };
    let mut covered = covered;
    let lattice = match request.lattice {
        Some(text) => {
            let gap = lattice::told(text)?;
            let flat = flatten(&photo, sized.size, &corners).map_err(|why| refused(why.into()))?;
            let (found, taken) = lattice::taken(&mut photo, &flat, sized.from, gap)?;
            covered = (covered + taken).min(1.0);
            let picture = if request.overlay { found.overlay_png(&flat) } else { None };
            Some((found, picture))
        }
        None => None,
    };
    let look = corrected(look(&photo, sized.size, Some(corners)).map_err(refused)?, &request.correction);
    Ok(Seen {
        depth: cracks::depth(&photo, &look),
        look,
        size: sized.size,
        labels,
        from: sized.from,
        doubt: sized.doubt,
        lattice,
        covered,
        colour: colour_report(colour),
        remarks,
    })
}

impl Seen {
    /// The picture that was asked for: of the lattice where there is one, else of the cracks.
    fn overlay(&self, request: &LookRequest<'_>) -> Option<Vec<u8>> {
        match &self.lattice {
            Some((_, picture)) => picture.clone(),
            None if request.overlay => overlay_png(&self.look),
            None => None,
        }
    }
}

fn colour_report(colour: Result<cracks::Colour, cracks::ColourError>) -> ColourReport {
    match colour {
        Ok(colour) => ColourReport {
            lightness: Some(colour.lightness),
            a: Some(colour.a),
            b: Some(colour.b),
            whiteness: colour.whiteness.map(|(white, _)| white),
            tint: colour.whiteness.map(|(_, tint)| tint),
            relative: colour.relative,
            why: None,
        },
        Err(why) => {
            ColourReport { lightness: None, a: None, b: None, whiteness: None, tint: None, relative: true, why: Some(why.to_string()) }
        }
    }
}

fn report(request: &LookRequest<'_>, seen: &Seen) -> LookReport {
    let look = &seen.look;
    let known = seen.from != SizeFrom::NotKnown;
    let size = known.then_some(seen.size);
    let points = look.corners.points().map(|p| [p.x, p.y]);
    LookReport {
        is: "groundproof look 1",
        version: VERSION,
        photo: request.photo.to_owned(),
        warnings: seen.remarks.clone(),
        why: None,
        board: SightedReport {
            width_mm: size.map(|size| size.width_mm),
            height_mm: size.map(|size| size.height_mm),
            size_from: seen.from.words(),
            corners: Some(points),
            corners_from: if request.corners.is_some() { "told" } else { "found" },
            measured_mm2: known.then_some(look.measured_mm2),
            narrowest_mm: known.then_some(look.smallest_mm),
        },
        scale_mm_per_px: known.then_some(1.0 / look.flat.px_per_mm),
        cracks: figures::cracks(seen),
        islands: figures::count("islands", look.islands),
        pinholes: figures::pinholes(look),
        flakes: figures::flakes(seen),
        depth: depth::report(&seen.depth, known),
        ridges: figures::ridges(seen),
        rating: figures::rating(seen),
        lattice: seen.lattice.as_ref().map(|(found, _)| lattice::report(found, seen.doubt)),
        colour: seen.colour.clone(),
        relative: (!known).then(|| figures::relative(seen)),
        quality: seen.lattice.iter().flat_map(|(found, _)| lattice::quality(found)).chain(words::quality(look, known)).collect(),
        labels: seen
            .labels
            .iter()
            .map(|label| LabelReport { text: label.text.clone(), corners: label.corners.map(|p| [p.x, p.y]) })
            .collect(),
        taps: looked_taps(look, request.grain),
        questions: words::questions(look, known, request.grain),
    }
}
