//! Two photos of one board: what grew in between.

use cracks::{
    Fate, Grown, GrownNote, RegisterError, Registered, Widening, by_corners, figure_entry, grown, grown_overlay, grown_pair, open_photo,
    register,
};
use measure::{Figure, Unit};
use show::{
    FigureReport, FigureRow, LaidReport, SinceCrack, SincePictures, SinceReport, SinceStroke, SinceView, WarningReport, number, percent,
    plain, range,
};

use super::figures::{figure, widened, written};
use super::size::SizeFrom;
use super::{LookRefused, LookRequest, Seen, bad, see, size};
use crate::figure_rows::figure_row;
use crate::{VERSION, Workbench};

const NO_SIZE: &str = "the size of the board is not known";
/// What a photo laid by its corners alone may be off by, mm (judgement, no source).
const BY_CORNERS_MM: f64 = 0.5;
/// A share of new crack below this is told as a share, above it as how many times (judgement, no source).
const AS_SHARE: f64 = 1.0;

impl Workbench {
    /// What grew between an older and a newer photo of one board.
    ///
    /// A size that is told for one photo holds for both, and so does one that a label or a card in the newer photo tells; the board may lie
    /// turned by a quarter or a half in one of them. `overlay` of the newer request asks for the drawing.
    ///
    /// # Errors
    /// Bad input, a board that could not be measured, or two photos that can't be laid over each other; the message says how to mend it.
    ///
    /// ```
    /// use workbench::{LookRefused, LookRequest, Workbench};
    /// let photo = LookRequest { photo: "notes.txt", bytes: b"not a photo", board: "200x250mm", ..LookRequest::default() };
    /// assert!(matches!(Workbench::look_since(&photo, &photo), Err(LookRefused::BadInput(_))));
    /// ```
    pub fn look_since(old: &LookRequest<'_>, new: &LookRequest<'_>) -> Result<SinceView, LookRefused> {
        let (told_old, told_new) = (size::told(old.board)?, size::told(new.board)?);
        let newer = either_way(new, told_new.or(told_old)).map_err(|why| of("newer", why))?;
        let known = (newer.from != SizeFrom::NotKnown).then_some((newer.size.width_mm, newer.size.height_mm));
        let older = either_way(old, told_old.or(known)).map_err(|why| of("older", why))?;
        let mut warnings = remarks(&older, &newer);
        let (laid, by_marks) = match register(&older.look, &newer.look) {
            Ok(laid) => (laid, true),
            Err(RegisterError::NothingShared) if older.look.length.value <= 0.0 => {
                let map =
                    by_corners(&older.look, &newer.look).ok_or_else(|| LookRefused::CouldNot(RegisterError::NothingShared.to_string()))?;
                warnings.push(WarningReport {
                    at: "both".into(),
                    id: "by_corners".into(),
                    text: "The ground shows no marks that both photos share, so nothing but you says that they show one board. The older photo has no cracks, so all that the newer one shows is taken as new."
                        .into(),
                });
                (Registered { map, quarters: 0, residual_mm: BY_CORNERS_MM, likeness: 0.0, times_chance: 0.0 }, false)
            }
            Err(why) => return Err(LookRefused::CouldNot(why.to_string())),
        };
        let told = grown(&older.look, &newer.look, &laid);
        warnings.extend(told.notes.iter().copied().map(warning));
        let report = report((old, new), &newer, &told, by_marks.then_some(&laid), warnings);
        let (sentence, more) = sentences(&report, &told);
        let pair = grown_pair(&older.look, &newer.look, &laid);
        let strokes = pair.as_ref().map_or_else(Vec::new, |pair| strokes(&told, pair.px_per_mm));
        Ok(SinceView {
            sentence,
            more,
            figures: rows(&report),
            overlay: if new.overlay { grown_overlay(&newer.look, &told.strokes) } else { None },
            pictures: pair.map(|pair| SincePictures { width: pair.width, height: pair.height, old: pair.old, new: pair.new }),
            strokes,
            report,
        })
    }
}

/// Which of the two photos is refused.
fn of(which: &str, why: LookRefused) -> LookRefused {
    match why {
        LookRefused::BadInput(text) => LookRefused::BadInput(format!("in the {which} photo: {text}")),
        LookRefused::CouldNot(text) => LookRefused::CouldNot(format!("in the {which} photo: {text}")),
    }
}

/// Measured with a size, or with the same size turned by a quarter, whichever fits the photo.
fn either_way(request: &LookRequest<'_>, told: Option<(f64, f64)>) -> Result<Seen, LookRefused> {
    let photo = open_photo(request.bytes).map_err(bad)?;
    let first = see(photo, request, told);
    let Some((across, down)) = told else { return first };
    match first {
        Err(LookRefused::BadInput(why)) if (across - down).abs() > f64::EPSILON => {
            let photo = open_photo(request.bytes).map_err(bad)?;
            see(photo, request, Some((down, across))).map_err(|_| LookRefused::BadInput(why))
        }
        other => other,
    }
}

fn remarks(older: &Seen, newer: &Seen) -> Vec<WarningReport> {
    let told = |which: &str, seen: &Seen| {
        let of_size = seen.remarks.iter().map(|remark| (remark.id.clone(), remark.text.clone()));
        let known = seen.from != SizeFrom::NotKnown;
        let of_photo = super::words::quality(&seen.look, known).into_iter().map(|note| (note.id, note.text));
        let words = |(id, text): (String, String)| WarningReport {
            at: which.into(),
            id,
            text: if which == "old" { format!("In the older photo: {text}") } else { text },
        };
        of_size.chain(of_photo).map(words).collect::<Vec<_>>()
    };
    let mut out = told("new", newer);
    out.extend(told("old", older).into_iter().filter(|remark| remark.id != "no_size"));
    out
}

fn warning(note: GrownNote) -> WarningReport {
    let (id, text) = match note {
        GrownNote::OldTooCoarse => (
            "old_too_coarse",
            "Some cracks of the newer photo are finer than the older one could show. They may have been there and are not called new.",
        ),
        GrownNote::NewTooCoarse => (
            "new_too_coarse",
            "Some cracks of the older photo are finer than the newer one can show. They may be there still and are not called gone. Take it from nearer.",
        ),
        GrownNote::Restless => {
            ("too_restless", "The ground is so coarse or so marked that cracks may hide in it: what looks new may have been there.")
        }
    };
    WarningReport { at: "both".into(), id: id.into(), text: text.into() }
}

const fn word(fate: Fate) -> &'static str {
    match fate {
        Fate::Known => "known",
        Fate::Longer => "longer",
        Fate::New => "new",
        Fate::Gone => "gone",
        Fate::Unsure => "unsure",
    }
}

fn strokes(told: &Grown, px_per_mm: f64) -> Vec<SinceStroke> {
    let px = |mm: f64| mm * px_per_mm - 0.5;
    let points = |stroke: &cracks::Stroke| stroke.points.iter().map(|p| [px(p.x), px(p.y)]).collect();
    told.strokes.iter().map(|stroke| SinceStroke { fate: word(stroke.fate), points: points(stroke) }).collect()
}

fn report(
    (old, new): (&LookRequest<'_>, &LookRequest<'_>),
    newer: &Seen,
    told: &Grown,
    laid: Option<&Registered>,
    warnings: Vec<WarningReport>,
) -> SinceReport {
    let known = newer.from != SizeFrom::NotKnown;
    let mm = |value: f64| known.then_some(value);
    let length = |key, range| {
        if known {
            FigureReport::from(&widened(figure(key, range, Unit::MillimetresPerSquareMillimetre), newer.doubt, 1))
        } else {
            FigureReport::unknown(Unit::MillimetresPerSquareMillimetre.symbol(), NO_SIZE)
        }
    };
    let unknown = |why: String| FigureReport::unknown(Unit::Millimetres.symbol(), why);
    let widening_mm = match told.widening {
        _ if !known => unknown(NO_SIZE.into()),
        Widening::Told(range) => FigureReport::from(&figure("widening", range, Unit::Millimetres)),
        Widening::InDoubt(span) => unknown(format!("by the two photos it lies anywhere from {} mm", range(span.low, span.high))),
        Widening::ScalesDiffer(times) => {
            unknown(format!("one photo shows a millimetre with {} times the pixels of the other", number(times, 1)))
        }
        Widening::NothingShared => unknown("too little crack is in both photos".into()),
    };
    let points = |stroke: &cracks::Stroke| stroke.points.iter().map(|p| [p.x, p.y]).collect();
    let crack = |stroke: &cracks::Stroke| SinceCrack { fate: word(stroke.fate), length_mm: stroke.length_mm, points_mm: points(stroke) };
    SinceReport {
        is: "groundproof since 1",
        version: VERSION,
        old: old.photo.to_owned(),
        new: new.photo.to_owned(),
        warnings,
        width_mm: mm(newer.size.width_mm),
        height_mm: mm(newer.size.height_mm),
        laid: laid.map(|laid| LaidReport {
            quarters: laid.quarters,
            residual_mm: mm(laid.residual_mm),
            likeness: laid.likeness,
            map: known.then(|| laid.map.entries()),
        }),
        compared_mm2: mm(told.compared_mm2),
        narrowest_mm: mm(told.narrowest_mm),
        known_mm_per_mm2: length("known_mm_per_mm2", told.known),
        added_mm_per_mm2: length("added_mm_per_mm2", told.added),
        longer_mm_per_mm2: length("longer_mm_per_mm2", told.longer),
        gone_mm_per_mm2: length("gone_mm_per_mm2", told.gone),
        unsure_mm_per_mm2: mm(told.unsure),
        added_share: was(told).map(|was| told.added.value / was),
        new_places: told.new_places,
        widening_mm,
        cracks: if known { told.strokes.iter().map(crack).collect() } else { Vec::new() },
    }
}

/// Crack that was there before, mm/mm2; `None` where there was none to speak of.
fn was(told: &Grown) -> Option<f64> {
    let was = told.known.value + told.gone.value;
    (was > 0.0).then_some(was)
}

fn sentences(report: &SinceReport, told: &Grown) -> (String, Vec<String>) {
    let mut more = Vec::new();
    let grew = told.added.low > 0.0;
    let sentence = match (grew, was(told)) {
        (true, None) => "Cracks have come: the older photo shows none.".to_owned(),
        (true, Some(was)) => {
            let share = told.added.value / was;
            if share < AS_SHARE {
                format!("The cracks have grown: there is {} more of them than before.", percent(share))
            } else {
                format!("The cracks have grown: there is {} times as much of them as before.", number(share + 1.0, 1))
            }
        }
        (false, _) if told.added.high > 0.0 && told.unsure > told.known.value / 2.0 => {
            "Whether the cracks have grown can't be told from these two photos.".to_owned()
        }
        (false, None) => "No cracks, then or now, as far as the two photos show.".to_owned(),
        (false, Some(_)) => "No new crack is to be seen since the older photo.".to_owned(),
    };
    // A millimetre on a square millimetre is 100 mm on a square centimetre.
    if grew && let Some(added) = report.added_mm_per_mm2.value {
        more.push(format!("Each square centimetre has {}\u{a0}mm of new crack.", plain(added * 100.0)));
        let tips = told.longer.value / told.added.value.max(1e-12);
        if was(told).is_some() {
            more.push(if tips >= 0.5 {
                format!("Most of it, {}, grew from the tips of cracks that were there.", percent(tips))
            } else {
                format!("Most of it began at {} new places; {} grew from old tips.", number(report.new_places as f64, 0), percent(tips))
            });
        }
    }
    match (told.widening, report.widening_mm.value) {
        (Widening::Told(by), Some(value)) => {
            let way = if by.value > 0.0 { "wider" } else { "narrower" };
            more.push(format!("Cracks that were there are now {way} by {}\u{a0}mm.", plain(value.abs())));
        }
        (Widening::NothingShared, _) => {}
        _ => more.push("Whether old cracks became wider can't be told.".into()),
    }
    if told.gone.low > 0.0 {
        more.push("Some cracks of the older photo are not to be seen any more: filled, painted over, or lit from another side.".into());
    }
    if told.unsure > 0.0 {
        let all = told.known.value + told.added.value + told.gone.value + told.unsure;
        more.push(format!("Of {} of all crack it can't be told whether it is new.", percent(told.unsure / all)));
    }
    if let Some(laid) = &report.laid {
        if laid.quarters > 0 {
            let way = ["", "a quarter clockwise", "upside down", "a quarter anticlockwise"];
            more.push(format!("The board lay {} in the newer photo.", way.get(usize::from(laid.quarters)).copied().unwrap_or_default()));
        }
        if let Some(off) = laid.residual_mm {
            more.push(format!("The two photos lie on each other to {}\u{a0}mm.", number(off, 2)));
        }
    }
    if let Some(narrowest) = report.narrowest_mm {
        more.push(format!(
            "Cracks narrower than {}\u{a0}mm are only compared where both photos show them.",
            number(narrowest.max(0.01), 2)
        ));
    }
    (sentence, more)
}

fn rows(report: &SinceReport) -> Vec<FigureRow> {
    let all: [(&'static str, &FigureReport, Unit); 5] = [
        ("known_mm_per_mm2", &report.known_mm_per_mm2, Unit::MillimetresPerSquareMillimetre),
        ("added_mm_per_mm2", &report.added_mm_per_mm2, Unit::MillimetresPerSquareMillimetre),
        ("longer_mm_per_mm2", &report.longer_mm_per_mm2, Unit::MillimetresPerSquareMillimetre),
        ("gone_mm_per_mm2", &report.gone_mm_per_mm2, Unit::MillimetresPerSquareMillimetre),
        ("widening", &report.widening_mm, Unit::Millimetres),
    ];
    let row = |(key, told, unit): (&'static str, &FigureReport, Unit)| {
        Some(figure_row(key, figure_entry(key)?, written(key, told, unit), told.why.as_deref().unwrap_or_default(), Vec::new()))
    };
    let residual = report.laid.as_ref().and_then(|laid| laid.residual_mm).and_then(|off| {
        let written = show::write(&Figure::exact("residual", off, Unit::Millimetres)).line();
        Some(figure_row("residual", figure_entry("residual")?, Some(written), "", Vec::new()))
    });
    all.into_iter().filter_map(row).chain(residual).collect()
}

#[cfg(test)]
mod tests {
    use boardmaker::{Pattern, Recipe, Stage, make_at};
    use show::SinceView;

    use crate::{LookRefused, LookRequest, Workbench};

    fn recipe(seed: u64) -> Recipe {
        Recipe { board_mm: (50.0, 36.0), photo_px: (900, 650), ..Recipe::usual(seed, Pattern::Growing(8)) }
    }

    fn since(old: &[u8], new: &[u8], board: &str) -> Result<SinceView, LookRefused> {
        Workbench::look_since(
            &LookRequest { photo: "march.jpg", bytes: old, ..LookRequest::default() },
            &LookRequest { photo: "june.jpg", bytes: new, board, overlay: true, ..LookRequest::default() },
        )
    }

    // The truth is the drawing: each crack reaches half of its length in the older photo, so as much is new as was there.
    #[test]
    fn a_board_whose_cracks_doubled() {
        let young = make_at(&recipe(1), Stage { reach: 0.5, ..Stage::whole(31) });
        let old = make_at(&recipe(1), Stage { quarters: 2, ..Stage::whole(32) });
        let view = since(&young.jpeg, &old.jpeg, "50x36mm").expect("one board");
        assert!(view.sentence.starts_with("The cracks have grown"), "{}", view.sentence);
        assert!((view.report.added_share.expect("cracks before") - 1.0).abs() < 0.2, "{:?}", view.report.added_share);
        assert_eq!(view.report.laid.as_ref().map(|laid| laid.quarters), Some(2));
        let pictures = view.pictures.expect("two pictures");
        for bytes in [&pictures.old, &pictures.new] {
            let photo = cracks::open_photo(bytes).expect("a picture");
            assert_eq!((photo.width(), photo.height()), (pictures.width, pictures.height));
        }
        assert!(view.strokes.iter().any(|stroke| stroke.fate == "longer") && view.overlay.is_some());
        let inside = |p: &[f64; 2]| p[0] >= -1.0 && p[1] >= -1.0 && p[0] <= pictures.width as f64 && p[1] <= pictures.height as f64;
        assert!(view.strokes.iter().filter(|stroke| stroke.fate != "gone").flat_map(|stroke| &stroke.points).all(inside));
    }

    #[test]
    fn without_a_size_shares_are_told_and_no_millimetres() {
        let young = make_at(&recipe(1), Stage { reach: 0.5, ..Stage::whole(33) });
        let old = make_at(&recipe(1), Stage::whole(34));
        let view = since(&young.jpeg, &old.jpeg, "").expect("one board");
        assert!(view.report.added_mm_per_mm2.value.is_none() && view.report.cracks.is_empty());
        assert!((view.report.added_share.expect("cracks before") - 1.0).abs() < 0.25, "{:?}", view.report.added_share);
    }

    #[test]
    fn another_board_is_refused() {
        let (one, other) = (make_at(&recipe(1), Stage::whole(35)), make_at(&recipe(2), Stage::whole(36)));
        let why = since(&one.jpeg, &other.jpeg, "50x36mm").expect_err("two boards");
        assert!(why.to_string().contains("same board"), "{why}");
    }
}
