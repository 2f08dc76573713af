//! `groundproof look`: boards in photos.

use std::fmt::Write as _;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

use show::LookView;
use workbench::{LookRefused, LookRequest, Workbench};

use crate::arguments::{Grain, Look};
use crate::command::{Failure, bad_input, json, print, write_file};
use crate::complain;

/// A photo file larger than this is none that a camera takes.
const MOST_BYTES: u64 = 100 * 1024 * 1024;
/// After this long it is said what is being done.
const PATIENCE: Duration = Duration::from_secs(2);
/// Endings of files that are taken for photos in a folder; those that can't be opened are told why.
const PHOTOS: [&str; 6] = ["jpg", "jpeg", "png", "heic", "heif", "avif"];

pub(crate) fn run(options: &Look) -> Result<(), Failure> {
    if let Some(key) = &options.explain {
        return print(&Workbench::look_figure(key).map_err(bad_input)?);
    }
    let (photos, several) = photos(&options.photos)?;
    if several && (options.corners.is_some() || options.card.is_some() || options.patch.is_some()) {
        return Err(bad_input("corners and a patch belong to one photo: give one photo with them"));
    }
    for folder in [&options.overlay, &options.mask].into_iter().flatten().filter(|_| several) {
        if !folder.is_dir() {
            return Err(bad_input(format!("{}: for several photos this has to be a folder that is there", folder.display())));
        }
    }
    Workbench::board_told(&options.board).map_err(bad_input)?;
    if let Some(old) = &options.since {
        return match photos.as_slice() {
            [new] if !several => since(options, old, new),
            _ => Err(bad_input("`--since` compares one photo with one older photo of the same board: give one photo with it")),
        };
    }
    let mut reports = Vec::new();
    let mut text = String::new();
    let mut failed = 0;
    for (index, photo) in photos.iter().enumerate() {
        let name = photo.file_name().map_or_else(|| photo.display().to_string(), |name| name.to_string_lossy().into_owned());
        let place = if several { format!("photo {} of {}: {name}", index + 1, photos.len()) } else { name.clone() };
        let looked = patiently(&place, || look(options, photo, &name));
        if several {
            let _ = writeln!(text, "{name}");
        }
        match looked {
            Ok(view) => {
                save(options, several, photo, &view)?;
                text.push_str(&words(&view));
                reports.push(view.report);
            }
            // Wrong input for the only photo is a refusal like any other.
            Err(LookRefused::BadInput(why)) if !several => return Err(bad_input(format!("{name}: {why}"))),
            Err(why) => {
                failed += 1;
                if several {
                    let _ = writeln!(text, "Not measured: {why}");
                } else if !options.json {
                    complain(&format!("{name}: {why}"));
                }
                reports.push(Workbench::not_looked(&name, &why));
            }
        }
        if several {
            text.push('\n');
        }
    }
    match (options.json, several, reports.first()) {
        (true, false, Some(one)) => json(one),
        (true, _, _) => json(&reports),
        (false, ..) => print(&text),
    }?;
    if failed > 0 { Err(Failure::CouldNot(None)) } else { Ok(()) }
}

/// What grew since an older photo.
fn since(options: &Look, old: &Path, new: &Path) -> Result<(), Failure> {
    let name = |path: &Path| path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
    let (old_name, new_name) = (name(old), name(new));
    let read = |path: &Path| bytes(path).map_err(|why| bad_input(format!("{}: {why}", path.display())));
    let (old_bytes, new_bytes) = (read(old)?, read(new)?);
    let older = LookRequest { photo: &old_name, bytes: &old_bytes, ..LookRequest::default() };
    let newer = LookRequest {
        photo: &new_name,
        bytes: &new_bytes,
        board: &options.board,
        corners: options.corners.map(|four| four.0),
        card: options.card.map(|four| four.0),
        overlay: options.overlay.is_some(),
        ..LookRequest::default()
    };
    let view = match patiently(&format!("{new_name} beside {old_name}"), || Workbench::look_since(&older, &newer)) {
        Ok(view) => view,
        Err(LookRefused::BadInput(why)) => return Err(bad_input(why)),
        Err(LookRefused::CouldNot(why)) => return Err(Failure::CouldNot(Some(why))),
    };
    if let (Some(to), Some(picture)) = (&options.overlay, &view.overlay) {
        write_file(to, picture)?;
    }
    if options.json {
        return json(&view.report);
    }
    let mut text = format!("{}\n", view.sentence);
    for line in &view.more {
        let _ = writeln!(text, "{line}");
    }
    for row in &view.figures {
        let why = if row.why.is_empty() { String::new() } else { format!(", since {}", row.why) };
        let _ = writeln!(text, "  {}: {}{why}", row.name, row.value);
    }
    for note in &view.report.warnings {
        let _ = writeln!(text, "{}", note.text);
    }
    print(&text)
}

/// The photos that were named, folders opened; whether they are told as a list.
#[expect(clippy::disallowed_methods, reason = "the command line is a door to the disk")]
fn photos(named: &[PathBuf]) -> Result<(Vec<PathBuf>, bool), Failure> {
    let mut out = Vec::new();
    let mut several = named.len() > 1;
    for path in named {
        if !path.is_dir() {
            out.push(path.clone());
            continue;
        }
        several = true;
        let wrong = |e: std::io::Error| bad_input(format!("{}: {e}", path.display()));
        let mut inside = Vec::new();
        for entry in std::fs::read_dir(path).map_err(wrong)? {
            let file = entry.map_err(wrong)?.path();
            let ending = file.extension().and_then(std::ffi::OsStr::to_str).map(str::to_lowercase);
            if ending.is_some_and(|ending| PHOTOS.contains(&ending.as_str())) && file.is_file() {
                inside.push(file);
            }
        }
        if inside.is_empty() {
            return Err(bad_input(format!("{}: there is no photo in this folder", path.display())));
        }
        inside.sort();
        out.extend(inside);
    }
    Ok((out, several))
}

fn look(options: &Look, photo: &Path, name: &str) -> Result<LookView, LookRefused> {
    let bytes = bytes(photo).map_err(LookRefused::BadInput)?;
    Workbench::look(&LookRequest {
        photo: name,
        bytes: &bytes,
        board: &options.board,
        corners: options.corners.map(|four| four.0),
        card: options.card.map(|four| four.0),
        patch: options.patch.map(|patch| workbench::GreyPatch { place: patch.place, reflects: patch.reflects }),
        grain: options.grain.map(|grain| match grain {
            Grain::Across => workbench::Grain::Across,
            Grain::Down => workbench::Grain::Down,
        }),
        lattice: options.lattice.as_deref(),
        overlay: options.overlay.is_some(),
        mask: options.mask.is_some(),
        ..LookRequest::default()
    })
}

#[expect(clippy::disallowed_methods, reason = "the command line is a door to the disk")]
fn bytes(photo: &Path) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let file = std::fs::File::open(photo).map_err(|e| e.to_string())?;
    file.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(|e| e.to_string())?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err("the file is larger than 100 MB: save the photo as JPEG".to_owned());
    }
    Ok(bytes)
}

/// Does the work, and says what is being done if it takes long.
fn patiently<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let (done, waits) = mpsc::channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            // The other end is dropped when the work is done.
            if waits.recv_timeout(PATIENCE) == Err(mpsc::RecvTimeoutError::Timeout) {
                complain(&format!("looking at {what} ..."));
            }
        });
        let out = work();
        drop(done);
        out
    })
}

/// Writes the pictures that were asked for.
fn save(options: &Look, several: bool, photo: &Path, view: &LookView) -> Result<(), Failure> {
    for (to, picture, kind) in [(&options.overlay, &view.overlay, "cracks"), (&options.mask, &view.mask, "mask")] {
        let (Some(to), Some(picture)) = (to, picture) else { continue };
        if several {
            let stem = photo.file_stem().unwrap_or_default().to_string_lossy();
            write_file(&to.join(format!("{stem}-{kind}.png")), picture)?;
        } else {
            write_file(to, picture)?;
        }
    }
    Ok(())
}

fn words(view: &LookView) -> String {
    let mut text = format!("{}\n", view.sentence);
    for line in &view.more {
        let _ = writeln!(text, "{line}");
    }
    for row in &view.figures {
        let _ = writeln!(text, "  {}: {}", row.name, row.value);
    }
    for label in &view.report.labels {
        let _ = writeln!(text, "The label reads {}.", label.text);
    }
    for tap in &view.report.taps {
        let _ = writeln!(text, "For `groundproof why`: --tap \"{}={}\", since {}.", tap.tap, tap.answer, tap.because);
    }
    for question in &view.report.questions {
        let _ = writeln!(text, "Asked: {} It would tell {}.", question.ask, question.narrows);
    }
    for note in view.report.warnings.iter().map(|note| &note.text).chain(view.report.quality.iter().map(|note| &note.text)) {
        let _ = writeln!(text, "{note}");
    }
    text
}
