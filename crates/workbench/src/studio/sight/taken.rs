//! The day when a photo was taken: as told, by the camera's clock, or else the day when it was kept.

use std::io::Cursor;

use exif::{DateTime, Exif, In, Reader, Tag, Value};
use notebook::{Day, Kept, Moment, Photo};
use show::TakenView;

/// Cameras that wrote a day into their photos are younger than this (the first version of Exif is of 1995; from memory).
const FIRST_YEAR: i32 = 1990;

/// When a photo was taken, and how that is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Taken {
    /// When: photos of one board are put in order by it.
    pub(super) at: Moment,
    by: By,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum By {
    /// A person said the day.
    Told,
    /// The camera's clock.
    Camera,
    /// The photo says nothing.
    Kept,
    /// The camera's clock stands at a day that can't be.
    Wrong(Day),
}

/// What the camera wrote down of the time; everything else that it wrote is passed over. Without a zone of its own the clock is taken to
/// have stood in the zone that is given, minutes ahead of UTC.
pub(super) fn by_camera(bytes: &[u8], zone_minutes: i32) -> Option<Moment> {
    let mut reader = Reader::new();
    // Notes of a maker that are hurt do not hide the time beside them.
    reader.continue_on_error(true);
    let notes = reader.read_from_container(&mut Cursor::new(bytes)).or_else(|why| why.distill_partial_result(|_| ())).ok()?;
    // Exif 2.32, tags 36867 and 36881; where a camera leaves them out, 306 and 36880.
    read(&notes, Tag::DateTimeOriginal, Tag::OffsetTimeOriginal, zone_minutes)
        .or_else(|| read(&notes, Tag::DateTime, Tag::OffsetTime, zone_minutes))
}

fn read(notes: &Exif, time: Tag, zone: Tag, zone_minutes: i32) -> Option<Moment> {
    let text = |tag: Tag| match &notes.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(texts) => texts.first(),
        _ => None,
    };
    let mut clock = DateTime::from_ascii(text(time)?).ok()?;
    let told = text(zone).is_some_and(|zone| clock.parse_offset(zone).is_ok());
    let ahead = clock.offset.filter(|ahead| told && ahead.abs() <= 14 * 60).map_or(zone_minutes, i32::from);
    // A day such as 0000-00-00 is none.
    let day = Day::read(&format!("{:04}-{:02}-{:02}", clock.year, clock.month, clock.day))?;
    let within = (clock.hour < 24 && clock.minute < 60 && clock.second < 61)
        .then(|| i64::from(clock.hour) * 3_600 + i64::from(clock.minute) * 60 + i64::from(clock.second))?;
    Some(Moment { seconds: day.number() * 86_400 + within - i64::from(ahead) * 60, offset_minutes: ahead })
}

/// When a kept photo was taken. It can't have been after it was kept.
pub(crate) fn taken(kept: &Kept<Photo>) -> Taken {
    let (photo, first) = (&kept.record, kept.first);
    let camera = photo.camera.map(|at| {
        let day = at.local().0;
        // East of here it may be tomorrow already.
        let to_come = day > first.local().0 && at > first;
        if day.year < FIRST_YEAR || to_come { Err(day) } else { Ok(at) }
    });
    match (photo.day, camera) {
        (Some(day), Some(Ok(at))) if at.local().0 == day => Taken { at, by: By::Camera },
        // Of a day that was told, its noon.
        (Some(day), _) => {
            let seconds = day.number() * 86_400 + 43_200 - i64::from(first.offset_minutes) * 60;
            Taken { at: Moment { seconds, ..first }, by: By::Told }
        }
        (None, Some(Ok(at))) => Taken { at, by: By::Camera },
        (None, Some(Err(day))) => Taken { at: first, by: By::Wrong(day) },
        (None, None) => Taken { at: first, by: By::Kept },
    }
}

impl Taken {
    pub(super) fn day(self) -> Day {
        self.at.local().0
    }

    pub(crate) fn view(self) -> TakenView {
        let day = self.day().to_string();
        let words = match self.by {
            By::Told => format!("taken on {day}, as told"),
            By::Camera => format!("taken on {day} by the camera's clock"),
            By::Kept => format!("kept on {day}; the photo does not say when it was taken"),
            By::Wrong(clock) => format!("kept on {day}; by the camera's clock it was taken on {clock}, which can't be"),
        };
        let known = matches!(self.by, By::Told | By::Camera);
        TakenView { short: format!("{} on {day}", if known { "taken" } else { "kept" }), day, words }
    }
}
