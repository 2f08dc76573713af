//! The card as data.

use ground::Word;
use materials::{Amount, Kind, PartBasis, Range};
use measure::{Figure, Unit};
use show::{
    AmountReport, CautionReport, CautionView, ChoiceReport, FigureReport, FilmFigures, FilmReport, LineReport, MassReport, QuestionReport,
    QuestionView, StruckReport, WarningReport, WordReport,
};

use super::figures::{figure, why_not};
use super::hold::Hold;
use super::{Standing, VerdictRequest, Worked, why_uncounted};
use crate::{VERSION, Workbench};

impl Workbench {
    pub(super) fn report(
        &self,
        request: &VerdictRequest,
        worked: &Worked,
        masses: &[(usize, Figure)],
        (questions, mind): (&[QuestionView], &[CautionView]),
        hold: &Hold,
    ) -> FilmReport {
        FilmReport {
            is: "groundproof film 1",
            version: VERSION,
            calculation: format!("{:016x}", worked.calculation()),
            warnings: warnings(worked),
            film: film(request, worked),
            mass_g: pot(worked),
            word: word(&worked.standing),
            crack_chance: hold.cracks.clone(),
            hiding: hold.hiding.clone(),
            bend: hold.bend.clone(),
            thirst: hold.thirst.clone(),
            rests_on: "argued from books: order and direction only",
            lines: self.line_reports(request, worked, masses),
            struck: worked
                .reading
                .struck()
                .map(|struck| StruckReport {
                    text: struck.span.of(&request.told).to_owned(),
                    from: struck.span.from,
                    to: struck.span.to,
                    why: struck.why.clone(),
                })
                .collect(),
            questions: questions.iter().map(question_report).collect(),
            cautions: mind.iter().map(caution).collect(),
        }
    }

    fn line_reports(&self, request: &VerdictRequest, worked: &Worked, masses: &[(usize, Figure)]) -> Vec<LineReport> {
        let mut out = Vec::new();
        for (index, line) in worked.reading.lines.iter().enumerate() {
            let mass = masses.iter().find(|(at, _)| *at == index).map(|(_, figure)| FigureReport::from(figure));
            let kind = line.material.first().and_then(|id| self.jars.material(id)).map_or(Kind::Additive, |material| material.kind);
            out.push(LineReport {
                text: line.span.of(&request.told).to_owned(),
                from: line.span.from,
                to: line.span.to,
                material: line.material.first().map_or_else(String::new, |id| id.as_str().to_owned()),
                mass_g: mass.unwrap_or_else(|| FigureReport::unknown("g", why_uncounted(worked, index, kind))),
                guessed: line.guessed.clone(),
                amount: self.amount(&line.amount),
            });
        }
        out
    }

    fn amount(&self, amount: &Amount) -> AmountReport {
        let unit = |pick: &materials::Pick<measure::UnitId>| pick.first().map(|id| self.units.get(*id).id.clone());
        let number = |range: &Range| Some([range.low, range.high]);
        match amount {
            Amount::Mass { number: range, unit: pick } => AmountReport { kind: "mass", number: number(range), unit: unit(pick) },
            Amount::Volume { number: range, unit: pick, .. } => AmountReport { kind: "volume", number: number(range), unit: unit(pick) },
            Amount::Parts { number: range, basis } => {
                let unit = basis.first().map(|basis| if *basis == PartBasis::Volume { "part by volume" } else { "part by weight" });
                AmountReport { kind: "parts", number: number(range), unit: unit.map(str::to_owned) }
            }
            Amount::VolumePerLiquid { number: range } => AmountReport { kind: "volume per liquid", number: number(range), unit: None },
            Amount::PercentOfWhole { number: range } => AmountReport { kind: "percent", number: number(range), unit: None },
            Amount::Pieces { number: range } => AmountReport { kind: "pieces", number: number(range), unit: None },
            Amount::NotGiven(_) => AmountReport { kind: "none", number: None, unit: None },
        }
    }
}

fn question_report(question: &QuestionView) -> QuestionReport {
    let choices: Vec<ChoiceReport> = question
        .choices
        .iter()
        .map(|choice| ChoiceReport { id: choice.id.clone(), label: choice.label.clone(), lambda: choice.place })
        .collect();
    let known: Vec<f64> = choices.iter().filter_map(|choice| choice.lambda).collect();
    let narrows = (known.len() > 1)
        .then(|| known.iter().copied().fold(f64::NEG_INFINITY, f64::max) - known.iter().copied().fold(f64::INFINITY, f64::min));
    QuestionReport { id: question.id.clone(), ask: question.ask.clone(), assumed: question.assumed.clone(), choices, narrows }
}

fn film(request: &VerdictRequest, worked: &Worked) -> FilmFigures {
    let get = |key: &str, unit: Unit| {
        figure(worked, key).map_or_else(|| FigureReport::unknown(unit.symbol(), why_not(worked)), |f| FigureReport::from(&f))
    };
    let coats = f64::from(worked.coats);
    let all_coats = figure(worked, "dry_um").map(|dry| dry.times(coats));
    let laid = figure(worked, "coverage");
    FilmFigures {
        pvc: get("pvc", Unit::One),
        cpvc: get("cpvc", Unit::One),
        lambda: get("lambda", Unit::One),
        porosity: get("porosity", Unit::One),
        solids_mass: get("solids_mass", Unit::One),
        solids_volume: get("solids_volume", Unit::One),
        wet_density_g_ml: get("wet_density", Unit::GramsPerMillilitre),
        dry_um: all_coats.as_ref().map_or_else(|| FigureReport::unknown("um", why_not(worked)), FigureReport::from),
        coverage_g_m2: get("coverage", Unit::GramsPerSquareMetre),
        binder_per_100_powder_g: get("binder_per_100_powder", Unit::Grams),
        wet_mass_needed_g: request.area_m2.map(|area| match laid {
            Some(figure) => FigureReport::from(&Figure { unit: Unit::Grams, ..figure.times(area * coats) }),
            None => FigureReport::unknown("g", why_not(worked)),
        }),
    }
}

fn pot(worked: &Worked) -> MassReport {
    let mass = |of: fn(&ground::Film) -> measure::Grams| match (&worked.ranges, &worked.standing) {
        (_, Standing::NoFilm(why)) => FigureReport::unknown("g", why.clone()),
        (Err(why), _) => FigureReport::unknown("g", why.to_string()),
        (Ok(ranges), _) => FigureReport::from(&ranges.figure("mass_g", Unit::Grams, |film| of(film).value())),
    };
    MassReport {
        filler: mass(|f| f.filler),
        binder: mass(|f| f.binder),
        water: mass(|f| f.water),
        volatile: mass(|f| f.volatile),
        other: mass(|f| f.other),
    }
}

fn word(standing: &Standing) -> WordReport {
    match standing {
        Standing::Word(words) => {
            WordReport { first: Some(words.first.text()), second: words.second.map(Word::text), share: Some(words.share()), why: None }
        }
        Standing::NoWord(why) | Standing::NoFilm(why) => WordReport { first: None, second: None, share: None, why: Some(why.clone()) },
    }
}

fn warnings(worked: &Worked) -> Vec<WarningReport> {
    let mut out = Vec::new();
    for note in &worked.mix.notes {
        out.push(WarningReport { id: "taken_as".into(), text: note.clone(), at: "recipe".into() });
    }
    for left in &worked.mix.left_out {
        out.push(WarningReport {
            id: "not_counted".into(),
            text: format!("{}: {}", left.name, left.why),
            at: format!("ingredient {}", left.line + 1),
        });
    }
    if !worked.coat.told {
        out.push(WarningReport {
            id: "wet_assumed".into(),
            text: "No wet thickness was told: a brushed coat of 100 um is assumed.".into(),
            at: "wet".into(),
        });
    }
    if let Ok(ranges) = &worked.ranges
        && (0.95..1.10).contains(&ranges.best.lambda())
    {
        out.push(WarningReport {
            id: "near_edge".into(),
            text: "The powder share is close to the critical share, where a film changes its nature: nothing can be said about cracks so near the edge.".into(),
            at: "film.lambda".into(),
        });
    }
    out
}

pub(crate) fn caution(caution: &CautionView) -> CautionReport {
    // "H360FD (EU); H319 added by suppliers" -> H360FD, H319. A proposed class begins with words and is left to the text.
    let code =
        |part: &str| part.split_whitespace().next().filter(|word| word.starts_with('H') || word.starts_with("EUH")).map(str::to_owned);
    let codes = caution.codes.split([';', ',']).filter_map(code).collect();
    CautionReport { material: caution.about.clone(), codes, text: caution.text.clone(), source: caution.source.clone() }
}
