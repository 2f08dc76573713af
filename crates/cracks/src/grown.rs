//! What grew between two photos of one board.

use crate::across::across;
use crate::bar::{Bars, Darkness};
use crate::graph::Point;
use crate::homography::Homography;
use crate::look::{Look, Note, Range, USUAL_DARKNESS, taken_blur_px};
use crate::register::Registered;
use crate::width::trace;

mod again;
mod paths;
mod pictures;

use again::{Side, Taken};
use paths::{Near, Path, Stretch, length, measured, paths, stretches};
pub use pictures::{Pair, grown_overlay, grown_pair};

/// What became of a piece of crack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// Both photos show it.
    Known,
    /// Only the newer one shows it, from the tip of a crack that was there on.
    Longer,
    /// Only the newer one shows it, and it begins at no old tip.
    New,
    /// Only the older one shows it, and the newer one would.
    Gone,
    /// One photo shows it; the other is too coarse, too soft or too restless there to say.
    Unsure,
}

/// A piece of crack on the newer board.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// What became of it.
    pub fate: Fate,
    /// Places along it, in millimetres on the newer board.
    pub points: Vec<Point>,
    /// Millimetres along it.
    pub length_mm: f64,
}

/// How much wider known cracks became.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Widening {
    /// Millimetres by the median of all pairs along the cracks that both photos show; below zero where they closed.
    Told(Range),
    /// The doubt of it spans zero.
    InDoubt(Range),
    /// One photo shows a millimetre with so many times the pixels of the other that widths can't be compared.
    ScalesDiffer(f64),
    /// Too little crack that both photos show.
    NothingShared,
}

/// What the reader should know of a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrownNote {
    /// Cracks of the newer photo are finer than the older one could show.
    OldTooCoarse,
    /// Cracks of the older photo are finer than the newer one can show.
    NewTooCoarse,
    /// The ground of one of the photos is too restless.
    Restless,
}

/// What two photos of one board tell together. Lengths are per area that both measured, mm/mm2.
#[derive(Debug, Clone, PartialEq)]
pub struct Grown {
    /// Area that both photos measured, mm2.
    pub compared_mm2: f64,
    /// Cracks that both show.
    pub known: Range,
    /// Cracks that are there now and were not, those that grew at their tips among them.
    pub added: Range,
    /// The part of that which grew from tips of cracks that were there.
    pub longer: Range,
    /// Cracks that are no more to be seen, though the newer photo would show them.
    pub gone: Range,
    /// Length that can't be told, mm/mm2: neither known nor added nor gone.
    pub unsure: f64,
    /// Places where new cracks are, apart from each other.
    pub new_places: usize,
    /// Known cracks.
    pub widening: Widening,
    /// Narrowest crack, black on white, that both photos can show, mm.
    pub narrowest_mm: f64,
    /// How far two lines may lie apart and be one, mm.
    pub near_mm: f64,
    /// All pieces.
    pub strokes: Vec<Stroke>,
    /// What the reader should know.
    pub notes: Vec<GrownNote>,
}

/// A stretch off the other net counts from this length on, mm (judgement, no source).
const LEAST_MM: f64 = 1.0;
/// A tip is found this exactly, mm: a crack fades out before it ends, or a brush mark runs on from it (judgement, no source).
const TIP_MM: f64 = 1.5;
/// Share of a crack's darkness from which the other photo shows it too (model choice).
const SHOWN: f64 = 0.5;
/// Doubt of any length, as a share (as in a single photo).
const LENGTH_DOUBT: f64 = 0.01;
/// Widths are compared up to this ratio of scales (judgement, no source).
const SCALES: f64 = 1.6;
/// Doubt of a width in one photo, px (as in a single photo: judgement, no source).
const WIDTH_PX: f64 = 0.2;
/// Millimetres of shared crack that widths are told from.
const LEAST_SHARED: usize = 8;
/// Half the band that eight of ten draws of a bell lie in, in deviations.
const EIGHT_OF_TEN: f64 = 1.2816;

/// Compares two photos of one board, laid over each other by [`crate::register`].
///
/// A crack of the newer photo is known when it lies on one of the older within what both photos leave in doubt. What does not is looked at
/// again in the older picture itself: where it takes half as much light there, it was there and only not followed; where that can't be told, or
/// it is narrower than that photo can show, it is not called new. Cracks of the older photo are asked in the same way.
pub fn grown(old: &Look, new: &Look, laid: &Registered) -> Grown {
    let same = Homography::from_entries([1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0]);
    let sides = Sides {
        old: Side { look: old, to_own: laid.map.back().unwrap_or(same) },
        new: Side { look: new, to_own: same },
        residual_mm: laid.residual_mm,
    };
    let (old_paths, new_paths) = rayon::join(|| paths(old, &laid.map), || paths(new, &same));
    let near_mm = sides.near_mm();
    let mut pieces = Vec::new();
    let fresh = sides.parted(&new_paths, &Near::of(&old_paths, near_mm), near_mm);
    let lost = sides.parted(&old_paths, &Near::of(&new_paths, near_mm), near_mm);
    let tips: Vec<Point> = old_paths.iter().flat_map(free_ends).collect();
    let mut soft = 0.0;
    let mut notes = Vec::new();
    for stretch in &fresh {
        let Some(path) = new_paths.get(stretch.path) else { continue };
        let fate = if stretch.shared { Told::Both } else { sides.asked(path, stretch, true) };
        let from_tip = [stretch.places.start, stretch.places.end.saturating_sub(1)]
            .into_iter()
            .filter_map(|end| path.mm.get(end))
            .any(|end| tips.iter().any(|tip| tip.to(*end) < TIP_MM));
        let fate = match fate {
            Told::Both => Fate::Known,
            Told::One if from_tip => Fate::Longer,
            Told::One => Fate::New,
            Told::TooFine => {
                note(&mut notes, GrownNote::OldTooCoarse);
                Fate::Unsure
            }
            Told::Doubt => Fate::Unsure,
        };
        // A tip is not sharp: some of what grew from it may have been there.
        if fate == Fate::Longer {
            soft += TIP_MM.min(length(path, &stretch.places));
        }
        pieces.push(piece(path, stretch, fate));
    }
    for stretch in lost.iter().filter(|stretch| !stretch.shared) {
        let Some(path) = old_paths.get(stretch.path) else { continue };
        let fate = match sides.asked(path, stretch, false) {
            // The newer photo has it; it is not in its net.
            Told::Both => continue,
            Told::One => Fate::Gone,
            Told::TooFine => {
                note(&mut notes, GrownNote::NewTooCoarse);
                Fate::Unsure
            }
            Told::Doubt => Fate::Unsure,
        };
        pieces.push(piece(path, stretch, fate));
    }
    if [old, new].iter().any(|look| look.notes.contains(&Note::Restless)) {
        notes.push(GrownNote::Restless);
    }
    let compared_mm2 = sides.area();
    let sum = |fates: &[Fate]| pieces.iter().filter(|piece| fates.contains(&piece.fate)).map(|piece| piece.length_mm).sum::<f64>();
    // A sum of nothing is minus nought.
    let per = |mm: f64| (mm / compared_mm2.max(1e-9)).max(0.0);
    // The doubt of each photo's own length, and what can't be told.
    let range = |look: &Look, mm: f64, less: f64, more: f64| {
        let share = |end: f64| if look.length.value > 0.0 { end / look.length.value } else { 1.0 };
        let low = (mm * share(look.length.low) - less).max(0.0);
        let high = mm * share(look.length.high) + more;
        Range { value: per(mm), low: per(low), high: per(high) }
    };
    let added = sum(&[Fate::New, Fate::Longer]);
    let play = LENGTH_DOUBT * sum(&[Fate::Known]);
    let new_unsure = pieces.iter().filter(|piece| piece.fate == Fate::Unsure).map(|piece| piece.length_mm).sum::<f64>();
    Grown {
        compared_mm2,
        known: range(new, sum(&[Fate::Known]), 0.0, new_unsure),
        added: range(new, added, soft + play.min(added), new_unsure + soft),
        longer: range(new, sum(&[Fate::Longer]), soft, new_unsure + soft),
        gone: range(old, sum(&[Fate::Gone]), 0.0, new_unsure),
        unsure: per(new_unsure),
        new_places: places(&pieces),
        widening: sides.widening(&new_paths, &fresh),
        narrowest_mm: old.smallest_mm.max(new.smallest_mm),
        near_mm,
        strokes: pieces,
        notes,
    }
}

fn note(notes: &mut Vec<GrownNote>, one: GrownNote) {
    if !notes.contains(&one) {
        notes.push(one);
    }
}

fn piece(path: &Path, stretch: &Stretch, fate: Fate) -> Stroke {
    let points = path.mm.get(stretch.places.clone()).unwrap_or_default().to_vec();
    Stroke { fate, points, length_mm: length(path, &stretch.places) }
}

fn free_ends(path: &Path) -> Vec<Point> {
    let first = path.mm.first().filter(|_| path.free.0);
    let last = path.mm.last().filter(|_| path.free.1);
    first.into_iter().chain(last).copied().collect()
}

/// New pieces whose ends touch are one place.
fn places(pieces: &[Stroke]) -> usize {
    let new: Vec<&Stroke> = pieces.iter().filter(|piece| piece.fate == Fate::New).collect();
    let ends = |piece: &Stroke| [piece.points.first().copied(), piece.points.last().copied()].into_iter().flatten().collect::<Vec<_>>();
    let touch = |a: &Stroke, b: &Stroke| ends(a).iter().any(|p| ends(b).iter().any(|q| p.to(*q) < LEAST_MM / 2.0));
    let mut group: Vec<usize> = (0..new.len()).collect();
    for (i, a) in new.iter().enumerate() {
        for (j, b) in new.iter().enumerate().skip(i + 1) {
            let (Some(&one), Some(&two)) = (group.get(i), group.get(j)) else { continue };
            if one != two && touch(a, b) {
                for number in group.iter_mut().filter(|number| **number == two) {
                    *number = one;
                }
            }
        }
    }
    group.sort_unstable();
    group.dedup();
    group.len()
}

/// What the photo that does not show a stretch says when asked again.
enum Told {
    /// It is there as well.
    Both,
    /// It is not there.
    One,
    /// Too fine for that photo.
    TooFine,
    /// It can't be told.
    Doubt,
}

struct Sides<'a> {
    old: Side<'a>,
    new: Side<'a>,
    residual_mm: f64,
}

impl Sides<'_> {
    /// Twice the residual, and the blur and a pixel of each photo.
    fn near_mm(&self) -> f64 {
        let own = |look: &Look| (taken_blur_px(&look.flat) + 1.0) / look.flat.px_per_mm;
        2.0 * self.residual_mm + own(self.old.look) + own(self.new.look)
    }

    /// Half the width that lines may have in either photo, with their blur, mm.
    fn half_mm(&self) -> f64 {
        let own = |look: &Look| {
            let wide = look.width_p95.map_or(0.0, |width| width.value / 2.0);
            wide + 2.5 * taken_blur_px(&look.flat) / look.flat.px_per_mm
        };
        own(self.old.look).max(own(self.new.look)) + self.residual_mm
    }

    fn parted(&self, of: &[Path], other: &Near, far: f64) -> Vec<Stretch> {
        let both = |p: Point| measured(self.old.look, &self.old.to_own, p, far) && measured(self.new.look, &self.new.to_own, p, far);
        of.iter()
            .enumerate()
            .flat_map(|(number, path)| {
                let known: Vec<Option<bool>> = path.mm.iter().map(|&p| both(p).then(|| other.nearest(p).is_some())).collect();
                stretches(number, path, &known, LEAST_MM)
            })
            .collect()
    }

    /// Asks the other photo about a stretch of one; `newer` when it is the newer photo that shows it.
    fn asked(&self, path: &Path, stretch: &Stretch, newer: bool) -> Told {
        let taken = Taken::along(path, &stretch.places, self.old, self.new, self.half_mm());
        let Some([before, now]) = taken.means() else { return Told::Doubt };
        let ((shown, _), (asked, off), smallest) =
            if newer { (now, before, self.old.look.smallest_mm) } else { (before, now, self.new.look.smallest_mm) };
        if shown <= 0.0 {
            return Told::Doubt;
        }
        let (share, doubt) = (asked / shown, off / shown);
        if share - doubt > SHOWN {
            Told::Both
        } else if share + doubt < SHOWN {
            if shown < smallest { Told::TooFine } else { Told::One }
        } else if shown < smallest {
            Told::TooFine
        } else {
            Told::Doubt
        }
    }

    fn area(&self) -> f64 {
        let flat = &self.new.look.flat;
        let mm = |px: usize| px as f64 / flat.px_per_mm;
        let (w, h) = (mm(flat.picture.width()), mm(flat.picture.height()));
        let far = self.near_mm();
        let steps = 240;
        let at = |k: i32, side: f64| (f64::from(k) + 0.5) / f64::from(steps) * side;
        let inside = (0..steps)
            .flat_map(|j| (0..steps).map(move |i| (i, j)))
            .filter(|&(i, j)| {
                let p = Point { x: at(i, w), y: at(j, h) };
                measured(self.old.look, &self.old.to_own, p, far) && measured(self.new.look, &self.new.to_own, p, far)
            })
            .count();
        w * h * inside as f64 / f64::from(steps * steps)
    }

    fn widening(&self, paths: &[Path], fresh: &[Stretch]) -> Widening {
        let scales = self.new.look.flat.px_per_mm / self.old.look.flat.px_per_mm;
        let times = scales.max(1.0 / scales);
        if times > SCALES {
            return Widening::ScalesDiffer(times);
        }
        let half = self.half_mm();
        let mut more: Vec<f64> = fresh
            .iter()
            .filter(|stretch| stretch.shared)
            .filter_map(|stretch| Some(Taken::along(paths.get(stretch.path)?, &stretch.places, self.old, self.new, half).pairs))
            .flatten()
            .map(|(old, new)| new - old)
            .collect();
        if more.len() < LEAST_SHARED {
            return Widening::NothingShared;
        }
        more.sort_by(f64::total_cmp);
        // Ranks of the median's band (David and Nagaraja, Order Statistics, 2003, from memory).
        let n = more.len() as f64;
        let rank = |off: f64| more.get(((n / 2.0 + off * n.sqrt() / 2.0).round() as usize).min(more.len() - 1)).copied().unwrap_or(0.0);
        let (low, value, high) = (rank(-EIGHT_OF_TEN), rank(0.0), rank(EIGHT_OF_TEN));
        // Light taken becomes width by how dark a crack is inside, the same in both photos.
        let dark = self.darkness();
        let px = |look: &Look| WIDTH_PX / look.flat.px_per_mm;
        let play = px(self.old.look).hypot(px(self.new.look));
        let width = |taken: f64, depth: f64| taken / depth;
        let ends = [dark.range.0, dark.range.1].map(|depth| (width(low, depth), width(high, depth)));
        let range = Range {
            value: width(value, dark.depth),
            low: ends.iter().map(|end| end.0).fold(f64::INFINITY, f64::min) - play,
            high: ends.iter().map(|end| end.1).fold(f64::NEG_INFINITY, f64::max) + play,
        };
        if range.low > 0.0 || range.high < 0.0 { Widening::Told(range) } else { Widening::InDoubt(range) }
    }

    /// How dark cracks are inside, by the photo with the finer scale.
    fn darkness(&self) -> Darkness {
        let finer = if self.old.look.flat.px_per_mm > self.new.look.flat.px_per_mm { self.old.look } else { self.new.look };
        let blur = taken_blur_px(&finer.flat);
        let traced = trace(&finer.flat, &finer.lines, blur);
        Bars::of(&across(&finer.flat, &finer.lines, &traced, blur), blur, finer.flat.blur_px.is_some()).darkness().unwrap_or(USUAL_DARKNESS)
    }
}
