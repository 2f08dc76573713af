//! Photos as pages show them.

use notebook::{Correction, Found, Kept, Moment, Notebook, Photo, correction_of, look_of};
use serde_json::Value;
use show::{FoundView, SightOf, SightView, TrayPhoto, TrayView, path_of, plain};

use super::taken::taken;
use super::told::corners_text;
use super::{Studio, StudioError, TypedLook};
use crate::Workbench;
use crate::look::kept_rows;

/// Filed photos that the tray lists.
const MOST_FILED: usize = 60;

impl Workbench {
    /// One photo with what came out of it.
    ///
    /// # Errors
    /// No such photo; disk trouble.
    pub fn sight(&self, studio: &Studio, photo: &str) -> Result<SightView, StudioError> {
        let state = studio.state();
        let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
        let look = state.looks.get(&look_of(photo));
        let correction = state.corrections.get(&correction_of(photo));
        let found = look.map(|look| found_view(studio, &look.record.found)).transpose()?;
        let by_hand = correction.filter(|kept| !kept.record.rubbed.is_empty() || !kept.record.drawn.is_empty());
        let corrected = by_hand.map(|kept| found_view(studio, &kept.record.found)).transpose()?;
        let of = of(&state, &kept.record.of);
        let written: Vec<String> = state
            .readings_of(&kept.record.of)
            .iter()
            .filter(|reading| reading.record.photo.as_deref() == Some(kept.record.bytes.as_str()))
            .map(|reading| {
                let scale = self.scale(&state, &reading.record.measure);
                let name = scale.as_ref().map_or(reading.record.measure.as_str(), |scale| scale.name.as_str());
                format!("{name}: {}", reading.record.value)
            })
            .collect();
        let mut others: Vec<_> = state
            .photos
            .values()
            .filter(|other| !kept.record.of.is_empty() && other.record.of == kept.record.of && other.subject != photo)
            .map(|other| (taken(other).at, other))
            .collect();
        others.sort_by_key(|(at, other)| (*at, other.first));
        let told = look.map_or_else(TypedLook::default, |look| told_of(&look.record));
        let mut view = SightView {
            photo: photo.to_owned(),
            entry: kept.n,
            bytes: kept.record.bytes.clone(),
            caption: kept.record.caption.clone(),
            taken: taken(kept).view(),
            of,
            next: String::new(),
            told: [
                told.board,
                look.map_or_else(String::new, |look| corners_text(&to_tenths(&look.record.corners))),
                told.grain,
                told.patch,
            ],
            lattice: told.lattice,
            corners_told: look.is_some_and(|look| look.record.corners_told),
            look: look.map(|look| look.n),
            found,
            corrected,
            read: how_read(by_hand.map(|kept| &kept.record)),
            correction: by_hand.map(|kept| kept.n),
            strokes: by_hand.map_or_else(Default::default, |kept| {
                let rubbed = kept.record.rubbed.iter().map(|stroke| format!("{}:{}", stroke.radius, corners_text(&stroke.along)));
                let drawn = kept.record.drawn.iter().map(|places| corners_text(places));
                [rubbed.collect::<Vec<_>>().join("\n"), drawn.collect::<Vec<_>>().join("\n")]
            }),
            written,
            others: others.into_iter().map(|(at, other)| (other.subject.clone(), named_day(at, &other.record.caption))).collect(),
        };
        view.next = next(&view);
        Ok(view)
    }

    /// All photos that want something, and those that are done.
    pub fn photo_tray(&self, state: &Notebook) -> TrayView {
        let mut view = TrayView::default();
        let mut all: Vec<_> = state.photos.values().collect();
        all.sort_by_key(|kept| std::cmp::Reverse(kept.n));
        for kept in all {
            let look = state.looks.get(&look_of(&kept.subject));
            let corrected = state
                .corrections
                .get(&correction_of(&kept.subject))
                .map(|kept| &kept.record.found)
                .filter(|found| !found.sentence.is_empty());
            let photo = |says: &str| tray_photo(state, kept, says);
            match look.map(|look| corrected.unwrap_or(&look.record.found)) {
                // A photo of a board that nobody asked to measure is a picture in its file, and waits for nothing.
                None if kept.record.of.is_empty() => view.waiting.push(photo("")),
                None => {}
                Some(found) if !found.why.is_empty() => view.refused.push(photo(&found.why)),
                Some(found) if kept.record.of.is_empty() => view.homeless.push(photo(&found.sentence)),
                Some(found) => view.filed.push(photo(&found.sentence)),
            }
        }
        view.filed.truncate(MOST_FILED);
        view.next = match (view.waiting.len(), view.homeless.len(), view.refused.len()) {
            (0, 0, 0) if view.filed.is_empty() => "Lay photos of boards here.".into(),
            (0, 0, 0) => "All photos are measured and lie with their boards.".into(),
            (1, ..) => "One photo is not measured yet.".into(),
            (waiting @ 2.., ..) => format!("{waiting} photos are not measured yet."),
            (0, 1, _) => "One photo belongs to no board yet: whose is it?".into(),
            (0, homeless @ 2.., _) => format!("{homeless} photos belong to no board yet: whose are they?"),
            (0, 0, 1) => "One photo could not be measured: look at what to do.".into(),
            (0, 0, refused) => format!("{refused} photos could not be measured: look at what to do."),
        };
        view
    }
}

/// What a photo was measured to show, put right by hand or not; empty if it was not measured, or in vain.
pub(crate) fn says(state: &Notebook, photo: &str) -> String {
    let correction =
        state.corrections.get(&correction_of(photo)).map(|kept| &kept.record).filter(|record| !record.found.sentence.is_empty());
    let found = correction.map(|record| &record.found).or_else(|| state.looks.get(&look_of(photo)).map(|kept| &kept.record.found));
    match found.map(|found| found.sentence.trim_end_matches('.')) {
        None | Some("") => String::new(),
        Some(sentence) => format!("{sentence} ({}).", how_read(correction)),
    }
}

/// Who read a kept photo.
pub(super) fn read(state: &Notebook, photo: &str) -> String {
    how_read(state.corrections.get(&correction_of(photo)).map(|kept| &kept.record))
}

/// Who read a photo: the program alone, or a hand put it right.
fn how_read(correction: Option<&Correction>) -> String {
    let some = |count: usize, one: &str, many: &str| (count > 0).then(|| format!("{count} {}", if count == 1 { one } else { many }));
    let by_hand = |kept: &Correction| {
        let rubbed = some(kept.rubbed.len(), "place", "places").map(|places| format!("rubbed out in {places}"));
        let drawn = some(kept.drawn.len(), "crack", "cracks").map(|cracks| format!("{cracks} drawn in"));
        let all: Vec<String> = rubbed.into_iter().chain(drawn).collect();
        (!all.is_empty()).then(|| format!("read by the program; {} by hand", all.join(" and ")))
    };
    correction.and_then(by_hand).unwrap_or_else(|| "read by the program".into())
}

/// A day; the photo's name beside it tells two of one day apart.
fn named_day(at: Moment, caption: &str) -> String {
    let day = at.local().0;
    if caption.is_empty() { day.to_string() } else { format!("{day}, {caption}") }
}

/// Places to a tenth of a pixel: no corner is found more exactly, nor set by a hand.
fn to_tenths(places: &[[f64; 2]]) -> Vec<[f64; 2]> {
    places.iter().map(|place| place.map(|at| (at * 10.0).round() / 10.0)).collect()
}

/// What was told when a photo was measured last; corners only where a person set them.
pub(super) fn told_of(look: &notebook::Look) -> TypedLook {
    TypedLook {
        board: look.board.clone(),
        corners: if look.corners_told { corners_text(&look.corners) } else { String::new() },
        grain: look.grain.clone(),
        patch: look.patch.clone(),
        lattice: look.lattice.clone(),
    }
}

fn next(view: &SightView) -> String {
    let Some(best) = view.best() else { return "Measure this photo.".into() };
    if best.why.is_empty() { best.sentence.clone() } else { format!("It could not be measured: {}.", best.why.trim_end_matches('.')) }
}

/// Class of a lattice, where the doubt leaves one only: between two the eye has to say.
fn lattice_class(report: &Value) -> Option<String> {
    let class = report.pointer("/lattice/class")?;
    let [found, least, most] = ["class", "least", "most"].map(|key| class.get(key).and_then(Value::as_f64));
    (least == most).then_some(found?).map(plain)
}

fn of(state: &Notebook, subject: &str) -> Option<SightOf> {
    if let Some(board) = state.boards.get(subject) {
        let name = format!("board {} ({subject})", board.record.planned.number);
        return Some(SightOf { name, address: format!("/board/{subject}"), reads: state.loss_of(subject).is_none() });
    }
    let failed = state.failed.get(subject)?;
    Some(SightOf { name: failed.record.name.clone(), address: format!("/kept-failed/{subject}"), reads: false })
}

fn tray_photo(state: &Notebook, kept: &Kept<Photo>, says: &str) -> TrayPhoto {
    TrayPhoto {
        photo: kept.subject.clone(),
        bytes: kept.record.bytes.clone(),
        caption: kept.record.caption.clone(),
        of: of(state, &kept.record.of).map_or_else(String::new, |of| of.name),
        says: show::capital(says),
        by_hand: state.corrections.get(&correction_of(&kept.subject)).is_some_and(|kept| !kept.record.found.sentence.is_empty()),
        on: taken(kept).view().short,
    }
}

fn found_view(studio: &Studio, found: &Found) -> Result<FoundView, StudioError> {
    let report: Value = serde_json::from_str(&found.report).unwrap_or_default();
    let paths = match found.paths.as_str() {
        "" => None,
        name => studio.keeper().photo(name)?,
    };
    // Lines that are hurt are not drawn; the check of the studio names them.
    let paths: Vec<Vec<[f64; 2]>> = paths.and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default();
    let texts = |list: &str, of: &str| -> Vec<String> {
        let entries = report.get(list).and_then(Value::as_array).into_iter().flatten();
        entries.filter_map(|entry| entry.get(of)?.as_str()).map(str::to_owned).collect()
    };
    let text = |value: &Value, key: &str| value.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
    let list = |key: &str| report.get(key).and_then(Value::as_array).cloned().unwrap_or_default();
    let rating = |key: &str| report.get("rating").and_then(|rating| rating.get(key)).and_then(Value::as_u64);
    let length = report.pointer("/cracks/length_mm_per_mm2/value").and_then(Value::as_f64);
    Ok(FoundView {
        why: found.why.clone(),
        sentence: found.sentence.clone(),
        more: found.more.clone(),
        doubts: [texts("warnings", "text"), texts("quality", "text")].concat(),
        questions: list("questions").iter().map(|question| (text(question, "id"), text(question, "ask"))).collect(),
        taps: list("taps").iter().map(|tap| [text(tap, "tap"), text(tap, "answer"), text(tap, "because")]).collect(),
        class: match (rating("quantity"), rating("size")) {
            (Some(quantity), Some(size)) if quantity > 0 => format!("{quantity}(S{size})"),
            (Some(quantity), _) => quantity.to_string(),
            (None, _) => String::new(),
        },
        length: length.map_or_else(String::new, |length| plain((length * 1e5).round() / 1e5).replace('\u{2212}', "-")),
        lattice: lattice_class(&report),
        figures: kept_rows(&found.figures),
        photo_px: found.photo_px,
        paths: paths.iter().map(|places| path_of(places)).collect(),
        version: found.version.clone(),
    })
}
