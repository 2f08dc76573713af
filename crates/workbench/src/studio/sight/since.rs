//! Two photos of one board that lie in the notebook, one laid over the other.

use std::sync::Arc;

use cracks::Correction as Strokes;
use notebook::{Kept, Look, Moment, Notebook, Photo, correction_of, look_of};
use show::SinceView;

use super::taken::taken;
use super::view::{read, told_of};
use super::{Studio, StudioError, TypedLook, told};
use crate::{LookRequest, Workbench};

/// A photo as it was measured last.
#[derive(Debug)]
struct Asked {
    photo: Arc<Kept<Photo>>,
    told: TypedLook,
    strokes: Strokes,
}

impl Workbench {
    /// Subjects of two photos, when they were taken and who read them, the older one first: what grew is told from that one to the other.
    ///
    /// # Errors
    /// No such photo.
    pub fn days_of(&self, state: &Notebook, one: &str, other: &str) -> Result<[(String, String); 2], StudioError> {
        let find = |photo: &str| state.photos.get(photo).ok_or(StudioError::Missing("photo"));
        let mut pair = [find(one)?, find(other)?];
        pair.sort_by_key(|photo| age(photo));
        Ok(pair.map(|photo| (photo.subject.clone(), format!("{}; {}", taken(photo).view().words, read(state, &photo.subject)))))
    }

    /// What grew on a board between two of its photos; the one that was taken first is the older. Strokes of a hand count in both.
    ///
    /// # Errors
    /// No such photo, photos of different boards, not measured, or they can't be laid over each other.
    pub fn photos_since(&self, studio: &Studio, one: &str, other: &str) -> Result<Arc<SinceView>, StudioError> {
        let state = studio.state();
        let (one, other) = (kept(&state, one)?, kept(&state, other)?);
        if one.photo.subject == other.photo.subject || one.photo.record.of != other.photo.record.of {
            return Err(StudioError::Typed("choose two photos of one board: what grew is told from an older and a newer one".into()));
        }
        let (old, new) = if age(&one.photo) <= age(&other.photo) { (one, other) } else { (other, one) };
        self.pairs.answer(&(&old, &new), || {
            let bytes = |kept: &Asked| studio.keeper().photo(&kept.photo.record.bytes)?.ok_or(StudioError::Missing("photo"));
            let (old_bytes, new_bytes) = (bytes(&old)?, bytes(&new)?);
            let view = Self::look_since(&request(&old, &old_bytes)?, &request(&new, &new_bytes)?).map_err(StudioError::typed)?;
            Ok(Arc::new(view))
        })
    }
}

/// What photos are put in order by: when they were taken, and kept.
fn age(photo: &Kept<Photo>) -> (Moment, Moment) {
    (taken(photo).at, photo.first)
}

fn kept(state: &Notebook, photo: &str) -> Result<Asked, StudioError> {
    let kept = state.photos.get(photo).ok_or(StudioError::Missing("photo"))?;
    let look: Option<&Look> = state.looks.get(&look_of(photo)).map(|look| &look.record);
    let strokes = state.corrections.get(&correction_of(photo)).map_or_else(Strokes::default, |kept| told::strokes(&kept.record));
    Ok(Asked { photo: Arc::clone(kept), told: look.map_or_else(TypedLook::default, told_of), strokes })
}

fn request<'a>(kept: &'a Asked, bytes: &'a [u8]) -> Result<LookRequest<'a>, StudioError> {
    Ok(LookRequest {
        photo: &kept.photo.record.caption,
        bytes,
        board: &kept.told.board,
        corners: told::corners(&kept.told.corners)?,
        grain: told::grain(&kept.told.grain)?,
        correction: kept.strokes.clone(),
        ..LookRequest::default()
    })
}
