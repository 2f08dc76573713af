//! A trial of boards: from a trial file, or from a plan that a page wished for, to a view.

use show::{
    BetterReport, BoardReport, BoardRow, ColumnsReport, CriterionReport, ExtraReport, LeastReport, PlanReport, PlanView, RegionReport,
    SettingReport, SettingValue, TangleReport, WarningReport, capital, plain,
};
use trials::plan::{
    BoardKind, ExtraBoard, Per, Plan, PlanError, PlannedBoard, Reading, Ready, Tangle, TangleKind, Tangles, TextFaults, TrialText, Value,
    Way, tangles, typed,
};

use crate::{VERSION, Workbench};

/// Why a trial file makes no plan.
#[derive(Debug, thiserror::Error)]
pub enum PlanTextError {
    /// The text is wrong; one line a fault.
    #[error(transparent)]
    Text(#[from] TextFaults),
    /// The text is right and there is no plan for it.
    #[error(transparent)]
    Plan(#[from] PlanError),
}

impl PlanTextError {
    /// Whether the file is sound and only the program can't do it.
    pub const fn is_not_built(&self) -> bool {
        matches!(self, Self::Plan(PlanError::BlendsNotChosen))
    }
}

impl Workbench {
    /// The plan of a trial file, checked for tangles. `seed` goes before the seed in the file.
    ///
    /// # Errors
    /// A text that can't be read, or one that no plan can be made of.
    pub fn plan(text: &str, seed: Option<u64>) -> Result<PlanView, PlanTextError> {
        let text = TrialText::parse(text)?;
        Ok(Self::plan_view(&typed(&text, seed)?))
    }

    /// A plan as it is shown, checked for tangles.
    pub fn plan_view(plan: &Plan) -> PlanView {
        let tangles = tangles(plan);
        PlanView { sentence: sentence(plan), rows: plan.boards.iter().map(row).collect(), report: report(plan, tangles) }
    }
}

fn sentence(plan: &Plan) -> String {
    let recipes = plan.recipe_boards().count();
    let yardsticks = plan.boards.iter().filter(|board| board.kind == BoardKind::Yardstick).count();
    let witnesses = plan.boards.iter().filter(|board| board.kind == BoardKind::Witness).count();
    let counted = |count: usize, one: &str| if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") };
    let mut parts = vec![counted(recipes, "recipe board")];
    if yardsticks > 0 {
        parts.push(counted(yardsticks, "yardstick"));
    }
    if witnesses > 0 {
        parts.push(if witnesses == 1 { "1 witness".to_owned() } else { format!("{witnesses} witnesses") });
    }
    let days = plan.days().len();
    let when = if plan.ready == Ready::TwoByTwo { counted(days, "sitting") } else { counted(days, "day") };
    let spares = if plan.spares > 0 { format!(" Cut {} more for accidents.", plan.spares) } else { String::new() };
    let order = if plan.order_drawn { format!("Order and places are drawn from the seed {}.", plan.seed) } else { String::new() };
    format!("{} in {when}. {order}{spares}", parts.join(" and ")).trim_end().to_owned()
}

fn row(board: &PlannedBoard) -> BoardRow {
    let settings = board.settings.iter().map(|(name, value)| {
        let value = match value {
            Value::Number(number) => plain(*number),
            Value::Kind(kind) => kind.clone(),
        };
        format!("{name} {value}")
    });
    let shares = board.shares.iter().map(|(name, share)| format!("{} {name}", plain(*share)));
    let mut carries: Vec<String> = settings.chain(shares).collect();
    if carries.is_empty() {
        carries.push(kind(board.kind).to_owned());
    }
    if !board.strips.is_empty() {
        let strips: Vec<String> = board.strips.iter().map(ToString::to_string).collect();
        carries.push(format!("coats on the strips from left to right {}", strips.join(" ")));
    }
    BoardRow {
        id: board.id.clone(),
        day: board.day.to_string(),
        batch: board.batch.clone(),
        place: board.place.to_string(),
        sheet: board.sheet.clone().unwrap_or_default(),
        carries: capital(&carries.join(", ")),
    }
}

const fn kind(kind: BoardKind) -> &'static str {
    match kind {
        BoardKind::Recipe => "recipe",
        BoardKind::Yardstick => "yardstick",
        BoardKind::Witness => "witness",
    }
}

fn value(value: &Value) -> SettingValue {
    match value {
        Value::Number(number) => SettingValue::Number(*number),
        Value::Kind(kind) => SettingValue::Kind(kind.clone()),
    }
}

fn report(plan: &Plan, tangles: Tangles) -> PlanReport {
    let criterion = tangles.criterion;
    let table = tangles.table;
    let why = if plan.parts.is_empty() {
        "the trial names no parts, so there is no region of blends"
    } else {
        "the region of blends is not worked out yet; the blends are those of the typed boards"
    };
    PlanReport {
        is: "groundproof plan 1",
        version: VERSION,
        warnings: plan
            .notes
            .iter()
            .map(|note| WarningReport { id: note.id.clone(), text: note.text.clone(), at: note.at.clone() })
            .collect(),
        question: Some(plan.question.clone()).filter(|question| !question.is_empty()),
        better: plan.better.as_ref().map(|better| BetterReport {
            measure: better.measure.clone(),
            way: match better.way {
                Way::Smaller => "smaller",
                Way::Larger => "larger",
            },
        }),
        ready: match plan.ready {
            Ready::Crossed => "crossed",
            Ready::Typed => "typed",
            Ready::StairBoard => "stair board",
            Ready::TwoByTwo => "two by two",
        },
        seed: plan.seed,
        order_drawn: plan.order_drawn,
        settings: plan
            .settings
            .iter()
            .map(|setting| SettingReport {
                name: setting.name.clone(),
                levels: setting.levels.iter().map(value).collect(),
                per: match setting.per {
                    Per::Batch => "batch",
                    Per::Board => "board",
                },
            })
            .collect(),
        boards: plan.boards.iter().map(board).collect(),
        spares: plan.spares,
        criterion: CriterionReport {
            ln_det: criterion.ln_det,
            d_efficiency: criterion.d_efficiency,
            bound_ln_det: criterion.bound_ln_det,
            terms: criterion.terms,
            coding: criterion.coding,
            batch_spread: plan.batch_spread,
            why: criterion.why,
        },
        region: Some(RegionReport { vertices: None, edges: None, faces: None, why: why.to_owned() }),
        tangles: tangles.found.iter().map(tangle).collect(),
        can: tangles.can,
        cannot: tangles.cannot,
        least: tangles
            .least
            .into_iter()
            .map(|least| LeastReport {
                effect: least.effect,
                between: least.between,
                test: match least.reading {
                    Reading::YesNo => "yes or no",
                    Reading::Ordered => "ordered",
                    Reading::Paired => "paired",
                },
                split: least.split,
                unit: if least.pots { "batch" } else { "board" },
                least_p: least.least_p,
            })
            .collect(),
        columns: ColumnsReport {
            why: (table.alias.is_none() || table.vif.iter().skip(1).any(Option::is_none))
                .then(|| "a column that others make up, or that is the same on all boards, has no such number".to_owned()),
            terms: table.terms,
            rank: table.rank,
            ties: table.ties,
            r: table.r,
            vif: table.vif,
            condition: table.condition,
            left_out: table.left_out,
            alias: table.alias,
        },
    }
}

fn board(board: &PlannedBoard) -> BoardReport {
    BoardReport {
        id: board.id.clone(),
        day: board.day,
        batch: board.batch.clone(),
        sheet: board.sheet.clone(),
        order: board.order,
        place: board.place,
        kind: kind(board.kind),
        shares: board.shares.clone(),
        settings: board.settings.iter().map(|(name, set)| (name.clone(), value(set))).collect(),
        strips: board.strips.clone(),
    }
}

fn tangle(tangle: &Tangle) -> TangleReport {
    TangleReport {
        kind: match tangle.kind {
            TangleKind::Exact => "exact",
            TangleKind::Half => "half",
            TangleKind::WithDay => "with day",
            TangleKind::WithSheet => "with sheet",
            TangleKind::WithOrder => "with order",
            TangleKind::WithPlace => "with place",
            TangleKind::NoHonestError => "no honest error",
            TangleKind::OnePot => "one pot",
            TangleKind::Hidden => "hidden",
            TangleKind::NoRepeats => "no repeats",
            TangleKind::NoControl => "no control",
            TangleKind::NeverChanges => "never changes",
        },
        effects: tangle.effects.clone(),
        r: tangle.r,
        times: tangle.times,
        text: tangle.text.clone(),
        add: tangle.add.iter().map(extra).collect(),
    }
}

fn extra(extra: &ExtraBoard) -> ExtraReport {
    ExtraReport {
        kind: kind(extra.kind),
        day: extra.day,
        sheet: extra.sheet.clone(),
        shares: extra.shares.clone(),
        settings: extra.settings.iter().map(|(name, set)| (name.clone(), value(set))).collect(),
    }
}
