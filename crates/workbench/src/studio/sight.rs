//! Photos: kept first, measured then, filed under the board whose label they show, put right by hand, and written down as readings.

mod since;
mod taken;
mod told;
mod view;

pub(crate) use taken::taken;
pub(crate) use view::says;

use cracks::Correction as Strokes;
use notebook::{Correction, Deed, Found, Look, Moment, Notebook, Photo, Reading, Stamp, Wanted, correction_of, look_of};

use super::trial::TypedReading;
use super::{Studio, StudioError, named, one_line, remark};
use crate::{LookRefused, LookRequest, VERSION, Workbench};

/// What a person told of a photo; all of it may be empty.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedLook {
    /// Size of the board as it lies in the photo, across first, such as `200x250mm`.
    pub board: String,
    /// Corners in pixels of the upright photo, `x,y;x,y;x,y;x,y`: top left, top right, bottom right, bottom left. Empty: found.
    pub corners: String,
    /// Which way the grain runs: `across`, `down`, or empty.
    pub grain: String,
    /// A grey or white patch: `x,y,width,height=0.18`.
    pub patch: String,
    /// Distance from cut to cut of a lattice that was cut into the ground, such as `2mm`; empty if it is not known, none without a lattice.
    pub lattice: Option<String>,
}

/// Name under which figures of photos are written down as readings.
const BY_PHOTO: &str = "by photo";

/// Whether a reading was written down from what the program saw in a photo; its remark says how it was read.
pub(crate) fn by_photo(reading: &Reading) -> bool {
    reading.rater == BY_PHOTO && reading.photo.is_some()
}

impl Workbench {
    /// Keeps a photo: its bytes, and of what it is (a board, a failed board, or nothing yet). Gives back its subject. The same bytes again
    /// are the photo that is there already; if that one was of nothing yet, it is filed.
    ///
    /// # Errors
    /// No such board; a caption that is too long; disk trouble. What is refused leaves no bytes behind.
    pub fn keep_photo(&self, studio: &Studio, bytes: &[u8], photo: Photo, stamp: &Stamp) -> Result<String, StudioError> {
        let state = studio.state();
        if !photo.of.is_empty() && !state.boards.contains_key(&photo.of) && !state.failed.contains_key(&photo.of) {
            return Err(StudioError::Missing("board"));
        }
        let caption = remark(&photo.caption)?;
        let name = notebook::name_of(bytes);
        if let Some(known) = state.photos.values().find(|known| known.record.bytes == name) {
            let subject = known.subject.clone();
            if known.record.of.is_empty() && !photo.of.is_empty() {
                self.file_photo(studio, &subject, &photo.of, stamp)?;
            }
            return Ok(subject);
        }
        // The bytes are on disk before the notebook speaks of them.
        let camera = taken::by_camera(bytes, stamp.at.offset_minutes);
        let photo = Photo { caption, camera, bytes: studio.keeper().put_photo(bytes)?, ..photo };
        let subject = stamp.subject("photo", 0);
        studio.write(stamp, |_| Ok(vec![Wanted::new(&subject, Deed::Photo(photo.clone()))]))?;
        Ok(subject)
    }

    /// Says whose a photo is: a board by its number or id, or a failed board by its subject.
    ///
    /// # Errors
    /// No such photo or board.
    pub fn file_photo(&self, studio: &Studio, photo: &str, board: &str, stamp: &Stamp) -> Result<(), StudioError> {
        studio
            .write(stamp, |state| {
                let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
                let of = if state.failed.contains_key(board) { board.to_owned() } else { self.find_board(state, board)? };
                if kept.record.of == of {
                    return Ok(Vec::new());
                }
                Ok(vec![Wanted::edit(photo, kept.n, Deed::Photo(Photo { of, ..kept.record.clone() }))])
            })
            .map(drop)
    }

    /// Says on which day a photo was taken; nothing said leaves it to the camera's clock.
    ///
    /// # Errors
    /// No such photo; no day, or one to come.
    pub fn day_photo(&self, studio: &Studio, photo: &str, day: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let day = super::day(day, "the day when it was taken")?;
        if day.is_some_and(|day| day > stamp.at.local().0) {
            return Err(StudioError::Typed("that day is still to come: say when the photo was taken".into()));
        }
        studio
            .write(stamp, |state| {
                let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
                if kept.record.day == day {
                    return Ok(Vec::new());
                }
                Ok(vec![Wanted::edit(photo, kept.n, Deed::Photo(Photo { day, ..kept.record.clone() }))])
            })
            .map(drop)
    }

    /// Measures a photo, or measures it anew; strokes of a hand stay. If nobody said whose it is and it shows the label of a board of this
    /// studio, it is filed there. A photo that can't be measured keeps the reason.
    ///
    /// # Errors
    /// No such photo; what was told of it can't be right; disk trouble.
    pub fn measure_photo(&self, studio: &Studio, photo: &str, told: &TypedLook, stamp: &Stamp) -> Result<(), StudioError> {
        let state = studio.state();
        let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
        let bytes = studio.keeper().photo(&kept.record.bytes)?.ok_or(StudioError::Missing("photo"))?;
        let camera = taken::by_camera(&bytes, kept.first.offset_minutes);
        let strokes = state.corrections.get(&correction_of(photo)).map(|kept| kept.record.clone());
        let mut told = told.clone();
        let mut looked = found(studio, &bytes, &kept.record.caption, &told, Strokes::default())?;
        let of = if kept.record.of.is_empty() { told::board_of_label(self, &state, &looked.0) } else { Some(kept.record.of.clone()) };
        // The trial says how large its boards are.
        if let Some(size) = of.as_deref().and_then(|of| told::size_of(&state, of, &looked.0)) {
            told.board = size;
            looked = found(studio, &bytes, &kept.record.caption, &told, Strokes::default())?;
        }
        let corrected = match &strokes {
            Some(strokes) => {
                let hand = told::strokes(strokes);
                Some(Correction { found: found(studio, &bytes, &kept.record.caption, &told, hand)?.0, ..strokes.clone() })
            }
            None => None,
        };
        let (found, corners) = looked;
        let look = Look {
            photo: photo.to_owned(),
            board: told.board.trim().to_owned(),
            corners,
            corners_told: !told.corners.trim().is_empty(),
            grain: told.grain.clone(),
            patch: told.patch.trim().to_owned(),
            lattice: told.lattice.clone(),
            found,
        };
        studio
            .write(stamp, |state| {
                let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
                let mut all = vec![put(state, look_of(photo), Deed::Look(look.clone()))];
                all.extend(corrected.iter().map(|corrected| put(state, correction_of(photo), Deed::Correction(corrected.clone()))));
                let now = Photo {
                    of: of.clone().filter(|_| kept.record.of.is_empty()).unwrap_or_else(|| kept.record.of.clone()),
                    // Photos that were kept before the camera's clock was read.
                    camera: kept.record.camera.or(camera),
                    ..kept.record.clone()
                };
                if now != kept.record {
                    all.push(Wanted::edit(photo, kept.n, Deed::Photo(now)));
                }
                Ok(all)
            })
            .map(drop)
    }

    /// Rubs out and draws in: `rubbed` is one stroke a line, `radius:x,y;x,y`, and `drawn` one crack a line, `x,y;x,y`, in pixels of the
    /// upright photo. All strokes so far are told each time; none at all takes the correction away. What was found by itself stays.
    ///
    /// # Errors
    /// No such photo, or not measured; strokes that can't be read.
    pub fn correct_photo(&self, studio: &Studio, photo: &str, rubbed: &str, drawn: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let state = studio.state();
        let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
        let look = state.looks.get(&look_of(photo)).filter(|look| look.record.found.why.is_empty());
        let look = &look.ok_or_else(|| StudioError::Typed("measure the photo first: there is nothing to put right yet".into()))?.record;
        let strokes =
            Correction { look: look_of(photo), rubbed: told::rubbed(rubbed)?, drawn: told::drawn(drawn)?, ..Correction::default() };
        let told = view::told_of(look);
        let correction = if strokes.rubbed.is_empty() && strokes.drawn.is_empty() {
            None
        } else {
            let bytes = studio.keeper().photo(&kept.record.bytes)?.ok_or(StudioError::Missing("photo"))?;
            let found = found(studio, &bytes, &kept.record.caption, &told, told::strokes(&strokes))?.0;
            Some(Correction { found, ..strokes })
        };
        studio
            .write(stamp, |state| match (&correction, state.corrections.get(&correction_of(photo))) {
                (Some(correction), _) => Ok(vec![put(state, correction_of(photo), Deed::Correction(correction.clone()))]),
                // An earlier correction would stand again if only the last one were taken back.
                (None, Some(kept)) => {
                    let empty = Correction { look: look_of(photo), ..Correction::default() };
                    Ok(if kept.record == empty { Vec::new() } else { vec![put(state, correction_of(photo), Deed::Correction(empty))] })
                }
                (None, None) => Ok(Vec::new()),
            })
            .map(drop)
    }

    /// Writes down what a photo shows as readings of its board, with the photo as evidence: class of cracks, class of width, and crack length to
    /// the area; of a cut lattice its class as well. They were read on the day that is given, or else when the photo was taken.
    ///
    /// # Errors
    /// Not measured, of no board of a trial, class not known, or written down already.
    pub fn write_photo_down(&self, studio: &Studio, photo: &str, strip: &str, day: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let state = studio.state();
        let view = self.sight(studio, photo)?;
        let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
        let (of, taken) = (kept.record.clone(), taken(kept));
        // The camera's clock told the hour as well.
        let when = match day.trim() {
            told if told.is_empty() || told == view.taken.day => Moment { seconds: taken.at.seconds, ..stamp.at }.to_string(),
            told => told.to_owned(),
        };
        let found = view.best().filter(|found| found.why.is_empty()).ok_or_else(|| StudioError::Typed("measure the photo first".into()))?;
        if !state.boards.contains_key(&of.of) {
            return Err(StudioError::Typed("say first which board of a trial this is: readings belong to a board".into()));
        }
        if found.class.is_empty() {
            return Err(StudioError::Typed(
                "say first how large the board is: without it there is no class and no length to the area".into(),
            ));
        }
        if state.readings_of(&of.of).iter().any(|reading| reading.record.photo.as_deref() == Some(of.bytes.as_str())) {
            return Err(StudioError::Typed(
                "this photo was written down already; take those readings back first, on the page of the board".into(),
            ));
        }
        let reading = |measure: &str, value: &str| TypedReading {
            board: of.of.clone(),
            strip: strip.to_owned(),
            measure: measure.into(),
            value: value.into(),
            rater: BY_PHOTO.into(),
            blind: true,
            photo: Some(of.bytes.clone()),
            note: format!("{}; groundproof {}", view.read, found.version),
            when: when.clone(),
            ..TypedReading::default()
        };
        let mut readings = vec![reading("cracking", &found.class), reading("crack_length", &found.length)];
        readings.extend(found.lattice.as_ref().map(|class| reading("cross_cut", class)));
        self.read_boards(studio, &readings, stamp)
    }

    /// Keeps a failed board under a name, and files the photo there.
    ///
    /// # Errors
    /// No name; no such photo.
    pub fn photo_of_failed(&self, studio: &Studio, photo: &str, name: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let failed =
            notebook::Failed { name: named(name, "its name", "panel 3, north wall")?, version: VERSION.into(), ..Default::default() };
        let says = says(&studio.state(), photo);
        let sentence = if says.is_empty() { self.sight(studio, photo)?.next } else { says };
        let failed = notebook::Failed { sentence: one_line(&sentence), ..failed };
        let subject = stamp.subject("failed", 0);
        studio
            .write(stamp, |state| {
                let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
                let filed = Photo { of: subject.clone(), ..kept.record.clone() };
                Ok(vec![Wanted::new(&subject, Deed::Failed(failed.clone())), Wanted::edit(photo, kept.n, Deed::Photo(filed))])
            })
            .map(drop)
    }
}

/// Measures bytes with what was told; gives back what to keep, and the corners.
fn found(studio: &Studio, bytes: &[u8], name: &str, told: &TypedLook, correction: Strokes) -> Result<(Found, Vec<[f64; 2]>), StudioError> {
    let name = if name.is_empty() { "photo" } else { name };
    let request = LookRequest {
        photo: name,
        bytes,
        board: &told.board,
        corners: told::corners(&told.corners)?,
        patch: told::patch(&told.patch)?,
        grain: told::grain(&told.grain)?,
        lattice: told.lattice.as_deref(),
        correction,
        paths: true,
        ..LookRequest::default()
    };
    // What was told wrong is said at once; what the photo can't show is kept with it.
    Workbench::board_told(&told.board).map_err(StudioError::typed)?;
    Ok(match Workbench::look(&request) {
        Ok(view) => {
            let corners = view.report.board.corners.map(|corners| corners.to_vec()).unwrap_or_default();
            let paths = if view.paths.is_empty() {
                String::new()
            } else {
                studio.keeper().put_photo(serde_json::to_string(&view.paths).unwrap_or_default().as_bytes())?
            };
            let found = Found {
                why: String::new(),
                sentence: view.sentence,
                more: view.more,
                figures: view.figures.into_iter().map(|row| [row.key.to_owned(), row.name, row.value, row.why]).collect(),
                // Plain texts, numbers and lists: they always have a JSON form.
                report: serde_json::to_string(&view.report).unwrap_or_default(),
                paths,
                photo_px: Some(view.photo_px),
                version: VERSION.into(),
            };
            (found, corners)
        }
        Err(why @ (LookRefused::CouldNot(_) | LookRefused::BadInput(_))) => {
            let found = Found {
                why: why.to_string(),
                report: serde_json::to_string(&Workbench::not_looked(name, &why)).unwrap_or_default(),
                photo_px: Workbench::photo_px(bytes).ok(),
                version: VERSION.into(),
                ..Found::default()
            };
            let told = request.corners.map(|corners| corners.map(|(x, y)| [x, y]).to_vec());
            (found, told.unwrap_or_default())
        }
    })
}

/// A first entry about a subject, or a change of the one that stands.
fn put(state: &Notebook, subject: String, deed: Deed) -> Wanted {
    match state.head(&subject) {
        Some(head) => Wanted::edit(subject, head, deed),
        None => Wanted::new(subject, deed),
    }
}
